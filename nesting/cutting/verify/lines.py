"""Judges the stripes of a lay: whether what is sewn together would really meet on one line of the repeat.

Like `nesting.cutting.verify.faults`, this looks at the cut pieces alone, opened out flat, and at nothing that
the search was told. Where each matching point lies is told by `nesting.cutting.flat.points`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.flat.points import CutPoint
from nesting.cutting.lay import LaySection
from nesting.fault import Fault, FaultKind
from nesting.pattern.match import Axis, Hand, Match
from nesting.project import Project

__all__ = ["LINE_TOLERANCE_MM", "LineFault", "line_faults", "section_line_faults"]

LINE_TOLERANCE_MM = 1.5
"""Seams match when their lines are no further apart: about the breadth of a chalk line."""
_ROOM_TOLERANCE_MM = 0.01
"""Rounding allowed where a fold needs room to be moved onto a stripe."""


class LineFault(FaultKind):
    """What can be wrong with how pieces lie on the repeat of a cloth."""

    UNEVEN_DOUBLE = "an uneven stripe lies double, the other way round in the upper layer"
    NO_ROOM_FOR_THE_FOLD = (
        "{width_mm:.2f} mm double leaves the fold no room to be laid on a stripe; {most_mm:.2f} mm would"
    )
    UNMARKED = "match '{match}': {asked} of '{piece}' asked for, '{point}' marked on {marked}"
    ACROSS_THE_LINES = "'{piece}' {copy} lies across the lines that '{point}' is matched on"
    TURNED_OFF_NO_LINE = "'{piece}' {copy} is turned, but nobody knows where the stripes lie"
    PARTLY_ON_A_FOLD = "match '{match}' lies partly on a fold and partly away from it"
    MISSED = (
        "match '{match}': '{point}' of '{piece}' {copy} misses '{other_point}' of '{other}' {other_copy} "
        "by {off_mm:.1f} mm on the repeat {axis}"
    )
    NO_MAIN_LINE = "match '{match}' needs a main line across the cloth, and nobody has measured one"
    OFF_THE_MAIN_LINE = (
        "match '{match}': '{point}' of '{piece}' {copy} is {off_mm:.1f} mm off the main line of the "
        "repeat {axis}"
    )


def section_line_faults(section: LaySection, project: Project, cloth: Cloth) -> list[Fault]:
    """A fold that cannot be brought onto a stripe, or that turns an uneven one round."""
    if section.layers == 1 or cloth.repeat is None:
        return []
    if Axis.ACROSS in cloth.repeat.uneven:
        return [LineFault.UNEVEN_DOUBLE.of()]
    held = _matches(project, cloth, Axis.ACROSS)
    repeat = cloth.repeat_mm(Axis.ACROSS)
    if section.spread is not Spread.LENGTHWISE_FOLD or not held or repeat is None:
        return []
    needed = repeat / (2 if any(match.on_line for match in held) else 4)
    most = cloth.usable_width_mm / 2 - needed
    if section.width_mm <= most + _ROOM_TOLERANCE_MM:
        return []
    return [LineFault.NO_ROOM_FOR_THE_FOLD.of(width_mm=section.width_mm, most_mm=most)]


def line_faults(points: Sequence[CutPoint], project: Project, cloth: Cloth) -> list[Fault]:
    """Every point that misses what it should meet.

    Parameters
    ----------
    points : sequence of CutPoint
        Of all pieces cut from the cloth.
    project : Project
    cloth : Cloth
    """
    found: list[Fault] = []
    for axis in Axis:
        repeat = cloth.repeat_mm(axis)
        for match in () if repeat is None else _matches(project, cloth, axis):
            named = [one for one in points if (one.piece, one.point) in match.points]
            found += _lost(match, named, project, cloth)
            found += _misread(match, named, axis)
            for same in _sewn(match, named, axis):
                found += _missed(match, same, axis, repeat or 1.0)
    return list(dict.fromkeys(found))


def _matches(project: Project, cloth: Cloth, axis: Axis) -> list[Match]:
    """What must meet on this cloth; a point whose partners are not cut has nothing to meet but a line."""
    cut = {piece.name for piece in project.pieces_in(cloth.key)}
    found = []
    for match in project.matches:
        here = sum(name in cut for name, _ in match.points)
        enough = here > 1 or (here == 1 and (match.on_line or len(match.points) == 1))
        if enough and match.cloth in (None, cloth.key) and (not match.axes or axis in match.axes):
            found.append(match)
    return found


def _lost(match: Match, named: Sequence[CutPoint], project: Project, cloth: Cloth) -> list[Fault]:
    """Pieces that are cut without their matching point."""
    cut = {piece.name: piece.cuts[cloth.key].pieces for piece in project.pieces_in(cloth.key)}
    return [
        LineFault.UNMARKED.of(match=match.name, asked=cut[name], piece=name, point=point, marked=have)
        for name, point in match.points
        if name in cut and (have := len({one.copy for one in named if one.piece == name})) != cut[name]
    ]


def _misread(match: Match, named: Sequence[CutPoint], axis: Axis) -> list[Fault]:
    """Pieces whose lines cannot be told: lying across, turned where no line is known, off the fold."""
    found = [
        LineFault.ACROSS_THE_LINES.of(piece=one.piece, copy=one.copy, point=one.point)
        for one in named
        if not one.reads
    ]
    if axis is Axis.ACROSS:
        found += [
            LineFault.TURNED_OFF_NO_LINE.of(piece=one.piece, copy=one.copy)
            for one in named
            if one.reads < 0 and one.across_mm is None
        ]
        if len({one.on_fold for one in named}) > 1:
            found.append(LineFault.PARTLY_ON_A_FOLD.of(match=match.name))
    return found


def _sewn(match: Match, named: Sequence[CutPoint], axis: Axis) -> Iterator[list[CutPoint]]:
    """The points that meet: along the cloth all; across it, those on the same half of the garment."""
    alone = len({one.piece for one in named}) == 1
    if axis is Axis.ALONG or (alone and len(match.points) == 1):
        yield list(named)
    else:
        for hand in Hand:
            yield [one for one in named if one.hand is hand]


def _missed(match: Match, same: Sequence[CutPoint], axis: Axis, repeat_mm: float) -> Iterator[Fault]:
    for one in same:
        first = same[0]
        told = {"match": match.name, "point": one.point, "piece": one.piece, "copy": one.copy, "axis": axis}
        off = _off_mm(one.phase_mm(axis) - first.phase_mm(axis), repeat_mm)
        if off > LINE_TOLERANCE_MM:
            yield LineFault.MISSED.of(
                **told, other_point=first.point, other=first.piece, other_copy=first.copy, off_mm=off
            )
        if not match.on_line:
            continue
        if axis is Axis.ACROSS and one.across_mm is None:
            yield LineFault.NO_MAIN_LINE.of(match=match.name)
            continue
        off = _off_mm(one.phase_mm(axis), repeat_mm)
        if off > LINE_TOLERANCE_MM:
            yield LineFault.OFF_THE_MAIN_LINE.of(**told, off_mm=off)


def _off_mm(length_mm: float, repeat_mm: float) -> float:
    rest = length_mm % repeat_mm
    return min(rest, repeat_mm - rest)
