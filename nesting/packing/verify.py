"""Is this a lay? Asked of problem and placements alone, with shapely, sharing no code with the search.

What counts as a fault is named here: lengths are compared to a millionth of the strip's width (0.0014 mm on
a cloth of 1400 mm) where rounding may touch them; two pieces overlap when the width of what they share,
twice its area over its perimeter, is more than that. No scissors follow a line that
closely.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon, STRtree

from nesting.fault import Fault, FaultKind
from nesting.packing.problem import EdgeRule, Item, Lattice, Placement, StripProblem, variant_outline

__all__ = ["RELATIVE_TOLERANCE", "PlacementFault", "violations"]

RELATIVE_TOLERANCE = 1e-6
"""Of the strip's width, for every length compared."""

GRID = 0.01
"""Of the tolerance: how finely shared parts are worked out."""


class PlacementFault(FaultKind):
    """What can be wrong with the placements of a strip problem."""

    NO_SUCH_ITEM = "a placement of item {item}, which does not exist"
    NO_SUCH_VARIANT = "{label} lies in variant {variant}, which is not allowed"
    TURNED = "{label} is turned {further_deg:.6g} degrees beyond its variant, which is not allowed"
    NO_PLACE = "{label} lies at no place at all"
    OTHER_NUMBER = "{label} is placed {times} times"
    NOT_ASKED_FOR = "{label} was not asked for"
    BEFORE = "{label} begins {off_mm:.6g} mm before the strip"
    OUT_OF_ITS_WINDOW = "{label} does not lie between {least_mm:.6g} and {most_mm:.6g} mm along the strip"
    BELOW = "{label} lies {off_mm:.6g} mm below the strip"
    ABOVE = "{label} lies {off_mm:.6g} mm above the strip"
    OFF_ITS_EDGE = "{label} is off its edge ({edge}): {low_mm:.6g} mm from low, {high_mm:.6g} from high"
    OFF_ITS_LATTICE = "{label} is {off_mm:.6g} mm off its lattice in {axis}"
    OVERLAP = "{label} and {other} overlap by {width_mm:.6g} mm"
    TOO_NEAR = "{label} and {other} are {apart_mm:.6g} mm apart, not {gap_mm:.6g}"


def violations(problem: StripProblem, placements: Sequence[Placement]) -> tuple[Fault, ...]:
    """Everything wrong with a lay, in words; empty when it is right.

    Checked: every item placed exactly as often as asked, each copy once; only allowed variants, and none
    turned further unless it may be; inside the strip; edge rules and lattices; no two items' insides overlap,
    nor an obstacle's; the gap is kept.
    """
    faults = _count_faults(problem, placements)
    if faults:
        return tuple(faults)
    tolerance = RELATIVE_TOLERANCE * problem.width_mm
    placed = []
    for placement in placements:
        item = problem.items[placement.item]
        ring = variant_outline(item.outline, item.presented(placement))
        ring = ring + np.array([placement.x_mm, placement.y_mm])
        faults += _place_faults(item, placement, ring, problem.width_mm, tolerance)
        placed.append(Polygon(ring))
    labels = [_label(problem.items[p.item], p.copy) for p in placements]
    return tuple(faults + _pair_faults(problem, placed, labels, tolerance))


def _label(item: Item, copy: int) -> str:
    return f"'{item.name}' copy {copy + 1}"


def _count_faults(problem: StripProblem, placements: Sequence[Placement]) -> list[Fault]:
    faults: list[Fault] = []
    seen: Counter[tuple[int, int]] = Counter()
    for placement in placements:
        if not 0 <= placement.item < len(problem.items):
            faults.append(PlacementFault.NO_SUCH_ITEM.of(item=placement.item))
            continue
        item = problem.items[placement.item]
        if not 0 <= placement.variant < len(item.variants):
            faults.append(
                PlacementFault.NO_SUCH_VARIANT.of(
                    label=_label(item, placement.copy), variant=placement.variant
                )
            )
        if placement.further_deg and not item.any_turn:
            faults.append(
                PlacementFault.TURNED.of(
                    label=_label(item, placement.copy), further_deg=placement.further_deg
                )
            )
        if not np.isfinite([placement.x_mm, placement.y_mm, placement.further_deg]).all():
            faults.append(PlacementFault.NO_PLACE.of(label=_label(item, placement.copy)))
        seen[placement.item, placement.copy] += 1
    for index, item in enumerate(problem.items):
        for copy in range(item.demand):
            times = seen.pop((index, copy), 0)
            if times != 1:
                faults.append(PlacementFault.OTHER_NUMBER.of(label=_label(item, copy), times=times))
    for index, copy in seen:
        faults.append(PlacementFault.NOT_ASKED_FOR.of(label=_label(problem.items[index], copy)))
    return faults


