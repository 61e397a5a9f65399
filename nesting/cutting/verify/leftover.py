"""Judges what is said to be left over: all of it cloth, none of it in a piece, a flaw or another.

It opens the lay out anew; nothing here looks at how a rectangle or a small piece was found.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.flat.opening import in_the_round
from nesting.cutting.flat.rebuilding import blocked_areas, cut_polygons
from nesting.cutting.flat.spare import opened_lay
from nesting.cutting.lay import Lay
from nesting.cutting.left import LeftOver, SmallPlaced
from nesting.cutting.verify.faults import OVERLAP_TOLERANCE_MM
from nesting.errors import LayRefused
from nesting.fault import Fault, FaultKind

__all__ = ["SIZE_TOLERANCE_MM", "LeftFault", "leftover_faults", "require_free"]

SIZE_TOLERANCE_MM = 0.05
"""A small piece measures what was asked for to within this, half the width of a pencil line."""
_ANGLE_TOLERANCE_DEG = 1e-6
_ANGLES_DEG = {Lie.ALONG: {0}, Lie.ACROSS: {90}, Lie.EITHER: {0, 90}, Lie.BIAS: {45, 135}}


class LeftFault(FaultKind):
    """What can be wrong with what is said to be left over."""

    OFF_THE_CLOTH = "{name} is not all on the cloth"
    LIES_OVER = "{name} lies over {other}"
    NOT_AS_ASKED = "'{name}' is not as asked for"
    TOO_OFTEN = "'{name}' comes out more often than asked"


def require_free(lay: Lay, spare_mm: float, left: LeftOver) -> None:
    """Raise `LayRefused`, listing every fault, unless all that is told is really left over."""
    found = leftover_faults(lay, spare_mm, left)
    if found:
        raise LayRefused(f"What is left of '{lay.cloth.name}' is not shown: " + "; ".join(found))


def leftover_faults(lay: Lay, spare_mm: float, left: LeftOver) -> tuple[Fault, ...]:
    """Everything wrong with what is said to be left over, in words.

    Parameters
    ----------
    lay : Lay
    spare_mm : float
        Length of cloth beyond the lay, washed, between the straightened ends.
    left : LeftOver
    """
    opened = opened_lay(lay, spare_mm)
    selvedge, usable = lay.cloth.washed_selvedge_mm, lay.cloth.usable_width_mm
    round_and_round = in_the_round(opened.stretches[0])
    low = -usable / 2 if round_and_round else selvedge
    slack = OVERLAP_TOLERANCE_MM
    cloth = shapely.box(-slack, low - slack, opened.length_mm + slack, low + usable + slack)
    taken = [(f"'{name}' {copy}", outline) for name, copy, outline in cut_polygons(opened)]
    taken += [
        (f"'{name}'", area.buffer(max(0.0, one.keep_off_mm - slack)))
        for (name, area), one in zip(blocked_areas(lay.cloth), lay.cloth.blocked, strict=True)
    ]
    if round_and_round:
        taken += [
            (name, affinity.translate(one, 0.0, step)) for name, one in taken for step in (-usable, usable)
        ]
    told = [
        (f"rectangle {number}", shapely.box(one.x0, one.u0, one.x1, one.u1))
        for number, one in enumerate(left.rectangles, start=1)
    ]
    told += [(f"'{one.small.name}'", shapely.Polygon(one.outline)) for one in left.placed]
    found: list[Fault] = []
    for k, (name, shape) in enumerate(told):
        if not cloth.covers(shape):
            found.append(LeftFault.OFF_THE_CLOTH.of(name=name))
        core = shape.buffer(-slack, join_style="mitre")
        others = [*taken, *told[:k]]
        found += [
            LeftFault.LIES_OVER.of(name=name, other=other) for other, area in others if core.intersects(area)
        ]
    found += [LeftFault.NOT_AS_ASKED.of(name=one.small.name) for one in left.placed if not _as_asked(one)]
    found += [LeftFault.TOO_OFTEN.of(name=small.name) for small in left.asked if _more(left, small)]
    return tuple(found)


def _more(left: LeftOver, small: SmallPiece) -> bool:
    return sum(one.small is small for one in left.placed) > small.count


def _as_asked(one: SmallPlaced) -> bool:
    """Whether it has the size that was asked for, and lies on the threads as it should."""
    ring, small = one.outline, one.small
    if small.round:
        middle = shapely.Polygon(ring).centroid
        return bool(shapely.Polygon(ring).boundary.distance(middle) >= small.width_mm / 2 - SIZE_TOLERANCE_MM)
    if len(ring) != 4:
        return False
    sides = np.roll(ring, -1, axis=0) - ring
    lengths = np.hypot(sides[:, 0], sides[:, 1])
    angles = np.degrees(np.arctan2(sides[:, 1], sides[:, 0])) % 180
    ways = _ANGLES_DEG[small.lie]
    for first in (0, 1):
        sized = np.allclose(
            lengths[[first, 1 - first]], (small.length_mm, small.width_mm), atol=SIZE_TOLERANCE_MM
        )
        if sized and any(abs((angles[first] - way + 90) % 180 - 90) < _ANGLE_TOLERANCE_DEG for way in ways):
            return bool(np.isclose(shapely.Polygon(ring).area, small.length_mm * small.width_mm))
    return False
