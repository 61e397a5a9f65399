"""From corner to corner: the walk of one piece to where it is best near by.

The least cost on a line lies at a crossing (`nesting.packing.kernels.line`); the least in the plane at a
corner of the arrangement of all no-fit polygons. `refine` walks there: along the edges in contact, straight
out of what it overlaps, and along x and y.
"""

from __future__ import annotations

import numpy as np

from nesting.packing.jit import kernel
from nesting.packing.kernels.depth import depth
from nesting.packing.kernels.line import line_search
from nesting.packing.kernels.place import snap_y
from nesting.packing.kernels.sight import Scratch
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = ["refine"]

NONE, ACROSS, ALONG = -3.0, -2.0, -1.0
"""Names of lines that follow no edge: met only once, across the strip, along it. All others are numbered."""

MAX_STEPS = 24
"""Corners `refine` visits at most; it rarely needs ten."""


@kernel
def lines_through(
    tables: Tables, scratch: Scratch, m: int, s: int, x: float, y: float, used: IntArray
) -> int:
    """Fill `scratch.lines` with the lines worth following; how many."""
    near = 64.0 * tables.tolerance
    view, lines, edge = scratch.sight, scratch.lines, tables.edge
    rows, step = tables.y_rule[s, 2], tables.x_rule[s, 1]
    n = 0
    for turn in range(-1, 2):  # across the strip: at x, on a lattice at the columns beside it, too
        if rows == 0.0 and (turn == 0 or step > 0.0):
            lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x + turn * step, y, 0.0, 1.0
            lines[n, 4], lines[n, 5] = -np.inf, np.inf
            lines[n, 6] = ACROSS if turn == 0 else NONE
            n += 1
    for turn in range(-1, 2):  # along the strip
        if turn == 0 or rows > 1.0:
            at = snap_y(tables, s, y + turn * tables.y_rule[s, 1]) if rows > 0.0 else y
            lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x, at, 1.0, 0.0
            lines[n, 4], lines[n, 5] = -np.inf, np.inf
            lines[n, 6] = ALONG if turn == 0 else NONE
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
        lines[n, 6] = q * edge.shape[0] + e
        back = (edge[e, 0] - rx) * ux + (edge[e, 1] - ry) * uy
        ahead = back + edge[e, 6]
        if inside > near:  # straight out: square to the nearest edge, or towards its corner
            along = min(max(0.0, back), ahead) - back
            tx, ty = edge[e, 0] + along * ux - rx, edge[e, 1] + along * uy - ry
            ahead = np.hypot(tx, ty)
            ux, uy = tx / ahead, ty / ahead
            back = 0.0
            lines[n, 6] = NONE
        lines[n, 0], lines[n, 1], lines[n, 2], lines[n, 3] = x, y, ux * sx, uy * sy
        lines[n, 4], lines[n, 5] = back, ahead
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
    """Walk from (x, y), whose cost is given, to a corner that no line through it betters: cost and place.

    The line it has just come by was searched from end to end, so it is left out.
    """
    lines, came_by = scratch.lines, NONE
    for _ in range(MAX_STEPS):
        best, bx, by, by_line = cost, x, y, NONE
        for k in range(lines_through(tables, scratch, m, s, x, y, used)):
            if lines[k, 6] == came_by and came_by != NONE:
                continue
            line = (lines[k, 0], lines[k, 1], lines[k, 2], lines[k, 3])
            span = (lines[k, 4], lines[k, 5])
            c, cx, cy = line_search(tables, scratch, m, s, length, window, line, span, pull, best, used)
            if c < best:
                best, bx, by, by_line = c, cx, cy, lines[k, 6]
        if not best < cost - 1e-9 * abs(cost):
            break
        cost, x, y, came_by = best, bx, by, by_line
        if cost <= 0.0:  # with no pull nothing is better than no overlap
            break
    return cost, x, y
