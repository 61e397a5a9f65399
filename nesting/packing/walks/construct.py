"""The first lay: pieces one after the other, each as far left (then down) as it goes.

Horizontal lines through every height at which the piece would touch another, the strip's sides and a few
between give the leftmost free crossing with the no-fit polygons; from there `refine` walks on along the
edges in contact as long as that leads further left. Several orders are tried and the shortest lay kept.
"""

from __future__ import annotations

import numpy as np

from nesting.errors import DoesNotFit
from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel
from nesting.packing.kernels.line import line_search
from nesting.packing.kernels.move import refine
from nesting.packing.kernels.place import snap_y
from nesting.packing.kernels.sight import Scratch, look_round, new_scratch
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Layout, Tables

__all__ = ["construct", "in_a_row"]

FORBIDDEN = 1e12
"""Weight of an overlap: the least depth that counts costs far more than any length."""

LINES = 48
"""Heights taken from other pieces, at most."""

BACK = 1e-6
"""Of the strip's width: how far before the last copy's place the next one looks."""

HEIGHTS = 10
"""Heights spread evenly over the strip, both sides included."""


def construct(layout: Layout) -> tuple[FloatArray, IntArray, float, int]:
    """Lay all pieces without overlap.

    Returns
    -------
    xy : (P, 2) float64 array, mm
        Engine positions, obstacles included.
    shape : (P,) int64 array
    length : float, mm
    used : int
        Evaluations.
    """
    tables = layout.tables
    count = len(tables.size)
    xy = np.zeros((count, 2))
    shape = np.zeros(count, dtype=np.int64)
    xy[tables.moving :] = layout.fixed_xy
    shape[tables.moving :] = layout.fixed_shape
    used = np.zeros(1, dtype=np.int64)
    weight = np.full((count, count), FORBIDDEN)
    scratch, ample, start = new_scratch(tables, count), _ample_length(layout), np.empty(len(tables.half))
    best: tuple[FloatArray, IntArray, float] | None = None
    for order, by_end in _orders(tables):
        length = lay_in_order(tables, order, by_end, ample, xy, shape, weight, scratch, start, used)
        if best is None or length < best[2]:
            best = (xy.copy(), shape.copy(), length)
    if best is None or not np.isfinite(best[2]):
        raise DoesNotFit(
            "Not all that has to lie within a part of the strip was found room in it. Make that part longer."
        )
    return *best, int(used[0])


def in_a_row(layout: Layout) -> tuple[FloatArray, IntArray, float]:
    """Pieces one after another along the strip, by their boxes alone: what is left where a lay is refused.

    Asks no no-fit polygon, so nothing that is wrong with one can spoil it. What is held to a part of the
    strip comes first, and everything else after the last obstacle.

    Returns
    -------
    xy, shape, length
        As `construct`.
    """
    tables = layout.tables
    xy, shape = np.zeros((len(tables.size), 2)), np.zeros(len(tables.size), dtype=np.int64)
    xy[tables.moving :], shape[tables.moving :] = layout.fixed_xy, layout.fixed_shape
    blocked = float((layout.fixed_xy[:, 0] + tables.half[layout.fixed_shape, 0]).max(initial=0.0))
    end = -np.inf
    last = tables.x_rule[tables.shapes[: tables.moving, 0], 2]
    for i in np.argsort(last, kind="stable"):
        if np.isinf(last[i]):
            end, blocked = max(end, blocked + tables.gap), -np.inf
        ways = np.arange(*tables.shapes[i])
        first, step, most = tables.x_rule[ways].T
        x = np.maximum(first, end + tables.half[ways, 0])
        on_step = step > 0
        x[on_step] = first[on_step] + step[on_step] * np.ceil((x - first)[on_step] / step[on_step] - BACK)
        s = int(np.argmin(np.where(x <= most, x + tables.half[ways, 0], np.inf)))
        shape[i], xy[i] = ways[s], (x[s], tables.y_rule[ways[s], 0])
        end = float(x[s] + tables.half[ways[s], 0]) + tables.gap
    return xy, shape, end - tables.gap


