"""Seam allowance: from the stitching line out to the line that is cut.

Every edge moves outward by its own allowance. The cut shape is built as a union: the outline, a band
along each edge (a strip beside each of its segments), and a corner wherever two segments meet:

- Both allowances the same: the mitre, which is the intersection of the two offset lines. At an inner
  corner the bands overlap and need nothing more. Over the whole outline this is the mitred buffer.
- Different allowances: still the intersection of the two offset lines. Where it lies past the end of a
  band the corner is filled, where it lies before the end the wider band is trimmed along the other's
  offset line, as the cutter's ruler would run on straight.
- A mitre that would reach further than `MITRE_LIMIT` allowances from its corner is cut square across.
- Different allowances on edges that nearly run on straight (`STEP_TURN_DEG`): a step.

As a union of simple parts it cannot cross itself, however tight an inward curve is, and it always
contains the outline. The fold edge has no allowance: corners beside it end on the fold line, and nothing
reaches past it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from nesting.errors import InvalidShape
from nesting.geometry import FloatArray, counter_clockwise, next_ones, previous_ones
from nesting.pattern.edges import edge_length_mm, outline_ring
from nesting.pattern.piece import Edge

__all__ = ["COLLINEAR_TOLERANCE_MM", "MITRE_LIMIT", "STEP_TURN_DEG", "cut_outline", "without_collinear"]

MITRE_LIMIT = 3.0
"""A corner reaches at most so many allowances from its stitching corner: points under 39 degrees are cut."""

STEP_TURN_DEG = 15.0
"""Edges with different allowances that turn less than this into one another meet in a step."""

CURVE_TURN_DEG = 30.0
"""Segments of one edge that turn less than this into one another are taken for a curve."""

COLLINEAR_TOLERANCE_MM = 0.01
"""A vertex this close to the line between its neighbours is left out."""

SAME_MM = 1e-9
ON_LINE_MM = 1e-3
OVERLAP_MM = 1e-3
"""Parts that would only touch overlap by this, many grid steps, so that rounding leaves no crack."""
GRID_MM = 1e-4
"""The union is made on a grid this fine, on which slivers left by rounding vanish."""
SLIT_MM = 4 * GRID_MM
"""A slit no wider is one of rounding."""


def cut_outline(edges: Sequence[Edge], *, on_fold: str | None = None) -> FloatArray:
    """Add the allowances to an outline.

    Parameters
    ----------
    edges : sequence of Edge
        As `nesting.pattern.edges.counter_clockwise_edges` gives them, free of the mistakes
        `nesting.pattern.outline` reports.
    on_fold : str or None
        The edge that lies on the fold. It must run exactly along x.

    Returns
    -------
    (N, 2) float64 array, mm, counter-clockwise, not closed
        A simple polygon that contains the outline; with a fold, vertices on the fold line have exactly
        its y.

    Raises
    ------
    InvalidShape
        When the outline has no inside.
    """
    outline = shapely.Polygon(outline_ring(edges))
    if not outline.is_valid or outline.area == 0:
        raise InvalidShape("an outline that crosses itself or has no inside can be given no allowance")
    allowances = [0.0 if edge.name == on_fold else edge.allowance_mm for edge in edges]
    following = [(i, (i + 1) % len(edges)) for i in range(len(edges))]
    meetings = [
        _Corner(edges[i].vertices, edges[j].vertices, allowances[i], allowances[j]) for i, j in following
    ]
    bands = [
        shapely.union_all(list(_band(edges[j].vertices, allowances[j], meetings[i], meetings[j])))
        for i, j in following
    ]
    bands = [*bands[-1:], *bands[:-1]]
    corners: list[BaseGeometry] = []
    for (i, j), corner in zip(following, meetings, strict=True):
        corners += corner.filling()
        corners.append(corner.run_on(outline.union(bands[j] if corner.a > corner.b else bands[i])))
        bands[i] = corner.trimmed(bands[i], before=True)
        bands[j] = corner.trimmed(bands[j], before=False)
    shape = shapely.union_all([outline, *bands, *corners], grid_size=GRID_MM)
    if on_fold is None:
        return without_collinear(_outer_ring(shape))
    fold = next(edge for edge in edges if edge.name == on_fold)
    return without_collinear(_outer_ring(_up_to_fold(shape, fold)), fold_y=float(fold.vertices[0, 1]))


def without_collinear(ring: FloatArray, *, fold_y: float | None = None) -> FloatArray:
    """Leave out the vertices that do not turn the ring.

    Parameters
    ----------
    ring : (N, 2) float64 array, mm, not closed
    fold_y : float or None
        Where the fold line is, if any: both ends of the ring's stretch on it stay as they are.

    Returns
    -------
    (M, 2) float64 array, mm, counter-clockwise, not closed, M <= N
    """
    ring = counter_clockwise(ring)
    if fold_y is None:
        # The corner farthest along x is one that stays, so the thinning may begin there.
        ring = np.roll(ring, -int(np.lexsort((ring[:, 1], -ring[:, 0]))[0]), axis=0)
        return _thinned(np.vstack([ring, ring[:1]]))[:-1]
    on_fold = np.flatnonzero(ring[:, 1] == fold_y)
    right, left = on_fold[np.argmax(ring[on_fold, 0])], on_fold[np.argmin(ring[on_fold, 0])]
    # Counter-clockwise, the rest begins at the right of a fold that lies below the piece.
    first, last = (right, left) if ring[:, 1].mean() > fold_y else (left, right)
    return _thinned(np.roll(ring, -first, axis=0)[: (last - first) % len(ring) + 1])


def _thinned(line: FloatArray) -> FloatArray:
    simplified = shapely.LineString(line).simplify(COLLINEAR_TOLERANCE_MM, preserve_topology=False)
    return np.asarray(shapely.get_coordinates(simplified))


class _Corner:
    """Where one edge ends and the next begins, seen from the outside.

    `u` and `v` are the unit directions of travel before and after, `a` and `b` the allowances.
    """

    def __init__(self, before: FloatArray, after: FloatArray, a: float, b: float) -> None:
        self.at, self.far_ends = before[-1], (before[0], after[-1])
        self.u, self.v = _direction(before[-2], before[-1]), _direction(after[0], after[1])
        self.a, self.b = a, b
        self.room_mm = min(edge_length_mm(before), edge_length_mm(after))
        self.cos = float(self.u @ self.v)
        self.sin = float(self.u[0] * self.v[1] - self.u[1] * self.v[0])

    @property
    def even(self) -> bool:
        return abs(self.a - self.b) < SAME_MM

    @property
    def step(self) -> bool:
        """Whether different allowances meet in a step: where the offset lines hardly meet, or far away."""
        if self.even:
            return False
        if self.cos > math.cos(math.radians(STEP_TURN_DEG)):
            return True
        if self.sin < 0 or min(self.along) >= 0:
            return False
        reach = float(np.linalg.norm(self.meeting - self.at))
        return reach > min(MITRE_LIMIT * max(self.a, self.b), self.room_mm)

    @property
    def along(self) -> tuple[float, float]:
        """How far past the corner the offset lines meet: on the line before, and back on the line after."""
        return (self.b - self.a * self.cos) / self.sin, (self.a - self.b * self.cos) / self.sin

    @property
    def meeting(self) -> FloatArray:
        """Where the two offset lines meet."""
        return np.asarray(self.at + self.a * _outward(self.u) + self.along[0] * self.u)

    def overlap_mm(self, allowance_mm: float) -> float:
        """How much longer than its edge the band of this allowance may be here."""
        wide_end_shows = self.step and allowance_mm > min(self.a, self.b)
        return 0.0 if wide_end_shows or min(self.a, self.b) < SAME_MM else OVERLAP_MM

    def filling(self) -> Iterator[BaseGeometry]:
        """Parts to add at an outer corner so that both bands reach the place where their lines meet."""
        first, second = self.at + self.a * _outward(self.u), self.at + self.b * _outward(self.v)
        if self.even:
            yield from _wedge(self.at, self.u, self.v, self.a)
        elif self.step:
            into_wide = OVERLAP_MM * (-self.u if self.a > self.b else self.v)
            for wedge in _wedge(self.at, self.u, self.v, min(self.a, self.b)):
                ring = shapely.get_coordinates(wedge)
                yield shapely.MultiPoint(np.vstack([ring, ring + into_wide])).convex_hull
        elif self.sin < 0 or min(self.a, self.b) < SAME_MM > min(self.along):
            return
        elif min(self.along) >= 0:
            yield from _mitre(self.at, (first, second), self.meeting, MITRE_LIMIT * max(self.a, self.b))
        elif self.a > self.b:  # The narrow band runs on into the end of the wide one.
            yield shapely.Polygon([self.at, self.at + self.b / self.cos * _outward(self.u), second])
        else:
            yield shapely.Polygon([self.at, first, self.at + self.a / self.cos * _outward(self.v)])

    def run_on(self, taken: BaseGeometry) -> BaseGeometry:
        """What the wide band gains at an inner corner by running on straight until it meets `taken`.

        Nothing, so that a step is left, when it would run too far.
        """
        if self.even or self.step or self.sin > 0:
            return shapely.Polygon()
        wide = max(self.a, self.b)
        forward, outward = (self.u, _outward(self.u)) if self.a > self.b else (-self.v, _outward(self.v))
        own_end = self.at + wide * outward
        reach = min(MITRE_LIMIT * wide, self.room_mm) * forward
        strip = shapely.Polygon([self.at, own_end, own_end + reach, self.at + reach])
        gained = _touching(strip.difference(taken), own_end)
        if gained.distance(shapely.Point(own_end + reach)) < ON_LINE_MM:
            return shapely.Polygon()
        return gained.buffer(OVERLAP_MM).intersection(strip)

    def trimmed(self, band: BaseGeometry, *, before: bool) -> BaseGeometry:
        """The band without what lies past the other edge's offset line, at an outer corner."""
        if self.even or self.step or self.sin < 0 or self.along[0 if before else 1] >= 0:
            return band
        own, other = (self.u, self.v) if before else (self.v, self.u)
        own_end = self.at + max(self.a, self.b) * _outward(own)
        on_line = self.at + min(self.a, self.b) * _outward(other)
        reach = band.length + max(self.a, self.b)
        ends = np.array([on_line - reach * other, on_line + reach * other])
        beyond = shapely.Polygon(np.concatenate([ends, (ends + reach * _outward(other))[::-1]]))
        # Only the part at this corner: a curved edge may cross the line again further on.
        gone = _touching(band.intersection(beyond), own_end)
        # Nothing, so that a step is left, when it would reach the other end of a curved edge.
        far_end = shapely.Point(self.far_ends[0 if before else 1])
        return band if gone.distance(far_end) < ON_LINE_MM else band.difference(gone)


