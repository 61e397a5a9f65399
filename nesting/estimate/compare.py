"""Versions of a project side by side, and a sentence on what decides between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cloth.remnant import room_mm
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.estimate.in_hand_words import goes_on_words
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
    pieces: int
    seams: tuple[str, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Rows in the order given, the plain version first, and what decides."""

    rows: tuple[VersionRow, ...]
    sentences: tuple[str, ...]


def compare(versions: Sequence[ProjectEstimate]) -> Comparison:
    """Set versions side by side; the first is the one the others are measured against.

    Parameters
    ----------
    versions : sequence of ProjectEstimate
        At least one; all of one project.
    """
    folds = {
        (piece.name, cloth): piece.on_fold
        for version in versions
        for piece in version.project.pieces
        for cloth, count in piece.cuts.items()
        if count.kind is CutKind.ON_FOLD and piece.on_fold is not None
    }
    rows = tuple(_row(version, folds) for version in versions)
    plain = versions[0].project
    sentences = tuple(_sentence(rows[0], row, plain.unit, plain.currency) for row in rows[1:])
    return Comparison(rows, sentences)


def _row(version: ProjectEstimate, folds: dict[tuple[str, str], str]) -> VersionRow:
    project = version.project
    seams = tuple(
        f"{piece.name}, {folds[piece.name, cloth]} ({cloth})"
        for piece in project.pieces
        for cloth, count in piece.cuts.items()
        if (piece.name, cloth) in folds and count.kind is CutKind.PAIR
    )
    return VersionRow(
        version=project.version,
        to_buy_mm={
            estimate.lay.cloth.key: estimate.to_buy_mm
            for estimate in version.estimates
            if not estimate.in_hand
        },
        in_hand={
            estimate.lay.cloth.name: goes_on_words(estimate.lay, project.unit)
            for estimate in version.estimates
            if estimate.in_hand
        },
        lacking=any(estimate.lacking_mm for estimate in version.estimates),
        cost=version.cost,
        wasted_mm2=sum(_wasted_mm2(estimate) for estimate in version.estimates),
        pieces=sum(tally.placed for estimate in version.estimates for tally in estimate.tallies),
        seams=seams,
        proven=all(estimate.to_buy_mm <= estimate.least_to_buy_mm for estimate in version.estimates),
    )


def _wasted_mm2(estimate: Estimate) -> float:
    """Usable cloth bought, after washing, that is in no piece."""
    cloth = estimate.lay.cloth
    room = room_mm(cloth)
    if room is not None:
        return max(room, estimate.lay.length_mm) * cloth.usable_width_mm - estimate.lay.pieces_area_mm2
    washed_mm = estimate.to_buy_mm * (1 - cloth.shrinkage_along_pct / 100)
    return washed_mm * cloth.usable_width_mm - estimate.lay.pieces_area_mm2


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
