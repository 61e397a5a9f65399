"""The cloth under the pieces: selvedges, fold, cut ends, and where it is spread another way.

The whole cloth is drawn, not only the strip that is laid on: end allowances, the length left over by
the shop's step, and the selvedges.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cutting.lay import Lay, LaySection
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import CLOTH, SELVEDGE
from nesting.drawing.ink.text import LINE_HEIGHT, text_width_pt, wrapped
from nesting.drawing.lay.across import across
from nesting.drawing.lay.page_ends import draw_page_ends
from nesting.drawing.lay.view import View
from nesting.estimate.estimate import Estimate
from nesting.units import Unit, format_length
from nesting.words.spreads import layer_words, stretch_words, words_of

__all__ = [
    "EDGE_WORDS_PT",
    "ZONE_WORDS_PT",
    "Ground",
    "draw_ground",
    "ground_of",
    "stretches_in",
    "title_rows",
]

EDGE_WORDS_PT = 8.0
ZONE_WORDS_PT = 46.0
"""Number of layers, told from so far left of the cloth where sections lie side by side."""
_WORDS_EVERY_PT = 260.0


@dataclass(frozen=True, slots=True)
class Ground:
    """Outer limits of the cloth as it lies, lay mm."""

    x0: float
    x1: float
    y0: float
    y1: float


def ground_of(estimate: Estimate) -> Ground:
    """Where the cloth lies: cut end to cut end or to a crosswise fold, outer edge to outer edge."""
    lay = estimate.lay
    end = lay.cloth.end_allowance_mm
    sides = [across(stretch, lay.cloth) for stretch in lay.stretches]
    return Ground(
        x0=-end,
        x1=lay.table_mm + (0.0 if _ends_in_a_fold(lay) else end) + _spare_mm(estimate),
        y0=min(side.low for side in sides),
        y1=max(side.high for side in sides),
    )


def stretches_in(lay: Lay, view: View) -> tuple[int, ...]:
    """Which of the stretches a view shows something of."""
    last = len(lay.stretches) - 1
    return tuple(
        index
        for index, (first, *_) in enumerate(lay.stretches)
        if (index == 0 or first.start_mm < view.x1)
        and (index == last or first.start_mm + first.length_mm > view.x0)
    )


def draw_ground(canvas: Canvas, estimate: Estimate, unit: Unit, view: View) -> None:
    """Draw the cloth and what its edges are, as far as the view reaches."""
    lay = estimate.lay
    ground = ground_of(estimate)
    shown = stretches_in(lay, view)
    for index in shown:
        _draw_stretch(canvas, lay, index, _span(lay, index, ground, view), ground, view)
    _draw_ends(canvas, estimate, ground, unit, view)
    if len(lay.stretches[shown[0]]) > 1:
        _draw_layers(canvas, lay.stretches[shown[0]], view)
    draw_page_ends(canvas, view, unit, (ground.y0, ground.y1))


def _span(lay: Lay, index: int, ground: Ground, view: View) -> tuple[float, float]:
    """From where to where along the cloth a stretch is shown, its cut end included."""
    stretch = lay.stretches[index]
    x0 = ground.x0 if index == 0 else stretch[0].start_mm
    x1 = ground.x1 if index == len(lay.stretches) - 1 else stretch[0].start_mm + stretch[0].length_mm
    return max(x0, view.x0), min(x1, view.x1)


def _ends_in_a_fold(lay: Lay) -> bool:
    return lay.stretches[-1][0].spread.facts.fold_across


def _spare_mm(estimate: Estimate) -> float:
    """What is left over, as long as it lies on the table."""
    return estimate.spare_mm / estimate.lay.stretches[-1][0].spread.facts.lengths


def _draw_stretch(
    canvas: Canvas, lay: Lay, index: int, span: tuple[float, float], ground: Ground, view: View
) -> None:
    stretch = lay.stretches[index]
    side = across(stretch, lay.cloth)
    x0, x1 = span
    name = f"stretch-{index + 1}"
    canvas.area(_rectangle(x0, x1, side.low, side.high), CLOTH, f"{name}-cloth", "cloth")
    for low, high, band in side.selvedges:
        canvas.area(_rectangle(x0, x1, low, high), SELVEDGE, f"{name}-{band}", "cloth")
    row = EDGE_WORDS_PT * canvas.mm_per_pt
    axes = canvas.ax.get_xlim()
    limits = _limits(axes, canvas.mm_per_pt, span, view)
    for edge in (side.near, side.far, *side.inner):
        layer = "outline" if edge.style == "fold" else "inside"
        canvas.line([(x0, edge.y_mm), (x1, edge.y_mm)], edge.style, f"{name}-{edge.name}", layer)
    near_words = f"{name}-{side.near.name.removesuffix('-edge')}-words"
    far_words = f"{name}-{side.far.name.removesuffix('-edge')}-words"
    with canvas.beside_the_cloth():
        _along(canvas, side.near.words, span, limits, side.low - 1.15 * row, near_words)
        _along(canvas, side.far.words, span, limits, side.high + row, far_words)
    title = _title(lay, index, view)
    title_y = side.high + 2.4 * row
    if index > 0 and stretch[0].start_mm > view.x0:
        line = [(x0, ground.y0), (x0, title_y - 0.8 * row)]
        canvas.line(line, "change of spread", f"{name}-change-of-spread", "outline")
        if lay.stretches[0][0].spread.facts.fold_across:
            before = across(lay.stretches[0], lay.cloth)
            canvas.line([(x0, before.low), (x0, before.high)], "fold", f"{name}-crosswise-fold", "outline")
    with canvas.beside_the_cloth():
        free = _title_limits(lay, index, view, limits)
        _draw_title(canvas, title, x0, free, title_y, f"{name}-title")


def _title(lay: Lay, index: int, view: View) -> str:
    """How a stretch lies, over its drawing."""
    stretch = lay.stretches[index]
    title = stretch_words(stretch, lay.cloth)
    if index > 0 and stretch[0].start_mm > view.x0:
        return f"{_from_here(lay, index)}: {title}"
    return title


def _from_here(lay: Lay, index: int) -> str:
    """What begins with that stretch, the second or a later one."""
    if lay.stretches[0][0].spread.facts.lengths == 2:
        return "cut off first"
    again = lay.stretches[index][0].spread is lay.stretches[index - 1][0].spread
    return f"length {index + 1}" if again else "from here"


def _draw_layers(canvas: Canvas, stretch: Sequence[LaySection], view: View) -> None:
    """How many layers, left of each of the sections that lie side by side."""
    for number, section in enumerate(stretch, start=1):
        room_pt = section.width_mm / canvas.mm_per_pt
        choices = (layer_words(section), f"{section.layers}")
        words = next((one for one in choices if text_width_pt(one, EDGE_WORDS_PT) < room_pt), "")
        at = (view.x0 - ZONE_WORDS_PT * canvas.mm_per_pt, section.across_mm + section.width_mm / 2)
        with canvas.beside_the_cloth():
            canvas.words(at, words, EDGE_WORDS_PT, f"section-{number}-layers", upright=False, bold=True)


def _limits(
    axes: tuple[float, float], mm_per_pt: float, span: tuple[float, float], view: View
) -> tuple[float, float]:
    """How far along a stretch's words may reach: past its cut end, not over its neighbour."""
    pad = 3 * mm_per_pt
    (left, right), (x0, x1) = axes, span
    return (left if x0 <= view.x0 else x0) + pad, (right if x1 >= view.x1 else x1) - pad


