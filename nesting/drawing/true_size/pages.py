"""True-size sheets as a PDF: the head with the squares to measure, then every sheet.

On paper smaller than A2 the head is a sheet by itself; on larger sheets and on a roll it stands to the left
of the first drawing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from itertools import count
from math import sqrt
from typing import TYPE_CHECKING

import numpy as np

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.embedding import shapes_alone
from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import PageSize
from nesting.drawing.ink.sheet import MM_PER_PT, Book
from nesting.drawing.ink.text import printable
from nesting.drawing.true_size.first_sheet import HEAD_HIGH_MM, HEAD_WIDE_MM, Head, draw_head
from nesting.drawing.true_size.full_size import FullSize
from nesting.drawing.true_size.sheet_map import Mapped
from nesting.drawing.true_size.tile_marks import draw_marks
from nesting.drawing.true_size.tiling import Tile, Tiling, tile, tile_roll
from nesting.units import MM_PER_INCH

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "LINE_WEIGHT",
    "MOST_MARGIN_MM",
    "MOST_PIXELS",
    "USUAL_MARGIN_MM",
    "PrintOn",
    "full_size_pdf",
    "full_size_png",
]

LINE_WEIGHT = 1.5
"""Lines are this many times thicker than on the small drawings: none is under a quarter of a millimetre."""
USUAL_MARGIN_MM = 10.0
MOST_MARGIN_MM = 20.0
_HEAD_ALONE_BELOW_MM = 400.0
"""Shorter side of paper on which the head takes a sheet of its own."""
_HEAD_GAP_MM = 15.0
PNG_DPI = 100.0
MOST_PIXELS = 50_000_000
"""Of a picture: about 2 m of cloth 150 cm wide at 100 points to the inch, and 200 MB while it is drawn."""
_AROUND_MM = 10.0


@dataclass(frozen=True, slots=True)
class PrintOn:
    """What is printed on.

    Attributes
    ----------
    paper : PageSize or None
        None for a roll, or for one picture to project.
    margin_mm : float
        What the printer cannot reach on each side.
    roll_width_mm : float or None
        Of a roll; None where one page may be as wide as what is drawn.
    """

    paper: PageSize | None
    margin_mm: float = USUAL_MARGIN_MM
    roll_width_mm: float | None = None

    def tiling(self, drawing: FullSize) -> Tiling:
        """The sheets that a drawing takes."""
        if self.paper is None:
            return tile_roll(
                drawing.bounds, drawing.lines, width_mm=self.roll_width_mm, margin_mm=self.margin_mm
            )
        return tile(drawing.bounds, drawing.lines, self.paper, margin_mm=self.margin_mm)


def full_size_pdf(
    drawings: Sequence[FullSize],
    title: str,
    about: str,
    on: PrintOn,
    *,
    lists: Callable[[], Book] | None = None,
    on_sheet: Callable[[int, int], None] = lambda number, of: None,
) -> bytes:
    """All sheets of the drawings as one PDF file, without a date.

    Parameters
    ----------
    drawings : sequence of FullSize
        At least one.
    title, about : str
        Of the head.
    on : PrintOn
    lists : callable, optional
        Makes pages of words that come last.
    on_sheet : callable, optional
        Told the number of each sheet, from 1, before it is drawn, and how many there are.
    """
    from matplotlib.backends.backend_pdf import PdfPages

    alone = on.paper is not None and min(on.paper.width_mm, on.paper.height_mm) < _HEAD_ALONE_BELOW_MM
    all_drawings = list(drawings) if alone else [_with_room_for_head(drawings[0]), *drawings[1:]]
    several = len(all_drawings) > 1
    mapped = tuple(
        Mapped(drawing, on.tiling(drawing), str(number) if several else "")
        for number, drawing in enumerate(all_drawings, start=1)
    )
    head = Head(title, about, mapped, alone)
    numbers = count(1)
    target = BytesIO()
    metadata = {"Title": printable(title), "Creator": "Ellwand", "CreationDate": None}
    with drawing_settings(), shapes_alone(), PdfPages(target, metadata=metadata) as pages:
        if alone and on.paper is not None:
            on_sheet(next(numbers), head.sheets)
            pages.savefig(_head_page(head, on.paper, on.margin_mm))
        for number, one in enumerate(mapped):
            # One figure for all sheets: to make it takes as long as to draw on it.
            figure, axes = _figure(one.tiling.width_mm, one.tiling.height_mm)
            for sheet in one.tiling.tiles:
                on_sheet(next(numbers), head.sheets)
                corner = one.drawing.bounds[:2] if number == 0 and not alone else None
                canvas = _draw_sheet(axes, one, sheet, head, corner)
                pages.savefig(figure)
                canvas.wipe()
        for page in lists().sheets if lists is not None else ():
            pages.savefig(page.figure)
    return target.getvalue()


def full_size_png(drawing: FullSize, dpi: float | None = None) -> bytes:
    """One drawing as a PNG picture that carries its points to the inch, so that it prints at true size.

    Parameters
    ----------
    drawing : FullSize
    dpi : float, optional
        Points to the inch; if it is not given `PNG_DPI`, or so many that there are not over `MOST_PIXELS`.
    """
    x0, y0, x1, y1 = drawing.bounds
    window = (x0 - _AROUND_MM, y0 - _AROUND_MM, x1 + _AROUND_MM, y1 + _AROUND_MM)
    wide, high = window[2] - window[0], window[3] - window[1]
    if dpi is None:
        dpi = min(PNG_DPI, sqrt(MOST_PIXELS / (wide * high)) * MM_PER_INCH)
    target = BytesIO()
    with drawing_settings():
        figure, axes = _figure(wide, high)
        canvas = _canvas(axes, (wide, high), window[:2], window)
        drawing.draw(canvas, window, window)
        figure.savefig(target, format="png", dpi=dpi, facecolor="white", metadata={"Software": None})
    return target.getvalue()


def _with_room_for_head(drawing: FullSize) -> FullSize:
    """The drawing with the head's room to its left."""
    x0, y0, x1, y1 = drawing.bounds
    left = x0 - HEAD_WIDE_MM - _HEAD_GAP_MM
    right, top = left + HEAD_WIDE_MM, y0 + HEAD_HIGH_MM
    room = np.array([(left, y0), (right, y0), (right, top), (left, top), (left, y0)])
    return replace(drawing, bounds=(left, y0, x1, max(y1, top)), lines=(*drawing.lines, room))


