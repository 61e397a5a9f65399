"""A tape along an edge of the drawing, in the person's unit."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.pen import Align
from nesting.drawing.ink.text import SMALLEST_PT, text_width_pt
from nesting.units import Unit, mm_per

__all__ = ["Tape", "draw_tape", "steps"]

_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""Between numbered marks, in the tape's unit."""
_PARTS = {1: 1, 2: 2, 5: 5}
_NUMBER_GAP_PT = 8.0
_MARK_GAP_PT = 2.2
_LONG_PT, _SHORT_PT = 6.0, 3.0


@dataclass(frozen=True, slots=True)
class Tape:
    """Where a tape lies, lay mm.

    Attributes
    ----------
    start, end : (x, y)
        Zero (or `first_mm`) and the far end; level or straight up.
    outward : (x, y)
        Unit vector to the side where marks and numbers stand.
    first_mm : float
        What the tape shows at its start, on a page that begins in the midst of the cloth.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    outward: tuple[float, float]
    first_mm: float = 0.0


def steps(length_mm: float, unit: Unit, mm_per_pt: float) -> tuple[int, int]:
    """Units from number to number and from mark to mark, so that neither crowds.

    >>> steps(1500.0, Unit.CM, 4.0)
    (10, 1)
    """
    shown = _shown(unit)
    unit_pt = mm_per(shown) / mm_per_pt
    widest = text_width_pt(str(round(length_mm / mm_per(shown))), SMALLEST_PT)
    numbered = next((s for s in _STEPS if s * unit_pt >= widest + _NUMBER_GAP_PT), _STEPS[-1])
    leading = int(str(numbered)[0])
    for parts in (10, 5, _PARTS[leading]):
        if numbered % parts == 0 and numbered / parts * unit_pt >= _MARK_GAP_PT:
            return numbered, numbered // parts
    return numbered, numbered


def draw_tape(canvas: Canvas, tape: Tape, unit: Unit, gid: str) -> None:
    """Draw the tape: a line, marks, and the number beside every long mark."""
    start, end, out = np.array(tape.start), np.array(tape.end), np.array(tape.outward)
    length = float(np.hypot(*(end - start)))
    along = (end - start) / length
    shown = _shown(unit)
    numbered, marked = steps(tape.first_mm + length, unit, canvas.mm_per_pt)
    shown_mm = mm_per(shown)
    first = marked * ceil(tape.first_mm / shown_mm / marked - 1e-9)
    last = int((tape.first_mm + length) / shown_mm + 1e-6)
    canvas.line(np.array([start, end]), "tape", f"{gid}-line")
    level = abs(along[0]) > abs(along[1])
    marks = []
    for value in range(first, last + 1, marked):
        foot = start + along * (value * shown_mm - tape.first_mm)
        long = value % numbered == 0
        tip = foot + out * (_LONG_PT if long else _SHORT_PT) * canvas.mm_per_pt
        marks.append((foot, tip))
        if long:
            words = str(value) if value - numbered >= first else f"{value} {shown}"
            clear = _LONG_PT + (5.5 if level else 2.0)
            at = foot + out * clear * canvas.mm_per_pt
            align: Align = "center" if level else ("right" if out[0] < 0 else "left")
            canvas.words((float(at[0]), float(at[1])), words, SMALLEST_PT, f"{gid}-number", align=align)
    canvas.lines(marks, "tape", f"{gid}-marks")
    corners = np.array([start, end, start + out * _LONG_PT * canvas.mm_per_pt])
    canvas.taken.append((*corners.min(axis=0).tolist(), *corners.max(axis=0).tolist()))


def _shown(unit: Unit) -> Unit:
    """A cloth is measured in centimetres even where the paper was measured in millimetres."""
    return Unit.CM if unit is Unit.MM else unit
