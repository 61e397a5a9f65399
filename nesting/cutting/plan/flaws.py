"""Flaws and missing corners of a cloth in hand, as obstacles in each zone of a spread.

A piece laid where the cloth is double is cut through both layers, so a flaw in either is in its way. No
cutting line comes nearer to it than the person wishes, so it is taken for that much larger all round. Where a
flaw comes to lie follows from how the cloth is folded, beginning as it lay when the flaws were measured:
right side up, its first cut end on the left, its near selvedge towards us. Let F be the full width as it
lies, s the breadth of a selvedge, T the table under a stretch; X and u are along from the straightened end
and across from the near selvedge's outer edge.

*Open.* ``x = X - start``, ``y = u - s``.

*Lengthwise fold.* The fold is in the middle, the near half folded over: ``y = u - F/2`` below, and above
``y = F/2 - u``.

*Part fold.* The fold is where the depth folded over ends, and y is counted from it both ways.

*Double fold.* As a part fold at the near side; at the far side, what lies beyond the far fold comes back.

*Crosswise fold.* At X = T: ``x = X`` below, ``2T - X`` above.

*Two lengths.* Cut through at X = T; the far half is turned end for end and laid face down: ``x = X - T``, and
across ``y = F - s - u``.

The last two depend on where the middle of the cloth is, which for a cloth in hand is known; with a flaw in
it, it is folded as a whole. A tube's flaws are measured with it cut open, so it is laid open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import assert_never

import numpy as np

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import Spread, no_way_to_lie
from nesting.cutting.lay import Fold
from nesting.cutting.plan.spreading import Zone
from nesting.geometry import FloatArray, counter_clockwise

__all__ = ["SLIVER_MM", "halved_mm", "kept_clear", "obstacles"]

SLIVER_MM = 1e-3
"""What is narrower, twice its area over its perimeter, is in no one's way."""


@dataclass(frozen=True, slots=True)
class _Seen:
    """Where a layer shows the cloth: ``x = along * X + x_mm``, ``y = across * u + y_mm``."""

    along: int
    x_mm: float
    across: int
    y_mm: float


def halved_mm(cloth: Cloth, spread: Spread) -> float | None:
    """Table that a flawed cloth takes when it is laid double across as a whole; None for other spreads."""
    room = cloth.room_mm
    return room / 2 if room is not None and cloth.blocked and spread.facts.lengths == 2 else None


def obstacles(
    cloth: Cloth, layout: Sequence[Zone], zone: Zone, *, start_mm: float = 0.0, table_mm: float | None = None
) -> tuple[FloatArray, ...]:
    """What of the zone nothing may lie on, in its strip's coordinates, counter-clockwise.

    Parameters
    ----------
    cloth : Cloth
    layout : sequence of Zone
        All of the spread's, in order.
    zone : Zone
        One of them.
    start_mm : float
        Where its stretch begins on the cloth.
    table_mm : float, optional
        Half the cloth, where it lies double across.
    """
    if not cloth.blocked:
        return ()
    import shapely

    far = np.inf if table_mm is None else table_mm
    strip = shapely.box(0.0, 0.0, min(far, 1e7), zone.width_mm)
    found = []
    for ring in kept_clear(cloth):
        for seen in _layers(cloth, layout, zone, start_mm, table_mm or 0.0):
            moved = ring * np.array([seen.along, seen.across]) + np.array([seen.x_mm, seen.y_mm])
            for part in shapely.get_parts(shapely.intersection(shapely.Polygon(moved), strip)):
                # The sliver of a flaw that all but ends at an edge is narrower than any tolerance.
                if isinstance(part, shapely.Polygon) and 2 * part.area > SLIVER_MM * part.length:
                    found.append(counter_clockwise(np.array(part.exterior.coords)[:-1]))
    return tuple(found)


def kept_clear(cloth: Cloth) -> list[FloatArray]:
    """What no cutting line enters, from the straightened end, washed: flaws larger by what is kept off them.

    Corners run on to a point, so that a box stays a box.
    """
    import shapely

    kept = np.array([cloth.kept_along, cloth.kept_across])
    straightened = np.array([cloth.end_allowance_mm, 0.0])
    found = []
    for one in cloth.blocked:
        ring = np.array(one.outline, dtype=np.float64) * kept - straightened
        if one.keep_off_mm > 0:
            larger = shapely.Polygon(ring).buffer(one.keep_off_mm, join_style="mitre")
            ring = np.array(larger.exterior.coords)[:-1]
        found.append(ring)
    return found


def _layers(
    cloth: Cloth, layout: Sequence[Zone], zone: Zone, start_mm: float, table_mm: float
) -> tuple[_Seen, ...]:
    selvedge = cloth.washed_selvedge_mm
    full = cloth.usable_width_mm + 2 * selvedge
    match zone.spread:
        case Spread.LENGTHWISE_FOLD:
            return _both_ways(start_mm, full / 2)
        case Spread.PART_FOLD:
            fold = layout[0].width_mm + selvedge
            if zone.layers == 2:
                return _both_ways(start_mm, fold)
            return (_Seen(1, -start_mm, 1, -fold - zone.across_mm),)
        case Spread.DOUBLE_FOLD:
            near = (layout[0].width_mm + layout[1].across_mm) / 2
            if zone.fold is Fold.LOW:
                return _both_ways(start_mm, near)
            table = zone.across_mm + zone.width_mm
            below = _Seen(1, -start_mm, 1, -near - zone.across_mm)
            return below, _Seen(1, -start_mm, -1, near + 2 * table - zone.across_mm)
        case Spread.CROSSWISE_FOLD:
            return _Seen(1, 0.0, 1, -selvedge), _Seen(-1, 2 * table_mm, 1, -selvedge)
        case Spread.TWO_LENGTHS:
            return _Seen(1, 0.0, 1, -selvedge), _Seen(1, -table_mm, -1, full - selvedge)
        case Spread.TUBE:
            raise ValueError("the flaws of a tube are measured with it cut open: lay it open")
        case Spread.OPEN:
            return (_Seen(1, -start_mm, 1, -selvedge),)
        case Spread.BEST:
            no_way_to_lie(zone.spread)
        case _:
            assert_never(zone.spread)


def _both_ways(start_mm: float, fold_mm: float) -> tuple[_Seen, _Seen]:
    """From a fold at that distance from the near selvedge's outer edge, beyond it and back."""
    return _Seen(1, -start_mm, 1, -fold_mm), _Seen(1, -start_mm, -1, fold_mm)
