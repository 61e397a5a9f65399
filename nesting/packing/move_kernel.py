"""Where is one piece best? Depths, line searches and the walk from corner to corner.

The cost of a position is the weighted sum of depths in the no-fit polygons of all other pieces, plus a pull
along x and y. Between two crossings of a line with no-fit polygons the depth in a convex one is concave, so
the least cost on a line lies at a crossing; the least in the plane at a corner of their arrangement.
`refine` walks there: along the edges in contact, straight out of what it overlaps, and along x and y.

The moving piece's view of the others is gathered once (`look_round`): for each neighbour a row of `sight`

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
from nesting.packing.grid_kernel import signed_nearest
from nesting.packing.jit import inner_kernel, kernel
from nesting.packing.shapes import IntArray
from nesting.packing.tables import Tables

__all__ = [
    "Scratch",
    "apart",
    "cost_at",
    "depth",
    "line_search",
    "look_round",
    "new_scratch",
    "random_share",
    "random_spot",
    "reach",
    "refine",
    "snap_x",
    "snap_y",
    "touching_spot",
]

DOWN = 1e-3
"""Pull down the strip's width, for each unit of pull back along its length."""

REACH_BEYOND = 0.0
"""How far past an edge's ends its line is followed, in edge lengths."""

MAX_STEPS = 24
"""Corners `refine` visits at most; it rarely needs ten."""


class Scratch(NamedTuple):
    """Room for what the moving piece sees.

    `sight`, `poly`, `order` as above; crossings; lines to follow; which pieces are on the strip; the order in
    which they move.
    """

    sight: FloatArray
    poly: IntArray
    order: IntArray
    stops: FloatArray
    lines: FloatArray
    present: IntArray
    turn: IntArray


def new_scratch(count: int) -> Scratch:
    """Room for a lay of `count` pieces."""
    return Scratch(
        np.empty((count, 9)),
        np.empty(count, np.int64),
        np.empty(count, np.int64),
        np.empty(64 * count + 1024),
        np.empty((64, 6)),
        np.ones(count, np.int64),
        np.arange(count),
    )


@inner_kernel
def random_share(rng: IntArray) -> float:
    """Next number in [0, 1) of a xorshift generator (Marsaglia 2003, 'Xorshift RNGs') kept in ``rng[0]``."""
    state = np.uint64(rng[0])
    state ^= state << np.uint64(13)
    state ^= state >> np.uint64(7)
    state ^= state << np.uint64(17)
    rng[0] = np.int64(state)
    return float(state >> np.uint64(11)) / 9007199254740992.0


@inner_kernel
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


@inner_kernel
def apart(tables: Tables, s: int, other: int, x: float, y: float) -> bool:
    """Whether two shapes whose centres lie that far from each other can't overlap, by their boxes alone."""
    half, gap = tables.half, tables.gap
    return bool(abs(x) >= half[s, 0] + half[other, 0] + gap or abs(y) >= half[s, 1] + half[other, 1] + gap)


@inner_kernel
def reach(tables: Tables, s: int, length: float) -> float:
    """Greatest x of the centre of shape `s` on a strip of this length (below its least: it has no place)."""
    last = min(length - tables.half[s, 0], tables.x_rule[s, 2])
    step = tables.x_rule[s, 1]
    if step > 0.0:
        first = tables.x_rule[s, 0]
        last = first + float(np.floor((last - first) / step + 1e-9)) * step
    return float(last)


@inner_kernel
def snap_x(tables: Tables, s: int, length: float, x: float) -> float:
    """Nearest allowed x of the centre."""
    first, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
    if step > 0.0:
        x = first + np.round((x - first) / step) * step
    return float(max(first, min(x, reach(tables, s, length))))


@inner_kernel
def snap_y(tables: Tables, s: int, y: float) -> float:
    """Nearest allowed y of the centre."""
    first, step, count = tables.y_rule[s, 0], tables.y_rule[s, 1], tables.y_rule[s, 2]
    if count > 0.0:
        return float(first + max(0.0, min(np.round((y - first) / step), count - 1.0)) * step)
    return float(max(first, min(y, tables.width - tables.half[s, 1])))


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


@kernel
def cost_at(
    tables: Tables, scratch: Scratch, m: int, x: float, y: float, pull: float, enough: float, used: IntArray
) -> float:
    """Cost of a position; counting stops once it is at least `enough`."""
    cost = pull * (x + DOWN * y)
    if cost >= enough:
        return cost
    view, order = scratch.sight, scratch.order
    for place in range(m):
        q = order[place]
        if x > view[q, 0] and x < view[q, 2] and y > view[q, 1] and y < view[q, 3]:
            used[0] += 1
            inside, _ = depth(
                tables, scratch.poly[q], (x - view[q, 4]) * view[q, 6], (y - view[q, 5]) * view[q, 7]
            )
            if inside > tables.tolerance:
                cost += view[q, 8] * inside
                if cost >= enough:
                    half = place >> 1
                    order[place] = order[half]
                    order[half] = q
                    break
    return float(cost)


@inner_kernel
def clip(x: float, dx: float, low: float, high: float, span: tuple[float, float]) -> tuple[float, float]:
    """Cut a span of a line to ``low <= x + t dx <= high``; it ends before it begins where nothing is left."""
    if abs(dx) > 1e-12:
        one, other = (low - x) / dx, (high - x) / dx
        return max(span[0], min(one, other)), min(span[1], max(one, other))
    if x < low - 1e-9 or x > high + 1e-9:
        return span[0], span[0] - 1.0
    return span


