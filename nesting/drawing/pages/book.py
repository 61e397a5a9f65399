"""Everything on paper: what to buy, the grain lines, what to mind, and each cloth's lay and cut list.

Pages are A4, or US Letter for a person who measures in inches. No type is under 7 pt, nothing rests
on colour, and the same input gives the same bytes.
"""

from __future__ import annotations

from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.sheet import A4, LETTER, Book, PageSize
from nesting.drawing.pages.buying import draw_buying_page, version_text
from nesting.drawing.pages.grain_table import draw_grain_table
from nesting.drawing.pages.lay import draw_lay_pages
from nesting.drawing.pages.left import draw_left_page
from nesting.drawing.pages.lists import draw_cautions
from nesting.estimate.estimate import ProjectEstimate
from nesting.units import Unit

__all__ = ["A4", "LETTER", "PageSize", "book_of", "pdf_bytes"]


def pdf_bytes(result: ProjectEstimate, *, page: PageSize | None = None) -> bytes:
    """The pages as a PDF file.

    Parameters
    ----------
    result : ProjectEstimate
    page : PageSize, optional
        A4 unless the project's unit is the inch; then US Letter.

    Returns
    -------
    bytes
    """
    with drawing_settings():
        return book_of(result, page=page).pdf(result.project.title)


def book_of(result: ProjectEstimate, *, page: PageSize | None = None) -> Book:
    """The pages as matplotlib figures, in order."""
    usual = LETTER if result.project.unit is Unit.IN else A4
    with drawing_settings():
        book = Book(page or usual)
        draw_buying_page(book, result)
        draw_grain_table(book, result)
        draw_cautions(book, result)
        for estimate in result.estimates:
            draw_lay_pages(book, estimate, result.project.unit)
            draw_left_page(book, estimate, result.project.unit)
        book.footers(result.project.title, version_text(result.project))
    return book
