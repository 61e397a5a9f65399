"""Everything the kernels read, as flat arrays: no-fit polygons, and where pieces may be in which shapes.

Positions in the kernels are of the centre of a shape's box, in mm. Pieces come first, item by item and copy
by copy; obstacles follow as pieces that never move.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.outlines.shapes import IndexArray, IntArray
from nesting.packing.problem import Placement

__all__ = ["Layout", "Tables", "blank_tables", "placements_of"]


class Tables(NamedTuple):
    """What never changes during a search; S shapes, K no-fit polygons, P pieces (obstacles included).

    Attributes
    ----------
    pair : (S, S) int64
        No-fit polygon of a moving shape (column) seen from a fixed one (row); -1 where never asked for.
    sign : (S, S, 2) float64
        Multiply the relative position with this before asking the no-fit polygon.
    box : (K, 4) float64, mm
        Least x and y, greatest x and y.
    edge_first : (K + 1,) uint64
    edge : (E, 8) float64
        Start x, y; end x, y; unit direction x, y; length; 1 where a ring begins. Inside on the left.
    grid : (K, 4) float64
        Cells of the no-fit polygon's box: origin x, y and cells per mm in x, y.
    cells : (K, 3) int64
        Columns, rows, index of the first cell.
    cell_first, cell_edge : uint64
        For each cell the edges that can be the nearest to a point in it; none where all is outside.
    cell_least : float64, mm
        What the depth in a cell is at least (negative outside).
    half : (S, 2) float64, mm
        Half the box of each shape.
    y_rule : (S, 3) float64
        First allowed value, step, and number of allowed values; 0 in the third: any value in reach.
    x_rule : (S, 3) float64
        First allowed value, step (0: any value from there on), and last allowed value, infinite as a rule.
    shapes : (P, 2) int64
        First and one past the last shape of each piece.
    size : (P,) float64, mm
        Square root of the area of the convex hull.
    width : float, mm
    tolerance : float, mm
        Depths up to this are no overlap.
    moving : int
        Pieces that are not obstacles.
    gap : float, mm
        Kept between pieces, a part of the no-fit polygons.
    """

    pair: IntArray
    sign: FloatArray
    box: FloatArray
    edge_first: IndexArray
    edge: FloatArray
    grid: FloatArray
    cells: IntArray
    cell_first: IndexArray
    cell_edge: IndexArray
    cell_least: FloatArray
    half: FloatArray
    y_rule: FloatArray
    x_rule: FloatArray
    shapes: IntArray
    size: FloatArray
    width: float
    tolerance: float
    moving: int
    gap: float


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    """Tables and what leads back from them to the problem.

    Attributes
    ----------
    tables : Tables
    shape_variant : (S,) int64 array
        Index of the variant in its item.
    shape_centre : (S, 2) float64 array, mm
        Engine position = placement + centre.
    piece_item, piece_copy : (P,) int64 arrays
    fixed_xy : (O, 2) float64 array, mm
        Where the obstacles lie.
    fixed_shape : (O,) int64 array
    scale : float
        Grid units to a millimetre.
    """

    tables: Tables
    shape_variant: IntArray
    shape_centre: FloatArray
    piece_item: IntArray
    piece_copy: IntArray
    fixed_xy: FloatArray
    fixed_shape: IntArray
    scale: float


def blank_tables() -> Tables:
    """Tables of one piece that has no shape: enough to know for which types to compile the kernels."""
    index, whole = np.zeros(1, np.uint64), np.zeros((1, 3), np.int64)
    columns = {n: np.zeros((1, n)) for n in (2, 3, 4, 8)}
    return Tables(
        pair=np.zeros((1, 1), np.int64),
        sign=np.zeros((1, 1, 2)),
        box=columns[4],
        edge_first=index,
        edge=columns[8],
        grid=columns[4],
        cells=whole,
        cell_first=index,
        cell_edge=index,
        cell_least=np.zeros(1),
        half=columns[2],
        y_rule=columns[3],
        x_rule=columns[3],
        shapes=np.zeros((1, 2), np.int64),
        size=np.ones(1),
        width=1.0,
        tolerance=1.0,
        moving=1,
        gap=0.0,
    )


def placements_of(layout: Layout, xy: FloatArray, shape: IntArray) -> tuple[Placement, ...]:
    """Engine positions, (P, 2) in mm, and shapes of the pieces as placements, ordered by item, then copy."""
    centre = layout.shape_centre[shape]
    return tuple(
        Placement(
            int(layout.piece_item[k]),
            int(layout.piece_copy[k]),
            int(layout.shape_variant[shape[k]]),
            float(xy[k, 0] - centre[k, 0]),
            float(xy[k, 1] - centre[k, 1]),
        )
        for k in range(layout.tables.moving)
    )
