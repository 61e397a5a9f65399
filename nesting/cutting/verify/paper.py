"""What must come off the table, told from the paper alone.

The cut line is not drawn a second time: it is given *room*. `least` is what must be cut in any case and
`most` is all that may be, and a line that runs between the two keeps to these rules, each told once:

- Outside an edge everything within its allowance, measured square to it, is cut. There both are the same, so
  that a wrong allowance is found out to within `SHAPE_TOLERANCE_MM`.
- At an outer corner the two lines run on straight until they meet, to `MITRE_LIMIT` allowances at most;
  farther out the corner is cut square across.
- At a corner of different allowances the line may step from one to the other instead, and at an outer one the
  wider may end on the line of the narrower, run on straight. At an inner one the wider may run on straight.
  Either is a right line, so here, and here only, there is room between `least` and `most`.
- The fold edge has no allowance, and nothing lies behind the fold line.
- What allowances close off all round is cut as one with them.

How the paper lies on the cloth is not looked for either. A piece says of itself where on the paper its grain
line is (`CutShape.grain_on_paper`): two points on the paper and the same two on the cloth leave open only
which side of the paper is up. All else must then be where the paper has it. A piece that says so wrongly is
refused.

Shares nothing with `nesting.pattern.allowance`, `shaping` and `unfold`, which it is to find out.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from nesting.cutting.flat.rebuilding import Cut
from nesting.geometry import FloatArray, signed_area
from nesting.pattern.cut_shape import NOTCH_DEPTH_MM, Feature, FeatureKind
from nesting.pattern.piece import Edge, Notch, Piece

__all__ = ["ANGLE_TOLERANCE_DEG", "SHAPE_TOLERANCE_MM", "Paper", "SheetOn", "paper_of"]

SHAPE_TOLERANCE_MM = 0.05
"""The cut line, and all that is marked, may be off the paper by no more: half the width of a pencil line, and
five times what is lost where vertices are left out that hardly turn the line."""
ANGLE_TOLERANCE_DEG = 1e-4
"""Rounding allowed in an angle that is read off two points: over a metre a fiftieth of a hair, 0.002 mm."""

MITRE_LIMIT = 3.0
"""A corner reaches at most so many allowances from the corner of the paper."""
STEP_TURN_DEG = 15.0
"""Different allowances on edges that turn less than this into one another step, and never run on."""
CURVE_TURN_DEG = 30.0
"""Parts of one edge that turn less are a curve: bent inward, the ends of their allowances are joined."""
_HAIR_DEG = 1e-6
"""Where a corner turns by just such an angle, rounding decides: both are right."""
_SAME_POINT_MM = 1e-6
_NOTCH_ALONG_MM = 1.0
"""A notch goes out square to the paper's edge as it runs for so much to either side."""

_CARRIED = {FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH}
Named = tuple[FeatureKind, str, FloatArray]


@dataclass(frozen=True, slots=True)
class SheetOn:
    """How the paper lies over a piece of cloth: ``p -> turn * p + shift``, of the paper or its mirror image.

    Points are complex numbers, x + iy.

    Attributes
    ----------
    mirrored : bool
        Whether it is the mirror image (x + iy becomes x - iy first).
    turn, shift : complex
        `turn` has length 1.
    """

    mirrored: bool
    turn: complex
    shift: complex

    def on_paper(self, points: FloatArray) -> FloatArray:
        """Points of the cloth, (N, 2), where they are on the paper."""
        away = (points[:, 0] + 1j * points[:, 1] - self.shift) * self.turn.conjugate()
        return np.column_stack([away.real, -away.imag if self.mirrored else away.imag])

    def turned_deg(self, top_deg: float) -> float:
        """How far a paper whose top is in that direction is turned from "top towards the far end"."""
        turn = math.degrees(cmath.phase(self.turn))
        return (turn - top_deg if self.mirrored else turn + top_deg) % 360.0


@dataclass(frozen=True, slots=True, eq=False)
class Snip:
    """Where a notch leaves the edge.

    Attributes
    ----------
    name : str
    at, out : (2,) float64 arrays
        Its place, and the way out there, square to the edge, length 1.
    half : Polygon or None
        Of a piece on the fold, the side of the fold that it is on, and on which its cut line is.
    on_fold : bool
        Whether its edge is the fold edge, outside which nothing is cut.
    """

    name: str
    at: FloatArray
    out: FloatArray
    half: shapely.Polygon | None
    on_fold: bool

    def slits(self, ring: shapely.LinearRing) -> list[FloatArray]:
        """Where it may be slit: where its way out first meets the cut line, or nearest to its place."""
        if self.on_fold:
            return [self._slit(self.at)]
        line = ring if self.half is None else ring.intersection(self.half)
        way = shapely.LineString([self.at - 0.01 * self.out, self.at + (ring.length + 1.0) * self.out])
        met = shapely.get_coordinates(shapely.intersection(way, line))
        ends = [shapely.get_coordinates(shapely.shortest_line(shapely.Point(self.at), line))[1]]
        if len(met):
            ends.append(met[np.argmin(np.linalg.norm(met - self.at, axis=1))])
        return [self._slit(end) for end in ends]

    def _slit(self, end: FloatArray) -> FloatArray:
        return np.array([end, end - NOTCH_DEPTH_MM * self.out])


