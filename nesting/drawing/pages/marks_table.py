"""The list of a cloth's pieces with their allowances and all that is marked on them."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cutting.flat.placing import Numbered
from nesting.drawing.ink.sheet import Book, Column
from nesting.drawing.pages.numbers import runs_text
from nesting.units import Unit
from nesting.words.marks import allowance_words, mark_words, marked

__all__ = ["draw_marks_table"]

_SHARES = (0.24, 0.30, 0.46)
_KEEP_MM = 40.0
"""Below the heading, the words and some rows."""
_WORDS_MM = 11.0
_MOST_MM = 220.0
"""A list no longer than this is kept together on one page."""
_PT = 9.0


def draw_marks_table(book: Book, items: Sequence[Numbered], unit: Unit) -> None:
    """Go on below what is on the page: a row for each piece, with its numbers on the drawing."""
    pieces: dict[str, list[Numbered]] = {}
    for item in items:
        pieces.setdefault(item.placed.piece, []).append(item)
    rows = []
    for piece, placed in pieces.items():
        # All copies have the same; the one opened out has twice as many marks of the same names.
        shape = placed[0].shape
        numbers = runs_text([item.number for item in placed])
        rows.append((f"{piece} {numbers}", allowance_words(shape, unit), mark_words(marked(shape))))
    columns = [
        Column(head, share * book.sheet.inner_width_mm, bold=head == "piece")
        for head, share in zip(("piece", "seam allowance", "marked on it"), _SHARES, strict=True)
    ]
    whole_mm = _WORDS_MM + book.table_mm(columns, rows, size_pt=_PT)
    book.heading("Allowances and marks", keep_mm=whole_mm if whole_mm < _MOST_MM else _KEEP_MM)
    book.paragraph(
        "On the drawing, a figure beside an edge is its seam allowance, and a letter stands for a name that "
        "found no room. The allowance that stands first here is that of every edge which is not named.",
        _PT,
    )
    book.table(columns, rows, size_pt=_PT)
