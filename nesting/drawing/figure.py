"""A cloth's lay as a picture to cut from.

x runs along the cloth to the right, y across it; the axes are in millimetres of cloth, equally
scaled. Every piece carries a number; the distances that place it stand in a table beside the
drawing (see `nesting.drawing.pages`).
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING

from nesting.cutting.lay import LaySection
from nesting.cutting.placing import Numbered, copies_text, numbered, ruler
from nesting.drawing.across import across
from nesting.drawing.callouts import callouts
from nesting.drawing.canvas import Canvas
from nesting.drawing.ground import ZONE_WORDS_PT, draw_ground, ground_of
from nesting.drawing.labels import InnerLines, Label, fit_label
from nesting.drawing.look import drawing_settings
from nesting.drawing.pieces import draw_label, draw_piece, label_how
from nesting.drawing.tape import Tape, draw_tape
from nesting.drawing.text import printable
from nesting.estimate.estimate import Estimate
from nesting.units import Unit

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["draw_lay", "drawn_size_pt", "mm_per_pt", "png_bytes", "svg_bytes"]


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
_LEAST_PICTURE_PT = 330.0
"""and neither side is shorter than this, so that titles fit."""
_TAPE_FROM_EDGE_PT = 15.0


def mm_per_pt(estimate: Estimate, width_pt: float, height_pt: float) -> float:
    """Millimetres of cloth to a point of the page, when the lay is drawn as large as fits.

    The scale of the drawing is one to ``72 / 25.4`` times this.
    """
    ground = ground_of(estimate)
    return max(
        (ground.x1 - ground.x0) / (width_pt - _left_pt(estimate) - _MARGINS.right),
        (ground.y1 - ground.y0) / (height_pt - _MARGINS.top - _MARGINS.bottom),
    )


def drawn_size_pt(estimate: Estimate, scale: float) -> tuple[float, float]:
    """Width and height that the drawing takes at that many millimetres to a point."""
    ground = ground_of(estimate)
    return (
        (ground.x1 - ground.x0) / scale + _left_pt(estimate) + _MARGINS.right,
        (ground.y1 - ground.y0) / scale + _MARGINS.top + _MARGINS.bottom,
    )


def _left_pt(estimate: Estimate) -> float:
    """Room on the left, more of it where the number of layers is told there."""
    return _MARGINS.left if len(estimate.lay.stretches[0]) == 1 else ZONE_WORDS_PT + 12.0


def draw_lay(estimate: Estimate, unit: Unit, *, ax: Axes | None = None) -> list[Artist]:
    """Draw one cloth's lay.

    Parameters
    ----------
    estimate : Estimate
    unit : Unit
        The person's; the tapes are in centimetres or inches.
    ax : matplotlib Axes or None
        Where to draw; None makes a figure of its own, reached by ``artists[0].figure``.

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
        canvas = _canvas(estimate, axes)
        draw_ground(canvas, estimate, unit)
        _draw_tapes(canvas, estimate, unit)
        items = numbered(estimate.lay)
        inner_lines = [draw_piece(canvas, item) for item in items]
        for item, label in zip(items, _labels(canvas, items, inner_lines), strict=True):
            if label is not None:
                draw_label(canvas, item, label)
    return canvas.artists


def png_bytes(estimate: Estimate, unit: Unit, dpi: float = 110.0) -> bytes:
    """The lay alone as a PNG picture; the same input gives the same bytes."""
    return _saved(estimate, unit, "png", dpi)


def svg_bytes(estimate: Estimate, unit: Unit) -> bytes:
    """The lay alone as an SVG picture whose words are text; the same input gives the same bytes."""
    return _saved(estimate, unit, "svg", 72.0)


def _saved(estimate: Estimate, unit: Unit, kind: str, dpi: float) -> bytes:
    with drawing_settings():
        figure, axes = _own_figure(estimate)
        draw_lay(estimate, unit, ax=axes)
        target = BytesIO()
        # A date would make every run differ; matplotlib leaves out what is None.
        metadata = {"Date": None} if kind == "svg" else None
        figure.savefig(target, format=kind, dpi=dpi, facecolor="white", metadata=metadata)
    return target.getvalue()


def _own_figure(estimate: Estimate) -> tuple[Figure, Axes]:
    """A new figure that the lay just fills, and axes over the whole of it."""
    from matplotlib.figure import Figure

    width, height = drawn_size_pt(estimate, mm_per_pt(estimate, *_PICTURE_PT))
    figure = Figure(figsize=(max(width, _LEAST_PICTURE_PT) / 72, max(height, _LEAST_PICTURE_PT) / 72))
    return figure, figure.add_axes((0.0, 0.0, 1.0, 1.0))


def _canvas(estimate: Estimate, ax: Axes) -> Canvas:
    """Set the axes' limits so that the cloth and the room round it just fit, top left."""
    inches = ax.figure.get_figure(root=True).dpi_scale_trans.inverted()
    box = ax.get_window_extent().transformed(inches)
    width_pt, height_pt = box.width * 72, box.height * 72
    scale = mm_per_pt(estimate, width_pt, height_pt)
    ground = ground_of(estimate)
    x0 = ground.x0 - _left_pt(estimate) * scale
    y1 = ground.y1 + _MARGINS.top * scale
    ax.set_xlim(x0, x0 + width_pt * scale)
    ax.set_ylim(y1 - height_pt * scale, y1)
    ax.set_aspect("equal", adjustable="datalim")
    ax.set_axis_off()
    return Canvas(ax, scale)


def _draw_tapes(canvas: Canvas, estimate: Estimate, unit: Unit) -> None:
    """One along the near edge, one across at the first end, and at the last end where that lies otherwise."""
    lay = estimate.lay
    ground = ground_of(estimate)
    away = (_TAPE_FROM_EDGE_PT + 2) * canvas.mm_per_pt
    y = ground.y0 - away
    draw_tape(canvas, Tape((0.0, y), (ground.x1, y), (0.0, -1.0)), unit, "tape-along")
    tapes = {"tape-across": (lay.sections[0], ground.x0 - away, -1.0)}
    last = lay.sections[-1]
    if ruler(last, lay.cloth) != ruler(lay.sections[0], lay.cloth):
        tapes["tape-across-last"] = (last, ground.x1 + away, 1.0)
    for gid, (section, x, side) in tapes.items():
        start, end = _tape_across(estimate, section)
        draw_tape(canvas, Tape((x, start), (x, end), (side, 0.0)), unit, gid)


def _tape_across(estimate: Estimate, section: LaySection) -> tuple[float, float]:
    """From the edge that distances are measured from to the opposite one."""
    stretch = next(one for one in estimate.lay.stretches if section in one)
    side = across(stretch, estimate.lay.cloth)
    measured = ruler(section, estimate.lay.cloth)
    return measured.at_mm, side.high if measured.inwards > 0 else side.low


def _labels(canvas: Canvas, items: tuple[Numbered, ...], inner_lines: list[InnerLines]) -> list[Label | None]:
    """A label for every placement: inside its piece where it fits, else beside it with a line."""
    import shapely

    labels: dict[int, Label] = {}
    for item, lines in zip(items, inner_lines, strict=True):
        label = fit_label(
            item.number,
            printable(item.placed.piece),
            copies_text(item.placed),
            label_how(item),
            item.shape.cut_line,
            lines,
            canvas.mm_per_pt,
        )
        if label is not None:
            labels[item.number] = label
    homeless = []
    for item in items:
        if item.number not in labels:
            point = shapely.Polygon(item.shape.cut_line).buffer(0).representative_point()
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