@dataclass(frozen=True, slots=True, eq=False)
class Paper:
    """What is to be cut of a piece, in paper coordinates.

    Attributes
    ----------
    least, most : Polygon
        What must be cut and what may be, `SHAPE_TOLERANCE_MM` taken off and added.
    stitched : MultiLineString or None
        What the stitching line shows: the edges as drawn, but for a fold edge. None where the outline is the
        cutting line.
    carried : tuple of (kind, name, points)
        Darts, marks and matching points.
    notches : tuple of Snip
    fold : (2, 2) float64 array or None
    top_deg : float
        Direction on the paper that lies towards the far end of the cloth.
    grain_deg : tuple of float
        Directions that the grain line may have: of a piece on the fold also the fold's.
    """

    least: BaseGeometry
    most: BaseGeometry
    stitched: shapely.MultiLineString | None
    carried: tuple[Named, ...]
    notches: tuple[Snip, ...]
    fold: FloatArray | None
    top_deg: float
    grain_deg: tuple[float, ...]

    def lies(self, cut: Cut, *, mirrored: bool) -> SheetOn | None:
        """How the paper, or its mirror image, lies on what is cut, if that is what it asks for; else None.

        Parameters
        ----------
        cut : Cut
        mirrored : bool
        """
        sheet = self._laid_by_grain(cut, mirrored)
        if sheet is None or not cut.polygon.is_valid:
            return None
        features = [Feature(one.kind, one.name, sheet.on_paper(one.vertices)) for one in cut.features]
        polygon = shapely.transform(cut.polygon, sheet.on_paper)
        right = (
            self._carries(features)
            and self._is_notched(features, polygon.exterior)
            and self._is_drawn(features, polygon.exterior)
            and self.most.covers(polygon)
            and polygon.covers(self.least)
        )
        return sheet if right else None

    def _laid_by_grain(self, cut: Cut, mirrored: bool) -> SheetOn | None:
        """How the paper must lie for its grain line to be where the cloth has it."""
        lines = [one.vertices for one in cut.features if one.kind is FeatureKind.GRAIN]
        if not lines or cut.grain_on_paper is None:
            return None
        foot, top = (complex(x, y) for x, y in lines[0])
        on_paper = [complex(x, y) for x, y in cut.grain_on_paper]
        way = on_paper[1] - on_paper[0]
        if abs(way) < _SAME_POINT_MM or abs(abs(top - foot) - abs(way)) > SHAPE_TOLERANCE_MM:
            return None
        run = math.degrees(cmath.phase(way))
        if min(_between_deg(run, one) for one in self.grain_deg) > ANGLE_TOLERANCE_DEG:
            return None
        if mirrored:
            on_paper, way = [point.conjugate() for point in on_paper], way.conjugate()
        turn = (top - foot) / way
        turn /= abs(turn)
        return SheetOn(mirrored, turn, foot - turn * on_paper[0])

    def _carries(self, features: Sequence[Feature]) -> bool:
        """Whether darts, marks and matching points are those of the paper, each at its place."""
        had = [(one.kind, one.name, one.vertices) for one in features if one.kind in _CARRIED]
        return all(any(_same(one, other) for other in self.carried) for one in had) and all(
            any(_same(one, other) for other in had) for one in self.carried
        )

    def _is_notched(self, features: Sequence[Feature], ring: shapely.LinearRing) -> bool:
        """Whether every notch is a slit from the cut line inward, straight out from its place."""
        had = [(one.name, one.vertices) for one in features if one.kind is FeatureKind.NOTCH]
        asked = [(snip.name, snip.slits(ring)) for snip in self.notches]

        def right(name: str, slit: FloatArray, other: str, ways: Sequence[FloatArray]) -> bool:
            return name == other and any(_close(slit, way) for way in ways)

        return all(any(right(*one, *other) for other in asked) for one in had) and all(
            any(right(*one, *other) for one in had) for other in asked
        )

    def _is_drawn(self, features: Sequence[Feature], ring: shapely.LinearRing) -> bool:
        """Whether the stitching line is the paper's outline, and the fold line its fold from end to end."""
        lines = [one.vertices for one in features if one.kind is FeatureKind.STITCHING]
        if (self.stitched is None) != (not lines):
            return False
        if self.stitched is not None:
            drawn = shapely.MultiLineString(lines)
            if drawn.hausdorff_distance(self.stitched) > SHAPE_TOLERANCE_MM:
                return False
        folds = [one.vertices for one in features if one.kind is FeatureKind.FOLD]
        if self.fold is None:
            return not folds
        return bool(folds) and all(self._is_fold(line, ring) for line in folds)

    def _is_fold(self, line: FloatArray, ring: shapely.LinearRing) -> bool:
        """Whether a line lies on the fold, takes in the whole fold edge and ends on the cut line."""
        assert self.fold is not None
        along = _unit(self.fold[1] - self.fold[0])
        away = line - self.fold[0]
        off = np.abs(along[0] * away[:, 1] - along[1] * away[:, 0])
        reach, whole = np.sort(away @ along), float(np.linalg.norm(self.fold[1] - self.fold[0]))
        ends = shapely.distance(shapely.points(line), ring)
        return bool(max(off.max(), ends.max(), reach[0], whole - reach[-1]) <= SHAPE_TOLERANCE_MM)


