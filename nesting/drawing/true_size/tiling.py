"""A large drawing cut up into sheets of paper that share a border with their neighbours.

Every sheet shows its **cell** and, all round, half the overlap of what lies beyond, as far as the printer
reaches; cells touch without gaps. Coordinates are the drawing's, true millimetres, x to the right and y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.papers import LONGEST_PAGE_MM, PageSize
from nesting.geometry import FloatArray

__all__ = ["OVERLAP_MM", "Tile", "Tiling", "room_of", "tile", "tile_roll"]

OVERLAP_MM = 20.0
"""What two neighbouring sheets both show: 10 mm on each side of the line where they meet."""
_CLEAR_MM = 5.0
"""Kept free between what is drawn and the first line to cut along."""
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet.

    Attributes
    ----------
    name : str
        Letter of its row, from the near edge up, and number in it, from the left: ``B3``.
    row, column : int
        Counted from 0.
    cell : Box
        What is its own.
    """

    name: str
    row: int
    column: int
    cell: Box


@dataclass(frozen=True, slots=True)
class Tiling:
    """A drawing on sheets.

    Attributes
    ----------
    width_mm, height_mm : float
        Of every sheet, as it is printed.
    margin_mm : float
        What the printer cannot reach on each side.
    overlap_mm : float
        None (0) where one sheet holds all.
    rows, columns : int
    tiles : tuple of Tile
        Those that carry something that no neighbour shows, row by row.
    """

    width_mm: float
    height_mm: float
    margin_mm: float
    overlap_mm: float
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    def window(self, one: Tile) -> Box:
        """All that a sheet shows: its cell and half the overlap round it."""
        half = self.overlap_mm / 2
        x0, y0, x1, y1 = one.cell
        return x0 - half, y0 - half, x1 + half, y1 + half

    def beside(self, one: Tile, right: int, up: int) -> Tile | None:
        """The sheet so many further right and up, if it is printed."""
        at = (one.row + up, one.column + right)
        return next((other for other in self.tiles if (other.row, other.column) == at), None)


def tile(
    bounds: Box,
    lines: Iterable[FloatArray],
    paper: PageSize,
    *,
    margin_mm: float,
    overlap_mm: float = OVERLAP_MM,
) -> Tiling:
    """Sheets of this paper, upright or on its side, whichever takes fewer.

    Parameters
    ----------
    bounds : Box
        Of the whole drawing.
    lines : iterable of (N, 2) float64 arrays
        What is drawn, a ring with its first point repeated, a dot as one point. A sheet is left out that has
        none of it in its cell, or so little that it stands whole on the border of a sheet beside it.
    paper : PageSize
    margin_mm, overlap_mm : float

    Raises
    ------
    ValueError
        When the margins leave hardly anything of the paper.
    """
    drawn = list(lines)
    upright, on_its_side = (
        _grid(bounds, drawn, size, margin_mm, overlap_mm)
        for size in ((paper.width_mm, paper.height_mm), (paper.height_mm, paper.width_mm))
    )
    return upright if len(upright.tiles) <= len(on_its_side.tiles) else on_its_side


def tile_roll(
    bounds: Box,
    lines: Iterable[FloatArray],
    *,
    width_mm: float | None,
    margin_mm: float,
    overlap_mm: float = OVERLAP_MM,
) -> Tiling:
    """One long page, or as few as a PDF page's greatest length and the roll's width allow.

    Parameters
    ----------
    bounds : Box
    lines : iterable of (N, 2) float64 arrays
    width_mm : float or None
        Of the roll; None for a page as wide as the drawing, for a projector.
    margin_mm, overlap_mm : float
    """
    along, across = (
        side + 2 * (margin_mm + _CLEAR_MM) for side in (bounds[2] - bounds[0], bounds[3] - bounds[1])
    )
    high = min(across, LONGEST_PAGE_MM) if width_mm is None else width_mm
    if along <= LONGEST_PAGE_MM and across <= high:
        return _grid(bounds, list(lines), (along, high), margin_mm, 0.0)
    long = min(along + overlap_mm, LONGEST_PAGE_MM)
    high = min(across + overlap_mm, LONGEST_PAGE_MM) if width_mm is None else width_mm
    return _grid(bounds, list(lines), (long, high), margin_mm, overlap_mm)


