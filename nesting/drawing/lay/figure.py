"""A cloth's lay as a picture to cut from.

x runs along the cloth to the right, y across it; the axes are in millimetres of cloth, equally
scaled. Every piece carries a number; the distances that place it stand in a table beside the
drawing (see `nesting.drawing.pages.book`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from nesting.cutting.flat.placing import Numbered, numbered, ruler
from nesting.cutting.lay import Face, LaySection
from nesting.drawing.ink.callouts import callouts
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.labels import InnerLines, Label, fit_label
from nesting.drawing.ink.look import FACE_DOWN, drawing_settings
from nesting.drawing.ink.tape import Tape, draw_tape
from nesting.drawing.ink.text import LINE_HEIGHT, printable
from nesting.drawing.lay.across import across
from nesting.drawing.lay.blocked import draw_blocked, name_blocked, seen_blocked
from nesting.drawing.lay.ground import (
    EDGE_WORDS_PT,
    ZONE_WORDS_PT,
    draw_ground,
    ground_of,
    stretches_in,
    title_rows,
)
from nesting.drawing.lay.names import draw_names
from nesting.drawing.lay.pieces import draw_label, draw_piece, label_to_mind
from nesting.drawing.lay.repeat_lines import draw_repeat_lines
from nesting.drawing.lay.view import View, visible
from nesting.estimate.estimate import Estimate
from nesting.units import Unit
from nesting.words.placing import which_text

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["draw_lay", "drawn_size_pt", "mm_per_pt", "png_bytes", "room_pt", "whole_view"]


@dataclass(frozen=True, slots=True)
class _Margins:
    """Room round the cloth for tapes and words, points."""

    left: float = 48.0
    right: float = 48.0
    top: float = 26.0
    bottom: float = 36.0


_MARGINS = _Margins()
_PICTURE_PT = (1000.0, 900.0)
"""A picture of its own is no wider and no higher than this,"""
_COARSEST_PICTURE_MM_PER_PT = 5.0
"""unless it would be drawn at less than about one to fourteen;"""
_LEAST_PICTURE_PT = 330.0
"""and neither side is shorter than this, so that titles fit."""
_TITLES_TRIED = 4
_TAPE_FROM_EDGE_PT = 15.0
_SHARE_TO_NAME = 0.3
"""A smaller part of a piece needs no number where there is no room: the next page shows the rest."""


def whole_view(estimate: Estimate) -> View:
    """All of the cloth, from end to end."""
    ground = ground_of(estimate)
    return View(ground.x0, ground.x1)


def room_pt(estimate: Estimate, width_pt: float, height_pt: float) -> tuple[float, float]:
    """What a drawing of that size leaves for the cloth itself, under titles of one line."""
    return (
        width_pt - _left_pt(estimate) - _MARGINS.right,
        height_pt - _MARGINS.top - _MARGINS.bottom,
    )


def mm_per_pt(estimate: Estimate, width_pt: float, height_pt: float, view: View | None = None) -> float:
    """Millimetres of cloth to a point of the page, when the view (or all) is drawn as large as fits.

    The scale of the drawing is one to ``72 / 25.4`` times this.
    """
    ground, shown = ground_of(estimate), view or whole_view(estimate)
    along_pt, across_pt = room_pt(estimate, width_pt, height_pt)
    scale = least = max((shown.x1 - shown.x0) / along_pt, (ground.y1 - ground.y0) / across_pt)
    for _ in range(_TITLES_TRIED):
        # The smaller it is drawn, the more lines its titles take, and these take some of the height.
        titles_pt = _top_pt(estimate, scale, shown) - _MARGINS.top
        larger = max(least, (ground.y1 - ground.y0) / max(1.0, across_pt - titles_pt))
        if larger <= scale:
            break
        scale = larger
    return scale


def drawn_size_pt(estimate: Estimate, scale: float, view: View | None = None) -> tuple[float, float]:
    """Width and height that the drawing takes at that many millimetres to a point."""
    ground, shown = ground_of(estimate), view or whole_view(estimate)
    return (
        (shown.x1 - shown.x0) / scale + _left_pt(estimate) + _MARGINS.right,
        (ground.y1 - ground.y0) / scale + _top_pt(estimate, scale, shown) + _MARGINS.bottom,
    )


def _top_pt(estimate: Estimate, scale: float, view: View) -> float:
    """Room above, more of it where titles take several lines."""
    axes = view.x0 - _left_pt(estimate) * scale, view.x1 + _MARGINS.right * scale
    rows = title_rows(estimate, view, scale, axes)
    return _MARGINS.top + (rows - 1) * LINE_HEIGHT * EDGE_WORDS_PT


def _left_pt(estimate: Estimate) -> float:
    """Room on the left, more of it where the number of layers is told there."""
    beside = any(len(stretch) > 1 for stretch in estimate.lay.stretches)
    return ZONE_WORDS_PT + 12.0 if beside else _MARGINS.left


def draw_lay(
    estimate: Estimate, unit: Unit, *, ax: Axes | None = None, view: View | None = None
) -> list[Artist]:
    """Draw one cloth's lay.

    Parameters
    ----------
    estimate : Estimate
    unit : Unit
        The person's; the tapes are in centimetres or inches.
    ax : matplotlib Axes or None
        Where to draw; None makes a figure of its own, reached by ``artists[0].figure``.
    view : View or None
        A stretch of the cloth to draw alone; None draws all of it.

    Returns
    -------
    list of Artist
        Each with a group id (``get_gid``): ``piece-3-cut-line``, ``stretch-1-fold-edge``, ...

    Notes
    -----
    Words are fitted to the size the axes have when this is called: size the figure first.
    """
    with drawing_settings():
        axes = _own_figure(estimate)[1] if ax is None else ax
        shown = view or whole_view(estimate)
        canvas = _canvas(estimate, axes, shown)
        draw_ground(canvas, estimate, unit, shown)
        with canvas.beside_the_cloth():
            _draw_tapes(canvas, estimate, unit, shown)
        flaws = seen_blocked(estimate.lay, ground_of(estimate).x1)
        draw_blocked(canvas, flaws)
        items = [item for item in numbered(estimate.lay) if visible(item.shape.cut_line, shown) is not None]
        inner_lines = [draw_piece(canvas, item) for item in items]
        name_blocked(canvas, flaws, [item.shape.cut_line for item in items], shown)
        draw_repeat_lines(canvas, estimate, shown)
        labels = _labels(canvas, items, inner_lines, shown)
        for item, label in zip(items, labels, strict=True):
            if label is not None:
                with canvas.beside_the_cloth():  # a callout may stand in the margin
                    draw_label(canvas, item, label)
        taken = [*canvas.taken, *(label.box for label in labels if label is not None)]
        for item, lines in zip(items, inner_lines, strict=True):
            down = item.placed.face is Face.DOWN
            ground = FACE_DOWN if down else None
            draw_names(canvas, item.shape, lines, taken, unit, f"piece-{item.number}", ground=ground)
    return canvas.artists


def png_bytes(estimate: Estimate, unit: Unit, dpi: float = 110.0) -> bytes:
    """The lay alone as a PNG picture; the same input gives the same bytes."""
    with drawing_settings():
        figure, axes = _own_figure(estimate)
        draw_lay(estimate, unit, ax=axes)
        target = BytesIO()
        figure.savefig(target, format="png", dpi=dpi, facecolor="white")
    return target.getvalue()


def _own_figure(estimate: Estimate) -> tuple[Figure, Axes]:
    """A new figure that the lay just fills, and axes over the whole of it."""
    from matplotlib.figure import Figure

    scale = min(mm_per_pt(estimate, *_PICTURE_PT), _COARSEST_PICTURE_MM_PER_PT)
    width, height = drawn_size_pt(estimate, scale)
    figure = Figure(figsize=(max(width, _LEAST_PICTURE_PT) / 72, max(height, _LEAST_PICTURE_PT) / 72))
    return figure, figure.add_axes((0.0, 0.0, 1.0, 1.0))


def _canvas(estimate: Estimate, ax: Axes, view: View) -> Canvas:
    """Set the axes' limits so that the cloth in view and the room round it just fit, top left."""
    inches = ax.figure.get_figure(root=True).dpi_scale_trans.inverted()
    box = ax.get_window_extent().transformed(inches)
    width_pt, height_pt = box.width * 72, box.height * 72
    scale = mm_per_pt(estimate, width_pt, height_pt, view)
    ground = ground_of(estimate)
    x0 = view.x0 - _left_pt(estimate) * scale
    y1 = ground.y1 + _top_pt(estimate, scale, view) * scale
    ax.set_xlim(x0, x0 + width_pt * scale)
    ax.set_ylim(y1 - height_pt * scale, y1)
    ax.set_aspect("equal", adjustable="datalim")
    ax.set_axis_off()
    low, high = ax.get_ylim()
    return Canvas(ax, scale, None if view.of == 1 else (view.x0, low, view.x1, high))


