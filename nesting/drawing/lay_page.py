"""A cloth's lay on paper: the drawing as large as fits, what its marks mean, and the distances."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from nesting.cloth.cloth import Cloth
from nesting.cutting.placing import Numbered, copies_text, how_text, numbered, ruler
from nesting.drawing.figure import draw_lay, drawn_size_pt, mm_per_pt
from nesting.drawing.legend import Entry, draw_legend, legend_entries, legend_height_mm
from nesting.drawing.sheet import BODY_PT, FOOTER_MM, MARGIN_MM, MM_PER_PT, SMALL_PT, Book, Column, PageSize
from nesting.drawing.spread_words import how_to_spread, section_words
from nesting.drawing.text import LINE_HEIGHT, wrapped
from nesting.estimate.estimate import Estimate
from nesting.units import Unit, format_buy, format_length

__all__ = ["draw_lay_pages", "key_text", "runs_text", "scale_text"]

_TITLE_MM = 15.0
_GAP_MM = 2.0
_KEY_MM = 8.5
"""Kept for naming the pieces that are too small to carry their name."""
_UPRIGHT_WORTH = 1.1
_ONE_PAGE_WORTH = 1.3
"""How many times smaller a drawing may be for an upright page, and to share its page with the tables."""
_LARGE_MM_PER_PT = 8 * MM_PER_PT
"""One to eight is large enough to share its page in any case."""
_LEAST_DRAWING_MM = 60.0
_SAME_PAGE_ROWS = 5
"""A table begins below the drawing when at least this many rows, or all of them, fit there."""
_TABLE_PT = 9.0
_LINE_MM = _TABLE_PT * LINE_HEIGHT * MM_PER_PT
_ROW_MM = 5.8
_CELL_GAP_MM = 2.0
_TABLE_TOP_MM = 29.0
_LANDSCAPE_TABLE_MM = 200.0
_NUMBER_MM, _COPIES_MM, _MEASURE_MM = 10.0, 23.0, 22.0


def draw_lay_pages(book: Book, estimate: Estimate, unit: Unit) -> None:
    """Begin a page with the drawing, then the tables of distances, on more pages where they need them."""
    lay = estimate.lay
    items = numbered(lay)
    entries = legend_entries(lay, items)
    tables = len({id(item.section) for item in items})
    landscape, scale = _best_page(
        book.page, estimate, entries, _tables_mm(items, tables, _inner_width(book.page, False)), unit
    )
    sheet = book.turn(landscape=landscape)
    book.paragraph(f"{lay.cloth.name}: the lay", 14, bold=True, after_mm=0.5)
    book.paragraph(
        f"{format_buy(estimate.to_buy_mm, unit)} of {format_length(lay.cloth.width_mm, unit)} · "
        f"lay {format_length(lay.length_mm, unit)} · drawn {scale_text(scale)}",
    )
    book.paragraph(how_to_spread(lay, unit))
    width, height = (extent * MM_PER_PT for extent in drawn_size_pt(estimate, scale))
    ax = sheet.figure.add_axes(
        (
            (MARGIN_MM + max(0.0, sheet.inner_width_mm - width) / 2) / sheet.width_mm,
            1 - (sheet.y_mm + height) / sheet.height_mm,
            width / sheet.width_mm,
            height / sheet.height_mm,
        )
    )
    drawn = {artist.get_gid() for artist in draw_lay(estimate, unit, ax=ax)}
    book.space(height + _GAP_MM)
    draw_legend(sheet, entries)
    unnamed = [item for item in items if f"piece-{item.number}-words" not in drawn]
    if unnamed:
        book.paragraph(f"Numbers without a name: {key_text(unnamed)}.", SMALL_PT)
    _draw_distances(book, items, lay.cloth, unit)


def scale_text(mm_per_pt_: float) -> str:
    """The scale of a drawing, as people say it.

    >>> scale_text(4.233)
    'about 1 : 12'
    """
    return f"about 1 : {mm_per_pt_ / MM_PER_PT:.0f}"


def key_text(items: Sequence[Numbered]) -> str:
    """Which numbers are which piece, runs of numbers drawn together: ``collar 3, 9; tab 4 to 8``."""
    numbers: dict[str, list[int]] = {}
    for item in items:
        numbers.setdefault(item.placed.piece, []).append(item.number)
    return "; ".join(f"{piece} {runs_text(of_piece)}" for piece, of_piece in numbers.items())


def runs_text(numbers: Sequence[int]) -> str:
    """Rising numbers, with three or more in a row drawn together.

    >>> runs_text([1, 2, 4, 5, 6, 9])
    '1, 2, 4 to 6, 9'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs)


def _inner_width(page: PageSize, landscape: bool) -> float:
    return (page.height_mm if landscape else page.width_mm) - 2 * MARGIN_MM


