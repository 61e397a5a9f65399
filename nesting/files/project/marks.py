"""From notches, darts and marks, as written, to points on the paper."""

from __future__ import annotations

import math

import numpy as np

from nesting.errors import Mistake
from nesting.files.project.outlines import SAME_POINT_MM, points_named
from nesting.files.tables.schema import NotchTable, PieceTable
from nesting.files.tables.wording import choices, quoted
from nesting.geometry import FloatArray
from nesting.pattern.piece import Dart, Edge, GrainLine, Mark, Notch
from nesting.units import Unit, format_length, format_off, mm_per

__all__ = ["build_darts", "build_grain", "build_marks", "build_notches"]

_SMALLER = {Unit.CM: Unit.MM, Unit.IN: Unit.CM}
"""In which a measure may have been read by mistake."""
ON_OUTLINE_MM = 1.0
"""A notch given by its place may lie this far off the outline; it is moved onto it."""


def build_grain(table: PieceTable, where: str) -> tuple[float, GrainLine | None, list[Mistake]]:
    """Direction in degrees counter-clockwise from paper x, and the line where two points give it."""
    grain = table.grain
    if isinstance(grain, str):
        return 90.0, None, []
    if isinstance(grain, float):
        return 90.0 - grain, None, []
    ends, mistakes = points_named(grain, table.points, f"{where}, grain")
    if mistakes:
        return 90.0, None, mistakes
    (x0, y0), (x1, y1) = ends
    if math.hypot(x1 - x0, y1 - y0) < SAME_POINT_MM:
        what = "The foot and the top of the grain line are at the same place."
        return 90.0, None, [Mistake(where, what, "Name two points that lie apart.")]
    line = (float(x0), float(y0)), (float(x1), float(y1))
    return math.degrees(math.atan2(y1 - y0, x1 - x0)), line, []


def build_notches(
    table: PieceTable, edges: tuple[Edge, ...], unit: Unit, where: str
) -> tuple[tuple[Notch, ...], list[Mistake]]:
    """Every notch at its place on the outline."""
    notches: list[Notch] = []
    mistakes: list[Mistake] = []
    for number, notch in enumerate(table.notches, 1):
        place = f"{where}, notch {quoted(notch.name) if notch.name else number}"
        built, mistake = _notch(notch, table, {edge.name: edge for edge in edges}, unit, place)
        if built is not None:
            notches.append(built)
        if mistake is not None:
            mistakes.append(mistake)
    return tuple(notches), mistakes


def _notch(
    notch: NotchTable, table: PieceTable, edges: dict[str, Edge], unit: Unit, where: str
) -> tuple[Notch | None, Mistake | None]:
    if notch.edge is not None and notch.edge not in edges:
        remedy = choices(notch.edge, list(edges), "edge")
        return None, Mistake(where, f"There is no edge {quoted(notch.edge)} in this piece.", remedy)
    ways = [notch.from_start, notch.from_end, notch.at]
    if sum(way is not None for way in ways) != 1:
        what = (
            "Its place is given in more than one way."
            if any(w is not None for w in ways)
            else "It has no place."
        )
        return None, Mistake(where, what, "Give one of from_start, from_end or at.")
    if notch.at is not None:
        return _notch_at(notch, notch.at, table, edges, unit, where)
    if notch.edge is None:
        return None, Mistake(
            where, "It does not say on which edge it is.", 'Write for example edge = "armhole".'
        )
    edge = edges[notch.edge]
    run = float(np.hypot(*np.diff(edge.vertices, axis=0).T).sum())
    distance = notch.from_start if notch.from_start is not None else notch.from_end
    assert distance is not None  # one of the three ways is given, and it is not `at`
    if distance > run:
        what = (
            f"It is {format_length(distance, unit)} along edge {quoted(edge.name)}, "
            f"which is only {format_length(run, unit)} long."
        )
        remedy = "Measure again along the edge."
        smaller = _SMALLER.get(unit)
        if smaller and distance / mm_per(unit) * mm_per(smaller) <= run:
            remedy += f" Or is it in {smaller}?"
        return None, Mistake(where, what, remedy)
    x, y = _point_along(edge.vertices, distance if notch.from_start is not None else run - distance)
    return Notch(notch.name, edge.name, (x, y)), None


