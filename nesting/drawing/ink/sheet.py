"""Pages of paper, filled from the top down: words, tables and boxes to tick.

Positions on a page are millimetres from its upper left corner, y downwards.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from typing import TYPE_CHECKING, Literal

from nesting.drawing.ink.embedding import shapes_alone
from nesting.drawing.ink.look import INK
from nesting.drawing.ink.papers import A4, LETTER, PageSize
from nesting.drawing.ink.runs import placed_runs
from nesting.drawing.ink.text import FONT, LINE_HEIGHT, printable, text_width_pt, wrapped

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["A4", "LETTER", "MM_PER_PT", "Book", "Column", "PageSize", "Sheet"]

MM_PER_PT = 25.4 / 72
MARGIN_MM = 14.0
FOOTER_MM = 9.0
"""Height above the lower margin that is kept for the footer."""
BODY_PT = 9.5
SMALL_PT = 8.0
_RULE = "#9a9a9a"
_CELL_GAP_MM = 2.0
_ABOVE_HEADING_MM = 3.0
_AFTER_TABLE_MM = 3.0
_BOX_MM = 4.2
_BOX_STEP_MM = 6.2

Align = Literal["left", "right"]
Cell = str | int
"""Words, or a number of boxes to tick."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table; `width_mm` includes the gap to the next."""

    head: str
    width_mm: float
    align: Align = "left"
    bold: bool = False


