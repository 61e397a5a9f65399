"""No-fit polygons laid out for fast questions: edges in columns, and a grid of cells over each box.

A cell lists the edges that can be nearest to a point inside it. With the distance ``D`` from the cell's
centre to the boundary and ``r`` half its diagonal, an edge farther than ``D + 2 r`` from the centre is never
nearest: for any point of the cell the boundary is within ``D + r``, that edge beyond it. The cost of a depth
is then the few edges of one cell, whatever the number of vertices.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray, next_ones
from nesting.packing.jit import entry_kernel, inner_kernel
from nesting.packing.outlines.shapes import IndexArray, IntArray

__all__ = ["edge_columns", "fill_grid"]

TIE = 1e-11
"""Relative difference of squared distances that is rounding."""


def edge_columns(ring: FloatArray) -> FloatArray:
    """(N, 8) float64: start, end, unit direction, length, and 1 for the ring's first; none of no length."""
    ends = next_ones(ring)
    ahead = ends - ring
    length = np.hypot(ahead[:, 0], ahead[:, 1])
    keep = length > 0
    ahead = ahead[keep] / length[keep, None]
    first = np.arange(len(ahead)) == 0
    return np.ascontiguousarray(np.column_stack([ring[keep], ends[keep], ahead, length[keep], first]))


@inner_kernel
def edge_distance(edge: FloatArray, e: int, x: float, y: float) -> tuple[float, float, float]:
    """Squared distance to an edge; 0 beside it, else minus how far past its end; side (left > 0)."""
    rx, ry = x - edge[e, 0], y - edge[e, 1]
    ux, uy = edge[e, 4], edge[e, 5]
    along = rx * ux + ry * uy
    side = ux * ry - uy * rx
    if along < 0.0:
        return rx * rx + ry * ry, along, side
    beyond = along - edge[e, 6]
    if beyond > 0.0:
        qx, qy = x - edge[e, 2], y - edge[e, 3]
        return qx * qx + qy * qy, -beyond, side
    return side * side, 0.0, side


@inner_kernel
def signed_nearest(
    edge: FloatArray, listed: IndexArray, first: int, last: int, x: float, y: float
) -> tuple[float, int]:
    """Distance to the nearest of the listed edges, positive inside, and that edge.

    Where the nearest point is a corner, several edges are equally near; the one that points most nearly
    towards the asker bounds the wedge the asker is in, so its side decides.
    """
    best = np.inf
    best_along = -np.inf
    best_side = 0.0
    nearest = listed[first]
    for k in range(first, last):
        e = listed[k]
        square, along, side = edge_distance(edge, e, x, y)
        if square < best * (1.0 - TIE) or (square <= best * (1.0 + TIE) and along > best_along):
            best = min(best, square)
            best_along = along
            best_side = side
            nearest = e
    distance = np.sqrt(best)
    return (distance if best_side > 0.0 else -distance), int(np.int64(nearest))


@entry_kernel
def fill_grid(
    edge_first: IndexArray,
    edge: FloatArray,
    grid: FloatArray,
    cells: IntArray,
    cell_first: IndexArray,
    cell_edge: IndexArray,
    cell_least: FloatArray,
    every: IndexArray,
    away: FloatArray,
) -> int:
    """Fill the cells' lists and least depths; with an empty `cell_edge` only count what is needed.

    `every` numbers the edges, `away` is room for as many distances.
    """
    used = 0
    counting = cell_edge.shape[0] == 0
    for k in range(cells.shape[0]):
        wide, high = 1.0 / grid[k, 2], 1.0 / grid[k, 3]
        radius = 0.5 * np.sqrt(wide * wide + high * high)
        begin, end = edge_first[k], edge_first[k + 1]
        for row in range(cells[k, 1]):
            for column in range(cells[k, 0]):
                x = grid[k, 0] + (column + 0.5) * wide
                y = grid[k, 1] + (row + 0.5) * high
                signed, _ = signed_nearest(edge, every, begin, end, x, y)
                cell = cells[k, 2] + row * cells[k, 0] + column
                cell_first[cell] = used
                cell_least[cell] = signed - 1.05 * radius
                if signed < -1.05 * radius:
                    continue
                reach = (abs(signed) + 2.05 * radius) ** 2
                for e in range(begin, end):
                    square, _, _ = edge_distance(edge, e, x, y)
                    away[e - begin] = square
                for e in range(begin, end):
                    if away[e - begin] <= reach:
                        if not counting:
                            cell_edge[used] = e
                        used += 1
    cell_first[cell_first.shape[0] - 1] = used
    return used
