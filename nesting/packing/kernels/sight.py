"""What a piece sees of the others, and what a position costs it.

The cost of a position is the weighted sum of depths in the no-fit polygons of all other pieces, plus a pull
along x and y. The moving piece's view of the others is gathered once (`look_round`): for each neighbour a row
of `sight`

====  =====================================================
0-3   box of its no-fit polygon in strip coordinates
4-5   its position
6-7   sign to multiply the relative position with
8     weight
====  =====================================================

and its no-fit polygon's number in `poly`; `order` is the order in which they are asked, which adapts so that
those that refuse most come first.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import inner_kernel, kernel
from nesting.packing.kernels.depth import cell_at, depth_in
from nesting.packing.kernels.place import random_share, random_spot, snap_x, snap_y
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = ["Scratch", "cost_at", "look_round", "new_scratch", "pulled", "touching_spot", "with_neighbour"]

DOWN = 1e-3
"""Pull down the strip's width, for each unit of pull back along its length."""


class Scratch(NamedTuple):
    """Room for what the moving piece sees.

    Attributes
    ----------
    sight, poly, order : (P, 9) float64, (P,) int64, (P,) int64
        As above.
    stops : (64 P + 1024,) float64, mm
        Crossings of a line with no-fit polygons: distances along it.
    met, between : (P,) int64, (P, 2) float64, mm
        Neighbours whose no-fit polygons a line goes through; its first and last crossing with each.
    lines : (64, 7) float64
        Lines to follow: a point, a unit vector, a span of distances, a name (`nesting.packing.kernels.move`).
    present : (P,) int64
        Whether each piece is on the strip.
    turn : (P,) int64
        The order in which pieces move.
    listed : (L,) int64
        Neighbours or edges that a condition holds for (`nesting.packing.kernels.line` says why).
    """

    sight: FloatArray
    poly: IntArray
    order: IntArray
    stops: FloatArray
    met: IntArray
    between: FloatArray
    lines: FloatArray
    present: IntArray
    turn: IntArray
    listed: IntArray


def new_scratch(tables: Tables, count: int) -> Scratch:
    """Room for a lay of `count` pieces."""
    edges = int(np.diff(tables.edge_first.astype(np.int64)).max(initial=0))  # of one no-fit polygon
    return Scratch(
        np.empty((count, 9)),
        np.empty(count, np.int64),
        np.empty(count, np.int64),
        np.empty(64 * count + 1024),
        np.empty(count, np.int64),
        np.empty((count, 2)),
        np.empty((64, 7)),
        np.ones(count, np.int64),
        np.arange(count),
        np.empty(max(count, edges) + 1, np.int64),
    )


@kernel
def look_round(
    tables: Tables,
    xy: FloatArray,
    shape: IntArray,
    weight: FloatArray,
    i: int,
    s: int,
    window: tuple[float, float],
    scratch: Scratch,
) -> int:
    """Gather what piece `i` in shape `s`, its x within the window, sees of the pieces present; how many."""
    view, box = scratch.sight, tables.box
    m = 0
    for j in range(xy.shape[0]):
        if j == i or scratch.present[j] == 0:
            continue
        other = shape[j]
        k = tables.pair[other, s]
        sx, sy = tables.sign[other, s, 0], tables.sign[other, s, 1]
        x, y = xy[j, 0], xy[j, 1]
        left = x + (box[k, 0] if sx > 0.0 else -box[k, 2])
        right = x + (box[k, 2] if sx > 0.0 else -box[k, 0])
        if right < window[0] or left > window[1]:
            continue
        view[m, 0], view[m, 2] = left, right
        view[m, 1] = y + (box[k, 1] if sy > 0.0 else -box[k, 3])
        view[m, 3] = y + (box[k, 3] if sy > 0.0 else -box[k, 1])
        view[m, 4], view[m, 5], view[m, 6], view[m, 7] = x, y, sx, sy
        view[m, 8] = weight[i, j]
        scratch.poly[m] = k
        scratch.order[m] = m
        m += 1
    return m


@kernel
def touching_spot(
    tables: Tables, scratch: Scratch, m: int, s: int, length: float, rng: IntArray
) -> tuple[float, float]:
    """A corner of the no-fit polygon of any of the `m` neighbours seen, brought onto the strip.

    There the two touch, as they do in every tight lay. A piece that is held to an edge or a lattice goes
    anywhere.
    """
    if m == 0 or tables.y_rule[s, 2] > 0.0 or tables.x_rule[s, 1] > 0.0:
        return random_spot(tables, s, length, rng)
    q = int(random_share(rng) * m)
    first, last = tables.edge_first[scratch.poly[q]], tables.edge_first[scratch.poly[q] + 1]
    e = first + int(random_share(rng) * (last - first))
    view = scratch.sight
    return (
        snap_x(tables, s, length, view[q, 4] + tables.edge[e, 0] * view[q, 6]),
        snap_y(tables, s, view[q, 5] + tables.edge[e, 1] * view[q, 7]),
    )


@inner_kernel
def pulled(x: float, y: float, pull: float) -> float:
    """What a position costs wherever the others are."""
    return pull * (x + DOWN * y)


@inner_kernel
def with_neighbour(
    tables: Tables, scratch: Scratch, q: int, x: float, y: float, cost: float, enough: float
) -> float:
    """The cost so far and what the depth in neighbour `q` adds; as exact as shows that it is `enough`."""
    view = scratch.sight
    rx, ry = (x - view[q, 4]) * view[q, 6], (y - view[q, 5]) * view[q, 7]
    cell = cell_at(tables, scratch.poly[q], rx, ry)
    if cell < 0:
        return cost
    deep = tables.cell_least[cell]
    if deep <= tables.tolerance or cost + view[q, 8] * deep < enough:
        deep, _ = depth_in(tables, cell, rx, ry)
    return cost + view[q, 8] * deep if deep > tables.tolerance else cost


@inner_kernel
def cost_at(
    tables: Tables, scratch: Scratch, m: int, x: float, y: float, pull: float, enough: float, used: IntArray
) -> float:
    """Cost of a position; counting stops once it is at least `enough`."""
    cost = pulled(x, y, pull)
    if cost >= enough:
        return cost
    view, order, listed = scratch.sight, scratch.order, scratch.listed
    n = np.uint64(0)
    for place in range(np.uint64(m)):
        q = order[place]
        listed[n] = place
        n += np.uint64((x > view[q, 0]) & (x < view[q, 2]) & (y > view[q, 1]) & (y < view[q, 3]))
    for k in range(n):
        at = np.uint64(listed[k])
        q = order[at]
        used[0] += 1
        cost = with_neighbour(tables, scratch, q, x, y, cost, enough)
        if cost >= enough:
            half = at >> np.uint64(1)
            order[at], order[half] = order[half], q
            break
    return float(cost)