def _title_limits(lay: Lay, index: int, view: View, limits: tuple[float, float]) -> tuple[float, float]:
    """How far a title may reach: to the left too, over a stretch before it that is less high."""
    first, stretch = lay.stretches[0], lay.stretches[index]
    begins_here = index > 0 and stretch[0].start_mm > view.x0
    if begins_here and across(first, lay.cloth).high < across(stretch, lay.cloth).high:
        return view.x0, limits[1]
    return limits


def _title_lines(title: str, limits: tuple[float, float], mm_per_pt: float) -> tuple[str, ...]:
    room_pt = max(40.0, (limits[1] - limits[0]) / mm_per_pt)
    return wrapped(title, room_pt, EDGE_WORDS_PT, bold=True)


def title_rows(estimate: Estimate, view: View, mm_per_pt: float, axes: tuple[float, float]) -> int:
    """How many lines of words stand over the cloth where most do.

    Parameters
    ----------
    axes : (float, float)
        From where to where along the cloth the drawing reaches, its margins included.
    """
    lay, ground = estimate.lay, ground_of(estimate)
    rows = []
    for index in stretches_in(lay, view):
        limits = _limits(axes, mm_per_pt, _span(lay, index, ground, view), view)
        title = _title(lay, index, view)
        rows.append(len(_title_lines(title, _title_limits(lay, index, view, limits), mm_per_pt)))
    return max(rows)


