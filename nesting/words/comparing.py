"""How it is said what decides between versions of a project."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.estimate.overview.compare import Comparison, Seam, VersionRow
from nesting.units import Unit, format_buy, format_money

__all__ = ["seam_words", "what_decides"]


def what_decides(comparison: Comparison) -> tuple[str, ...]:
    """A sentence for each version but the first: what it changes, and what that weighs against.

    At the end, which versions are not compared.
    """
    project = comparison.project
    said = [
        _sentence(comparison.rows[0], other, project.unit, project.currency) for other in comparison.rows[1:]
    ]
    if not comparison.rows:
        said.append(f"'{project.version}' was not searched to the end, so nothing can be compared with it.")
    elif comparison.unfinished:
        names = _listed([f"'{name}'" for name in comparison.unfinished])
        said.append(f"Not searched to the end, so not compared: {names}.")
    return tuple(said)


def seam_words(seam: Seam) -> str:
    """Where two halves are joined.

    >>> seam_words(Seam("back", "centre back", "main"))
    'back, centre back (main)'
    """
    return f"{seam.piece}, {seam.edge} ({seam.cloth})"


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
    if {number > 0 for number in _differences(plain, other) if number} == {dearer > 0}:
        better = plain if dearer > 0 else other
        return f"{sentence}, {effort}: '{better.version}' is better on both counts."
    return f"{sentence}; what decides is whether that outweighs {work}."


def _lacking_sentence(plain: VersionRow, other: VersionRow) -> str:
    """Where a cloth in hand is too short, nothing else counts."""
    if plain.lacking and other.lacking:
        return f"Neither '{plain.version}' nor '{other.version}' goes on the cloth in hand."
    going, lacking = (other, plain) if plain.lacking else (plain, other)
    return f"'{going.version}' goes on the cloth in hand; '{lacking.version}' does not, in the lays found."


def _work(plain: VersionRow, other: VersionRow) -> str:
    """What the person does more or less: ``1 seam more and 2 rounds of cutting fewer``."""
    parts = []
    for number, (one, many) in zip(_differences(plain, other), _DONE, strict=True):
        if number:
            noun = one if abs(number) == 1 else many
            parts.append(f"{abs(number)} {noun} {'more' if number > 0 else 'fewer'}")
    return _listed(parts)


_DONE = (("seam", "seams"), ("piece", "pieces"), ("round of cutting", "rounds of cutting"))


def _differences(plain: VersionRow, other: VersionRow) -> tuple[int, int, int]:
    """By how much the other has more seams to sew, pieces to handle, and outlines to cut round."""
    return len(other.seams) - len(plain.seams), other.pieces - plain.pieces, other.rounds - plain.rounds


def _listed(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
