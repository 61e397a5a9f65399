"""Where is one piece best? Depths, line searches and the walk from corner to corner.

The cost of a position is the weighted sum of depths in the no-fit polygons of all other pieces, plus a pull
along x and y. Between two crossings of a line with no-fit polygons the depth in a convex one is concave, so the
least cost on a line lies at a crossing; the least in the plane at a corner of their arrangement. `refine` walks
there: along the edges in contact, straight out of what it overlaps, and along x and y.

The moving piece's view of the others is gathered once (`look_round`): for each neighbour a row of `view`

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

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.grid_kernel import signed_nearest
from nesting.packing.jit import kernel
from nesting.packing.shapes import IntArray
from nesting.packing.tables import Tables

__all__ = [
    "cost_at",
    "depth",
    "line_search",
    "look_round",
    "random_share",
    "random_spot",
    "reach",
    "refine",
    "snap_x",
    "snap_y",
]

MAX_STEPS = 24
"""Corners `refine` visits at most; it rarely needs ten."""


@kernel
def random_share(rng: IntArray) -> float:
    """Next number in [0, 1) of a xorshift generator (Marsaglia 2003, 'Xorshift RNGs') kept in ``rng[0]``."""
    state = np.uint64(rng[0])
    state ^= state << np.uint64(13)
    state ^= state >> np.uint64(7)
    state ^= state << np.uint64(17)
    rng[0] = np.int64(state)
    return np.float64(state >> np.uint64(11)) / 9007199254740992.0


@kernel
def depth(tables: Tables, k: int, x: float, y: float) -> tuple[float, int]:
    """How far inside no-fit polygon `k` a relative position is (negative outside), and the nearest edge.

    Minus infinity and -1 where it is well outside.
    """
    box = tables.box
    if x < box[k, 0] or x > box[k, 2] or y < box[k, 1] or y > box[k, 3]:
        return -np.inf, -1
    columns, rows, first = tables.cells[k, 0], tables.cells[k, 1], tables.cells[k, 2]
    column = min(int((x - tables.grid[k, 0]) * tables.grid[k, 2]), columns - 1)
    row = min(int((y - tables.grid[k, 1]) * tables.grid[k, 3]), rows - 1)
    cell = first + row * columns + column
    begin, end = tables.cell_first[cell], tables.cell_first[cell + 1]
    if begin == end:
        return -np.inf, -1
    return signed_nearest(tables.edge, tables.cell_edge, begin, end, x, y)


@kernel
def reach(tables: Tables, s: int, length: float) -> float:
    """Greatest x of the centre of shape `s` on a strip of this length (below its least: it has no place)."""
    last = length - tables.half[s, 0]
    step = tables.x_rule[s, 1]
    if step > 0.0:
        first = tables.x_rule[s, 0]
        last = first + np.floor((last - first) / step + 1e-9) * step
    return last


@kernel
def snap_x(tables: Tables, s: int, length: float, x: float) -> float:
    """Nearest allowed x of the centre."""
    first, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
    if step > 0.0:
        x = first + np.round((x - first) / step) * step
    return max(first, min(x, reach(tables, s, length)))


@kernel
def snap_y(tables: Tables, s: int, y: float) -> float:
    """Nearest allowed y of the centre."""
    first, step, count = tables.y_rule[s, 0], tables.y_rule[s, 1], tables.y_rule[s, 2]
    if count > 0.0:
        return first + max(0.0, min(np.round((y - first) / step), count - 1.0)) * step
    return max(first, min(y, tables.width - tables.half[s, 1]))


@kernel
def random_spot(tables: Tables, s: int, length: float, rng: IntArray) -> tuple[float, float]:
    """Any allowed position of the centre, all alike."""
    first = tables.x_rule[s, 0]
    x = snap_x(tables, s, length, first + random_share(rng) * (length - tables.half[s, 0] - first))
    low, step, count = tables.y_rule[s, 0], tables.y_rule[s, 1], tables.y_rule[s, 2]
    if count > 0.0:
        return x, low + np.floor(random_share(rng) * count) * step
    return x, low + random_share(rng) * max(0.0, tables.width - tables.half[s, 1] - low)


@kernel
def look_round(
    tables: Tables,
    xy: FloatArray,
    shape: IntArray,
    weight: FloatArray,
    present: IntArray,
    i: int,
    s: int,
    view: FloatArray,
    poly: IntArray,
    order: IntArray,
) -> int:
    """Gather what piece `i` in shape `s` sees of all pieces present; how many there are."""
    m = 0
    for j in range(xy.shape[0]):
        if j == i or present[j] == 0:
            continue
        other = shape[j]
        k = tables.pair[other, s]
        sx, sy = tables.sign[other, s, 0], tables.sign[other, s, 1]
        x, y = xy[j, 0], xy[j, 1]
        if sx > 0.0:
            view[m, 0], view[m, 2] = x + tables.box[k, 0], x + tables.box[k, 2]
        else:
            view[m, 0], view[m, 2] = x - tables.box[k, 2], x - tables.box[k, 0]
        if sy > 0.0:
            view[m, 1], view[m, 3] = y + tables.box[k, 1], y + tables.box[k, 3]
        else:
            view[m, 1], view[m, 3] = y - tables.box[k, 3], y - tables.box[k, 1]
        view[m, 4], view[m, 5], view[m, 6], view[m, 7] = x, y, sx, sy
        view[m, 8] = weight[i, j]
        poly[m] = k
        order[m] = m
        m += 1
    return m


@kernel
def cost_at(
    tables: Tables,
    view: FloatArray,
    poly: IntArray,
    order: IntArray,
    m: int,
    x: float,
    y: float,
    pull_x: float,
    pull_y: float,
    enough: float,
    used: IntArray,
) -> float:
    """Cost of a position; counting stops once it is at least `enough`."""
    cost = pull_x * x + pull_y * y
    if cost >= enough:
        return cost
    for place in range(m):
        q = order[place]
        if x > view[q, 0] and x < view[q, 2] and y > view[q, 1] and y < view[q, 3]:
            used[0] += 1
            inside, _ = depth(tables, poly[q], (x - view[q, 4]) * view[q, 6], (y - view[q, 5]) * view[q, 7])
            if inside > tables.tolerance:
                cost += view[q, 8] * inside
                if cost >= enough:
                    half = place >> 1
                    order[place] = order[half]
                    order[half] = q
                    return cost
    return cost


@kernel
def line_search(
    tables: Tables,
    view: FloatArray,
    poly: IntArray,
    order: IntArray,
    m: int,
    stops: FloatArray,
    s: int,
    length: float,
    x: float,
    y: float,
    dx: float,
    dy: float,
    extra: tuple[float, float],
    pull_x: float,
    pull_y: float,
    best: float,
    used: IntArray,
) -> tuple[float, float, float]:
    """Cheapest crossing on the line through (x, y) along the unit vector (dx, dy): cost (below `best`) and place.

    `extra` are two more distances along the line to try. The cost is infinite where nothing is below `best`.
    """
    x_low, x_high = tables.x_rule[s, 0], reach(tables, s, length)
    y_low = tables.half[s, 1]
    y_high = max(y_low, tables.width - y_low)
    begin, end = -np.inf, np.inf
    if abs(dx) > 1e-12:
        one, other = (x_low - x) / dx, (x_high - x) / dx
        begin, end = max(begin, min(one, other)), min(end, max(one, other))
    if abs(dy) > 1e-12:
        one, other = (y_low - y) / dy, (y_high - y) / dy
        begin, end = max(begin, min(one, other)), min(end, max(one, other))
    if not begin <= end:
        return np.inf, x, y
    stops[0], stops[1] = begin, end
    n = 2
    for t in extra:
        if begin < t < end:
            stops[n] = t
            n += 1
    for q in range(m):
        # the part of the line inside the box of this no-fit polygon
        enter, leave = begin, end
        if abs(dx) > 1e-12:
            one, other = (view[q, 0] - x) / dx, (view[q, 2] - x) / dx
            enter, leave = max(enter, min(one, other)), min(leave, max(one, other))
        elif x <= view[q, 0] or x >= view[q, 2]:
            continue
        if abs(dy) > 1e-12:
            one, other = (view[q, 1] - y) / dy, (view[q, 3] - y) / dy
            enter, leave = max(enter, min(one, other)), min(leave, max(one, other))
        elif y <= view[q, 1] or y >= view[q, 3]:
            continue
        if enter > leave:
            continue
        ox, oy = (x - view[q, 4]) * view[q, 6], (y - view[q, 5]) * view[q, 7]
        lx, ly = dx * view[q, 6], dy * view[q, 7]
        k = poly[q]
        for e in range(tables.edge_first[k], tables.edge_first[k + 1]):
            ax, ay = tables.edge[e, 0] - ox, tables.edge[e, 1] - oy
            bx, by = tables.edge[e, 2] - ox, tables.edge[e, 3] - oy
            from_a = lx * ay - ly * ax
            from_b = lx * by - ly * bx
            if (from_a > 0.0) == (from_b > 0.0):
                continue
            share = from_a / (from_a - from_b)
            t = (ax + share * (bx - ax)) * lx + (ay + share * (by - ay)) * ly
            if begin < t < end and n < stops.shape[0]:
                stops[n] = t
                n += 1
    found, at_x, at_y = np.inf, x, y
    held_x = tables.x_rule[s, 1] > 0.0 and abs(dx) > 1e-12
    held_y = tables.y_rule[s, 2] > 0.0
    for c in range(n):
        for side in range(2 if held_x else 1):
            px, py = x + stops[c] * dx, y + stops[c] * dy
            if held_x:
                first, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
                place = (px - first) / step
                px = first + (np.floor(place + 1e-9) if side == 0 else np.ceil(place - 1e-9)) * step
            px = max(x_low, min(px, x_high))
            py = y if held_y else max(y_low, min(py, y_high))
            cost = cost_at(tables, view, poly, order, m, px, py, pull_x, pull_y, best, used)
            if cost < best:
                best = cost
                found, at_x, at_y = cost, px, py
    return found, at_x, at_y


@kernel
def refine(
    tables: Tables,
    view: FloatArray,
    poly: IntArray,
    order: IntArray,
    m: int,
    stops: FloatArray,
    s: int,
    length: float,
    x: float,
    y: float,
    cost: float,
    pull_x: float,
    pull_y: float,
    used: IntArray,
) -> tuple[float, float, float]:
    """Walk from (x, y), whose cost is given, to a corner that no line through it betters: cost and place."""
    near = 64.0 * tables.tolerance
    rows = tables.y_rule[s, 2]
    held_x = tables.x_rule[s, 1] > 0.0
    for _ in range(MAX_STEPS):
        best, bx, by = cost, x, y
        if rows == 0.0 and not held_x:
            for q in range(m):
                if (
                    x < view[q, 0] - near
                    or x > view[q, 2] + near
                    or y < view[q, 1] - near
                    or y > view[q, 3] + near
                ):
                    continue
                sx, sy = view[q, 6], view[q, 7]
                rx, ry = (x - view[q, 4]) * sx, (y - view[q, 5]) * sy
                used[0] += 1
                inside, e = depth(tables, poly[q], rx, ry)
                if inside < -near:
                    continue
                ux, uy = tables.edge[e, 4] * sx, tables.edge[e, 5] * sy
                back = (tables.edge[e, 0] - rx) * tables.edge[e, 4] + (tables.edge[e, 1] - ry) * tables.edge[
                    e, 5
                ]
                ends = (back, back + tables.edge[e, 6])
                lx, ly = ux, uy
                if inside > near:  # straight out: the normal towards the edge, or towards its corner
                    along = min(max(0.0, ends[0]), ends[1])
                    tx = tables.edge[e, 0] + (along - back) * tables.edge[e, 4]
                    ty = tables.edge[e, 1] + (along - back) * tables.edge[e, 5]
                    far = np.hypot(tx - rx, ty - ry)
                    lx, ly = (tx - rx) / far * sx, (ty - ry) / far * sy
                    ends = (far, far)
                c, cx, cy = line_search(
                    tables,
                    view,
                    poly,
                    order,
                    m,
                    stops,
                    s,
                    length,
                    x,
                    y,
                    lx,
                    ly,
                    ends,
                    pull_x,
                    pull_y,
                    best,
                    used,
                )
                if c < best:
                    best, bx, by = c, cx, cy
        step = tables.x_rule[s, 1]
        for turn in range(-1 if held_x else 0, 2 if held_x else 1):
            at = x + turn * step
            if rows > 0.0 or at < tables.x_rule[s, 0] - 1e-9 or at > reach(tables, s, length) + 1e-9:
                continue
            c, cx, cy = line_search(
                tables,
                view,
                poly,
                order,
                m,
                stops,
                s,
                length,
                at,
                y,
                0.0,
                1.0,
                (0.0, 0.0),
                pull_x,
                pull_y,
                best,
                used,
            )
            if c < best:
                best, bx, by = c, cx, cy
        step = tables.y_rule[s, 1]
        for turn in range(-1 if rows > 1.0 else 0, 2 if rows > 1.0 else 1):
            at = snap_y(tables, s, y + turn * step)
            c, cx, cy = line_search(
                tables,
                view,
                poly,
                order,
                m,
                stops,
                s,
                length,
                x,
                at,
                1.0,
                0.0,
                (0.0, 0.0),
                pull_x,
                pull_y,
                best,
                used,
            )
            if c < best:
                best, bx, by = c, cx, cy
        if not best < cost - 1e-9 * abs(cost):
            break
        cost, x, y = best, bx, by
    return cost, x, y
