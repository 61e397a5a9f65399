"""The map of true-size sheets: which of them shows what, and how they are joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.look import PAPER
from nesting.drawing.ink.text import SMALLEST_PT, text_width_pt, wrapped
from nesting.drawing.true_size.full_size import FullSize
from nesting.drawing.true_size.tiling import Tile, Tiling
from nesting.geometry import FloatArray

__all__ = ["Mapped", "draw_map"]

_GAP_MM = 4.0
_TITLE_ROW_MM = 4.0
_SHRINK = 0.93
_APART_PT = 3.0
_LARGEST = 1 / 6


@dataclass(frozen=True, slots=True, eq=False)
class Mapped:
    """A drawing and its sheets.

    Attributes
    ----------
    drawing : FullSize
    tiling : Tiling
    prefix : str
        Before the name of each sheet, where there are several drawings.
    """

    drawing: FullSize
    tiling: Tiling
    prefix: str = ""

    def name(self, one: Tile) -> str:
        """What a sheet is called: ``B3``, or ``2`` and ``3A1`` where there are several drawings."""
        if self.prefix and len(self.tiling.tiles) == 1:
            return self.prefix
        return f"{self.prefix}{one.name}"

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of all cells together."""
        cells = np.array([one.cell for one in self.tiling.tiles])
        low, high = cells[:, :2].min(axis=0), cells[:, 2:].max(axis=0)
        return float(high[0] - low[0]), float(high[1] - low[1])


def draw_map(canvas: Canvas, mapped: Sequence[Mapped], room: Box) -> None:
    """All drawings at one scale, row by row, as large as the room allows."""
    x0, y0, x1, y1 = room
    scale = _LARGEST
    places = _places(mapped, scale, x1 - x0)
    while places is None or places[1] > y1 - y0:
        scale *= _SHRINK
        places = _places(mapped, scale, x1 - x0)
    for one, (right, down) in zip(mapped, places[0], strict=True):
        _draw_one(canvas, one, scale, (x0 + right, y1 - down), x1 - x0 - right)


def _places(
    mapped: Sequence[Mapped], scale: float, width_mm: float
) -> tuple[list[tuple[float, float]], float] | None:
    """Upper left corners, to the right and down, and the height of all; None where one is too wide."""
    found: list[tuple[float, float]] = []
    x = y = row = 0.0
    for one in mapped:
        wide, high = (side * scale for side in one.size_mm)
        if wide > width_mm:
            return None
        if x > 0 and x + wide > width_mm:
            x, y, row = 0.0, y + row, 0.0
        found.append((x, y))
        x += max(wide, _TITLE_ROW_MM) + _GAP_MM
        row = max(row, high + _TITLE_ROW_MM + _GAP_MM)
    return found, y + row


def _draw_one(
    canvas: Canvas, one: Mapped, scale: float, corner: tuple[float, float], width_mm: float
) -> None:
    cells = np.array([tile.cell for tile in one.tiling.tiles])
    origin = np.array([cells[:, 0].min(), cells[:, 3].max()])
    at = np.array([corner[0], corner[1] - _TITLE_ROW_MM])

    def placed(points: Sequence[tuple[float, float]] | FloatArray) -> FloatArray:
        moved: FloatArray = at + (np.asarray(points, dtype=np.float64) - origin) * scale
        return moved

    for outline in one.drawing.outlines:
        canvas.line(placed(np.vstack([outline, outline[:1]])), "map", "map-outline")
    for tile in one.tiling.tiles:
        x0, y0, x1, y1 = tile.cell
        canvas.line(placed([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]), "trim mark", "map-sheet")
    for points, name in _names(one, canvas, scale):
        x, y = placed([points])[0].tolist()
        canvas.words((x, y), name, SMALLEST_PT, "map-name", bold=True, ground=PAPER)
    if one.prefix:
        wide = min(width_mm, one.size_mm[0] * scale + _GAP_MM)
        words = wrapped(f"{one.prefix} {one.drawing.title}", wide / canvas.mm_per_pt, SMALLEST_PT)[0]
        canvas.words(
            (corner[0], corner[1] - _TITLE_ROW_MM / 2), words, SMALLEST_PT, "map-title", align="left"
        )


def _names(one: Mapped, canvas: Canvas, scale: float) -> Iterator[tuple[tuple[float, float], str]]:
    """The name of every sheet in its middle; where cells are too small, of some beside the edges."""
    tiles = one.tiling.tiles
    x0, y0, x1, y1 = tiles[0].cell
    widest = max(text_width_pt(one.name(tile), SMALLEST_PT, bold=True) for tile in tiles)
    wide = (widest + _APART_PT) * canvas.mm_per_pt / scale
    high = (SMALLEST_PT + _APART_PT) * canvas.mm_per_pt / scale
    across, up = max(1, ceil(wide / (x1 - x0))), max(1, ceil(high / (y1 - y0)))
    if across == up == 1:
        for tile in tiles:
            x0, y0, x1, y1 = tile.cell
            yield ((x0 + x1) / 2, (y0 + y1) / 2), one.name(tile)
        return
    for tile in tiles:
        x0, y0, x1, y1 = tile.cell
        if tile.row == 0 and tile.column % across == 0:
            yield ((x0 + x1) / 2, y0 - high / 2), one.name(tile)
        elif tile.column == 0 and tile.row % up == 0 and tile.row > 0:
            yield (x0 - wide / 2, (y0 + y1) / 2), one.name(tile)
