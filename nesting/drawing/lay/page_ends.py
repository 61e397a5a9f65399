"""Where a drawing breaks off because the cloth goes on on another page."""

from __future__ import annotations

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.text import text_width_pt
from nesting.drawing.lay.view import View
from nesting.units import Unit, format_length

__all__ = ["PAGE_WORDS_PT", "along_words", "draw_page_ends"]

PAGE_WORDS_PT = 8.0


def along_words(view: View, unit: Unit) -> str:
    """Which page along the cloth this is, and what it shows: ``page 2 of 4 along the cloth: 2.4 to 5 m``."""
    shown = f"{format_length(max(0.0, view.x0), unit)} to {format_length(view.x1, unit)}"
    return f"page {view.number} of {view.of} along the cloth: {shown} on the tape"


def draw_page_ends(canvas: Canvas, view: View, unit: Unit, across: tuple[float, float]) -> None:
    """A sparse line at each end where the cloth goes on, with the page that it goes on to beside it.

    Parameters
    ----------
    across : (float, float)
        From where to where across the table.
    """
    low, high = across
    row = PAGE_WORDS_PT * canvas.mm_per_pt
    ends = []
    if not view.starts:
        ends.append(("first", view.x0, -1, f"goes on from page {view.number - 1} along the cloth"))
    if not view.ends:
        ends.append(("last", view.x1, 1, f"goes on on page {view.number + 1} along the cloth"))
    with canvas.beside_the_cloth():
        for name, x, outward, words in ends:
            canvas.line([(x, low), (x, high)], "page edge", f"{name}-page-end", "outline")
            longer = f"{words}; {format_length(view.overlap_mm, unit)} are drawn on both"
            room_pt = (high - low) / canvas.mm_per_pt
            said = longer if text_width_pt(longer, PAGE_WORDS_PT) < room_pt else words
            at = (x + outward * row, (low + high) / 2)
            canvas.words(at, said, PAGE_WORDS_PT, f"{name}-page-end-words", upright=False)