def _best_page(
    page: PageSize, estimate: Estimate, entries: Sequence[Entry], tables_mm: float, unit: Unit
) -> tuple[bool, float]:
    """Whether to lay the page on its side, and how many millimetres of cloth a point then covers.

    The drawing should be large; yet one page that holds the tables too is worth a little size, and
    an upright page is worth less of it.
    """

    def scale(landscape: bool, kept_mm: float) -> float:
        inner = _inner_width(page, landscape)
        full = page.width_mm if landscape else page.height_mm
        words_mm = _words_mm(estimate, inner, unit) + legend_height_mm(entries, inner)
        taken = _TITLE_MM + words_mm + 2 * _GAP_MM + _KEY_MM + kept_mm
        height = full - 2 * MARGIN_MM - FOOTER_MM - taken
        if height < _LEAST_DRAWING_MM:
            return inf
        return mm_per_pt(estimate, inner / MM_PER_PT, height / MM_PER_PT)

    upright, on_its_side = scale(False, 0.0), scale(True, 0.0)
    with_tables = scale(False, tables_mm)
    if with_tables <= max(_ONE_PAGE_WORTH * min(upright, on_its_side), _LARGE_MM_PER_PT):
        return False, with_tables
    if on_its_side * _UPRIGHT_WORTH < upright:
        return True, on_its_side
    return False, upright


def _words_mm(estimate: Estimate, inner_width_mm: float, unit: Unit) -> float:
    """Height of the words on how to spread the cloth."""
    lines = wrapped(how_to_spread(estimate.lay, unit), inner_width_mm / MM_PER_PT, BODY_PT)
    return len(lines) * BODY_PT * LINE_HEIGHT * MM_PER_PT + 1.2


def _tables_mm(items: Sequence[Numbered], tables: int, inner_width_mm: float) -> float:
    """About the height of the tables of distances, names that take several lines included."""
    room_pt = (_piece_column_mm(inner_width_mm) - _CELL_GAP_MM) / MM_PER_PT
    more_lines = sum(len(wrapped(item.placed.piece, room_pt, _TABLE_PT)) - 1 for item in items)
    return _TABLE_TOP_MM + _ROW_MM * (len(items) + 2.5 * (tables - 1)) + _LINE_MM * more_lines


def _piece_column_mm(inner_width_mm: float) -> float:
    """Width for names: about half of what the columns of fixed width leave."""
    return 0.53 * (inner_width_mm - _NUMBER_MM - _COPIES_MM - 4 * _MEASURE_MM)


def _draw_distances(book: Book, items: Sequence[Numbered], cloth: Cloth, unit: Unit) -> None:
    """One table for each way the cloth lies, since each is measured across from its own edge."""
    sections: dict[int, list[Numbered]] = {}
    for item in items:
        sections.setdefault(id(item.section), []).append(item)
    if not _may_begin_here(book, items, len(sections)):
        book.turn()
    book.heading("Distances that place each piece")
    book.paragraph(
        "Along: from the straightened cut end (0 on the tape). Mark foot and top of the grain line on the "
        "cloth, and lay the one on the paper (see its table, before the lays) on them. The top is the end "
        "with the full arrow head.",
        9,
    )
    for index, group in enumerate(sections.values()):
        _draw_table(book, group, cloth, unit, first=index == 0)


def _may_begin_here(book: Book, items: Sequence[Numbered], tables: int) -> bool:
    """A table may go on from an upright page to the next; on a page on its side it must fit whole."""
    whole = _tables_mm(items, tables, _table_width_mm(book))
    if book.sheet.width_mm > book.sheet.height_mm:
        return book.sheet.room_mm >= whole
    return book.sheet.room_mm >= min(whole, _TABLE_TOP_MM + _ROW_MM * _SAME_PAGE_ROWS)


def _table_width_mm(book: Book) -> float:
    upright = book.sheet.width_mm < book.sheet.height_mm
    return book.sheet.inner_width_mm if upright else _LANDSCAPE_TABLE_MM


def _draw_table(book: Book, group: Sequence[Numbered], cloth: Cloth, unit: Unit, *, first: bool) -> None:
    section = group[0].section
    edge = ruler(section, cloth).from_what
    outer = f"outer edge of the {edge}" if edge.endswith("selvedge") else edge
    words = section_words(section, cloth)
    begins = f"From {format_length(section.start_mm, unit)} on: {words}."
    where = f"{words.capitalize()}." if first or not section.start_mm else begins
    book.paragraph(f"{where} Across: from the {outer}.", 9, bold=True)
    piece_mm = _piece_column_mm(_table_width_mm(book))
    columns = [
        Column("no.", _NUMBER_MM, bold=True),
        Column("piece", piece_mm),
        Column("copies", _COPIES_MM),
        Column("paper lies", piece_mm * 0.47 / 0.53),
        Column("foot, along", _MEASURE_MM, "right"),
        Column("foot, across", _MEASURE_MM, "right"),
        Column("top, along", _MEASURE_MM, "right"),
        Column("top, across", _MEASURE_MM, "right"),
    ]
    book.table(columns, [_row(item, unit) for item in group], size_pt=_TABLE_PT)


def _row(item: Numbered, unit: Unit) -> tuple[str, ...]:
    at = item.distances
    measures = (
        ("–",) * 4
        if at is None
        else tuple(
            format_length(mm, unit)
            for mm in (at.foot_along_mm, at.foot_across_mm, at.top_along_mm, at.top_across_mm)
        )
    )
    return (str(item.number), item.placed.piece, copies_text(item.placed), how_text(item.placed), *measures)