def room_of(paper: PageSize, *, margin_mm: float, overlap_mm: float = OVERLAP_MM) -> tuple[float, float]:
    """The longer and the shorter side of what may be drawn on one sheet alone."""
    sides = (paper.height_mm, paper.width_mm)
    long, short = (side - 2 * (margin_mm + _CLEAR_MM) - overlap_mm for side in sides)
    return long, short


def _grid(
    bounds: Box,
    lines: Sequence[FloatArray],
    size_mm: tuple[float, float],
    margin_mm: float,
    overlap_mm: float,
) -> Tiling:
    import shapely

    x0, y0, x1, y1 = (
        bounds[0] - _CLEAR_MM,
        bounds[1] - _CLEAR_MM,
        bounds[2] + _CLEAR_MM,
        bounds[3] + _CLEAR_MM,
    )
    wide, high = (side - 2 * margin_mm - overlap_mm for side in size_mm)
    if min(wide, high) < overlap_mm + 10 or min(wide, high) <= 0:
        raise ValueError(f"margins of {margin_mm:g} mm leave too little of the paper")
    columns, rows = max(1, ceil((x1 - x0) / wide - 1e-9)), max(1, ceil((y1 - y0) / high - 1e-9))
    drawn = np.array(
        [shapely.LineString(line) if len(line) > 1 else shapely.Point(line[0]) for line in lines],
        dtype=object,
    )
    tree = shapely.STRtree(drawn)
    tiles = []
    held = {}
    for row in range(rows):
        for column in range(columns):
            left, low = x0 + column * wide, y0 + row * high
            cell = (left, low, left + wide, low + high)
            met = tree.query(shapely.box(*cell), predicate="intersects")
            if len(met):
                tiles.append(Tile(f"{_letters(row)}{column + 1}", row, column, cell))
                shown = shapely.intersection(drawn[met], shapely.box(*cell))
                held[row, column] = _Held(shapely.total_bounds(shown), float(shapely.length(shown).sum()))
    whole = Tiling(*size_mm, margin_mm, overlap_mm, rows, columns, tuple(tiles))
    return _without_slivers(whole, held)


@dataclass(frozen=True, slots=True)
class _Held:
    """What is drawn in a cell: the box about it, (4,), and its length, mm."""

    bounds: FloatArray
    length_mm: float


def _without_slivers(tiling: Tiling, held: Mapping[tuple[int, int], _Held]) -> Tiling:
    """Without the sheets of which a neighbour's border shows all, those that hold least first."""
    kept = {(one.row, one.column): one for one in tiling.tiles}
    shows = {at: one.bounds for at, one in held.items()}
    for row, column in sorted(held, key=lambda at: held[at].length_mm):
        for beside in ((row, column - 1), (row, column + 1), (row - 1, column), (row + 1, column)):
            if beside in kept and _covers(tiling.window(kept[beside]), shows[row, column]):
                # From now on the neighbour has to show this too, if it is left out itself.
                both = np.stack([shows[beside], shows[row, column]])
                shows[beside] = np.concatenate([both[:, :2].min(axis=0), both[:, 2:].max(axis=0)])
                del kept[row, column]
                break
    return replace(tiling, tiles=tuple(kept.values()))


def _covers(window: Box, bounds: FloatArray) -> bool:
    x0, y0, x1, y1 = window
    return bool(x0 <= bounds[0] and y0 <= bounds[1] and bounds[2] <= x1 and bounds[3] <= y1)


def _letters(row: int) -> str:
    """A to Z, then AA, AB and so on.

    >>> _letters(0), _letters(27)
    ('A', 'AB')
    """
    more, last = divmod(row, len(_LETTERS))
    return (_letters(more - 1) if more else "") + _LETTERS[last]