class Sheet:
    """One page and how far down it is filled."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        from matplotlib.figure import Figure

        self.width_mm, self.height_mm = width_mm, height_mm
        self.figure: Figure = Figure(figsize=(width_mm / 25.4, height_mm / 25.4))
        self.ax: Axes = self.figure.add_axes((0.0, 0.0, 1.0, 1.0))
        self.ax.set_xlim(0, width_mm)
        self.ax.set_ylim(height_mm, 0)
        self.ax.set_axis_off()
        self.y_mm = MARGIN_MM

    @property
    def inner_width_mm(self) -> float:
        """Between the margins."""
        return self.width_mm - 2 * MARGIN_MM

    @property
    def room_mm(self) -> float:
        """Height still free."""
        return self.height_mm - MARGIN_MM - FOOTER_MM - self.y_mm

    def words(
        self,
        x_mm: float,
        baseline_mm: float,
        line: str,
        size_pt: float,
        *,
        bold: bool = False,
        align: Align = "left",
    ) -> None:
        """One line of words."""
        for run, right_pt, its_align in placed_runs(printable(line), size_pt, align, bold=bold):
            self.ax.text(
                x_mm + right_pt * MM_PER_PT,
                baseline_mm,
                run,
                fontsize=size_pt,
                fontfamily=FONT,
                fontweight="bold" if bold else "normal",
                horizontalalignment=its_align,
                verticalalignment="baseline",
                parse_math=False,
                color=INK,
            )

    def rule(self, y_mm: float, x0_mm: float, x1_mm: float, *, strong: bool = False) -> None:
        """A level line."""
        ink, width = (INK, 0.8) if strong else (_RULE, 0.4)
        self.ax.plot([x0_mm, x1_mm], [y_mm, y_mm], color=ink, linewidth=width, linestyle="-", marker="")

    def tick_box(self, x_mm: float, y_mm: float) -> None:
        """An empty square whose upper left corner is there."""
        from matplotlib.patches import Rectangle

        box = Rectangle(
            (x_mm, y_mm), _BOX_MM, _BOX_MM, fill=False, edgecolor=INK, linewidth=0.8, gid="tick-box"
        )
        self.ax.add_patch(box)


class Book:
    """Pages in order; what does not fit on one goes on the next."""

    def __init__(self, page: PageSize) -> None:
        self.page = page
        self.sheets: list[Sheet] = []

    @property
    def sheet(self) -> Sheet:
        """The page being filled."""
        return self.sheets[-1]

    def turn(self, *, landscape: bool = False) -> Sheet:
        """Begin a new page."""
        size = (self.page.width_mm, self.page.height_mm)
        self.sheets.append(Sheet(*(size[::-1] if landscape else size)))
        return self.sheet

    def need(self, height_mm: float) -> None:
        """Begin a new upright page unless that much height is free."""
        if height_mm > self.sheet.room_mm:
            self.turn()

    def space(self, height_mm: float) -> None:
        """Leave some height empty."""
        self.sheet.y_mm += height_mm

    def heading(self, text: str, size_pt: float = 13.0, *, keep_mm: float = 22.0) -> None:
        """A heading, on a page where at least `keep_mm` more will fit below it."""
        self.need(_ABOVE_HEADING_MM + size_pt * LINE_HEIGHT * MM_PER_PT + keep_mm)
        if self.sheet.y_mm > MARGIN_MM:
            self.space(_ABOVE_HEADING_MM)
        self.paragraph(text, size_pt, bold=True)
        self.space(1.0)

    def paragraph(
        self,
        text: str,
        size_pt: float = BODY_PT,
        *,
        bold: bool = False,
        bullet: str = "",
        after_mm: float = 1.2,
    ) -> None:
        """Words broken into lines between the margins, with a sign before them if asked."""
        indent = text_width_pt(bullet + "  ", size_pt) * MM_PER_PT if bullet else 0.0
        line_mm = size_pt * LINE_HEIGHT * MM_PER_PT
        width_pt = (self.sheet.inner_width_mm - indent) / MM_PER_PT
        for index, line in enumerate(wrapped(text, width_pt, size_pt, bold=bold)):
            self.need(line_mm)
            self.sheet.y_mm += line_mm
            baseline = self.sheet.y_mm - 0.3 * size_pt * MM_PER_PT
            if bullet and index == 0:
                self.sheet.words(MARGIN_MM, baseline, bullet, size_pt)
            self.sheet.words(MARGIN_MM + indent, baseline, line, size_pt, bold=bold)
        self.space(after_mm)

    def table_mm(
        self, columns: Sequence[Column], rows: Sequence[Sequence[Cell] | str], size_pt: float = BODY_PT
    ) -> float:
        """Height of a table that stands on one page."""
        _, head_mm, in_rows = _laid_out(columns, rows)
        return head_mm + sum(_row_height(parts, row, size_pt) for parts, row in in_rows) + _AFTER_TABLE_MM

    def table(
        self, columns: Sequence[Column], rows: Sequence[Sequence[Cell] | str], size_pt: float = BODY_PT
    ) -> None:
        """Rows under heads, which are repeated on every page the table goes on to.

        Parameters
        ----------
        rows : sequence of rows, or of words that stand over the rows after them
        """
        heads, head_mm, in_rows = _laid_out(columns, rows)
        heights = [_row_height(parts, row, size_pt) for parts, row in in_rows]
        self.need(head_mm + sum(heights[: 3 if len(heights) == 3 else 2]))
        self._table_head(heads, head_mm)
        for number, ((parts, row), height) in enumerate(zip(in_rows, heights, strict=True)):
            # Words over rows are not left alone at the foot of a page, nor is a last row alone on a new one.
            together = parts is not columns or 0 < number == len(heights) - 2
            if sum(heights[number : number + (2 if together else 1)]) > self.sheet.room_mm:
                self.turn()
                self._table_head(heads, head_mm)
            self._row(parts, row, size_pt)
            self.sheet.y_mm += height
            self.sheet.rule(self.sheet.y_mm, MARGIN_MM, MARGIN_MM + _table_width(columns))
        self.space(_AFTER_TABLE_MM)

    def footers(self, title: str, version: str) -> None:
        """Put title, version and "page n of m" at the foot of every page; a long title is cut short."""
        for number, sheet in enumerate(self.sheets, start=1):
            baseline = sheet.height_mm - MARGIN_MM
            right = f"page {number} of {len(self.sheets)}"
            room_pt = sheet.inner_width_mm / MM_PER_PT - text_width_pt(right, SMALL_PT) - 12
            sheet.rule(baseline - 4.2, MARGIN_MM, sheet.width_mm - MARGIN_MM)
            ending = f" · {version}"
            whole = printable(title)
            short = wrapped(whole, room_pt - text_width_pt(f"…{ending}", SMALL_PT), SMALL_PT)[0]
            left = f"{short}{'' if short == whole else '…'}{ending}"
            sheet.words(MARGIN_MM, baseline, wrapped(left, room_pt, SMALL_PT)[0], SMALL_PT)
            sheet.words(sheet.width_mm - MARGIN_MM, baseline, right, SMALL_PT, align="right")

    def pdf(self, title: str) -> bytes:
        """All pages as one PDF without a date, so that the same pages give the same bytes."""
        from matplotlib.backends.backend_pdf import PdfPages

        target = BytesIO()
        metadata = {"Title": printable(title), "Creator": "Ellwand", "CreationDate": None}
        with shapes_alone(), PdfPages(target, metadata=metadata) as pages:
            for sheet in self.sheets:
                pages.savefig(sheet.figure)
        return target.getvalue()

    def _table_head(self, heads: Sequence[Column], height_mm: float) -> None:
        self._row(heads, [column.head for column in heads], SMALL_PT)
        self.sheet.y_mm += height_mm
        self.sheet.rule(self.sheet.y_mm, MARGIN_MM, MARGIN_MM + _table_width(heads), strong=True)

    def _row(self, columns: Sequence[Column], row: Sequence[Cell], size_pt: float) -> None:
        x, top = MARGIN_MM, self.sheet.y_mm
        for column, cell in zip(columns, row, strict=True):
            if isinstance(cell, int):
                self._tick_boxes(x, top, column, cell)
            else:
                inner = column.width_mm - _CELL_GAP_MM
                at = x if column.align == "left" else x + inner
                for index, line in enumerate(_cell_lines(column, cell, size_pt)):
                    baseline = top + 1.0 + (index + 0.8) * size_pt * LINE_HEIGHT * MM_PER_PT
                    self.sheet.words(at, baseline, line, size_pt, bold=column.bold, align=column.align)
            x += column.width_mm

    def _tick_boxes(self, x_mm: float, top_mm: float, column: Column, count: int) -> None:
        a_line = _boxes_a_line(column)
        for k in range(count):
            row, place = divmod(k, a_line)
            self.sheet.tick_box(x_mm + place * _BOX_STEP_MM, top_mm + 1.0 + row * _BOX_STEP_MM)


def _laid_out(
    columns: Sequence[Column], rows: Sequence[Sequence[Cell] | str]
) -> tuple[list[Column], float, list[tuple[Sequence[Column], Sequence[Cell]]]]:
    """The heads, their height, and every row with its columns: one over all of them for mere words."""
    heads = [replace(column, bold=True) for column in columns]
    over = [Column("", _table_width(columns), bold=True)]
    head_mm = _row_height(heads, [column.head for column in columns], SMALL_PT)
    return heads, head_mm, [(over, [row]) if isinstance(row, str) else (columns, row) for row in rows]


def _table_width(columns: Sequence[Column]) -> float:
    return sum(column.width_mm for column in columns)


def _boxes_a_line(column: Column) -> int:
    return max(1, int((column.width_mm - _CELL_GAP_MM) / _BOX_STEP_MM))


def _cell_lines(column: Column, cell: str, size_pt: float) -> tuple[str, ...]:
    return wrapped(cell, (column.width_mm - _CELL_GAP_MM) / MM_PER_PT, size_pt, bold=column.bold)


def _row_height(columns: Sequence[Column], row: Sequence[Cell], size_pt: float) -> float:
    heights = []
    for column, cell in zip(columns, row, strict=True):
        if isinstance(cell, int):
            heights.append(-(-cell // _boxes_a_line(column)) * _BOX_STEP_MM)
        else:
            heights.append(len(_cell_lines(column, cell, size_pt)) * size_pt * LINE_HEIGHT * MM_PER_PT + 1.6)
    return max(heights)
