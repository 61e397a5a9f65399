"""The largest rectangles of cloth that nothing lies on.

They are found on a grid of `GRID_MM`: of the cells that nothing touches, the largest rectangle (the largest
one in a histogram, row after row; exact on the grid), which is then widened on each side until it touches
something. It falls short of the largest there is by less than a cell on each side.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely

from nesting.cutting.left import Rectangle

__all__ = ["free_rectangles", "largest_rectangle"]

GRID_MM = 5.0
MOST_RECTANGLES = 5
LEAST_SIDE_MM = 60.0
LEAST_AREA_MM2 = 10_000.0
"""A rectangle is worth telling from 6 cm and a square decimetre on."""

BoolArray = npt.NDArray[np.bool_]


def free_rectangles(
    limits: tuple[float, float, float, float], taken: Sequence[shapely.Polygon]
) -> list[Rectangle]:
    """The largest, then the largest of what is left then, and so on."""
    x0, u0, x1, u1 = limits
    if x1 - x0 < LEAST_SIDE_MM or u1 - u0 < LEAST_SIDE_MM:
        return []
    free = _free_cells(limits, taken)
    shapes = list(taken)
    found: list[Rectangle] = []
    while len(found) < MOST_RECTANGLES:
        i0, j0, i1, j1 = largest_rectangle(free)
        rough = Rectangle(x0 + GRID_MM * i0, u0 + GRID_MM * j0, x0 + GRID_MM * i1, u0 + GRID_MM * j1)
        if i1 <= i0:
            break
        whole = _widened(rough, limits, shapes)
        if whole.along_mm * whole.across_mm < LEAST_AREA_MM2:
            break
        shapes.append(shapely.box(whole.x0, whole.u0, whole.x1, whole.u1))
        _mark(free, limits, shapes[-1])
        if min(whole.along_mm, whole.across_mm) >= LEAST_SIDE_MM:
            found.append(whole)
    return found


def _free_cells(limits: tuple[float, float, float, float], taken: Sequence[shapely.Polygon]) -> BoolArray:
    """(columns along, rows across): the whole cells that nothing touches."""
    x0, u0, x1, u1 = limits
    free = np.ones((int((x1 - x0) / GRID_MM), int((u1 - u0) / GRID_MM)), dtype=np.bool_)
    for one in taken:
        _mark(free, limits, one)
    return free


def _mark(free: BoolArray, limits: tuple[float, float, float, float], shape: shapely.Polygon) -> None:
    """Take the cells that the shape touches out of the free ones."""
    x0, u0, *_ = limits
    a, c, b, d = shape.bounds
    i = np.arange(max(0, int((a - x0) / GRID_MM) - 1), min(free.shape[0], int((b - x0) / GRID_MM) + 2))
    j = np.arange(max(0, int((c - u0) / GRID_MM) - 1), min(free.shape[1], int((d - u0) / GRID_MM) + 2))
    if not len(i) or not len(j):
        return
    left, low = np.meshgrid(x0 + GRID_MM * i, u0 + GRID_MM * j, indexing="ij")
    shapely.prepare(shape)
    touched = shapely.intersects(shape, shapely.box(left, low, left + GRID_MM, low + GRID_MM))
    free[i[0] : i[-1] + 1, j[0] : j[-1] + 1] &= ~touched


def largest_rectangle(free: BoolArray) -> tuple[int, int, int, int]:
    """Of all rectangles of free cells the largest: first and last-but-one index along and across.

    Parameters
    ----------
    free : (M, N) bool array

    Returns
    -------
    tuple of int
        i0, j0, i1, j1: ``free[i0:i1, j0:j1]`` is all true; all 0 where no cell is free. Of equals the first.

    Examples
    --------
    >>> largest_rectangle(np.array([[1, 1, 0], [1, 1, 1], [0, 1, 1]], dtype=bool))
    (0, 0, 2, 2)
    >>> largest_rectangle(np.zeros((2, 0), dtype=bool))
    (0, 0, 0, 0)
    """
    best, best_area = (0, 0, 0, 0), 0
    columns = free.shape[1]
    height = np.zeros(columns + 1, dtype=np.int64)  # the last stays 0 and closes every bar
    for i in range(free.shape[0]):
        height[:columns] = np.where(free[i], height[:columns] + 1, 0)
        open_bars: list[tuple[int, int]] = []  # where it starts, how high; rising
        for j, high in enumerate(height.tolist()):
            start = j
            while open_bars and open_bars[-1][1] >= high:
                start, tall = open_bars.pop()
                if tall * (j - start) > best_area:
                    best, best_area = (i + 1 - tall, start, i + 1, j), tall * (j - start)
            open_bars.append((start, high))
    return best


def _widened(
    rough: Rectangle, limits: tuple[float, float, float, float], shapes: Sequence[shapely.Polygon]
) -> Rectangle:
    """Each side moved out until it touches something, by two cells at most."""
    x0, u0, x1, u1 = limits
    reach = 2 * GRID_MM
    around = shapely.box(rough.x0 - reach, rough.u0 - reach, rough.x1 + reach, rough.u1 + reach)
    near = shapely.union_all([one for one in shapes if one.intersects(around)])
    left, low, right, high = rough.x0, rough.u0, rough.x1, rough.u1

    def in_the_way(a: float, c: float, b: float, d: float) -> tuple[float, float, float, float] | None:
        shared = shapely.get_parts(shapely.intersection(near, shapely.box(a, c, b, d)))
        deep = shared[shapely.area(shared) > 1e-9]  # what only touches along a side is in no one's way
        return tuple(shapely.total_bounds(deep).tolist()) if len(deep) else None

    hit = in_the_way(left - reach, low, left, high)
    left = max(x0, left - reach if hit is None else hit[2])
    hit = in_the_way(right, low, right + reach, high)
    right = min(x1, right + reach if hit is None else hit[0])
    hit = in_the_way(left, low - reach, right, low)
    low = max(u0, low - reach if hit is None else hit[3])
    hit = in_the_way(left, high, right, high + reach)
    high = min(u1, high + reach if hit is None else hit[1])
    return Rectangle(left, low, right, high)
