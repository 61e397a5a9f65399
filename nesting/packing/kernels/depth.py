"""How deep is a shape inside another? Questions to no-fit polygons, answered from the edges of one cell."""

from __future__ import annotations

import numpy as np

from nesting.packing.jit import inner_kernel
from nesting.packing.outlines.grid import signed_nearest
from nesting.packing.outlines.tables import Tables

__all__ = ["apart", "cell_at", "depth", "depth_in"]


@inner_kernel
def cell_at(tables: Tables, k: int, x: float, y: float) -> int:
    """The cell of no-fit polygon `k` that a relative position lies in; -1 where it is beside its box."""
    box = tables.box
    if x < box[k, 0] or x > box[k, 2] or y < box[k, 1] or y > box[k, 3]:
        return -1
    columns, rows, first = tables.cells[k, 0], tables.cells[k, 1], tables.cells[k, 2]
    column = min(int((x - tables.grid[k, 0]) * tables.grid[k, 2]), columns - 1)
    row = min(int((y - tables.grid[k, 1]) * tables.grid[k, 3]), rows - 1)
    return int(first + row * columns + column)


@inner_kernel
def depth_in(tables: Tables, cell: int, x: float, y: float) -> tuple[float, int]:
    """As `depth`, for a position in a cell."""
    at = np.uint64(cell)
    begin, end = tables.cell_first[at], tables.cell_first[at + np.uint64(1)]
    if begin == end:
        return -np.inf, -1
    return signed_nearest(tables.edge, tables.cell_edge, begin, end, x, y)


@inner_kernel
def depth(tables: Tables, k: int, x: float, y: float) -> tuple[float, int]:
    """How far inside no-fit polygon `k` a relative position is (negative outside), and the nearest edge.

    Minus infinity and -1 where it is well outside.
    """
    cell = cell_at(tables, k, x, y)
    if cell < 0:
        return -np.inf, -1
    return depth_in(tables, cell, x, y)


@inner_kernel
def apart(tables: Tables, s: int, other: int, x: float, y: float) -> bool:
    """Whether two shapes whose centres lie that far from each other can't overlap, by their boxes alone."""
    half, gap = tables.half, tables.gap
    return bool(abs(x) >= half[s, 0] + half[other, 0] + gap or abs(y) >= half[s, 1] + half[other, 1] + gap)
