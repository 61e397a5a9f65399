"""The repeat of a matched cloth over its lay: thin dotted lines where its pattern comes again."""

from __future__ import annotations

import math
from collections.abc import Iterator

from nesting.cutting.lay import LaySection
from nesting.cutting.plan.lines import across_line_mm
from nesting.drawing.ink.pen import Pen
from nesting.drawing.lay.across import across
from nesting.drawing.lay.view import View
from nesting.estimate.estimate import Estimate
from nesting.pattern.match import Axis

__all__ = ["draw_repeat_lines", "every_how_many"]

_APART_PT = 9.0
"""Lines closer than this would hide the pieces; then only some are drawn."""


def draw_repeat_lines(pen: Pen, estimate: Estimate, view: View) -> None:
    """Draw the lines in each direction that anything is matched in."""
    for axis in Axis:
        matched = [meeting for meeting in estimate.meetings if meeting.axis is axis]
        if not matched:
            continue
        step = every_how_many(matched[0].repeat_mm, pen.mm_per_pt) * matched[0].repeat_mm
        strokes = list((_bars if axis is Axis.ALONG else _stripes)(estimate, step, view))
        if strokes:
            pen.lines(strokes, "line of the repeat", f"repeat-{axis}")


def every_how_many(repeat_mm: float, mm_per_pt: float) -> int:
    """Each line, or each so-manieth where they would lie too close.

    >>> every_how_many(80.0, 4.0), every_how_many(10.0, 4.0)
    (1, 4)
    """
    return max(1, math.ceil(_APART_PT * mm_per_pt / repeat_mm))


def _bars(estimate: Estimate, step_mm: float, view: View) -> Iterator[list[tuple[float, float]]]:
    """Across the cloth, from the straightened end on."""
    for stretch in estimate.lay.stretches:
        side = across(stretch, estimate.lay.cloth)
        low = max(view.x0, stretch[0].start_mm, 0.0)
        high = min(view.x1, stretch[0].start_mm + stretch[0].length_mm)
        for k in range(math.ceil(low / step_mm - 1e-9), math.floor(high / step_mm + 1e-9) + 1):
            yield [(k * step_mm, side.low), (k * step_mm, side.high)]


def _stripes(estimate: Estimate, step_mm: float, view: View) -> Iterator[list[tuple[float, float]]]:
    """Along the cloth, in each section from its own line on."""
    for section in estimate.lay.sections:
        x0, x1 = max(view.x0, section.start_mm), min(view.x1, section.start_mm + section.length_mm)
        line = _line_mm(estimate, section)
        if line is None or x1 <= x0:
            continue
        first = math.ceil(-line / step_mm - 1e-9)
        last = math.floor((section.width_mm - line) / step_mm + 1e-9)
        for k in range(first, last + 1):
            y = section.across_mm + line + k * step_mm
            yield [(x0, y), (x1, y)]


def _line_mm(estimate: Estimate, section: LaySection) -> float | None:
    """A main line in the section's coordinates; where none is known, a line that the first points meet on."""
    cloth = estimate.lay.cloth
    line = across_line_mm(cloth, section.spread)
    if line is not None:
        return line
    first = next(meeting for meeting in estimate.meetings if meeting.axis is Axis.ACROSS)
    return first.past_mm - cloth.washed_selvedge_mm
