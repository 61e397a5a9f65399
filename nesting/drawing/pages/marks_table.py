"""The list of a cloth's pieces with their allowances and all that is marked on them."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cloth.cloth import Cloth, RightSide
from nesting.cutting.flat.placing import Numbered
from nesting.cutting.lay import Face, Yield
from nesting.drawing.ink.sheet import Book, Column, PageSize
from nesting.drawing.pages.numbers import runs_text
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.units import Unit
from nesting.words.marks import allowance_words, mark_words, marked

__all__ = ["draw_marks_table", "marks_book", "sides_unknown"]

_SHARES = (0.24, 0.30, 0.46)
_KEEP_MM = 40.0
"""Below the heading, the words and some rows."""
_WORDS_MM = 11.0
_MOST_MM = 220.0
"""A list no longer than this is kept together on one page."""
_PT = 9.0


def draw_marks_table(book: Book, items: Sequence[Numbered], cloth: Cloth, unit: Unit) -> None:
    """Go on below what is on the page: a row for each piece, with its numbers on the drawing."""
    pieces: dict[str, list[Numbered]] = {}
    for item in items:
        pieces.setdefault(item.placed.piece, []).append(item)
    # All copies have the same; one that is opened out has twice as many marks, of the same names.
    rows = [
        (f"{piece} {runs_text([item.number for item in placed])}", placed[0].shape)
        for piece, placed in pieces.items()
    ]
    _draw_list(book, rows, unit)
    if unknown := sides_unknown(items, cloth):
        book.paragraph(
            f"Left and right: {', '.join(unknown)}: with the paper face up a piece is cut as it is drawn, "
            'face down as its mirror image. Write drawn = "left" or drawn = "right" into the piece, and the '
            "sheets say which is which.",
            _PT,
        )


def marks_book(shapes: Sequence[CutShape], unit: Unit, page: PageSize) -> Book:
    """The list of paper pieces on pages of its own; inside `drawing_settings`."""
    book = Book(page)
    book.turn()
    _draw_list(book, [(shape.name, shape) for shape in shapes], unit)
    return book


def _draw_list(book: Book, pieces: Sequence[tuple[str, CutShape]], unit: Unit) -> None:
    rows = [(called, allowance_words(shape, unit), _carried(shape)) for called, shape in pieces]
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


def sides_unknown(items: Sequence[Numbered], cloth: Cloth) -> tuple[str, ...]:
    """Pieces of which a left and a right are cut one by one, and nobody says which of them is drawn."""
    if cloth.right_side is RightSide.BOTH:
        return ()
    apart = (item.placed for item in items if item.side is None and item.placed.yields is Yield.ONE)
    faces: dict[str, set[Face]] = {}
    for placed in apart:
        faces.setdefault(placed.piece, set()).add(placed.face)
    return tuple(piece for piece, both in faces.items() if len(both) > 1)


def _carried(shape: CutShape) -> str:
    """All that is marked on a piece, and the corners that it is laid by."""
    corners = ", ".join(one.name for one in shape.features if one.kind is FeatureKind.CORNER)
    laid_by = f"small square: the corner to lay by, {corners}" if corners else ""
    return "; ".join(filter(None, (mark_words(marked(shape)), laid_by)))
