"""The requirements chart on paper and as a picture, as it is printed on the back of a pattern envelope."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.sheet import A4, MARGIN_MM, Book, Column, PageSize
from nesting.estimate.overview.chart import Chart
from nesting.units import Unit
from nesting.words.chart import amounts, chart_notes, row_label, size_heads, systems

__all__ = ["chart_pdf", "chart_png"]

_LABEL_SHARE = 0.34
_MOST_SIZES = 9
"""So many columns go beside each other on a page; more sizes go on below."""
_ENDLESS_MM = 5000.0


def chart_pdf(chart: Chart, *, page: PageSize = A4) -> bytes:
    """The chart as a PDF file."""
    with drawing_settings():
        book = Book(page)
        _fill(book, chart)
        book.footers(chart.project.title, "how much cloth to buy")
        return book.pdf(f"{chart.project.title}: how much cloth to buy")


def chart_png(chart: Chart, *, dpi: float = 150) -> bytes:
    """The chart as one picture, as high as it needs to be."""
    with drawing_settings():
        trial = Book(PageSize("endless", A4.width_mm, _ENDLESS_MM))
        _fill(trial, chart)
        book = Book(PageSize("picture", A4.width_mm, trial.sheet.y_mm + 2 * MARGIN_MM))
        _fill(book, chart)
        target = BytesIO()
        book.sheet.figure.savefig(target, format="png", dpi=dpi, metadata={"Software": None})
        return target.getvalue()


def _fill(book: Book, chart: Chart) -> None:
    book.turn()
    book.paragraph(chart.project.title, 17, bold=True)
    book.paragraph("How much cloth to buy", 11)
    for system in systems(chart.project.unit):
        book.heading("In yards" if system is Unit.IN else "In metres")
        for rows in chart.cloths.values():
            for part in _parts(size_heads(chart)):
                heads = [size_heads(chart)[k] for k in part]
                book.table(
                    _columns(book, rows[0].cloth.name, heads),
                    [
                        (row_label(row, chart.project.unit), *(amounts(row, system)[k] for k in part))
                        for row in rows
                    ],
                )
    book.heading("What this rests on")
    for note in chart_notes(chart):
        book.paragraph(note, 8.5)


def _parts(heads: Sequence[str]) -> list[range]:
    return [range(start, min(start + _MOST_SIZES, len(heads))) for start in range(0, len(heads), _MOST_SIZES)]


def _columns(book: Book, name: str, heads: Sequence[str]) -> list[Column]:
    inner = book.sheet.inner_width_mm
    label = inner * _LABEL_SHARE
    share = (inner - label) / max(len(heads), 6)
    return [Column(name, label), *(Column(head, share, "right") for head in heads)]