def _notch_at(
    notch: NotchTable,
    at: str | tuple[float, float],
    table: PieceTable,
    edges: dict[str, Edge],
    unit: Unit,
    where: str,
) -> tuple[Notch | None, Mistake | None]:
    if isinstance(at, str):
        found, mistakes = points_named((at,), table.points, where)
        if mistakes:
            return None, mistakes[0]
        point = found[0]
    else:
        point = np.array(at)
    allowed = list(edges.values()) if notch.edge is None else [edges[notch.edge]]
    nearest = [(_nearest_on(edge.vertices, point), edge) for edge in allowed]
    on_edge, edge = min(nearest, key=lambda pair: float(np.hypot(*(pair[0] - point))))
    off = float(np.hypot(*(on_edge - point)))
    if off > ON_OUTLINE_MM:
        line = "the outline" if notch.edge is None else f"edge {quoted(notch.edge)}"
        what = f"It lies {format_off(off, unit)} off {line}; the nearest edge is {quoted(edge.name)}."
        remedy = "A notch lies on the outline as drawn: measure it again, or give edge and from_start."
        return None, Mistake(where, what, remedy)
    return Notch(notch.name, edge.name, (float(on_edge[0]), float(on_edge[1]))), None


def _point_along(vertices: FloatArray, distance_mm: float) -> tuple[float, float]:
    """The point that far along a polyline."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(vertices, axis=0).T))])
    x = float(np.interp(distance_mm, along, vertices[:, 0]))
    return x, float(np.interp(distance_mm, along, vertices[:, 1]))


def _nearest_on(vertices: FloatArray, point: FloatArray) -> FloatArray:
    """The point of a polyline nearest to `point`."""
    starts, steps = vertices[:-1], np.diff(vertices, axis=0)
    share = np.einsum("ij,ij->i", point - starts, steps) / np.einsum("ij,ij->i", steps, steps)
    candidates = starts + np.clip(share, 0.0, 1.0)[:, None] * steps
    nearest: FloatArray = candidates[np.hypot(*(candidates - point).T).argmin()]
    return nearest


def build_darts(table: PieceTable, where: str) -> tuple[tuple[Dart, ...], list[Mistake]]:
    """Every dart as two legs and a tip."""
    darts: list[Dart] = []
    mistakes: list[Mistake] = []
    for number, dart in enumerate(table.darts, 1):
        place = f"{where}, dart {quoted(dart.name) if dart.name else number}"
        if len(dart.legs) != 2:
            what = f"Its legs name {len(dart.legs)} of the two points they need."
            mistakes.append(Mistake(place, what, 'A dart has two legs: legs = "D1 D2".'))
            continue
        corners, unknown = points_named((dart.legs[0], dart.tip, dart.legs[1]), table.points, place)
        mistakes += unknown
        if not unknown:
            (a, b), (c, d), (e, f) = corners.tolist()
            darts.append(Dart(dart.name, ((a, b), (c, d), (e, f))))
    return tuple(darts), mistakes


def build_marks(table: PieceTable, where: str) -> tuple[tuple[Mark, ...], list[Mistake]]:
    """Every inner mark, a line or a point."""
    marks: list[Mark] = []
    mistakes: list[Mistake] = []
    for number, mark in enumerate(table.marks, 1):
        place = f"{where}, mark {quoted(mark.name) if mark.name else number}"
        if not mark.through:
            mistakes.append(
                Mistake(place, "It goes through no point.", 'Name one or more: through = "P1 P2".')
            )
            continue
        line, unknown = points_named(mark.through, table.points, place)
        mistakes += unknown
        if not unknown:
            marks.append(Mark(mark.name, tuple((float(x), float(y)) for x, y in line)))
    return tuple(marks), mistakes
