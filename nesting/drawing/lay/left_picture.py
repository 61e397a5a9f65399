"""What a lay leaves over: the cloth opened out after cutting, right side up, with what comes out of it.

x runs along the cloth from the straightened end, y across it from the outer edge of the near selvedge. The
holes that the pieces leave are white, what is left is shaded as cloth, and the largest rectangles and the
small pieces are drawn lightly, the one with their sizes, the others with their names or letters.
"""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np

from nesting.cutting.left import LeftOver, Rectangle, SmallPlaced
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import (
    CLOTH,
    FLAW_HATCH,
    HATCH_INK,
    LEFT,
    MISSING,
    PAPER,
    SELVEDGE,
    drawing_settings,
)
from nesting.drawing.ink.room import Room
from nesting.drawing.ink.tape import Tape, draw_tape
from nesting.drawing.ink.text import LINE_HEIGHT, SMALLEST_PT, text_width_pt
from nesting.estimate.estimate import Estimate
from nesting.geometry import FloatArray
from nesting.units import Unit
from nesting.words.in_hand import size_words

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["draw_left", "left_mm_per_pt", "left_png_bytes", "left_size_pt"]

_LEFT_PT, _RIGHT_PT, _TOP_PT, _BOTTOM_PT = 48.0, 16.0, 22.0, 36.0
_PICTURE_PT = (1000.0, 900.0)
_LEAST_PICTURE_PT = 330.0
_COARSEST_MM_PER_PT = 5.0
_TAPE_FROM_EDGE_PT = 17.0
_SIZES_PT = (10.0, 8.5, SMALLEST_PT)


def left_mm_per_pt(left: LeftOver, estimate: Estimate, width_pt: float, height_pt: float) -> float:
    """Millimetres of cloth to a point of the page, drawn as large as fits."""
    x0, u0, x1, u1 = _cloth(left, estimate)
    return max((x1 - x0) / (width_pt - _LEFT_PT - _RIGHT_PT), (u1 - u0) / (height_pt - _TOP_PT - _BOTTOM_PT))


def left_size_pt(left: LeftOver, estimate: Estimate, scale: float) -> tuple[float, float]:
    """Width and height that the drawing takes at that many millimetres to a point."""
    x0, u0, x1, u1 = _cloth(left, estimate)
    return (x1 - x0) / scale + _LEFT_PT + _RIGHT_PT, (u1 - u0) / scale + _TOP_PT + _BOTTOM_PT


def left_png_bytes(estimate: Estimate, unit: Unit, dpi: float = 110.0) -> bytes:
    """The drawing alone as a PNG picture; the same input gives the same bytes.

    Raises
    ------
    ValueError
        When nothing was asked of what is left.
    """
    if estimate.left is None:
        raise ValueError("nothing was asked of what this lay leaves over")
    with drawing_settings():
        figure, axes = _own_figure(estimate.left, estimate)
        draw_left(estimate, unit, ax=axes)
        target = BytesIO()
        figure.savefig(target, format="png", dpi=dpi, facecolor="white")
    return target.getvalue()


def draw_left(estimate: Estimate, unit: Unit, *, ax: Axes) -> list[Artist]:
    """Draw what is left; give every artist, each with a group id: ``left-1``, ``small-2``, ..."""
    left = estimate.left
    if left is None:
        return []
    with drawing_settings():
        canvas = _canvas(left, estimate, ax)
        x0, u0, x1, u1 = _cloth(left, estimate)
        canvas.area(_box(x0, u0, x1, u1), SELVEDGE, "cloth", "cloth")
        canvas.area(_box(*left.limits), CLOTH, "usable", "cloth")
        canvas.line(_closed(_box(x0, u0, x1, u1)), "cut end", "edge")
        for number, piece in enumerate(left.pieces, start=1):
            canvas.area(piece.outline, PAPER, f"cut-{number}", "piece")
            canvas.line(_closed(piece.outline), "leader", f"cut-{number}-edge")
            _words_in(canvas, piece.outline, piece.name, f"cut-{number}-words", PAPER)
        for number, flaw in enumerate(left.blocked, start=1):
            missing = estimate.lay.cloth.blocked[number - 1].missing
            hatch = {} if missing else {"hatch": FLAW_HATCH, "hatch_ink": HATCH_INK}
            canvas.area(flaw.outline, MISSING if missing else CLOTH, f"flaw-{number}", "flaw", **hatch)
            canvas.line(_closed(flaw.outline), "cut away" if missing else "flaw", f"flaw-{number}-edge")
            _words_in(canvas, flaw.outline, flaw.name, f"flaw-{number}-words", PAPER)
        for number, one in enumerate(left.rectangles, start=1):
            _draw_rectangle(canvas, one, number, unit)
        for number, small in enumerate(left.placed, start=1):
            _draw_small(canvas, small, number, left.letter(small.small))
        away = _TAPE_FROM_EDGE_PT * canvas.mm_per_pt
        draw_tape(canvas, Tape((left.limits[0], u0 - away), (x1, u0 - away), (0.0, -1.0)), unit, "tape-along")
        draw_tape(canvas, Tape((x0 - away, u0), (x0 - away, u1), (-1.0, 0.0)), unit, "tape-across")
        title = "opened out after cutting, right side up: dashed, what is left in one piece"
        at = (x0, u1 + 10 * canvas.mm_per_pt)
        canvas.words(at, title, 8.0, "left-title", align="left", bold=True)
    return canvas.artists