def _draw_tapes(canvas: Canvas, estimate: Estimate, unit: Unit, view: View) -> None:
    """One along the near edge, one across at the first end, and at the last end where that lies otherwise."""
    lay = estimate.lay
    ground = ground_of(estimate)
    away = (_TAPE_FROM_EDGE_PT + 2) * canvas.mm_per_pt
    y, start = ground.y0 - away, max(0.0, view.x0)
    draw_tape(canvas, Tape((start, y), (view.x1, y), (0.0, -1.0), start), unit, "tape-along")
    shown = stretches_in(lay, view)
    first, last = lay.stretches[shown[0]][0], lay.stretches[shown[-1]][-1]
    tapes = {"tape-across": (first, view.x0 - away, -1.0)}
    if ruler(last, lay.cloth) != ruler(first, lay.cloth):
        tapes["tape-across-last"] = (last, view.x1 + away, 1.0)
    for gid, (section, x, side) in tapes.items():
        low, high = _tape_across(estimate, section)
        draw_tape(canvas, Tape((x, low), (x, high), (side, 0.0)), unit, gid)


def _tape_across(estimate: Estimate, section: LaySection) -> tuple[float, float]:
    """From the edge that distances are measured from to the opposite one."""
    stretch = next(one for one in estimate.lay.stretches if section in one)
    side = across(stretch, estimate.lay.cloth)
    measured = ruler(section, estimate.lay.cloth)
    return measured.at_mm, side.high if measured.inwards > 0 else side.low


