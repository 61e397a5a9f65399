"""What is on a true-size sheet beside the drawing: its name, where it is cut, and where others join it."""

from __future__ import annotations

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import PAPER
from nesting.drawing.ink.text import text_width_pt, wrapped
from nesting.drawing.true_size.tiling import Tile, Tiling
from nesting.drawing.true_size.words import SHEET_NAME_ROOM_MM

__all__ = ["ARM_MM", "draw_marks"]

ARM_MM = 5.0
"""Of the crosses where four sheets meet; they reach half as far as the sheets overlap."""
_NAME_PT = 13.0
_WORDS_PT = 7.0


def draw_marks(canvas: Canvas, tiling: Tiling, one: Tile, name: str, title: str) -> None:
    """Draw crosses at the corners of the cell, the lines to cut along and to stick to, and the sheet's name.

    Parameters
    ----------
    name : str
        What the map calls the sheet.
    title : str
        What is drawn, in a few words.
    """
    x0, y0, x1, y1 = one.cell
    if tiling.overlap_mm > 0:
        for x in (x0, x1):
            for y in (y0, y1):
                canvas.line([(x - ARM_MM, y), (x + ARM_MM, y)], "trim mark", f"{name}-cross", "leader")
                canvas.line([(x, y - ARM_MM), (x, y + ARM_MM)], "trim mark", f"{name}-cross", "leader")
        sides = (
            (-1, 0, (x0, y0), (x0, y1), "cut along this line"),
            (0, -1, (x0, y0), (x1, y0), "cut along this line"),
            (1, 0, (x1, y0), (x1, y1), "the next sheet is stuck on up to this line"),
            (0, 1, (x0, y1), (x1, y1), "the next sheet is stuck on up to this line"),
        )
        for right, up, start, end, words in sides:
            if tiling.beside(one, right, up) is not None:
                canvas.line([start, end], "sheet edge", f"{name}-edge", "leader")
                out_mm = 2.5
                at = (
                    (start[0] + end[0]) / 2 + right * out_mm,
                    (start[1] + end[1]) / 2 + up * out_mm,
                )
                canvas.words(at, words, _WORDS_PT, f"{name}-edge-words", upright=right == 0, ground=PAPER)
    # Nothing white under these: a cutting line may run through them.
    gap = 1.5
    wide = text_width_pt(name, _NAME_PT, bold=True) * canvas.mm_per_pt
    row = y0 + gap + _NAME_PT * canvas.mm_per_pt / 2
    canvas.words((x0 + 2 * gap, row), name, _NAME_PT, f"{name}-name", align="left", bold=True)
    room_pt = (SHEET_NAME_ROOM_MM[0] - 5 * gap - wide) / canvas.mm_per_pt
    title = wrapped(title, room_pt, _WORDS_PT)[0]
    canvas.words((x0 + 4 * gap + wide, row), title, _WORDS_PT, f"{name}-title", align="left")
