"""The cloth under the pieces: selvedges, fold, cut ends, and where it is spread another way.

The whole cloth is drawn, not only the strip that is laid on: end allowances, the length left over by
the shop's step, and the selvedges.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.cloth.cloth import Cloth, RightSide, Spread
from nesting.cutting.lay import LaySection
from nesting.cutting.placing import selvedge_mm
from nesting.drawing.canvas import Canvas
from nesting.drawing.look import CLOTH, SELVEDGE
from nesting.drawing.text import LINE_HEIGHT, text_width_pt, wrapped
from nesting.estimate.estimate import Estimate
from nesting.units import Unit, format_length

__all__ = ["EDGE_WORDS_PT", "Ground", "draw_ground", "ground_of", "section_words"]

EDGE_WORDS_PT = 8.0
_WORDS_EVERY_PT = 260.0


@dataclass(frozen=True, slots=True)
class Ground:
    """Outer limits of the cloth as it lies, lay mm."""

    x0: float
    x1: float
    y0: float
    y1: float


def ground_of(estimate: Estimate) -> Ground:
    """Where the cloth lies: cut end to cut end, outer edge to outer edge."""
    lay = estimate.lay
    end = lay.cloth.end_allowance_mm
    sides = [_sides(section, selvedge_mm(lay.cloth)) for section in lay.sections]
    return Ground(
        x0=-end,
        x1=lay.length_mm + end + estimate.spare_mm,
        y0=min(low for low, _ in sides),
        y1=max(high for _, high in sides),
    )


def section_words(section: LaySection, cloth: Cloth) -> str:
    """How a stretch of the cloth lies."""
    two_sided = cloth.right_side is RightSide.BOTH
    if section.layers == 2:
        return f"folded lengthwise{'' if two_sided else ', right side inside'}, two layers"
    return f"opened out{'' if two_sided else ', right side up'}, one layer"


def draw_ground(canvas: Canvas, estimate: Estimate, unit: Unit) -> None:
    """Draw the cloth and what its edges are."""
    lay = estimate.lay
    ground = ground_of(estimate)
    last = len(lay.sections) - 1
    for index, section in enumerate(lay.sections):
        x0 = ground.x0 if index == 0 else section.start_mm
        x1 = ground.x1 if index == last else section.start_mm + section.length_mm
        _draw_section(canvas, estimate, index, (x0, x1), ground)
    _draw_ends(canvas, estimate, ground, unit)


def _sides(section: LaySection, breadth: float) -> tuple[float, float]:
    """Outer edges of the cloth across: the fold is its own edge, else there is a selvedge."""
    low = 0.0 if section.spread is Spread.LENGTHWISE_FOLD else -breadth
    return low, section.width_mm + breadth


def _draw_section(
    canvas: Canvas, estimate: Estimate, index: int, span: tuple[float, float], ground: Ground
) -> None:
    section, breadth = estimate.lay.sections[index], selvedge_mm(estimate.lay.cloth)
    x0, x1 = span
    low, high = _sides(section, breadth)
    name = f"section-{index + 1}"
    canvas.area(_rectangle(x0, x1, low, high), CLOTH, f"{name}-cloth", "cloth")
    canvas.area(_rectangle(x0, x1, section.width_mm, high), SELVEDGE, f"{name}-far-selvedge", "cloth")
    canvas.line([(x0, high), (x1, high)], "selvedge", f"{name}-far-selvedge-edge")
    row = EDGE_WORDS_PT * canvas.mm_per_pt
    limits = _limits(canvas, span, first=index == 0, last=index == len(estimate.lay.sections) - 1)
    if section.spread is Spread.LENGTHWISE_FOLD:
        canvas.line([(x0, 0.0), (x1, 0.0)], "fold", f"{name}-fold-edge", "outline")
        _along(canvas, "fold", span, limits, -1.15 * row, f"{name}-fold-words")
        _along(canvas, "both selvedges", span, limits, high + row, f"{name}-far-selvedge-words")
    else:
        canvas.area(_rectangle(x0, x1, low, 0.0), SELVEDGE, f"{name}-near-selvedge", "cloth")
        canvas.line([(x0, low), (x1, low)], "selvedge", f"{name}-near-selvedge-edge")
        _along(canvas, "near selvedge", span, limits, low - 1.15 * row, f"{name}-near-selvedge-words")
        _along(canvas, "far selvedge", span, limits, high + row, f"{name}-far-selvedge-words")
    title = section_words(section, estimate.lay.cloth)
    title_y = high + 2.4 * row
    if index > 0:
        title = f"from here: {title}"
        line = [(section.start_mm, ground.y0), (section.start_mm, title_y - 0.8 * row)]
        canvas.line(line, "change of spread", f"{name}-change-of-spread", "outline")
        # Nothing stands to the left of this title: the stretch before is half as high.
        limits = (canvas.ax.get_xlim()[0], limits[1])
    _draw_title(canvas, title, x0, limits, title_y, f"{name}-title")


def _limits(canvas: Canvas, span: tuple[float, float], *, first: bool, last: bool) -> tuple[float, float]:
    """How far along a stretch's words may reach: past its cut end, not over its neighbour."""
    pad = 3 * canvas.mm_per_pt
    left, right = canvas.ax.get_xlim()
    return (left if first else span[0]) + pad, (right if last else span[1]) - pad


def _draw_title(
    canvas: Canvas, title: str, x0: float, limits: tuple[float, float], y: float, gid: str
) -> None:
    """A stretch's title from its start, moved left or broken into lines where that is too long."""
    room_pt = max(40.0, (limits[1] - limits[0]) / canvas.mm_per_pt)
    lines = wrapped(title, room_pt, EDGE_WORDS_PT, bold=True)
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


def _draw_ends(canvas: Canvas, estimate: Estimate, ground: Ground, unit: Unit) -> None:
    lay = estimate.lay
    breadth = selvedge_mm(lay.cloth)
    row = EDGE_WORDS_PT * canvas.mm_per_pt
    ends = (
        ("first", lay.sections[0], ground.x0, 0.0, -1),
        ("last", lay.sections[-1], ground.x1, lay.length_mm, 1),
    )
    for name, section, cut, straight, outward in ends:
        low, high = _sides(section, breadth)
        canvas.line([(cut, low), (cut, high)], "cut end", f"{name}-cut-end")
        canvas.line([(straight, low), (straight, high)], "straightened end", f"{name}-straightened-end")
        at = (cut + outward * row, (low + high) / 2)
        canvas.words(at, "cut end", EDGE_WORDS_PT, f"{name}-cut-end-words", upright=False)
    if estimate.spare_mm > 1.6 * row:
        left = ground.x1 - estimate.spare_mm
        canvas.line([(left, low), (left, high)], "straightened end", "spare-line")
        words = f"spare {format_length(estimate.spare_mm, unit)}"
        middle = ((left + ground.x1) / 2, (low + high) / 2)
        canvas.words(middle, words, EDGE_WORDS_PT, "spare-words", upright=False)


def _rectangle(
    x0: float, x1: float, y0: float, y1: float
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
