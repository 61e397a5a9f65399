"""A cloth's lay on paper: the drawing as large as fits, the distances, the order of work, the cut list."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from nesting.cutting.flat.placing import Numbered, numbered
from nesting.drawing.ink.sheet import BODY_PT, MARGIN_MM, MM_PER_PT, SMALL_PT, Book
from nesting.drawing.ink.text import LINE_HEIGHT, printable, wrapped
from nesting.drawing.lay.figure import draw_lay, drawn_size_pt
from nesting.drawing.lay.legend import Entry, draw_legend, legend_entries, legend_height_mm
from nesting.drawing.lay.page_ends import along_words
from nesting.drawing.lay.pieces import label_to_mind
from nesting.drawing.lay.view import View
from nesting.drawing.pages.distances import draw_distances, tables_mm
from nesting.drawing.pages.line_words import draw_meetings, how_it_lies
from nesting.drawing.pages.lists import draw_cut_list
from nesting.drawing.pages.marks_table import draw_marks_table
from nesting.drawing.pages.numbers import key_text
from nesting.drawing.pages.plan import PagePlan, page_plan
from nesting.drawing.pages.work_order import draw_work_order
from nesting.estimate.estimate import Estimate
from nesting.units import MM_PER_INCH, Unit, format_length
from nesting.words.in_hand import length_words
from nesting.words.spare import no_room_words

__all__ = ["draw_lay_pages", "key_lines", "scale_text"]

_TITLE_MM = 13.0
_NO_ROOM_MM = 5.5
"""Of a sentence on what is left over."""
_GAP_MM = 2.0
_KEY_MM = 9.5
"""Kept for naming the pieces that are too small to carry their name."""
_OVERLAP_MM = 100.0
_OVERLAP_IN = 4.0
"""What two pages along the cloth have in common."""


def draw_lay_pages(book: Book, estimate: Estimate, unit: Unit) -> None:
    """Begin a page with the drawing; then distances, order of work and cut list, on as many as they need."""
    items = numbered(estimate.lay)
    entries = legend_entries(estimate.lay, items)
    plan = _plan(book, estimate, items, entries, unit)
    said: dict[int, str] = {}
    for view in plan.views:
        said |= _draw_page(book, estimate, plan, items, view, unit)
        if view.of == 1:
            draw_legend(book.sheet, entries)
    if len(plan.views) > 1:
        book.turn()
        book.heading(f"{estimate.lay.cloth.name}: what the marks mean")
        draw_legend(book.sheet, entries)
    for line in key_lines(items, said):
        book.paragraph(line, SMALL_PT)
    draw_distances(book, items, estimate.lay.cloth, unit, plan.views)
    if book.sheet.width_mm > book.sheet.height_mm:
        book.turn()
    draw_meetings(book, estimate, unit)
    draw_work_order(book, estimate, items, unit)
    draw_marks_table(book, items, estimate.lay.cloth, unit)
    draw_cut_list(book, estimate)


def _plan(
    book: Book, estimate: Estimate, items: Sequence[Numbered], entries: Sequence[Entry], unit: Unit
) -> PagePlan:
    def heights(inner_width_mm: float, *, legend: bool, tables: bool) -> float:
        words = (
            _TITLE_MM
            + _NO_ROOM_MM * estimate.no_room
            + _words_mm(estimate, inner_width_mm, unit)
            + 2 * _GAP_MM
            + _KEY_MM
        )
        if legend:
            words += legend_height_mm(entries, inner_width_mm)
        return words + (tables_mm(items, inner_width_mm) if tables else 0.0)

    overlap = _OVERLAP_IN * MM_PER_INCH if unit is Unit.IN else _OVERLAP_MM
    return page_plan(book.page, estimate, heights, overlap)


def key_lines(items: Sequence[Numbered], said: Mapping[int, str]) -> Iterator[str]:
    """What the drawing had no room for: names, and what is to be minded of a piece."""
    unnamed = [item for item in items if printable(item.placed.piece) not in said.get(item.number, "")]
    if unnamed:
        yield f"Numbers without a name: {key_text(unnamed)}."
    untold: dict[str, list[Numbered]] = {}
    for item in items:
        to_mind = label_to_mind(item)
        if to_mind not in said.get(item.number, ""):
            untold.setdefault(to_mind, []).append(item)
    if untold:
        told = "; ".join(f"{to_mind}: {key_text(group)}" for to_mind, group in untold.items())
        yield f"Not on the drawing, for want of room: {told}."


def _draw_page(
    book: Book, estimate: Estimate, plan: PagePlan, items: Sequence[Numbered], view: View, unit: Unit
) -> dict[int, str]:
    """One page of the drawing; give the words that stand on the pieces, by their numbers."""
    lay = estimate.lay
    sheet = book.turn(landscape=plan.landscape)
    which = "" if view.of == 1 else f", {along_words(view, unit)}"
    book.paragraph(f"{lay.cloth.name}: the lay{which}", 14 if view.of == 1 else 12, bold=True, after_mm=0.5)
    book.paragraph(
        f"{length_words(estimate, unit)} of {format_length(lay.cloth.width_mm, unit)} · "
        f"lay {format_length(lay.length_mm, unit)} · drawn {scale_text(plan.mm_per_pt)}",
    )
    if view.starts and estimate.no_room:
        book.paragraph(f"{no_room_words(estimate.spare_mm, unit)}.", bold=True)
    if view.starts:
        book.paragraph(how_it_lies(estimate, unit))
    width, height = (extent * MM_PER_PT for extent in drawn_size_pt(estimate, plan.mm_per_pt, view))
    ax = sheet.figure.add_axes(
        (
            (MARGIN_MM + max(0.0, sheet.inner_width_mm - width) / 2) / sheet.width_mm,
            1 - (sheet.y_mm + height) / sheet.height_mm,
            width / sheet.width_mm,
            height / sheet.height_mm,
        )
    )
    from matplotlib.text import Text

    artists = draw_lay(estimate, unit, ax=ax, view=view)
    book.space(height + _GAP_MM)
    texts: dict[str | None, list[str]] = {}
    for artist in artists:
        if isinstance(artist, Text):
            texts.setdefault(artist.get_gid(), []).append(artist.get_text())
    words = ((item.number, texts.get(f"piece-{item.number}-words")) for item in items)
    return {number: " ".join(" ".join(lines).split()) for number, lines in words if lines}


def scale_text(mm_per_pt_: float) -> str:
    """The scale of a drawing, as people say it.

    >>> scale_text(4.233)
    'about 1 : 12'
    """
    return f"about 1 : {mm_per_pt_ / MM_PER_PT:.0f}"


def _words_mm(estimate: Estimate, inner_width_mm: float, unit: Unit) -> float:
    """Height of the words on how to spread the cloth."""
    lines = wrapped(how_it_lies(estimate, unit), inner_width_mm / MM_PER_PT, BODY_PT)
    return len(lines) * BODY_PT * LINE_HEIGHT * MM_PER_PT + 1.2