def _draw_title(
    canvas: Canvas, title: str, x0: float, limits: tuple[float, float], y: float, gid: str
) -> None:
    """A stretch's title from its start, moved left or broken into lines where that is too long."""
    lines = _title_lines(title, limits, canvas.mm_per_pt)
    wide = max(text_width_pt(line, EDGE_WORDS_PT, bold=True) for line in lines) * canvas.mm_per_pt
    start = max(limits[0], min(x0, limits[1] - wide))
    for k, line in enumerate(reversed(lines)):
        at = (start, y + k * LINE_HEIGHT * EDGE_WORDS_PT * canvas.mm_per_pt)
        canvas.words(at, line, EDGE_WORDS_PT, gid, align="left", bold=True)


def _along(
    canvas: Canvas,
    words: str,
    span: tuple[float, float],
    limits: tuple[float, float],
    y: float,
    gid: str,
) -> None:
    """The words along an edge, again and again where it is long."""
    x0, x1 = span
    times = max(1, int((x1 - x0) / canvas.mm_per_pt / _WORDS_EVERY_PT))
    half = text_width_pt(words, EDGE_WORDS_PT) * canvas.mm_per_pt / 2
    for k in range(times):
        x = x0 + (x1 - x0) * (k + 0.5) / times
        canvas.words((max(limits[0] + half, min(x, limits[1] - half)), y), words, EDGE_WORDS_PT, gid)


def _draw_ends(canvas: Canvas, estimate: Estimate, ground: Ground, unit: Unit, view: View) -> None:
    lay = estimate.lay
    folded = _ends_in_a_fold(lay)
    first, last = (
        words_of(stretch[0].spread, lay.cloth) for stretch in (lay.stretches[0], lay.stretches[-1])
    )
    ends = (
        ("first", first.ends[0], lay.stretches[0], ground.x0, 0.0, view.starts),
        ("last", last.ends[1], lay.stretches[-1], ground.x1, lay.table_mm, view.ends),
    )
    for name, said, stretch, cut, straight, shown in ends:
        side = across(stretch, lay.cloth)
        edge = [(cut, side.low), (cut, side.high)]
        if folded and name == "last":
            canvas.line(edge, "fold", "crosswise-fold", "outline")
        else:
            canvas.line(edge, "cut end", f"{name}-cut-end")
            line = [(straight, side.low), (straight, side.high)]
            canvas.line(line, "straightened end", f"{name}-straightened-end")
            if lay.cloth.end_allowance_mm > 0:
                told = (
                    "straighten to the broken line" if name == "first" else "the lay ends at the broken line"
                )
                said = _fuller(f"{said}: {told}", said, (side.high - side.low) / canvas.mm_per_pt)
        if shown:
            outward = EDGE_WORDS_PT * canvas.mm_per_pt * (-1 if name == "first" else 1)
            at = (cut + outward, (side.low + side.high) / 2)
            with canvas.beside_the_cloth():
                canvas.words(at, said, EDGE_WORDS_PT, f"{name}-cut-end-words", upright=False)
    _draw_spare(canvas, estimate, ground, unit)


def _fuller(full: str, brief: str, room_pt: float) -> str:
    """The full words where they fit."""
    return full if text_width_pt(full, EDGE_WORDS_PT) < room_pt else brief


def _draw_spare(canvas: Canvas, estimate: Estimate, ground: Ground, unit: Unit) -> None:
    """What the shop's step leaves over, where it is long enough to be told."""
    stretch = estimate.lay.stretches[-1]
    side = across(stretch, estimate.lay.cloth)
    spare = _spare_mm(estimate)
    if spare > 1.6 * EDGE_WORDS_PT * canvas.mm_per_pt:
        left = ground.x1 - spare
        canvas.line([(left, side.low), (left, side.high)], "spare", "spare-line")
        double = ", double" if stretch[0].spread.facts.lengths == 2 else ""
        words = f"spare {format_length(spare, unit)}{double}"
        middle = ((left + ground.x1) / 2, (side.low + side.high) / 2)
        canvas.words(middle, words, EDGE_WORDS_PT, "spare-words", upright=False)


def _rectangle(
    x0: float, x1: float, y0: float, y1: float
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
