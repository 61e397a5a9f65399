"""A length that no lay can beat, proven.

Proof
-----
Each of these holds for every lay of length L on a strip of width W; the bound is the greatest.

*Area.* Items and obstacles do not overlap: the items' area A and that of the obstacles within reach, O(L),
fit in L W. As O grows with L, ``L >= (A + O(l)) / W`` for every ``l <= L``; begin at l = 0 and repeat. With
a gap g, the items made larger by g/2 all round still do not overlap and lie in the strip made larger
likewise: ``sum of their areas <= (L + g) (W + g)``.

*One item.* Each lies inside the strip, so L is at least its least extent along x over the variants that fit
(on a lattice, the least end it can have).

*A chain.* Let x_i be the middle of item i's box. For two items i, j let m_ij be the least ``|x_i - x_j|``
over all variants and all pairs of positions across the strip in which they do not overlap. It is read off
the no-fit polygon: a distance dx is out of the question when the whole segment of possible dy lies inside.
In a set C of items with all m_ij > 0 no two have the same x_i, so they stand in a row; let h be numbers
with ``h_i + h_j <= m_ij`` and h_i at most half of item i's least extent along x. From the strip's beginning
to the first middle is at least its h, between neighbours i, j at least ``h_i + h_j``, after the last its h
again: ``L >= 2 sum of h over C``. Items that cannot lie side by side form such sets, and so do items bound
to one edge. The no-fit polygons used are a hair smaller than the true ones, which makes m_ij smaller: the
bound stays true.
The derivation is our own.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from nesting.geometry import FloatArray, signed_area
from nesting.packing.problem import StripProblem
from nesting.packing.tables import Layout, Tables

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["lower_bound"]

ROUNDING = 1e-9
"""Relative: taken off so that rounding never lifts the bound above a lay."""


def lower_bound(problem: StripProblem, layout: Layout) -> float:
    """The best of the bounds above, in mm, for a checked problem."""
    tables = layout.tables
    half = _least_half(tables)
    bounds = [_area_bound(problem), _single_bound(tables), _chain_bound(tables, half)]
    return max(bounds) * (1 - ROUNDING)


def _area_bound(problem: StripProblem) -> float:
    import shapely

    area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
    blocked = shapely.union_all([shapely.Polygon(ring) for ring in problem.obstacles])
    length = 0.0
    for _ in range(50):
        within = shapely.intersection(blocked, shapely.box(0.0, 0.0, length, problem.width_mm)).area
        length = (area + within) / problem.width_mm
    gap = problem.gap_mm
    if gap > 0:
        grown = sum(
            item.demand * shapely.Polygon(item.outline).buffer(gap / 2).area for item in problem.items
        )
        length = max(length, grown / (problem.width_mm + gap) - gap)
    return length


def _single_bound(tables: Tables) -> float:
    ends = tables.x_rule[:, 0] + tables.half[:, 0]
    return max(float(ends[first:last].min()) for first, last in tables.shapes[: tables.moving])


def _least_half(tables: Tables) -> FloatArray:
    """Half the least extent along x of each piece."""
    return np.array([tables.half[first:last, 0].min() for first, last in tables.shapes[: tables.moving]])


def _chain_bound(tables: Tables, half: FloatArray) -> float:
    """``2 sum of h`` over the best of several chains, each gathered greedily around one kind of item."""
    kinds, first = np.unique(tables.shapes[: tables.moving, 0], return_index=True)
    copies = [int((tables.shapes[: tables.moving, 0] == kind).sum()) for kind in kinds]
    reach = half[first]
    apart = _least_distances(tables, [tuple(tables.shapes[k]) for k in first])
    order = sorted(range(len(kinds)), key=lambda k: -reach[k])
    best = 0.0
    for start in order:
        chain = [start]
        length = _chain_length(chain, copies, reach, apart)
        for other in order:
            if other != start and all(apart[other, k] > 0 for k in chain):
                longer = _chain_length([*chain, other], copies, reach, apart)
                if longer > length:
                    chain.append(other)
                    length = longer
        best = max(best, length)
    return best


def _chain_length(chain: list[int], copies: list[int], reach: FloatArray, apart: FloatArray) -> float:
    """``2 sum of h``, m_ij shared out in proportion to the items' extents; copies count where apart."""
    total = 0.0
    for i in chain:
        times = copies[i] if apart[i, i] > 0 else 1
        h = float(reach[i])
        for j in chain:
            if j != i or times > 1:
                h = min(h, float(apart[i, j] * reach[i] / (reach[i] + reach[j])))
        total += 2 * h * times
    return total


def _least_distances(tables: Tables, ranges: list[tuple[int, int]]) -> FloatArray:
    """(K, K) float64, mm: m_ij between kinds of items (between two copies of one on the diagonal)."""
    low, high = _spans(tables)
    found = np.zeros((len(ranges), len(ranges)))
    known: dict[tuple[int, float, float], float] = {}
    for i, (a_first, a_last) in enumerate(ranges):
        for j, (b_first, b_last) in enumerate(ranges[: i + 1]):
            least = np.inf
            for a in range(a_first, a_last):
                for b in range(b_first, b_last):
                    if least > 0:
                        span = (float(low[b] - high[a]), float(high[b] - low[a]))
                        least = min(least, _least_distance(tables, a, b, span, known))
            found[i, j] = found[j, i] = least
    return found


def _spans(tables: Tables) -> tuple[FloatArray, FloatArray]:
    """Least and greatest y of each shape's centre."""
    rule = tables.y_rule
    low = rule[:, 0]
    free = np.maximum(low, tables.width - tables.half[:, 1])
    return low, np.where(rule[:, 2] > 0, low + rule[:, 1] * (rule[:, 2] - 1), free)


def _least_distance(
    tables: Tables, a: int, b: int, span: tuple[float, float], known: dict[tuple[int, float, float], float]
) -> float:
    """Least ``|dx|`` at which some dy in the span keeps shapes `a` and `b` apart."""
    dy_low, dy_high = span
    if dy_low <= -(tables.half[a, 1] + tables.half[b, 1]) or dy_high >= tables.half[a, 1] + tables.half[b, 1]:
        return 0.0
    k = int(tables.pair[a, b])
    flip_y = tables.sign[a, b, 1]
    low, high = (dy_low, dy_high) if flip_y > 0 else (-dy_high, -dy_low)
    name = (k, low, high)
    if name not in known:
        known[name] = _nearest_free(tables, k, low, high)
    return known[name]


def _nearest_free(tables: Tables, k: int, low: float, high: float) -> float:
    import shapely

    left, _, right, _ = tables.box[k]
    slack = 1e-9 * tables.width
    band = shapely.box(left - 1.0, low - slack, right + 1.0, high + slack)
    free = shapely.difference(band, _region(tables.edge[tables.edge_first[k] : tables.edge_first[k + 1]]))
    nearest = np.inf
    for part in shapely.get_parts(free):
        begin, _, end, _ = part.bounds
        nearest = min(nearest, max(0.0, begin, -end))
    return max(0.0, nearest - slack)


def _region(edges: FloatArray) -> BaseGeometry:
    """The no-fit polygon as a shapely geometry, from its edges."""
    import shapely

    starts = [0, *(np.flatnonzero(np.abs(edges[1:, :2] - edges[:-1, 2:4]).any(axis=1)) + 1), len(edges)]
    region: BaseGeometry = shapely.Polygon()
    for begin, end in pairwise(starts):
        ring = shapely.Polygon(edges[begin:end, :2])
        region = shapely.symmetric_difference(region, ring)
    return region
