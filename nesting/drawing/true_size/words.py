"""Words on true-size sheets: each sheet names what it shows, so that a heap of them can be sorted."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.drawing.ink.labels import Box, InnerLines
from nesting.drawing.ink.pen import Pen
from nesting.drawing.ink.room import Room
from nesting.drawing.ink.text import LINE_HEIGHT, printable, text_width_pt
from nesting.geometry import FloatArray

__all__ = ["SHEET_NAME_ROOM_MM", "draw_edge_words", "draw_words"]

_SIZES_PT = (16.0, 13.0, 11.0, 9.0, 7.0)
_LARGE_PT = (40.0, 28.0, 20.0)
_LARGE_CELL_MM = 500.0
"""Sheets with longer sides are read from farther away."""
_EDGE_PT, _LARGE_EDGE_PT = 8.0, 12.0
_BESIDE_MM = 0.8
_CLEAR_MM = 2.0
SHEET_NAME_ROOM_MM = (75.0, 9.0)
"""Kept free in the lower left corner of a cell for the sheet's own name."""


def draw_words(
    pen: Pen,
    lines: Sequence[str],
    outline: FloatArray,
    inner: InnerLines,
    cell: Box,
    gid: str,
) -> Box | None:
    """The words in the part of a piece that lies in a sheet's cell, as large as they find room, or none.

    Gives the ground that they take.

    Parameters
    ----------
    pen : Pen
    lines : sequence of str
        The first says most; a small part carries it alone.
    outline : (N, 2) float64 array, mm
    inner : InnerLines
        What the words keep off.
    cell : Box
    gid : str
    """
    import shapely

    taken = shapely.box(cell[0], cell[1], cell[0] + SHEET_NAME_ROOM_MM[0], cell[1] + SHEET_NAME_ROOM_MM[1])
    room_in_cell = shapely.box(*cell).difference(taken)
    shown = shapely.Polygon(outline).buffer(0).intersection(room_in_cell).buffer(-_CLEAR_MM)
    strokes = [line for group in (inner.grain, inner.signs, inner.seams) for line in group]
    drawn = [shapely.LineString(line) if len(line) > 1 else shapely.Point(line[0]) for line in strokes]
    clear = shown.difference(shapely.buffer(shapely.union_all(drawn), _CLEAR_MM))
    rooms = [Room(area) for area in (clear, shown)]
    said = [printable(line) for line in lines if line]
    sizes = (*_LARGE_PT, *_SIZES_PT) if _is_large(cell) else _SIZES_PT
    for words, room in ((said, rooms[0]), (said[:1], rooms[0]), (said[:1], rooms[1])):
        for size_pt in sizes:
            wide = max(text_width_pt(line, size_pt) for line in words) * pen.mm_per_pt
            high = len(words) * LINE_HEIGHT * size_pt * pen.mm_per_pt
            at = room.place(wide, high)
            if at is not None:
                pen.words(at, words, size_pt, gid)
                return at[0] - wide / 2, at[1] - high / 2, at[0] + wide / 2, at[1] + high / 2
    return None


def draw_edge_words(
    pen: Pen,
    words: str,
    ends: tuple[tuple[float, float], tuple[float, float]],
    aside: tuple[float, float],
    cell: Box,
) -> None:
    """Words beside the part of a level or upright line that a cell shows; none where it shows too little.

    Parameters
    ----------
    ends : two points
    aside : (float, float)
        Unit vector to the side where the words stand, away from what is cut.
    """
    x0, y0, x1, y1 = cell
    (ax, ay), (bx, by) = ends
    level = ay == by
    low, high = (max(ax, x0), min(bx, x1)) if level else (max(ay, y0), min(by, y1))
    across = ay if level else ax
    if not (y0 <= across <= y1 if level else x0 <= across <= x1):
        return
    for size_pt in (_LARGE_EDGE_PT, _EDGE_PT) if _is_large(cell) else (_EDGE_PT,):
        wide = text_width_pt(printable(words), size_pt) * pen.mm_per_pt
        if high - low > wide + 2 * _CLEAR_MM:
            out = _BESIDE_MM + size_pt * pen.mm_per_pt / 2
            middle = (low + high) / 2
            x, y = (middle, ay) if level else (ax, middle)
            pen.words((x + out * aside[0], y + out * aside[1]), words, size_pt, "edge-words", upright=level)
            return


def _is_large(cell: Box) -> bool:
    return min(cell[2] - cell[0], cell[3] - cell[1]) >= _LARGE_CELL_MM
