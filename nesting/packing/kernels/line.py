"""Where on a line a piece is best.

Between two crossings of a line with no-fit polygons the depth in a convex one is concave, so the least cost
on a line lies at a crossing. A neighbour can matter only between the first and the last crossing of its
no-fit polygon, so elsewhere it is not asked.

Which neighbours a line goes through, which edges it crosses, which neighbours a place lies in can't be
guessed, and each wrong guess of the processor costs as much as a dozen sums. So they are listed without
branches first: each candidate is written down, and the list grows by one only if it belongs there.
"""

from __future__ import annotations

import numpy as np

from nesting.packing.jit import inner_kernel, kernel
from nesting.packing.kernels.place import reach
from nesting.packing.kernels.sight import Scratch, pulled, with_neighbour
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = ["line_search"]


@inner_kernel
def clip(x: float, over_dx: float, low: float, high: float, span: tuple[float, float]) -> tuple[float, float]:
    """Cut a span of a line to ``low <= x + t dx <= high``; it ends before it begins where nothing is left.

    `over_dx` is 1 / dx, infinite along the other axis.
    """
    if over_dx < np.inf:
        one, other = (low - x) * over_dx, (high - x) * over_dx
        return max(span[0], min(one, other)), min(span[1], max(one, other))
    if x < low - 1e-9 or x > high + 1e-9:
        return span[0], span[0] - 1.0
    return span


@inner_kernel
def inverse(d: float) -> float:
    """1 / d; infinite where the line hardly moves along this axis at all."""
    return 1.0 / d if abs(d) > 1e-12 else np.inf


@inner_kernel
def cost_on_line(
    tables: Tables,
    scratch: Scratch,
    met: int,
    x: float,
    y: float,
    t: float,
    pull: float,
    enough: float,
    used: IntArray,
) -> float:
    """As `cost_at`, for a place at `t` along a line: only neighbours the line is within there are asked."""
    cost = pulled(x, y, pull)
    if cost >= enough:
        return cost
    between, asked, listed = scratch.between, scratch.met, scratch.listed
    n = np.uint64(0)
    for place in range(np.uint64(met)):
        listed[n] = place
        n += np.uint64((between[place, 0] < t) & (t < between[place, 1]))
    for k in range(n):
        at = np.uint64(listed[k])
        q = asked[at]
        used[0] += 1
        cost = with_neighbour(tables, scratch, q, x, y, cost, enough)
        if cost >= enough:
            half = at >> np.uint64(1)
            asked[at], asked[half] = asked[half], q
            for end in range(2):
                between[at, end], between[half, end] = between[half, end], between[at, end]
            break
    return float(cost)


@inner_kernel
def crossings(
    tables: Tables,
    scratch: Scratch,
    m: int,
    line: tuple[float, float, float, float],
    span: tuple[float, float],
    used: IntArray,
) -> tuple[int, int]:
    """Fill `stops` (the span's ends, the crossings within), `met` and `between`; how many stops and met."""
    x, y, dx, dy = line
    begin, end = span
    over_dx, over_dy = inverse(dx), inverse(dy)
    view, stops, between, edge = scratch.sight, scratch.stops, scratch.between, tables.edge
    listed, asked = scratch.listed, scratch.met
    seen = np.uint64(0)
    for q in range(np.uint64(m)):
        enter, leave = clip(
            y, over_dy, view[q, 1], view[q, 3], clip(x, over_dx, view[q, 0], view[q, 2], span)
        )
        asked[seen] = q
        seen += np.uint64(enter <= leave)
    stops[0], stops[1] = begin, end
    n, met = 2, 0
    for place in range(seen):  # those met are put where those seen were, which are behind by then
        j = asked[place]
        used[0] += 1
        ox, oy = (x - view[j, 4]) * view[j, 6], (y - view[j, 5]) * view[j, 7]
        lx, ly = dx * view[j, 6], dy * view[j, 7]
        k = scratch.poly[j]
        first, last = np.inf, -np.inf
        from_a = 0.0
        crossed = np.uint64(0)
        for e in range(tables.edge_first[k], tables.edge_first[k + 1]):
            if edge[e, 7] > 0.0:  # begins a ring; all others begin where the one before ends
                from_a = lx * (edge[e, 1] - oy) - ly * (edge[e, 0] - ox)
            from_b = lx * (edge[e, 3] - oy) - ly * (edge[e, 2] - ox)
            listed[crossed] = e
            crossed += np.uint64((from_a > 0.0) != (from_b > 0.0))
            from_a = from_b
        for c in range(crossed):
            f = np.uint64(listed[c])
            ax, ay, bx, by = edge[f, 0] - ox, edge[f, 1] - oy, edge[f, 2] - ox, edge[f, 3] - oy
            from_a, from_b = lx * ay - ly * ax, lx * by - ly * bx
            share = from_a / (from_a - from_b)
            t = (ax + share * (bx - ax)) * lx + (ay + share * (by - ay)) * ly
            first, last = min(first, t), max(last, t)
            stops[n] = t
            n += 1 if begin < t < end and n < stops.shape[0] - 1 else 0
        if first < last:
            between[met, 0], between[met, 1] = first, last
            asked[met] = j
            met += 1
    return n, met


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
    too. On a lattice along the strip the span has to be endless, for places then lie beside the crossings.
    """
    x, y, dx, dy = line
    stops = scratch.stops
    x_low, x_high = max(window[0], tables.x_rule[s, 0]), min(window[1], reach(tables, s, length))
    y_low = tables.half[s, 1]
    y_high = max(y_low, tables.width - y_low)
    span = clip(y, inverse(dy), y_low, y_high, clip(x, inverse(dx), x_low, x_high, span))
    if not span[0] <= span[1]:
        return np.inf, x, y
    n, met = crossings(tables, scratch, m, line, span, used)
    found, at_x, at_y = np.inf, x, y
    held_x = tables.x_rule[s, 1] > 0.0 and abs(dx) > 1e-12
    held_y = tables.y_rule[s, 2] > 0.0
    for c in range(2 * n if held_x else n):
        t = stops[c >> 1] if held_x else stops[c]
        px, py = x + t * dx, y + t * dy
        if held_x:
            start, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
            place = (px - start) / step
            px = start + (np.floor(place + 1e-9) if c % 2 == 0 else np.ceil(place - 1e-9)) * step
            if px < x_low - 1e-9 or px > x_high + 1e-9:
                continue
            t = (px - x) / dx
        px = max(x_low, min(px, x_high))
        py = y if held_y else max(y_low, min(py, y_high))
        cost = cost_on_line(tables, scratch, met, px, py, t, pull, best, used)
        if cost < best:
            best = cost
            found, at_x, at_y = cost, px, py
    return found, at_x, at_y