def _place_faults(
    item: Item,
    placement: Placement,
    ring: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    width: float,
    tolerance: float,
) -> list[Fault]:
    faults: list[Fault] = []
    label = _label(item, placement.copy)
    left, low = ring.min(axis=0)
    high = ring[:, 1].max()
    if left < -tolerance:
        faults.append(PlacementFault.BEFORE.of(label=label, off_mm=-left))
    least, most = item.x_window_mm
    if (least > 0 and left < least - tolerance) or ring[:, 0].max() > most + tolerance:
        faults.append(PlacementFault.OUT_OF_ITS_WINDOW.of(label=label, least_mm=least, most_mm=most))
    if low < -tolerance:
        faults.append(PlacementFault.BELOW.of(label=label, off_mm=-low))
    if high > width + tolerance:
        faults.append(PlacementFault.ABOVE.of(label=label, off_mm=high - width))
    at_low, at_high = abs(low) <= tolerance, abs(high - width) <= tolerance
    wanted = {EdgeRule.LOW: at_low, EdgeRule.HIGH: at_high, EdgeRule.EITHER: at_low or at_high}
    if not wanted.get(item.edge, True):
        faults.append(
            PlacementFault.OFF_ITS_EDGE.of(label=label, edge=item.edge, low_mm=low, high_mm=width - high)
        )
    variant = item.variants[placement.variant]
    for axis, lattice, phase, value in (
        ("x", item.x_lattice, variant.x_phase_mm, placement.x_mm),
        ("y", item.y_lattice, variant.y_phase_mm, placement.y_mm),
    ):
        off = 0.0 if lattice is None else _off_lattice(lattice, value - phase)
        if off > tolerance:
            faults.append(PlacementFault.OFF_ITS_LATTICE.of(label=label, off_mm=off, axis=axis))
    return faults


def _off_lattice(lattice: Lattice, value: float) -> float:
    rest = (value - lattice.phase_mm) % lattice.repeat_mm
    return min(rest, lattice.repeat_mm - rest)


def _pair_faults(
    problem: StripProblem, placed: list[Polygon], labels: list[str], tolerance: float
) -> list[Fault]:
    shapes = placed + [Polygon(ring) for ring in problem.obstacles]
    names = labels + [f"obstacle {k + 1}" for k in range(len(problem.obstacles))]
    faults: list[Fault] = []
    reach = problem.gap_mm if problem.gap_mm > tolerance else 0.0
    tree = STRtree(shapes)
    for one, shape in enumerate(placed):
        for other in sorted(tree.query(shape, predicate="dwithin", distance=reach)):
            if other <= one:
                continue
            width = _shared_width(shape, shapes[other], tolerance * GRID)
            if width > tolerance:
                faults.append(PlacementFault.OVERLAP.of(label=names[one], other=names[other], width_mm=width))
            elif reach > 0 and shape.distance(shapes[other]) < reach - tolerance:
                apart = shape.distance(shapes[other])
                faults.append(
                    PlacementFault.TOO_NEAR.of(
                        label=names[one], other=names[other], apart_mm=apart, gap_mm=reach
                    )
                )
    return faults


def _shared_width(one: Polygon, other: Polygon, grid_mm: float) -> float:
    """Width of the widest part two polygons share: 2 area / perimeter, exact for a long thin sliver.

    Rounded to a grid: without one, GEOS 3.14 takes some polygons that only touch, their corners a rounding
    error apart, for one inside the other.
    """
    shared = shapely.intersection(one, other, grid_size=grid_mm)
    parts = [part for part in shapely.get_parts(shared) if part.area > 0]
    return max((2.0 * part.area / part.length for part in parts), default=0.0)