def _orders(tables: Tables) -> list[tuple[IntArray, float]]:
    """Orders of the pieces, and whether the far end or the middle of a piece decides its turn."""
    moving = tables.moving
    first = tables.shapes[:moving, 0]
    high, long = tables.half[first, 1], tables.half[first, 0]
    tied = (tables.y_rule[first, 2] > 0) | (tables.x_rule[first, 1] > 0)
    size = tables.size[:moving]
    measures = [size, np.maximum(high, long), long, high, size]
    if moving > 150:
        measures = measures[:2]
    free = np.isinf(tables.x_rule[first, 2])  # what may lie only so far along goes first
    orders = [np.lexsort((np.arange(moving), -measure, free)) for measure in measures]
    orders[-1] = np.lexsort((np.arange(moving), -measures[-1], ~tied, free))
    return [(order, by_end) for order in orders for by_end in ((1.0, 0.0) if moving <= 60 else (1.0,))]


def _ample_length(layout: Layout) -> float:
    """A strip on which every piece finds room after all others, whatever its order."""
    tables = layout.tables
    reach_of = (
        2 * tables.half[:, 0] + tables.x_rule[:, 1] + np.maximum(tables.x_rule[:, 0] - tables.half[:, 0], 0)
    )
    longest = [float(reach_of[a:b].max()) for a, b in tables.shapes]
    margin = float((tables.box[:, 2] - tables.box[:, 0]).max())
    ends = layout.fixed_xy[:, 0] + tables.half[layout.fixed_shape, 0]
    return (
        float(sum(longest[: tables.moving]))
        + 2 * margin * (1 + tables.moving / 50)
        + float(ends.max(initial=0.0))
    )


@entry_kernel
def lay_in_order(
    tables: Tables,
    sequence: IntArray,
    by_end: float,
    ample: float,
    xy: FloatArray,
    shape: IntArray,
    weight: FloatArray,
    scratch: Scratch,
    start: FloatArray,
    used: IntArray,
) -> float:
    """Fill `xy` and `shape` in this order; the length of the lay, infinite where a piece found no place.

    What was free for a shape only shrinks as pieces are laid, so the next copy looks from where the last one
    was best (`start`, room for one number a shape) and no longer sees what lies before that.
    """
    for s in range(start.shape[0]):
        start[s] = -np.inf
    present = scratch.present
    for j in range(xy.shape[0]):
        present[j] = 1 if j >= tables.moving else 0
    view = scratch.sight
    total = 0.0
    for i in sequence:
        best, best_x, best_y, best_s = np.inf, 0.0, 0.0, tables.shapes[i, 0]
        for s in range(tables.shapes[i, 0], tables.shapes[i, 1]):
            window = (start[s], np.inf)
            m = look_round(tables, xy, shape, weight, i, s, window, scratch)
            y_low = tables.half[s, 1]
            y_high = max(y_low, tables.width - y_low)
            cost, cx, cy = np.inf, tables.x_rule[s, 0], y_low
            stride = max(1, 2 * m // LINES)
            for h in range(HEIGHTS + 2 * m):
                if h < HEIGHTS:
                    y = y_low + (y_high - y_low) * h / (HEIGHTS - 1.0)
                elif (h + i) % stride > 0:
                    continue
                else:
                    y = view[(h - HEIGHTS) >> 1, 1 if h % 2 == 0 else 3]
                if y < y_low - 1e-9 or y > y_high + 1e-9:
                    continue
                line = (max(start[s], tables.x_rule[s, 0]), snap_y(tables, s, y), 1.0, 0.0)
                c, x, at = line_search(
                    tables, scratch, m, s, ample, window, line, (-np.inf, np.inf), 1.0, cost, used
                )
                if c < cost:
                    cost, cx, cy = c, x, at
            cost, cx, cy = refine(tables, scratch, m, s, ample, window, cx, cy, cost, 1.0, used)
            start[s] = cx - BACK * tables.width
            rank = cx + by_end * tables.half[s, 0] + 1e-3 * cy
            if rank < best and cost < 0.5 * FORBIDDEN * tables.tolerance:
                best, best_x, best_y, best_s = rank, cx, cy, s
        xy[i, 0], xy[i, 1], shape[i] = best_x, best_y, best_s
        present[i] = 1
        total = max(total, best_x + tables.half[best_s, 0] if best < np.inf else np.inf)
    return total