@kernel
def line_search(
    tables: Tables,
    scratch: Scratch,
    m: int,
    s: int,
    length: float,
    window: tuple[float, float],
    line: tuple[float, float, float, float],
    span: tuple[float, float],
    pull: float,
    best: float,
    used: IntArray,
) -> tuple[float, float, float]:
    """Cheapest crossing on a line: cost and place; infinite where none costs less than `best`.

    The window bounds x, for only what is seen from within it was gathered (`look_round`). `line` is a point
    and a unit vector, `span` the distances along it to look at, its ends (cut off at the strip) being tried
    too.
    """
    x, y, dx, dy = line
    view, stops = scratch.sight, scratch.stops
    x_low, x_high = max(window[0], tables.x_rule[s, 0]), min(window[1], reach(tables, s, length))
    y_low = tables.half[s, 1]
    y_high = max(y_low, tables.width - y_low)
    span = clip(y, dy, y_low, y_high, clip(x, dx, x_low, x_high, span))
    begin, end = span
    if not begin <= end:
        return np.inf, x, y
    stops[0], stops[1] = begin, end
    n = 2
    for q in range(m):
        enter, leave = clip(y, dy, view[q, 1], view[q, 3], clip(x, dx, view[q, 0], view[q, 2], span))
        if enter > leave:
            continue
        ox, oy = (x - view[q, 4]) * view[q, 6], (y - view[q, 5]) * view[q, 7]
        lx, ly = dx * view[q, 6], dy * view[q, 7]
        k = scratch.poly[q]
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
    for c in range(2 * n if held_x else n):
        t = stops[c >> 1] if held_x else stops[c]
        px, py = x + t * dx, y + t * dy
        if held_x:
            first, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
            place = (px - first) / step
            px = first + (np.floor(place + 1e-9) if c % 2 == 0 else np.ceil(place - 1e-9)) * step
            if px < x_low - 1e-9 or px > x_high + 1e-9:
                continue
        px = max(x_low, min(px, x_high))
        py = y if held_y else max(y_low, min(py, y_high))
        cost = cost_at(tables, scratch, m, px, py, pull, best, used)
        if cost < best:
            best = cost
            found, at_x, at_y = cost, px, py
    return found, at_x, at_y


@kernel
def lines_through(
    tables: Tables, scratch: Scratch, m: int, s: int, x: float, y: float, used: IntArray
) -> int:
    """Fill `scratch.lines` (point, unit vector, span) with the lines worth following; how many."""
    near = 64.0 * tables.tolerance
    view, lines, edge = scratch.sight, scratch.lines, tables.edge
    rows, step = tables.y_rule[s, 2], tables.x_rule[s, 1]
    n = 0
    for turn in range(-1, 2):  # across the strip: at x, on a lattice at the columns beside it, too
        if rows == 0.0 and (turn == 0 or step > 0.0):
            lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x + turn * step, y, 0.0, 1.0
            lines[n, 4], lines[n, 5] = -np.inf, np.inf
            n += 1
    for turn in range(-1, 2):  # along the strip
        if turn == 0 or rows > 1.0:
            at = snap_y(tables, s, y + turn * tables.y_rule[s, 1]) if rows > 0.0 else y
            lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x, at, 1.0, 0.0
            lines[n, 4], lines[n, 5] = -np.inf, np.inf
            n += 1
    if rows > 0.0 or step > 0.0:
        return n
    for q in range(m):
        if x < view[q, 0] - near or x > view[q, 2] + near:
            continue
        if y < view[q, 1] - near or y > view[q, 3] + near:
            continue
        sx, sy = view[q, 6], view[q, 7]
        rx, ry = (x - view[q, 4]) * sx, (y - view[q, 5]) * sy
        used[0] += 1
        inside, e = depth(tables, scratch.poly[q], rx, ry)
        if inside < -near or n == lines.shape[0]:
            continue
        ux, uy = edge[e, 4], edge[e, 5]
        back = (edge[e, 0] - rx) * ux + (edge[e, 1] - ry) * uy
        ahead = back + edge[e, 6]
        if inside > near:  # straight out: square to the nearest edge, or towards its corner
            along = min(max(0.0, back), ahead) - back
            tx, ty = edge[e, 0] + along * ux - rx, edge[e, 1] + along * uy - ry
            ahead = np.hypot(tx, ty)
            ux, uy = tx / ahead, ty / ahead
            back = 0.0
        lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x, y, ux * sx, uy * sy
        lines[n, 4], lines[n, 5] = back - REACH_BEYOND * (ahead - back), ahead + REACH_BEYOND * (ahead - back)
        n += 1
    return n


@kernel
def refine(
    tables: Tables,
    scratch: Scratch,
    m: int,
    s: int,
    length: float,
    window: tuple[float, float],
    x: float,
    y: float,
    cost: float,
    pull: float,
    used: IntArray,
) -> tuple[float, float, float]:
    """Walk from (x, y), whose cost is given, to a corner that no line through it betters: cost and place."""
    lines = scratch.lines
    for _ in range(MAX_STEPS):
        best, bx, by = cost, x, y
        for k in range(lines_through(tables, scratch, m, s, x, y, used)):
            line = (lines[k, 0], lines[k, 1], lines[k, 2], lines[k, 3])
            span = (lines[k, 4], lines[k, 5])
            c, cx, cy = line_search(tables, scratch, m, s, length, window, line, span, pull, best, used)
            if c < best:
                best, bx, by = c, cx, cy
        if not best < cost - 1e-9 * abs(cost):
            break
        cost, x, y = best, bx, by
    return cost, x, y