def _touching(shape: BaseGeometry, point: FloatArray) -> BaseGeometry:
    """The parts of a shape that reach a point."""
    at = shapely.Point(point)
    return shapely.union_all([part for part in shapely.get_parts(shape) if part.distance(at) < ON_LINE_MM])


def _band(vertices: FloatArray, allowance_mm: float, start: _Corner, end: _Corner) -> Iterator[BaseGeometry]:
    """Strips along one edge's segments between its two corners, and its own inner corners.

    Outside, strips are a hair longer than their segments, so that they overlap with what fills the corners
    between them; not at the end of an edge that must keep it: at a step, or beside an edge cut as drawn.
    """
    if allowance_mm < SAME_MM:
        return
    directions = [_direction(p, q) for p, q in pairwise(vertices)]
    longer = np.full(len(vertices), OVERLAP_MM)
    longer[0], longer[-1] = start.overlap_mm(allowance_mm), end.overlap_mm(allowance_mm)
    for i, d in enumerate(directions):
        p, q, out = vertices[i], vertices[i + 1], allowance_mm * _outward(d)
        yield shapely.Polygon([p, p + out - longer[i] * d, q + out + longer[i + 1] * d, q])
    for at, (u, v) in zip(vertices[1:-1], pairwise(directions), strict=True):
        yield from _wedge(at, u, v, allowance_mm)
        if float(u @ v) > math.cos(math.radians(CURVE_TURN_DEG)):
            # Strips along an inward curve tighter than its allowance cross over and fan out again beyond
            # its middle: join their ends.
            ends = [at + allowance_mm * _outward(u), at + allowance_mm * _outward(v)]
            yield shapely.MultiPoint([at, *ends]).convex_hull


