"""All pieces as written down, on sheets to print and as one picture: to be held against the paper.

Each piece is drawn at a scale of its own that is told with it: most at one, small and crowded ones larger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from nesting.doubts.kinds import Doubt, DoubtKind
from nesting.drawing.drafts.figure import DraftFigure, draft_figure, draw_draft
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.sheet import FOOTER_MM, MARGIN_MM, MM_PER_PT, Book, PageSize
from nesting.drawing.ink.text import LINE_HEIGHT, wrapped
from nesting.drawing.true_size.paper_pieces import count_words
from nesting.pattern.edges import extent_mm, size_mm
from nesting.pattern.piece import Piece
from nesting.project import PLAIN, Project
from nesting.units import format_length
from nesting.words.doubts import doubt_words

__all__ = ["DraftSheets", "draft_sheets"]

_SCALES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200)
_LONGEST_MM, _LONGEST_OF_FEW_MM = 105.0, 165.0
"""The longest piece is drawn no longer than the first, one of few than the second, if its names find room;"""
_FEW = 1
_SHORTEST_MM = 75.0
"""and a small one so long, if it is not drawn larger than it is."""
_ROOM_FOR_WORDS_MM = 62.0
"""Beside a piece, for the names of its edges."""
_NARROWEST_MM = 50.0
"""No narrower column is given to a piece's heading and list."""
_TRIED = 4
"""So many scales are tried to find all words room."""
_DOUBTS_LISTED = 5
_LISTED = 60
"""Of the words without room, so many are listed."""
_GAP_MM = 7.0
_HEAD_PT, _SMALL_PT = 10.5, 7.5
_PICTURE_MM = 400.0
_PICTURE_DPI = 130.0
_ENDLESS_MM = 20_000.0
_KEY = (
    "Every piece as it is written down, its paper face up; how many times smaller is said with each. Hold it "
    "against your paper. Points carry their names from the file. Beside each edge stand its name, its length "
    "along the line, and after + what is added outside. Dashes are the stitching line, the full line is cut."
)


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """A piece with its words above and below; sizes in mm on the page."""

    figure: DraftFigure
    name: tuple[str, ...]
    head: tuple[str, ...]
    below: tuple[str, ...]
    width: float

    @property
    def height(self) -> float:
        """All of it."""
        return self.head_height + self.figure.size_mm[1] + _lines_mm(self.below, _SMALL_PT) + 1.0

    @property
    def head_height(self) -> float:
        """The words above."""
        return _lines_mm(self.name, _HEAD_PT) + _lines_mm(self.head, _SMALL_PT) + 1.0


@dataclass(frozen=True, slots=True, eq=False)
class DraftSheets:
    """The sheets of one version of a project, ready to be drawn.

    Attributes
    ----------
    project : Project
    page : PageSize
    blocks : tuple
    """

    project: Project
    page: PageSize
    blocks: tuple[_Block, ...]

    def pdf(self) -> bytes:
        """On as many pages as it needs."""
        with drawing_settings():
            return self.book().pdf(f"{self.project.title}: the pieces as written down")

    def book(self) -> Book:
        """The pages as matplotlib figures, in order."""
        with drawing_settings():
            book = _book(self.project, self.blocks, self.page)
            book.footers(self.project.title, _version(self.project))
            return book

    def png(self) -> bytes:
        """One picture, as high as it needs to be."""
        return self._picture("png", dpi=_PICTURE_DPI, metadata={"Software": None})

    def svg(self) -> bytes:
        """The same as SVG, words as text."""
        return self._picture("svg", metadata={"Date": None, "Creator": "Ellwand"})

    def _picture(self, form: str, **options: Any) -> bytes:
        import matplotlib

        with drawing_settings():
            matplotlib.rcParams.update(
                {
                    "svg.hashsalt": "ellwand",  # the same picture gives the same bytes
                    "svg.fonttype": "none",  # words stay words
                    "text.hinting": "none",  # letters as wide as they were measured
                }
            )
            width = max(_PICTURE_MM, max(block.width for block in self.blocks) + 2 * MARGIN_MM)
            rows = _rows(self.blocks, width - 2 * MARGIN_MM)
            trial = Book(PageSize("trial", width, _ENDLESS_MM))
            trial.turn()
            _draw_top(trial, self.project)
            high = trial.sheet.y_mm + sum(row.height for row in rows) + MARGIN_MM + FOOTER_MM
            book = _book(self.project, self.blocks, PageSize("picture", width, high))
            target = BytesIO()
            book.sheet.figure.savefig(target, format=form, **options)
            return target.getvalue()


