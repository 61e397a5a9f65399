"""The head of a true-size print: the squares to measure, how to print and join the sheets, and their map."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.text import LINE_HEIGHT, wrapped
from nesting.drawing.true_size.sheet_map import Mapped, draw_map
from nesting.units import MM_PER_INCH

__all__ = ["HEAD_HIGH_MM", "HEAD_WIDE_MM", "SQUARES_MM", "Head", "draw_head"]

HEAD_WIDE_MM, HEAD_HIGH_MM = 190.0, 238.0
"""Of the head; on paper whose margins leave less width, the words beside the squares have less."""
SQUARES_MM = (("10 cm", 100.0), ("4 in", 4 * MM_PER_INCH))
_TITLE_PT, _WORDS_PT, _SMALL_PT = 14.0, 8.5, 7.5
_GAP_MM = 4.0
_TOP_MM = 17.0
_WORDS = (
    "Print every sheet at actual size (100 per cent). Nothing may be fitted to the page.",
    "Then measure both squares here, from the middle of one line to the middle of the other, along and "
    "across, with the tape you will use at the table: 10 cm and 4 in. If a side is out by more than half a "
    "millimetre, or 1/64 in, do not cut by this print.",
)
_JOINING = (
    "To join the sheets: lay them out as in the map. On each, cut along the broken line on its left and on "
    "its lower side where there is one. Begin at the lower left; stick each sheet over the last so that its "
    "cut edge lies on the other's broken line, cross on cross. Then measure once more over several sheets.",
    "Mind the blades: close shears and cover knives when you put them down.",
)


@dataclass(frozen=True, slots=True)
class Head:
    """What the head says.

    Attributes
    ----------
    title : str
    about : str
        A line below it.
    mapped : tuple of Mapped
        The drawings with their sheets.
    alone : bool
        Whether it has a sheet of its own.
    """

    title: str
    about: str
    mapped: tuple[Mapped, ...]
    alone: bool

    @property
    def sheets(self) -> int:
        """How many there are to print."""
        return sum(len(one.tiling.tiles) for one in self.mapped) + (1 if self.alone else 0)

    @property
    def how_many(self) -> str:
        """The same in words."""
        return "One sheet." if self.sheets == 1 else f"{self.sheets} sheets."

    @property
    def joined(self) -> bool:
        """Whether any sheets have to be stuck together."""
        return any(len(one.tiling.tiles) > 1 for one in self.mapped)


def draw_head(canvas: Canvas, head: Head, at: tuple[float, float], wide_mm: float = HEAD_WIDE_MM) -> None:
    """Draw it, `at` being its lower left corner."""
    x, top = at[0], at[1] + HEAD_HIGH_MM
    _lines(canvas, head.title, (x, top), wide_mm, _TITLE_PT, bold=True, most=1)
    _lines(canvas, f"{head.how_many} {head.about}", (x, top - 8.0), wide_mm, _WORDS_PT, most=2)
    y = top - _TOP_MM
    for words, side in SQUARES_MM:
        _square(canvas, (x, y - side), side, words)
        y -= side + _GAP_MM
    left = x + SQUARES_MM[1][1] + 2 * _GAP_MM
    width = at[0] + wide_mm - left
    y = top - _TOP_MM
    for paragraph in (*_WORDS, *(_JOINING if head.joined else ())):
        y = _lines(canvas, paragraph, (left, y), width, _WORDS_PT) - 2.0
    draw_map(canvas, head.mapped, (left, at[1], left + width, y - 2.0))


def _square(canvas: Canvas, at: tuple[float, float], side: float, words: str) -> None:
    x, y = at
    corners = np.array([(x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y)])
    canvas.line(corners, "test square", f"test-square-{words.replace(' ', '-')}")
    middle = (x + side / 2, y + side / 2)
    canvas.words(
        middle, [f"This square measures {words}", "along and across."], _WORDS_PT, "test-square-words"
    )


def _lines(
    canvas: Canvas,
    text: str,
    at: tuple[float, float],
    width_mm: float,
    size_pt: float,
    *,
    bold: bool = False,
    most: int | None = None,
) -> float:
    """Words broken into lines from an upper left corner down; give where the next may begin."""
    step = size_pt * LINE_HEIGHT * canvas.mm_per_pt
    y = at[1]
    for line in wrapped(text, width_mm / canvas.mm_per_pt, size_pt, bold=bold)[:most]:
        canvas.words((at[0], y - step / 2), line, size_pt, "head-words", align="left", bold=bold)
        y -= step
    return y