def _wedge(at: FloatArray, u: FloatArray, v: FloatArray, allowance_mm: float) -> Iterator[BaseGeometry]:
    """Fill an outer corner between two strips of the same allowance."""
    turn = float(u[0] * v[1] - u[1] * v[0])
    if turn <= 0 or allowance_mm < SAME_MM:
        return
    bisector = _outward(u) + _outward(v)
    half = float(bisector @ bisector)
    if half < 1e-12:
        return
    yield from _mitre(
        at,
        (at + allowance_mm * _outward(u), at + allowance_mm * _outward(v)),
        at + (2 * allowance_mm / half) * bisector,
        MITRE_LIMIT * allowance_mm,
    )


def _mitre(
    at: FloatArray, ends: tuple[FloatArray, FloatArray], tip: FloatArray, limit_mm: float
) -> Iterator[BaseGeometry]:
    """The corner out to its tip, or cut square across `limit_mm` from `at`."""
    first, second = ends
    reach = float(np.linalg.norm(tip - at))
    if reach <= limit_mm:
        yield shapely.Polygon([at, first, tip, second])
        return
    towards = (tip - at) / reach
    cut = [
        end + (tip - end) * ((limit_mm - float((end - at) @ towards)) / float((tip - end) @ towards))
        for end in ends
    ]
    yield shapely.Polygon([at, first, cut[0], cut[1], second])