def draft_sheets(project: Project, doubts: Sequence[tuple[int, Doubt]], page: PageSize) -> DraftSheets:
    """Place everything: which scale each piece has, and where its words go.

    Parameters
    ----------
    project : Project
    doubts : sequence of (int, Doubt)
        With the numbers that they are listed by.
    page : PageSize
    """
    with drawing_settings():
        blocks = []
        inner = page.width_mm - 2 * MARGIN_MM, page.height_mm - 2 * MARGIN_MM - FOOTER_MM - 30.0
        common = _common_scale(project, inner)
        for piece in project.pieces:
            own = [(number, doubt.kind) for number, doubt in doubts if doubt.piece == piece.name]
            figure = _best_figure(project, piece, common, own, inner)
            blocks.append(_block(project, figure, inner[0]))
    return DraftSheets(project, page, tuple(blocks))


def _common_scale(project: Project, room_mm: tuple[float, float]) -> int:
    """The scale at which most pieces are drawn: the largest that the longest of them allows."""
    longest = _LONGEST_OF_FEW_MM if len(project.pieces) <= _FEW else _LONGEST_MM
    return max((_scale_for(piece, longest, room_mm) for piece in project.pieces), default=1)


def _scale_for(piece: Piece, longest_mm: float, room_mm: tuple[float, float]) -> int:
    """The largest scale at which a piece is no longer than that, or which the page just holds."""
    wide, high = size_mm(piece)
    room_wide, room_high = room_mm[0] - _ROOM_FOR_WORDS_MM, room_mm[1] - _ROOM_FOR_WORDS_MM
    for scale in _SCALES:
        if wide / scale <= room_wide and high / scale <= room_high and extent_mm(piece) / scale <= longest_mm:
            return scale
    return _SCALES[-1]


def _best_figure(
    project: Project,
    piece: Piece,
    common: int,
    own: list[tuple[int, DoubtKind]],
    room_mm: tuple[float, float],
) -> DraftFigure:
    """At the common scale, larger where it is small or its words need room, smaller where the page is."""
    least = min(common, _scale_for(piece, _SHORTEST_MM, room_mm))
    largest = _scale_for(piece, max(room_mm), room_mm)

    def fits(figure: DraftFigure) -> bool:
        wide, high = figure.size_mm
        return wide <= room_mm[0] and high <= room_mm[1]

    figures: list[DraftFigure] = []
    for scale in [scale for scale in _SCALES[::-1] if largest <= scale <= least][:_TRIED]:
        figure = draft_figure(project, piece, scale, own)
        if figures and not fits(figure):
            break
        figures.append(figure)
        if not figure.without_room:
            break
    best = min(figures, key=lambda one: len(one.without_room))
    for scale in [scale for scale in _SCALES if scale > best.scale]:
        if fits(best):
            break
        best = draft_figure(project, piece, scale, own)
    return best


def _block(project: Project, figure: DraftFigure, inner_mm: float) -> _Block:
    wide, high = (format_length(side, project.unit) for side in size_mm(figure.piece))
    width = min(inner_mm, max(figure.size_mm[0], _NARROWEST_MM))

    def broken(text: str) -> tuple[str, ...]:
        return wrapped(text, width / MM_PER_PT, _SMALL_PT)

    scale = "true size" if figure.scale == 1 else f"1 : {figure.scale}"
    name = wrapped(figure.piece.name, width / MM_PER_PT, _HEAD_PT, bold=True)
    head = list(broken(f"{scale} · paper {wide} × {high}"))
    for line in count_words(figure.piece, project):
        head += broken(line)
    if not figure.sound:
        head += broken("It cannot be cut as it is: the screen says why. Drawn without its allowances.")
    below: list[str] = []
    for number, kind in figure.numbered[:_DOUBTS_LISTED]:
        what, ask = doubt_words(kind, project.unit)
        edge = getattr(kind, "edge", "")
        below += broken(f"Look here ({number}): {f'edge {edge!r}: ' if edge else ''}{what} {ask}")
    if len(figure.numbered) > _DOUBTS_LISTED:
        below += broken(f"Look here: {len(figure.numbered) - _DOUBTS_LISTED} more, told on the screen.")
    if figure.without_room:
        more = len(figure.without_room) - _LISTED
        named = ", ".join(figure.without_room[:_LISTED]) + (f", and {more} more" if more > 0 else "")
        below += broken(f"Without a name for want of room: {named}")
    return _Block(figure, name, tuple(head), tuple(below), width)


