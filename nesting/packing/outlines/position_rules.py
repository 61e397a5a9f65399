"""Where on the strip the centre of a shape's box may be: along and across, with edge rules and lattices."""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.problem import EdgeRule, Lattice

__all__ = ["slack_mm", "x_values", "y_values"]

SLACK = 1e-9
"""Of the strip's width: a piece exactly as wide as the strip fits."""

ROUNDED = 2
"""Grid units by which putting corners on the grid may make a piece wider."""


def slack_mm(width: float, scale: float) -> float:
    """By how many mm a piece may seem not to fit and still does; `scale` in grid units to a mm."""
    return SLACK * width + ROUNDED / scale


def y_values(
    half: float,
    centre: float,
    width: float,
    edge: EdgeRule,
    lattice: Lattice | None,
    slack: float,
) -> FloatArray | None:
    """First value, step and number of the y a shape's centre may have; None where it has none.

    Zero in the last place: anything between `half` and ``width - half``. All in mm.
    """
    room = width - 2 * half
    if room < -slack:
        return None
    low, high = half, max(half, width - half)
    ends = {EdgeRule.LOW: [low], EdgeRule.HIGH: [high], EdgeRule.EITHER: [low, high]}.get(edge)
    if ends is not None:
        if lattice is not None:
            off = [(y - centre - lattice.phase_mm) / lattice.repeat_mm for y in ends]
            near = [abs(o - round(o)) * lattice.repeat_mm <= slack for o in off]
            ends = [y for y, fits in zip(ends, near, strict=True) if fits]
        if not ends:
            return None
        return np.array([ends[0], ends[-1] - ends[0] if len(ends) > 1 else 1.0, float(len(ends))])
    if lattice is not None:
        return _lattice_values(low, high, centre, lattice, slack)
    return np.array([low, 0.0, 0.0])


def _lattice_values(
    low: float, high: float, centre: float, lattice: Lattice, slack: float
) -> FloatArray | None:
    phase, repeat = lattice.phase_mm + centre, lattice.repeat_mm
    first = int(np.ceil((low - phase) / repeat - slack / repeat))
    last = int(np.floor((high - phase) / repeat + slack / repeat))
    if last < first:
        return None
    return np.array([phase + first * repeat, repeat, float(last - first + 1)])


def x_values(
    half: float,
    centre: float,
    lattice: Lattice | None,
    slack: float,
    window: tuple[float, float] = (0.0, np.inf),
) -> FloatArray | None:
    """First x a shape's centre may have, step (0 without a lattice) and last; None where it has none."""
    least, most = max(0.0, window[0]) + half, window[1] - half
    first, step = least, 0.0
    if lattice is not None:
        phase, step = lattice.phase_mm + centre, lattice.repeat_mm
        first = phase + int(np.ceil((least - phase) / step - slack / step)) * step
    if first > most + slack:
        return None
    return np.array([first, step, max(first, most)])