def _direction(p: FloatArray, q: FloatArray) -> FloatArray:
    return np.asarray((q - p) / np.hypot(*(q - p)))


def _outward(direction: FloatArray) -> FloatArray:
    """Right of travel, as the inside is on the left."""
    return np.array([direction[1], -direction[0]])


def _up_to_fold(shape: BaseGeometry, fold: Edge) -> BaseGeometry:
    """The side of the fold line that the piece lies on; travel along +x means that it lies above."""
    y = float(fold.vertices[0, 1])
    left, low, right, high = shape.bounds
    above = fold.vertices[-1, 0] > fold.vertices[0, 0]
    side = (
        shapely.box(left - 1, y, right + 1, high + 1)
        if above
        else shapely.box(left - 1, low - 1, right + 1, y)
    )
    return shapely.transform(
        shape.intersection(side), lambda p: np.where([[False, True]] & (abs(p - y) < ON_LINE_MM), y, p)
    )


def _outer_ring(shape: BaseGeometry) -> FloatArray:
    """Outer ring of the part that counts; gaps closed by their own allowances are cut as one with it."""
    parts = [part for part in shapely.get_parts(shape) if isinstance(part, shapely.Polygon)]
    largest = max(parts, key=lambda part: part.area)
    return _without_slits(np.asarray(shapely.get_coordinates(largest.exterior)[:-1]))


def _without_slits(ring: FloatArray) -> FloatArray:
    """Leave out hairline slits that rounding may open where a band lies along its edge: in, and out again."""
    while len(ring) > 3:
        wide = np.linalg.norm(previous_ones(ring) - next_ones(ring), axis=1)
        tip = int(np.argmin(wide))
        if wide[tip] > SLIT_MM:
            return ring
        ring = np.delete(ring, [tip, (tip + 1) % len(ring)], axis=0)
    return ring
