"""From the points and edges of a piece, as written, to its outline."""

from __future__ import annotations

import re
from collections.abc import Mapping

import numpy as np

from nesting.errors import Mistake
from nesting.files.tables.schema import EdgeTable, Outline, PieceTable
from nesting.files.tables.wording import choices, quoted
from nesting.geometry import FloatArray
from nesting.pattern.curves import arc, smooth
from nesting.pattern.draft import Curve, Draft, Walk
from nesting.pattern.piece import Edge
from nesting.units import Unit, format_length

__all__ = ["build_edges", "draft_of", "points_named"]

SAME_POINT_MM = 0.01
"""Two points nearer than this are one."""

_BETWEEN = re.compile(r"[,;/>–-]+")
"""What people write between points instead of a space."""
Points = Mapping[str, tuple[float, float]]


def points_named(names: tuple[str, ...], points: Points, where: str) -> tuple[FloatArray, list[Mistake]]:
    """The points of those names, as an (N, 2) float64 array in mm, and a mistake for each unknown name."""
    mistakes = []
    for name in dict.fromkeys(names):
        if name not in points:
            if _joined(name, points):
                what = f"{quoted(name)} has a sign in it where only a space should be."
                mistakes.append(Mistake(where, what, 'Names of points have spaces between: "A B".'))
                continue
            remedy = choices(name, list(points), "point")
            if any(" " in known for known in points):
                remedy += ' Names with a space in them are written as a list: ["A", "B"].'
            mistakes.append(Mistake(where, f"There is no point {quoted(name)} in this piece.", remedy))
    found = [points[name] for name in names if name in points]
    return np.array(found, dtype=np.float64).reshape(-1, 2), mistakes


def _joined(name: str, points: Points) -> bool:
    """Whether a name is no point but several, with something other than a space between: ``A-B``."""
    parts = [part for part in _BETWEEN.split(name) if part]
    return bool(parts) and parts != [name] and all(part in points for part in parts)


def build_edges(
    table: PieceTable,
    *,
    default_allowance_mm: float,
    once_on_fold: str | None = None,
    unit: Unit,
    where: str,
) -> tuple[tuple[Edge, ...], list[Mistake]]:
    """The edges in order; with any mistake the edges that could be made, which then are no outline.

    An outline that is the cutting line gets no allowance, but for `once_on_fold`: an edge that was on the
    fold has none drawn, and as a seam it needs one.
    """
    if not table.edges:
        return (), [
            Mistake(where, "It has no edges.", 'Name the runs of its outline: edges = { hem = "A B" }.')
        ]
    piece_default = default_allowance_mm if table.seam_allowance is None else table.seam_allowance
    edges: list[Edge] = []
    mistakes: list[Mistake] = []
    for name, edge in table.edges.items():
        place = f"{where}, edge {quoted(name)}"
        vertices, found = _edge_vertices(edge, table.points, place)
        included = table.outline is Outline.CUTTING and name not in (table.on_fold, once_on_fold)
        default = 0.0 if included else piece_default
        allowance = default if edge.allowance is None else edge.allowance
        if included and allowance:
            asked = format_length(allowance, unit)
            what = f"It asks for an allowance of {asked}, but the outline already is the cutting line."
            remedy = 'Leave allowance out, or draw the stitching line and write outline = "stitching line".'
            mistakes.append(Mistake(place, what, remedy))
        mistakes += found
        if not found:
            edges.append(Edge(name, vertices, allowance))
    if not mistakes:
        mistakes = _chain_mistakes(tuple(edges), table, unit, where)
    return tuple(edges), mistakes


def draft_of(table: PieceTable) -> Draft:
    """The points and edges as they are written."""
    walks = (Walk(name, edge.through, edge.curve) for name, edge in table.edges.items())
    return Draft(table.points, tuple(walks), table.large)


