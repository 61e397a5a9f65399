"""A page on what a lay leaves over: the cloth opened out, and what comes out of it in words."""

from __future__ import annotations

from nesting.drawing.ink.sheet import FOOTER_MM, MARGIN_MM, MM_PER_PT, Book
from nesting.drawing.lay.left_picture import draw_left, left_mm_per_pt, left_size_pt
from nesting.estimate.estimate import Estimate
from nesting.units import Unit
from nesting.words.in_hand import left_words

__all__ = ["draw_left_page"]

_TITLE_MM = 14.0
_WORDS_MM = 7.0


def draw_left_page(book: Book, estimate: Estimate, unit: Unit) -> None:
    """Begin a page with the drawing and words, where anything was asked of what is left."""
    left = estimate.left
    if left is None:
        return
    words = list(left_words(left, unit))
    sheet = book.turn()
    book.paragraph(f"{estimate.lay.cloth.name}: what is left", 14, bold=True, after_mm=0.5)
    room = sheet.height_mm - 2 * MARGIN_MM - FOOTER_MM - _TITLE_MM - _WORDS_MM * (len(words) + 1)
    scale = left_mm_per_pt(left, estimate, sheet.inner_width_mm / MM_PER_PT, room / MM_PER_PT)
    width, height = (extent * MM_PER_PT for extent in left_size_pt(left, estimate, scale))
    ax = sheet.figure.add_axes(
        (
            MARGIN_MM / sheet.width_mm,
            1 - (sheet.y_mm + height) / sheet.height_mm,
            width / sheet.width_mm,
            height / sheet.height_mm,
        )
    )
    draw_left(estimate, unit, ax=ax)
    book.space(height + 2.0)
    for sentence in words:
        book.paragraph(sentence, bullet="•")
    if any(len(stretch) > 1 or stretch[0].layers > 1 for stretch in estimate.lay.stretches):
        book.paragraph("The lay was cut double; this is how the cloth lies when it is opened out again.", 9)