def _draw_rectangle(canvas: Canvas, one: Rectangle, number: int, unit: Unit) -> None:
    ring = _box(one.x0, one.u0, one.x1, one.u1)
    canvas.area(ring, LEFT, f"left-{number}", "piece")
    canvas.line(_closed(ring), "left over", f"left-{number}-edge")
    _words_in(canvas, ring, size_words(one, unit), f"left-{number}-words", LEFT)


def _draw_small(canvas: Canvas, one: SmallPlaced, number: int, letter: str) -> None:
    canvas.area(one.outline, LEFT, f"small-{number}", "piece")
    canvas.line(_closed(one.outline), "cut line", f"small-{number}-edge")
    if not _words_in(canvas, one.outline, one.small.name, f"small-{number}-words", LEFT):
        _words_in(canvas, one.outline, letter, f"small-{number}-words", LEFT)


def _words_in(canvas: Canvas, outline: FloatArray, words: str, gid: str, ground: str) -> bool:
    """The words inside the outline, as large as they fit, turned if they must be; whether they do."""
    import shapely

    room = Room(shapely.Polygon(outline).buffer(0))
    for size in _SIZES_PT:
        wide = (text_width_pt(words, size) + 2) * canvas.mm_per_pt
        high = size * LINE_HEIGHT * canvas.mm_per_pt
        for upright in (True, False):
            at = room.place(*((wide, high) if upright else (high, wide)))
            if at is not None:
                canvas.words(at, words, size, gid, upright=upright, ground=ground)
                return True
    return False


def _cloth(left: LeftOver, estimate: Estimate) -> tuple[float, float, float, float]:
    """All of the cloth: between its cut ends, selvedges included."""
    x0, u0, x1, u1 = left.limits
    end, selvedge = estimate.lay.cloth.end_allowance_mm, estimate.lay.cloth.washed_selvedge_mm
    return x0 - end, u0 - selvedge, x1 + end, u1 + selvedge


def _own_figure(left: LeftOver, estimate: Estimate) -> tuple[Figure, Axes]:
    from matplotlib.figure import Figure

    scale = min(left_mm_per_pt(left, estimate, *_PICTURE_PT), _COARSEST_MM_PER_PT)
    width, height = left_size_pt(left, estimate, scale)
    figure = Figure(figsize=(max(width, _LEAST_PICTURE_PT) / 72, max(height, _LEAST_PICTURE_PT) / 72))
    return figure, figure.add_axes((0.0, 0.0, 1.0, 1.0))


def _canvas(left: LeftOver, estimate: Estimate, ax: Axes) -> Canvas:
    inches = ax.figure.get_figure(root=True).dpi_scale_trans.inverted()
    box = ax.get_window_extent().transformed(inches)
    width_pt, height_pt = box.width * 72, box.height * 72
    scale = left_mm_per_pt(left, estimate, width_pt, height_pt)
    x0, _, _, u1 = _cloth(left, estimate)
    start, top = x0 - _LEFT_PT * scale, u1 + _TOP_PT * scale
    ax.set_xlim(start, start + width_pt * scale)
    ax.set_ylim(top - height_pt * scale, top)
    ax.set_aspect("equal", adjustable="datalim")
    ax.set_axis_off()
    return Canvas(ax, scale)


def _box(x0: float, u0: float, x1: float, u1: float) -> FloatArray:
    return np.array([(x0, u0), (x1, u0), (x1, u1), (x0, u1)])


def _closed(ring: FloatArray) -> FloatArray:
    return np.vstack([ring, ring[:1]])
