"""Where in a shape an upright box can lie."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["Room"]

_GRID_CELLS = 110


class Room:
    """Where in a polygon an upright box can lie.

    Parameters
    ----------
    area : shapely Polygon or MultiPolygon
        May be empty.
    """

    def __init__(self, area: BaseGeometry) -> None:
        import shapely

        self.area = area
        shapely.prepare(area)
        if area.is_empty:
            self._cell = 1.0
            self._x = self._y = np.zeros(0)
            self._sums = np.zeros((1, 1), dtype=np.int64)
            return
        x0, y0, x1, y1 = area.bounds
        self._cell = max(x1 - x0, y1 - y0) / _GRID_CELLS
        self._x = np.arange(x0 + self._cell / 2, x1, self._cell)
        self._y = np.arange(y0 + self._cell / 2, y1, self._cell)
        grid_x, grid_y = np.meshgrid(self._x, self._y)
        inside = shapely.contains_xy(area, grid_x, grid_y)
        self._sums = np.pad(inside, ((1, 0), (1, 0))).astype(np.int64).cumsum(axis=0).cumsum(axis=1)

    def place(self, width_mm: float, height_mm: float) -> tuple[float, float] | None:
        """Middle of a box of that size inside the room, as central as may be; None where it fits nowhere.

        The grid proposes (a summed-area table counts the cells under every position of the box at
        once), the exact outline disposes.
        """
        import shapely

        across, up = (
            2 * max(1, round(extent / self._cell / 2 + 0.5)) - 1 for extent in (width_mm, height_mm)
        )
        rows, columns = len(self._y), len(self._x)
        if across > columns or up > rows:
            return None
        s = self._sums
        covered = s[up:, across:] - s[:-up, across:] - s[up:, :-across] + s[:-up, :-across]
        row, column = np.nonzero(covered == across * up)
        if not len(row):
            return None
        x = self._x[column + across // 2]
        y = self._y[row + up // 2]
        nearest = np.argsort((x - x.mean()) ** 2 + (y - y.mean()) ** 2, kind="stable")[:60]
        boxes = shapely.box(
            x[nearest] - width_mm / 2,
            y[nearest] - height_mm / 2,
            x[nearest] + width_mm / 2,
            y[nearest] + height_mm / 2,
        )
        fitting = np.nonzero(shapely.covers(self.area, boxes))[0]
        if not len(fitting):
            return None
        best = nearest[fitting[0]]
        return float(x[best]), float(y[best])
