"""Versions of a project side by side, and a sentence on what decides between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.figures import ProjectFigures, project_figures
from nesting.pattern.piece import CutKind
from nesting.units import Unit, format_buy, format_money

__all__ = ["Comparison", "VersionRow", "compare"]


@dataclass(frozen=True, slots=True)
class VersionRow:
    """One version in figures.

    Attributes
    ----------
    version : str
    to_buy_mm : dict of str to float
        By key of the cloth, in file order; without what is in hand.
    in_hand : dict of str to str
        Of each cloth in hand, by its name, whether all goes on, in words.
    lacking : bool
        Whether one of them is too short.
    cost : float or None
    wasted_mm2 : float
        Of the cloth bought or in hand, washed and without selvedges: what is in no piece.
    waste_pct : float
        The same as a share of that cloth.
    lies : dict of str to str
        How each cloth lies, by its key.
    pieces : int
        Pieces of cloth to cut, all cloths together.
    seams : tuple of str
        Where this version joins a pair that another version cuts on the fold: ``"back, centre back
        (main)"``.
    proven : bool
        Whether the bounds show, for every cloth, that no lay needs a shorter purchase.
    """

    version: str
    to_buy_mm: dict[str, float]
    in_hand: dict[str, str]
    lacking: bool
    cost: float | None
    wasted_mm2: float
    waste_pct: float
    lies: dict[str, str]
    pieces: int
    seams: tuple[str, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Rows in the order given, the plain version first, and what decides."""

    rows: tuple[VersionRow, ...]
    sentences: tuple[str, ...]


def compare(versions: Sequence[ProjectEstimate | ProjectFigures]) -> Comparison:
    """Set versions side by side; the first is the one the others are measured against.

    Parameters
    ----------
    versions : sequence of ProjectEstimate or ProjectFigures
        At least one; all of one project.
    """
    all_figures = [project_figures(one) if isinstance(one, ProjectEstimate) else one for one in versions]
    folds = {
        (piece.name, cloth): piece.on_fold
        for version in all_figures
        for piece in version.project.pieces
        for cloth, count in piece.cuts.items()
        if count.kind is CutKind.ON_FOLD and piece.on_fold is not None
    }
    rows = tuple(_row(version, folds) for version in all_figures)
    plain = all_figures[0].project
    sentences = tuple(_sentence(rows[0], row, plain.unit, plain.currency) for row in rows[1:])
    return Comparison(rows, sentences)


def _row(version: ProjectFigures, folds: dict[tuple[str, str], str]) -> VersionRow:
    project = version.project
    seams = tuple(
        f"{piece.name}, {folds[piece.name, cloth]} ({cloth})"
        for piece in project.pieces
        for cloth, count in piece.cuts.items()
        if (piece.name, cloth) in folds and count.kind is CutKind.PAIR
    )
    bought = sum(figures.cloth_area_mm2 for figures in version.cloths.values())
    wasted = bought - sum(figures.pieces_area_mm2 for figures in version.cloths.values())
    return VersionRow(
        version=project.version,
        to_buy_mm={key: figures.to_buy_mm for key, figures in version.cloths.items() if not figures.in_hand},
        in_hand=dict(words for figures in version.cloths.values() for words in figures.in_hand),
        lacking=any(figures.lacking_mm for figures in version.cloths.values()),
        cost=version.cost,
        wasted_mm2=wasted,
        waste_pct=100 * wasted / bought if bought else 0.0,
        lies={key: figures.lies for key, figures in version.cloths.items()},
        pieces=sum(figures.pieces for figures in version.cloths.values()),
        seams=seams,
        proven=all(figures.proven for figures in version.cloths.values()),
    )


def _sentence(plain: VersionRow, other: VersionRow, unit: Unit, currency: str) -> str:
    """What the other version changes, and what that weighs against."""
    if plain.lacking or other.lacking:
        return _lacking_sentence(plain, other)
    differences = {
        key: other.to_buy_mm.get(key, 0.0) - plain.to_buy_mm.get(key, 0.0)
        for key in plain.to_buy_mm | other.to_buy_mm
    }
    changes = [
        f"{format_buy(abs(difference), unit)} {'more' if difference > 0 else 'less'} of {key}"
        for key, difference in differences.items()
        if difference
    ]
    work = _work(plain, other)
    found = "" if plain.proven and other.proven else "In the lays found, "
    if not changes:
        cloth = f"{found}'{other.version}' needs the same cloth as '{plain.version}'"
        return f"{cloth}; what decides is the work: {work}." if work else f"{cloth} and the same work."
    sentence = f"{found}'{other.version}' needs {_listed(changes)} than '{plain.version}'"
    effort = f"for {work}" if work else "for the same work"
    if plain.cost is not None and other.cost is not None:
        dearer = round(other.cost - plain.cost, 2)
        if not dearer:
            return f"{sentence} at the same cost, {effort}."
        money = format_money(abs(dearer), currency)
        sentence += f" and costs {money} more" if dearer > 0 else f" and saves {money}"
    elif min(differences.values()) < 0 < max(differences.values()):
        return f"{sentence}, {effort}; without prices nobody can say which outweighs the other."
    else:
        dearer = sum(differences.values())
    if not work:
        return f"{sentence}, {effort}."
    more_work = other.pieces + len(other.seams) > plain.pieces + len(plain.seams)
    if more_work == (dearer > 0):
        better = plain if more_work else other
        return f"{sentence}, {effort}: '{better.version}' is better on both counts."
    return f"{sentence}; what decides is whether that outweighs {work}."


def _lacking_sentence(plain: VersionRow, other: VersionRow) -> str:
    """Where a cloth in hand is too short, nothing else counts."""
    if plain.lacking and other.lacking:
        return f"Neither '{plain.version}' nor '{other.version}' goes on the cloth in hand."
    going, lacking = (other, plain) if plain.lacking else (plain, other)
    return f"'{going.version}' goes on the cloth in hand; '{lacking.version}' does not, in the lays found."


def _work(plain: VersionRow, other: VersionRow) -> str:
    parts = []
    seams = len(other.seams) - len(plain.seams)
    pieces = other.pieces - plain.pieces
    for number, noun in ((seams, "seam"), (pieces, "piece")):
        if number:
            plural = "" if abs(number) == 1 else "s"
            parts.append(f"{abs(number)} {noun}{plural} {'more' if number > 0 else 'fewer'}")
    return _listed(parts)


def _listed(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
