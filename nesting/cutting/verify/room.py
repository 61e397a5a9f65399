"""The room that a cut line has: what of a paper piece must be cut, and what may be.

The cut line is not drawn a second time: it is given *room*. `least` is what must be cut in any case and
`most` is all that may be, and a line that runs between the two keeps to these rules, each told once:

- Outside an edge everything within its allowance, measured square to it, is cut. There both are the same, so
  that a wrong allowance is found out.
- At an outer corner the two lines run on straight until they meet, to `MITRE_LIMIT` allowances at most;
  farther out the corner is cut square across.
- At a corner of different allowances the line may step from one to the other instead, and at an outer one the
  wider may end on the line of the narrower, run on straight. At an inner one the wider may run on straight.
  Either is a right line, so here, and here only, there is room between `least` and `most`.
- The fold edge has no allowance, and nothing lies behind the fold line.
- What allowances close off all round is cut as one with them.

Shares nothing with `nesting.pattern.allowance`, which it is to find out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from nesting.geometry import FloatArray, signed_area
from nesting.pattern.piece import Edge, Piece

__all__ = [
    "MITRE_LIMIT",
    "STEP_TURN_DEG",
    "edges_of",
    "ends",
    "outward",
    "over_line",
    "room",
    "side_of",
    "unit",
]

MITRE_LIMIT = 3.0
"""A corner reaches at most so many allowances from the corner of the paper."""
STEP_TURN_DEG = 15.0
"""Different allowances on edges that turn less than this into one another step, and never run on."""
CURVE_TURN_DEG = 30.0
"""Parts of one edge that turn less are a curve: bent inward, the ends of their allowances are joined."""
_HAIR_DEG = 1e-6
"""Where a corner turns by just such an angle, rounding decides: both are right."""
SAME_POINT_MM = 1e-6


def edges_of(piece: Piece) -> list[Edge]:
    """The edges counter-clockwise, each point once, the fold edge straight and without allowance."""
    edges = []
    for edge in piece.edges:
        line = ends(edge) if edge.name == piece.on_fold else edge.vertices
        new = [True, *(np.linalg.norm(np.diff(line, axis=0), axis=1) > SAME_POINT_MM)]
        allowance = 0.0 if edge.name == piece.on_fold else edge.allowance_mm
        edges.append(Edge(edge.name, line[new], allowance))
    if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < 0:
        edges = [Edge(one.name, one.vertices[::-1], one.allowance_mm) for one in reversed(edges)]
    return edges


def room(edges: Sequence[Edge], fold: FloatArray | None) -> tuple[BaseGeometry, BaseGeometry]:
    """What must be cut and what may be; of a paper that is half of its piece, opened out."""
    outline = shapely.Polygon(np.concatenate([edge.vertices[:-1] for edge in edges]))
    bands = [shapely.union_all(list(_band(edge))) for edge in edges]
    sure, may = list(bands), [*bands, *(part for edge in edges for part in _inward_joins(edge))]
    corners: list[BaseGeometry] = []
    for i in range(len(edges)):
        j = (i + 1) % len(edges)
        corner = _Corner(edges[i], edges[j])
        if corner.turn_deg > 0:
            corners += corner.certain()
            may += corner.possible()
            if corner.may_be_trimmed:
                wide = i if corner.a > corner.b else j
                sure[wide] = sure[wide].difference(corner.past_the_narrow_line(outline.length))
        else:
            may += corner.run_on()
    least = shapely.union_all([outline, *sure, *corners])
    most = shapely.union_all([outline, *may, *corners])
    if fold is not None:
        side = side_of(fold, shapely.get_coordinates(outline))
        halves = least.intersection(side), most.intersection(side)
        least, most = (one.union(shapely.transform(one, lambda p: over_line(p, fold))) for one in halves)
    # What allowances close off all round is cut as one with them.
    return least, shapely.union_all([shapely.Polygon(part.exterior) for part in _polygons(most)])


def _band(edge: Edge) -> Iterator[shapely.Polygon]:
    """All within the allowance, square to each part of the edge, and the outer corners between its parts."""
    a = edge.allowance_mm
    if a <= 0:
        return
    ways_out = outward(edge.vertices)
    for (p, q), out in zip(pairwise(edge.vertices), ways_out, strict=True):
        yield shapely.Polygon([p, p + a * out, q + a * out, q])
    for at, (one, other) in zip(edge.vertices[1:-1], pairwise(ways_out), strict=True):
        if _turn_deg(one, other) > 0:
            yield from _mitre(at, one, other, a, a)


def _inward_joins(edge: Edge) -> Iterator[shapely.Polygon]:
    """What joins the ends of the allowance of an edge that curves."""
    a = edge.allowance_mm
    for at, (one, other) in zip(edge.vertices[1:-1], pairwise(outward(edge.vertices)), strict=True):
        if a > 0 and abs(_turn_deg(one, other)) < CURVE_TURN_DEG + _HAIR_DEG:
            yield shapely.Polygon([at, at + a * one, at + a * other])


class _Corner:
    """Where one edge meets the next: outward directions there, and the allowances before and after."""

    def __init__(self, before: Edge, after: Edge) -> None:
        self.at = after.vertices[0]
        self.one, self.other = outward(before.vertices)[-1], outward(after.vertices)[0]
        self.a, self.b = before.allowance_mm, after.allowance_mm
        self.turn_deg = _turn_deg(self.one, self.other)
        lengths = (shapely.length(shapely.LineString(edge.vertices)) for edge in (before, after))
        self.room_mm = min(MITRE_LIMIT * max(self.a, self.b), *lengths)

    @property
    def meets(self) -> bool:
        """Whether neither allowance ends within the other, so that both lines run on to where they meet."""
        cos = math.cos(math.radians(self.turn_deg))
        return self.a >= self.b * cos and self.b >= self.a * cos

    @property
    def may_be_trimmed(self) -> bool:
        return not self.meets and self.turn_deg > STEP_TURN_DEG - _HAIR_DEG

    def certain(self) -> Iterator[shapely.Polygon]:
        """Of an outer corner, what is cut in any case."""
        least = min(self.a, self.b)
        yield from _mitre(self.at, self.one, self.other, least, least)
        if self.meets and self.turn_deg > STEP_TURN_DEG + _HAIR_DEG:
            yield from _mitre(self.at, self.one, self.other, self.a, self.b)

    def possible(self) -> Iterator[shapely.Polygon]:
        """Of an outer corner, what may be cut."""
        if self.meets:
            yield from _mitre(self.at, self.one, self.other, self.a, self.b)
            return
        # The narrow line runs on to the end of the wide allowance.
        (narrow, out), wide = sorted(((self.a, self.one), (self.b, self.other)), key=lambda side: side[0])
        end = narrow / math.cos(math.radians(self.turn_deg)) * wide[1]
        yield shapely.Polygon([self.at, self.at + end, self.at + narrow * out])

    def past_the_narrow_line(self, far_mm: float) -> shapely.Polygon:
        """All beyond the line of the narrower allowance, run on straight."""
        narrow, out = min((self.a, self.one), (self.b, self.other), key=lambda side: side[0])
        return _half_plane(self.at + narrow * out, out, far_mm + MITRE_LIMIT * max(self.a, self.b))

    def run_on(self) -> Iterator[shapely.Polygon]:
        """Of an inner corner, what the wider allowance may gain by running on straight."""
        if self.a == self.b or self.turn_deg > -(STEP_TURN_DEG - _HAIR_DEG):
            return
        # Forward past the end of the edge before, or back past the start of the one after.
        wide, out, way = (self.a, self.one, 1.0) if self.a > self.b else (self.b, self.other, -1.0)
        reach = way * self.room_mm * np.array([-out[1], out[0]])
        yield shapely.Polygon([self.at, self.at + wide * out, self.at + wide * out + reach, self.at + reach])


def _mitre(
    at: FloatArray, one: FloatArray, other: FloatArray, a: float, b: float
) -> Iterator[shapely.Polygon]:
    """Between two lines that run on to where they meet, no farther than the limit from the corner."""
    if max(a, b) <= 0 or abs(one[0] * other[1] - one[1] * other[0]) < 1e-9:
        return
    tip = np.linalg.solve(np.array([one, other]), np.array([a, b]))
    limit, reach = MITRE_LIMIT * max(a, b), float(np.linalg.norm(tip))
    corner = shapely.Polygon([at, at + a * one, at + tip, at + b * other])
    too_far = _half_plane(at + limit * tip / reach, tip / reach, reach)
    yield from _polygons(corner.difference(too_far) if reach > limit else corner)


def side_of(fold: FloatArray, outline: FloatArray) -> shapely.Polygon:
    """All on the side of the fold line that an outline lies on."""
    out = outward(fold)[0]
    off = (outline - fold[0]) @ out
    return _half_plane(fold[0], out if off.max() > -off.min() else -out, 1e4 + 10 * float(np.ptp(outline)))


def _half_plane(at: FloatArray, out: FloatArray, far_mm: float) -> shapely.Polygon:
    """All beyond a line through `at` with `out` pointing beyond, as far as counts."""
    along = np.array([-out[1], out[0]])
    ends = np.array([at - far_mm * along, at + far_mm * along])
    return shapely.Polygon([ends[0], ends[1], ends[1] + far_mm * out, ends[0] + far_mm * out])


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]


def ends(edge: Edge) -> FloatArray:
    """Where an edge begins and where it ends, (2, 2)."""
    return edge.vertices[[0, -1]]


def unit(way: FloatArray) -> FloatArray:
    """The same directions, each of length 1."""
    return np.asarray(way / np.linalg.norm(way, axis=-1, keepdims=True))


def outward(vertices: FloatArray) -> FloatArray:
    """Of each part of a line, (M - 1, 2): square to it, away from a piece walked round counter-clockwise."""
    along = unit(np.diff(vertices, axis=0))
    return np.column_stack([along[:, 1], -along[:, 0]])


def _turn_deg(one: FloatArray, other: FloatArray) -> float:
    """From one direction to the other: above 0 at an outer corner."""
    return math.degrees(math.atan2(one[0] * other[1] - one[1] * other[0], float(one @ other)))


def over_line(points: FloatArray, line: FloatArray) -> FloatArray:
    """Points mirrored over a line through two points."""
    along = unit(line[1] - line[0])
    away = points - line[0]
    return np.asarray(line[0] + 2 * np.outer(away @ along, along) - away)
