"""Where on the repeat the matched points of a lay come to lie: what the person looks for on the cloth.

Read off the verified lay, so that what is printed is what was judged.
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.cutting.flat.opening import layers_of, taken_mm
from nesting.cutting.flat.points import CutPoint, points_cut
from nesting.cutting.lay import Lay
from nesting.pattern.match import Axis, Hand, Match
from nesting.project import Project

__all__ = ["Meeting", "meetings"]


@dataclass(frozen=True, slots=True)
class Meeting:
    """One match in one direction of the cloth.

    Attributes
    ----------
    match : Match
        With the points that are cut from this cloth.
    axis : Axis
    repeat_mm : float
        As it lies on the table.
    past_mm : float
        How far past a main line the points lie, less than a repeat: upwards as the garment is worn, or to
        the left of it. Where `from_line` is False, from the outer edge of the near selvedge instead.
    from_line : bool
        Whether it is known where a main line lies.
    mirrored_mm : float or None
        Across the cloth, the same of the mirrored half of the garment; None where that has no such point.
    """

    match: Match
    axis: Axis
    repeat_mm: float
    past_mm: float
    from_line: bool
    mirrored_mm: float | None = None


def meetings(lay: Lay, project: Project) -> tuple[Meeting, ...]:
    """Every match of the cloth, in file order, along it before across."""
    cloth = lay.cloth
    if cloth.repeat is None:
        return ()
    points = _points(lay, project)
    found = []
    for match in project.matches:
        here = match.among({piece.name for piece in project.pieces_in(cloth.key)})
        for axis in cloth.repeat.axes:
            repeat = cloth.repeat_mm(axis)
            if here is None or repeat is None or not match.holds(axis, cloth.key):
                continue
            named = [one for one in points if (one.piece, one.point) in here.points]
            drawn = [one for one in named if one.hand is Hand.DRAWN] or named
            if drawn:
                found.append(_meeting(here, axis, repeat, named, drawn[0]))
    return tuple(found)


def _points(lay: Lay, project: Project) -> list[CutPoint]:
    pieces = {piece.name: piece for piece in project.pieces_in(lay.cloth.key)}
    found: list[CutPoint] = []
    flat = 0.0
    for stretch in lay.stretches:
        for section in stretch:
            layers = layers_of(section, stretch, flat, lay.cloth)
            for placed in section.placed:
                found += points_cut(placed, section, layers, pieces[placed.piece], lay.cloth)
        flat += taken_mm(stretch, lay.cloth)
    return found


def _meeting(match: Match, axis: Axis, repeat_mm: float, named: list[CutPoint], first: CutPoint) -> Meeting:
    from_line = axis is Axis.ALONG or first.across_mm is not None
    mirrored = [one.phase_mm(axis) % repeat_mm for one in named if one.hand is Hand.MIRRORED]
    return Meeting(
        match=match,
        axis=axis,
        repeat_mm=repeat_mm,
        past_mm=first.phase_mm(axis) % repeat_mm,
        from_line=from_line,
        mirrored_mm=mirrored[0] if mirrored and axis is Axis.ACROSS else None,
    )