@dataclass(slots=True)
class _Row:
    """Blocks side by side."""

    blocks: list[_Block]

    @property
    def width(self) -> float:
        """With a gap after each."""
        return sum(block.width + _GAP_MM for block in self.blocks)

    @property
    def height(self) -> float:
        """With a gap below."""
        return max(block.height for block in self.blocks) + _GAP_MM


def _arranged(
    blocks: Sequence[_Block], inner_mm: float, first_mm: float, other_mm: float
) -> list[list[_Row]]:
    """Rows on pages: in the order of the file, or the highest first where that saves a page."""
    by_height = sorted(blocks, key=lambda block: -block.height)
    orders = [_pages(_rows(order, inner_mm), first_mm, other_mm) for order in (blocks, by_height)]
    return min(orders, key=len)


def _rows(blocks: Sequence[_Block], inner_mm: float) -> list[_Row]:
    """Blocks side by side in their order, but that a small one fills a row above it that has room."""
    rows: list[_Row] = []
    for block in blocks:
        beside = [row for row in rows if row.width + block.width <= inner_mm]
        roomy = [row for row in beside if block.height + _GAP_MM <= row.height or row is rows[-1]]
        if roomy:
            roomy[0].blocks.append(block)
        else:
            rows.append(_Row([block]))
    return rows


def _pages(rows: Sequence[_Row], first_mm: float, other_mm: float) -> list[list[_Row]]:
    """Rows on pages: each on the first that has room for it."""
    pages: list[list[_Row]] = [[]]
    for row in rows:
        rooms = [first_mm, *(other_mm for _ in pages[1:])]
        left = [room - sum(one.height for one in page) for page, room in zip(pages, rooms, strict=True)]
        fitting = [page for page, room in zip(pages, left, strict=True) if row.height - _GAP_MM <= room]
        if fitting:
            fitting[0].append(row)
        elif pages == [[]]:
            pages[0].append(row)
        else:
            pages.append([row])
    return pages


def _book(project: Project, blocks: Sequence[_Block], page: PageSize) -> Book:
    book = Book(page)
    book.turn()
    _draw_top(book, project)
    other_mm = page.height_mm - 2 * MARGIN_MM - FOOTER_MM
    number = 0
    pages = _arranged(blocks, book.sheet.inner_width_mm, book.sheet.room_mm, other_mm)
    for index, on_page in enumerate(pages):
        if index:
            book.turn()
        for row in on_page:
            x = MARGIN_MM
            for block in row.blocks:
                number += 1
                _draw_block(book, project, block, x, f"piece-{number}")
                x += block.width + _GAP_MM
            book.space(row.height)
    return book


def _draw_top(book: Book, project: Project) -> None:
    book.paragraph(f"{project.title}: the pieces as written down", 14, bold=True, after_mm=0.5)
    book.paragraph(_KEY, _SMALL_PT, after_mm=3.0)


def _draw_block(book: Book, project: Project, block: _Block, x_mm: float, name: str) -> None:
    sheet, figure = book.sheet, block.figure
    y = sheet.y_mm
    for lines, size_pt in ((block.name, _HEAD_PT), (block.head, _SMALL_PT)):
        for line in lines:
            y += size_pt * LINE_HEIGHT * MM_PER_PT
            sheet.words(x_mm, y - 0.3 * size_pt * MM_PER_PT, line, size_pt, bold=size_pt == _HEAD_PT)
    y += 1.0
    wide, high = figure.size_mm
    ax = sheet.figure.add_axes(
        (
            x_mm / sheet.width_mm,
            1 - (y + high) / sheet.height_mm,
            wide / sheet.width_mm,
            high / sheet.height_mm,
        )
    )
    x0, y0, x1, y1 = figure.bounds
    ax.set_xlim(x0, x1)
    ax.set_ylim(y0, y1)
    ax.set_axis_off()
    draw_draft(Canvas(ax, figure.mm_per_pt), project, figure, name)
    y += high + 1.0
    for line in block.below:
        y += _SMALL_PT * LINE_HEIGHT * MM_PER_PT
        sheet.words(x_mm, y - 0.3 * _SMALL_PT * MM_PER_PT, line, _SMALL_PT)


def _lines_mm(lines: Sequence[str], size_pt: float) -> float:
    return len(lines) * size_pt * LINE_HEIGHT * MM_PER_PT


def _version(project: Project) -> str:
    """What tells this version from others."""
    size = f"size {project.size}" if project.size else ""
    version = "" if project.version == PLAIN else project.version
    return ", ".join(filter(None, (size, version))) or "as written down"