@lru_cache(maxsize=1024)  # asked for each better lay, of each of its pieces
def paper_of(piece: Piece, *, whole: bool) -> Paper:
    """What is to be cut of a piece.

    Parameters
    ----------
    piece : Piece
        Free of the mistakes `nesting.pattern.outline.piece_mistakes` reports.
    whole : bool
        Of a piece whose paper is half of it: whether it is cut opened out.
    """
    edges = _edges(piece)
    fold = None if piece.on_fold is None else _ends(piece.edge(piece.on_fold))
    outline = np.concatenate([edge.vertices[:-1] for edge in edges])
    least, most = _room(edges, fold)
    stitched = [edge.vertices for edge in edges if edge.name != piece.on_fold]
    carried = [
        *((FeatureKind.DART, one.name, np.array(one.legs_and_tip)) for one in piece.darts),
        *((FeatureKind.MARK, one.name, np.array(one.points)) for one in piece.marks),
        *((FeatureKind.MATCH, one.name, np.array(one.points)) for one in piece.matching),
    ]
    top_deg = piece.grain_deg
    half = None
    if fold is not None:
        run = math.degrees(math.atan2(*(fold[1] - fold[0])[::-1]))
        top_deg = run if _between_deg(run, piece.grain_deg) < 90.0 else run + 180.0
        half = _side_of(fold, outline)
    notches = [_snip(one, edges, piece.on_fold, half) for one in piece.notches]
    if fold is not None and whole:

        def over(points: FloatArray) -> FloatArray:
            return _mirrored(points, fold)

        stitched += [over(one) for one in stitched]
        carried += [(kind, name, over(points)) for kind, name, points in carried]
        notches += [_snip_over(one, over) for one in notches]
    elif half is not None:
        least, most = least.intersection(half), most.intersection(half)
    least, most = least.buffer(-SHAPE_TOLERANCE_MM), most.buffer(SHAPE_TOLERANCE_MM)
    shapely.prepare(most)
    return Paper(
        least=least,
        most=most,
        stitched=None if piece.allowance_included else shapely.MultiLineString(stitched),
        carried=tuple(carried),
        notches=tuple(notches),
        fold=fold,
        top_deg=top_deg,
        grain_deg=(piece.grain_deg, top_deg),
    )


# The room of the cut line.


def _edges(piece: Piece) -> list[Edge]:
    """The edges counter-clockwise, each point once, the fold edge straight and without allowance."""
    edges = []
    for edge in piece.edges:
        line = _ends(edge) if edge.name == piece.on_fold else edge.vertices
        new = [True, *(np.linalg.norm(np.diff(line, axis=0), axis=1) > _SAME_POINT_MM)]
        allowance = 0.0 if edge.name == piece.on_fold else edge.allowance_mm
        edges.append(Edge(edge.name, line[new], allowance))
    if signed_area(np.concatenate([edge.vertices[:-1] for edge in edges])) < 0:
        edges = [Edge(one.name, one.vertices[::-1], one.allowance_mm) for one in reversed(edges)]
    return edges


def _room(edges: Sequence[Edge], fold: FloatArray | None) -> tuple[BaseGeometry, BaseGeometry]:
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
        side = _side_of(fold, shapely.get_coordinates(outline))
        halves = least.intersection(side), most.intersection(side)
        least, most = (one.union(shapely.transform(one, lambda p: _mirrored(p, fold))) for one in halves)
    # What allowances close off all round is cut as one with them.
    return least, shapely.union_all([shapely.Polygon(part.exterior) for part in _polygons(most)])


