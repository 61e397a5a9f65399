"""The shopping list on one page of paper."""

from __future__ import annotations

from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.sheet import A4, Book, Column, PageSize
from nesting.drawing.ink.text import SMALLEST_PT
from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList
from nesting.words.cloth import width_words
from nesting.words.shopping import (
    CAUTION,
    ask_words,
    margin_words,
    price_words,
    remarks,
    rests_on,
    shares_words,
    totals,
)

__all__ = ["shopping_book", "shopping_pdf"]

_SIZES_PT = (10.0, 9.0, 8.0, SMALLEST_PT)
"""Tried in turn until all is on one page; a list too long for the last goes on to a second."""
_SHARES = (0.06, 0.25, 0.16, 0.12, 0.41)


def shopping_pdf(shopping: ShoppingList, *, page: PageSize = A4) -> bytes:
    """The list as a PDF file."""
    with drawing_settings():
        return shopping_book(shopping, page=page).pdf(f"Shopping list: {', '.join(shopping.titles)}")


def shopping_book(shopping: ShoppingList, *, page: PageSize = A4) -> Book:
    """The list as a page that can be saved in any way; inside `drawing_settings`."""
    for size_pt in _SIZES_PT:
        book = _book(shopping, page, size_pt)
        if len(book.sheets) == 1:
            break
    book.footers(", ".join(shopping.titles), "shopping list")
    return book


def _book(shopping: ShoppingList, page: PageSize, size_pt: float) -> Book:
    book = Book(page)
    sheet = book.turn()
    book.paragraph("Shopping list", size_pt * 1.7, bold=True)
    book.paragraph(f"for {', '.join(shopping.titles)}", size_pt * 1.1)
    book.space(2.0)
    heads = ("", "cloth", "ask for", "cost", "rests on; margin")
    columns = [
        Column(head, share * sheet.inner_width_mm, bold=head == "ask for")
        for head, share in zip(heads, _SHARES, strict=True)
    ]
    book.table(columns, [_row(line) for line in shopping.lines], size_pt=size_pt)
    for number, total in enumerate(totals(shopping)):
        book.paragraph(total, size_pt * 1.1, bold=number == 0)
    for remark in remarks(shopping):
        book.paragraph(remark, size_pt)
    book.space(2.0)
    book.paragraph(CAUTION, size_pt, bold=True)
    return book


def _row(line: ShoppingLine) -> tuple[str | int, ...]:
    several = len(line.uses) > 1
    facts = [f"{f'{use.title}: ' if several else ''}{rests_on(use)}." for use in line.uses]
    if shares := shares_words(line):
        facts.append(f"Bought {shares}.")
    facts.append(f"{margin_words(line)}.")
    name = f"{line.cloth.name}, {width_words(line.cloth, line.unit)}"
    return 1, name, ask_words(line), price_words(line), " ".join(facts)
