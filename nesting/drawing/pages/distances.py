"""The tables of distances that place each piece, in the order of laying."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cloth.cloth import Cloth
from nesting.cutting.flat.placing import MeasuredFrom, Numbered, ruler
from nesting.drawing.ink.sheet import MM_PER_PT, Book, Column
from nesting.drawing.ink.text import LINE_HEIGHT, wrapped
from nesting.drawing.lay.view import View, visible
from nesting.units import Unit, format_length
from nesting.words.placing import copies_text, how_text
from nesting.words.spreads import section_words

__all__ = ["draw_distances", "tables_mm"]

_SAME_PAGE_ROWS = 5
"""A table begins below the drawing when at least this many rows, or all of them, fit there."""
_TABLE_PT = 9.0
_LINE_MM = _TABLE_PT * LINE_HEIGHT * MM_PER_PT
_ROW_MM = 5.8
_CELL_GAP_MM = 2.0
_TABLE_TOP_MM = 29.0
_LANDSCAPE_TABLE_MM = 200.0
_NUMBER_MM, _COPIES_MM, _MEASURE_MM, _PAGE_MM = 10.0, 23.0, 22.0, 12.0
_NARROW_MM, _NARROW_COPIES_MM = 17.0, 19.0
"""Where there are distances of a corner too."""


def tables_mm(items: Sequence[Numbered], inner_width_mm: float) -> float:
    """About the height of the tables of distances, names that take several lines included."""
    tables = len({id(item.section) for item in items})
    cornered = _cornered(items)
    rooms_pt = [(mm - _CELL_GAP_MM) / MM_PER_PT for mm in _word_columns_mm(inner_width_mm, cornered=cornered)]
    more_lines = sum(
        max(
            len(wrapped(words, room_pt, _TABLE_PT))
            for words, room_pt in zip((item.placed.piece, how_text(item.placed)), rooms_pt, strict=True)
        )
        - 1
        for item in items
    )
    several = [corner for item in items if len(_corners_of(item)) > 1 for corner in _corners_of(item)]
    more_lines += sum(1 + len(wrapped(name, rooms_pt[0], _TABLE_PT)) for name, *_ in several)
    # Heads of two lines, and two more lines of words over the tables.
    more_lines += (tables + 2) * cornered
    return _TABLE_TOP_MM + _ROW_MM * (len(items) + 2 * tables + 2.5 * (tables - 1)) + _LINE_MM * more_lines


def _cornered(items: Sequence[Numbered]) -> bool:
    """Whether any piece is laid by a corner too."""
    return any(_corners_of(item) for item in items)


def _word_columns_mm(inner_width_mm: float, *, cornered: bool) -> tuple[float, float]:
    """Widths for the name and for how the paper lies: what the columns of fixed width leave, halved."""
    fixed_mm = 6 * _NARROW_MM + _NARROW_COPIES_MM if cornered else 4 * _MEASURE_MM + _COPIES_MM
    left_mm = inner_width_mm - _NUMBER_MM - fixed_mm
    share = 0.5 if cornered else 0.53
    return share * left_mm, (1 - share) * left_mm


def draw_distances(
    book: Book, items: Sequence[Numbered], cloth: Cloth, unit: Unit, views: Sequence[View]
) -> None:
    """One table for each way the cloth lies, since each is measured across from its own edge."""
    sections: dict[int, list[Numbered]] = {}
    for item in items:
        sections.setdefault(id(item.section), []).append(item)
    if not _may_begin_here(book, items):
        book.turn()
    book.heading("Distances that place each piece")
    book.paragraph(
        "Along: from the straightened cut end (0 on the tape). Mark foot and top of the grain line on the "
        "cloth, and lay the one on the paper (see its table, before the lays) on them. The top is the end "
        "with the arrow head. The numbers go in the order of laying."
        + (
            " Corner: where the drawing has a small square; lay the grain line on its marks, then turn the "
            "paper until the corner lies on its own. Of several, each is named by the edges that meet there."
            if _cornered(items)
            else ""
        )
        + (" Page: on which of the pages along the cloth the piece is drawn." if len(views) > 1 else ""),
        9,
    )
    for index, group in enumerate(sections.values()):
        _draw_table(book, group, cloth, unit, views, first=index == 0)


def _may_begin_here(book: Book, items: Sequence[Numbered]) -> bool:
    """A table may go on from an upright page to the next; on a page on its side it must fit whole."""
    whole = tables_mm(items, _table_width_mm(book))
    if book.sheet.width_mm > book.sheet.height_mm:
        return book.sheet.room_mm >= whole
    return book.sheet.room_mm >= min(whole, _TABLE_TOP_MM + _ROW_MM * _SAME_PAGE_ROWS)


def _table_width_mm(book: Book) -> float:
    upright = book.sheet.width_mm < book.sheet.height_mm
    return book.sheet.inner_width_mm if upright else _LANDSCAPE_TABLE_MM


def _draw_table(
    book: Book, group: Sequence[Numbered], cloth: Cloth, unit: Unit, views: Sequence[View], *, first: bool
) -> None:
    section = group[0].section
    edge = ruler(section, cloth).from_what
    outer = f"outer edge of the {edge}" if edge is MeasuredFrom.NEAR_SELVEDGE else edge
    words = section_words(section, cloth)
    begins = f"From {format_length(section.start_mm, unit)} on: {words}."
    where = f"{words.capitalize()}." if first or not section.start_mm else begins
    book.paragraph(f"{where} Across: from the {outer}.", 9, bold=True)
    split = len(views) > 1
    cornered = _cornered(group)
    measure_mm = _NARROW_MM if cornered else _MEASURE_MM
    width_mm = _table_width_mm(book) - (_PAGE_MM if split else 0.0)
    piece_mm, lies_mm = _word_columns_mm(width_mm, cornered=cornered)
    columns = [
        Column("no.", _NUMBER_MM, bold=True),
        Column("piece", piece_mm),
        Column("copies", _NARROW_COPIES_MM if cornered else _COPIES_MM),
        Column("paper lies", lies_mm),
        *(
            Column(f"{end}, {way}", measure_mm, "right")
            for end in ("foot", "top")
            for way in ("along", "across")
        ),
    ]
    if cornered:
        columns += [Column(f"corner, {way}", measure_mm, "right") for way in ("along", "across")]
    if split:
        columns.append(Column("page", _PAGE_MM, "right"))
    large, between = ([item for item in group if item.large is first] for first in (True, False))
    rows: list[Sequence[str] | str] = []
    for title, items in (("First the large pieces", large), ("Then what fits between", between)):
        if items and between:
            rows.append(title)
        for item in items:
            page = (", ".join(_pages(item, views)),) if split else ()
            (own, *named) = _corners(item, unit) if cornered else [()]
            rows.append((*_row(item, unit), *own, *page))
            rows += [("", name, *("",) * 6, *at, *("",) * len(page)) for name, *at in named]
    book.table(columns, rows, size_pt=_TABLE_PT)


def _pages(item: Numbered, views: Sequence[View]) -> list[str]:
    """On which of the pages along the cloth a piece is seen."""
    return [str(view.number) for view in views if visible(item.shape.cut_line, view) is not None]


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
    return (
        str(item.number),
        item.placed.piece,
        copies_text(item.placed, item.side),
        how_text(item.placed),
        *measures,
    )


def _corners(item: Numbered, unit: Unit) -> list[tuple[str, ...]]:
    """What stands in its own row, dashes where it has no corner; of several, a row more for each, named."""
    told = [
        (name.replace(" / ", " and "), format_length(along, unit), format_length(across, unit))
        for name, along, across in _corners_of(item)
    ]
    match told:
        case []:
            return [("–", "–")]
        case [(_, along, across)]:
            return [(along, across)]
        case _:
            return [("", ""), *told]


def _corners_of(item: Numbered) -> Sequence[tuple[str, float, float]]:
    return () if item.distances is None else item.distances.corners