def _figure(width_mm: float, height_mm: float) -> tuple[Figure, Axes]:
    """A page at one to one, empty."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width_mm / MM_PER_INCH, height_mm / MM_PER_INCH))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    return figure, axes


def _canvas(axes: Axes, size_mm: tuple[float, float], low_left: tuple[float, float], window: Box) -> Canvas:
    """The page's canvas, which draws nothing outside the window."""
    axes.set_xlim(low_left[0], low_left[0] + size_mm[0])
    axes.set_ylim(low_left[1], low_left[1] + size_mm[1])
    return Canvas(axes, MM_PER_PT, window, weight=LINE_WEIGHT)


def _head_page(head: Head, paper: PageSize, margin_mm: float) -> Figure:
    wide = min(HEAD_WIDE_MM, paper.width_mm - 2 * margin_mm)
    size = paper.width_mm, paper.height_mm
    figure, axes = _figure(*size)
    canvas = _canvas(axes, size, (0.0, 0.0), (0, 0, *size))
    left, low = (paper.width_mm - wide) / 2, paper.height_mm - margin_mm - HEAD_HIGH_MM
    draw_head(canvas, head, (left, low), wide)
    return figure


def _draw_sheet(
    axes: Axes, one: Mapped, sheet: Tile, head: Head, head_corner: tuple[float, float] | None
) -> Canvas:
    tiling = one.tiling
    window = tiling.window(sheet)
    low_left = (window[0] - tiling.margin_mm, window[1] - tiling.margin_mm)
    canvas = _canvas(axes, (tiling.width_mm, tiling.height_mm), low_left, window)
    one.drawing.draw(canvas, window, sheet.cell)
    if head_corner is not None and (sheet.row, sheet.column) == (0, 0):
        draw_head(canvas, head, head_corner)
    if len(tiling.tiles) > 1 or tiling.overlap_mm:
        draw_marks(canvas, tiling, sheet, one.name(sheet), one.drawing.title)
    return canvas