def _band(edge: Edge) -> Iterator[shapely.Polygon]:
    """All within the allowance, square to each part of the edge, and the outer corners between its parts."""
    a = edge.allowance_mm
    if a <= 0:
        return
    outward = _outward(edge.vertices)
    for (p, q), out in zip(pairwise(edge.vertices), outward, strict=True):
        yield shapely.Polygon([p, p + a * out, q + a * out, q])
    for at, (one, other) in zip(edge.vertices[1:-1], pairwise(outward), strict=True):
        if _turn_deg(one, other) > 0:
            yield from _mitre(at, one, other, a, a)


def _inward_joins(edge: Edge) -> Iterator[shapely.Polygon]:
    """What joins the ends of the allowance of an edge that curves."""
    a = edge.allowance_mm
    for at, (one, other) in zip(edge.vertices[1:-1], pairwise(_outward(edge.vertices)), strict=True):
        if a > 0 and abs(_turn_deg(one, other)) < CURVE_TURN_DEG + _HAIR_DEG:
            yield shapely.Polygon([at, at + a * one, at + a * other])


class _Corner:
    """Where one edge meets the next: outward directions there, and the allowances before and after."""

    def __init__(self, before: Edge, after: Edge) -> None:
        self.at = after.vertices[0]
        self.one, self.other = _outward(before.vertices)[-1], _outward(after.vertices)[0]
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


def _side_of(fold: FloatArray, outline: FloatArray) -> shapely.Polygon:
    """All on the side of the fold line that an outline lies on."""
    out = _outward(fold)[0]
    off = (outline - fold[0]) @ out
    return _half_plane(fold[0], out if off.max() > -off.min() else -out, 1e4 + 10 * float(np.ptp(outline)))


def _half_plane(at: FloatArray, out: FloatArray, far_mm: float) -> shapely.Polygon:
    """All beyond a line through `at` with `out` pointing beyond, as far as counts."""
    along = np.array([-out[1], out[0]])
    ends = np.array([at - far_mm * along, at + far_mm * along])
    return shapely.Polygon([ends[0], ends[1], ends[1] + far_mm * out, ends[0] + far_mm * out])


# Notches.


def _snip(notch: Notch, edges: Sequence[Edge], on_fold: str | None, half: shapely.Polygon | None) -> Snip:
    """The place on the edge, and the way out there, square to the edge as it runs just there."""
    line = next(shapely.LineString(edge.vertices) for edge in edges if edge.name == notch.edge)
    station = line.project(shapely.Point(notch.at))
    behind, ahead = max(0.0, station - _NOTCH_ALONG_MM), min(line.length, station + _NOTCH_ALONG_MM)
    p, at, q = (np.array(line.interpolate(one).coords[0]) for one in (behind, station, ahead))
    # A hair off the fold line, so that none of the cut line's stretch on it remains.
    free = None if half is None else half.buffer(-1e-4, join_style="mitre")
    return Snip(notch.name, at, _outward(np.array([p, q]))[0], free, notch.edge == on_fold)


def _snip_over(snip: Snip, over: Callable[[FloatArray], FloatArray]) -> Snip:
    """The same on the other half of a piece opened out."""
    at, end = over(np.array([snip.at, snip.at + snip.out]))
    return Snip(snip.name, at, end - at, shapely.transform(snip.half, over), snip.on_fold)


# Plain measures.


def _same(one: Named, other: Named) -> bool:
    return one[:2] == other[:2] and _close(one[2], other[2])


def _close(one: FloatArray, other: FloatArray) -> bool:
    return one.shape == other.shape and bool(np.abs(one - other).max() <= SHAPE_TOLERANCE_MM)


def _polygons(shape: BaseGeometry) -> list[shapely.Polygon]:
    return [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]


def _ends(edge: Edge) -> FloatArray:
    return edge.vertices[[0, -1]]


def _unit(way: FloatArray) -> FloatArray:
    return np.asarray(way / np.linalg.norm(way, axis=-1, keepdims=True))


def _outward(vertices: FloatArray) -> FloatArray:
    """Of each part of a line, (M - 1, 2): square to it, away from a piece walked round counter-clockwise."""
    along = _unit(np.diff(vertices, axis=0))
    return np.column_stack([along[:, 1], -along[:, 0]])


def _turn_deg(one: FloatArray, other: FloatArray) -> float:
    """From one direction to the other: above 0 at an outer corner."""
    return math.degrees(math.atan2(one[0] * other[1] - one[1] * other[0], float(one @ other)))


def _between_deg(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _mirrored(points: FloatArray, line: FloatArray) -> FloatArray:
    along = _unit(line[1] - line[0])
    away = points - line[0]
    return np.asarray(line[0] + 2 * np.outer(away @ along, along) - away)