def _edge_vertices(edge: EdgeTable, points: Points, where: str) -> tuple[FloatArray, list[Mistake]]:
    """The edge as a polyline, (M, 2) float64 array in mm."""
    through, mistakes = points_named(edge.through, points, where)
    if mistakes:
        return through, mistakes
    if len(through) < 2:
        what = f"It goes through {len(through)} point{'' if len(through) == 1 else 's'}."
        return through, [Mistake(where, what, "An edge runs from one point to another: name two or more.")]
    if edge.curve is Curve.ARC and len(through) != 3:
        what = f"An arc goes through 3 points, but here are {len(through)}."
        return through, [
            Mistake(where, what, 'Name its start, a point on the way, and its end; or use "smooth".')
        ]
    steps = np.hypot(*np.diff(through, axis=0).T)
    if steps.min() < SAME_POINT_MM:
        k = int(steps.argmin())
        first, second = edge.through[k], edge.through[k + 1]
        what = (
            f"Points {quoted(first)} and {quoted(second)}, next to each other in it, are at the same place."
        )
        return through, [Mistake(where, what, "Leave one of them out, or correct its measurements.")]
    try:
        if edge.curve is Curve.ARC:
            return arc(through[0], through[1], through[2]), []
        if edge.curve is Curve.SMOOTH:
            return smooth(through), []
    except ValueError as error:
        return through, [Mistake(where, f"Its curve cannot be drawn: {error}", "Correct its points.")]
    return through, []


def _in_order(edges: tuple[Edge, ...]) -> tuple[Edge, ...] | None:
    """The edges as a closed walk from the first on, or None where they make none."""
    walk, rest = [edges[0]], list(edges[1:])
    while rest:
        following = [edge for edge in rest if _gap(walk[-1].vertices[-1], edge.vertices[0]) < SAME_POINT_MM]
        if not following:
            return None
        walk.append(following[0])
        rest.remove(following[0])
    return tuple(walk) if _gap(walk[-1].vertices[-1], walk[0].vertices[0]) < SAME_POINT_MM else None


def _gap(a: FloatArray, b: FloatArray) -> float:
    return float(np.hypot(*(b - a)))


def _chain_mistakes(edges: tuple[Edge, ...], table: PieceTable, unit: Unit, where: str) -> list[Mistake]:
    """Where the walk round the outline breaks off."""
    in_order = _in_order(edges)
    names = [edge.name for edge in in_order or edges]
    if names != [edge.name for edge in edges]:
        what = "Its edges are not in the order in which they follow one another round the outline."
        return [Mistake(where, what, f"Write them in this order: {', '.join(map(quoted, names))}.")]
    mistakes = []
    first = edges[0]
    begun = table.edges[first.name].through[0]
    at, at_name, before = first.vertices[-1], table.edges[first.name].through[-1], first.name
    for edge in edges[1:]:
        through = table.edges[edge.name].through
        ends = (edge.vertices[0], edge.vertices[-1])
        gap, gap_turned = (float(np.hypot(*(end - at))) for end in ends)
        turned = gap >= SAME_POINT_MM > gap_turned
        if gap >= SAME_POINT_MM:
            end = f"the edge before it, {quoted(before)}, ends at {quoted(at_name)}"
            what = f"It begins at {quoted(through[0])}, but {end}, {format_length(gap, unit)} away."
            remedy = (
                "Edges follow one another round the outline, each beginning where the one before ended. "
                f'Is one left out, "{at_name} {through[0]}"?'
            )
            if turned:
                what = f"It runs the other way round: it begins at {quoted(through[0])}, but {end}."
                remedy = f'Write "{" ".join(reversed(through))}".'
            mistakes.append(Mistake(f"{where}, edge {quoted(edge.name)}", what, remedy))
        at, at_name, before = ends[0 if turned else 1], through[0 if turned else -1], edge.name
    gap = float(np.hypot(*(first.vertices[0] - at)))
    if gap >= SAME_POINT_MM:
        what = (
            f"The outline is not closed: its last edge, {quoted(before)}, ends at {quoted(at_name)}, and its "
            f"first, {quoted(first.name)}, begins at {quoted(begun)}, {format_length(gap, unit)} away."
        )
        mistakes.append(Mistake(where, what, "Let the last edge end where the first begins, or add an edge."))
    return mistakes