def _labels(
    canvas: Canvas, items: Sequence[Numbered], inner_lines: Sequence[InnerLines], view: View
) -> list[Label | None]:
    """A label for every placement: inside what is shown of its piece where it fits, else beside it."""
    import shapely

    labels: dict[int, Label] = {}
    homeless: list[tuple[int, tuple[float, float]]] = []
    for item, lines in zip(items, inner_lines, strict=True):
        outline, share = visible(item.shape.cut_line, view) or (item.shape.cut_line, 1.0)
        label = fit_label(
            item.number,
            printable(item.placed.piece),
            which_text(item.placed, item.side),
            label_to_mind(item),
            outline,
            lines,
            canvas.mm_per_pt,
        )
        if label is not None:
            labels[item.number] = label
        elif share > _SHARE_TO_NAME:
            point = shapely.Polygon(outline).buffer(0).representative_point()
            homeless.append((item.number, (point.x, point.y)))
    outside = callouts(
        homeless,
        [item.shape.cut_line for item in items],
        [*canvas.taken, *(label.box for label in labels.values())],
        _free_ground(canvas),
        canvas.mm_per_pt,
    )
    labels.update({label.number: label for label in outside})
    return [labels.get(item.number) for item in items]


def _free_ground(canvas: Canvas) -> tuple[float, float, float, float]:
    """All of the axes, a hair inside their frame."""
    hair = canvas.mm_per_pt
    (x0, x1), (y0, y1) = canvas.ax.get_xlim(), canvas.ax.get_ylim()
    return x0 + hair, y0 + hair, x1 - hair, y1 - hair
