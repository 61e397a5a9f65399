"""Pattern × cloth × spread → what the engine is asked: one strip problem for each zone of the cloth.

Terms
-----
batch
    One shape to be placed a number of times, and what cutting round it gives.
seat
    A way for a lot of the demand to lie: in which zone, giving what, on which fold.

Geometry
--------
Cutting round a paper piece where the cloth lies double gives the piece and its mirror image, whichever face
of the paper is up. In one layer, right side up, paper face up gives the piece and paper face down its
mirror image. A crosswise fold turns the upper layer end for end: the mirror image comes out turned by
half, so only what may be turned so is cut double there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from nesting.cloth.cloth import Cloth, RightSide
from nesting.cutting.lay import Yield
from nesting.cutting.plan.demand import Lot, Wanted
from nesting.cutting.plan.flaws import obstacles
from nesting.cutting.plan.holds import pin_point
from nesting.cutting.plan.lines import Lines
from nesting.cutting.plan.spreading import Zone
from nesting.geometry import FloatArray, signed_area
from nesting.packing.outlines.angles import every_variant, least_along
from nesting.packing.problem import EdgeRule, Item, Lattice, StripProblem, Variant, variant_outline
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.piece import CutKind, Turn
from nesting.pattern.unfold import unfolded
from nesting.pattern.wish import Pin

__all__ = [
    "FIT_TOLERANCE_MM",
    "Batch",
    "Seat",
    "ZoneBatches",
    "fill",
    "least_along_mm",
    "measures",
    "opened_problem",
    "pinned_outline",
    "round_flaws",
    "seats",
]

FIT_TOLERANCE_MM = 1e-6
"""Float noise allowed when a piece is exactly as wide as the cloth."""
_ONCE_MM = 1e6
"""A repeat that comes once on any cloth: what is held to it has one place across."""


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """A shape to be placed once for every entry of `copies`.

    Attributes
    ----------
    want : Wanted
        What it is a part of.
    shape : CutShape
        As given to the engine: cloth coordinates, paper face up; opened out where a half is cut whole.
    yields : Yield
    copies : tuple of tuple of int
        For each placement, the numbers of the cut pieces it gives, counted from 1.
    item : Item
        The same for the engine.
    tilts_deg : tuple of float
        For each variant of the item, how far the grain line lies off the warp; empty where it never does.
    """

    want: Wanted
    shape: CutShape
    yields: Yield
    copies: tuple[tuple[int, ...], ...]
    item: Item
    tilts_deg: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class ZoneBatches:
    """One zone of the cloth and all that is to be placed on it, which may be nothing."""

    zone: Zone
    batches: tuple[Batch, ...]
    problem: StripProblem


@dataclass(frozen=True, slots=True, order=True)
class Seat:
    """A way for a lot to lie.

    Attributes
    ----------
    zone : int
        Index in the layout.
    yields : Yield
        What one placement gives.
    edge : EdgeRule
        The fold that a fold piece lies on.
    """

    zone: int
    yields: Yield
    edge: EdgeRule = EdgeRule.FREE


def seats(lot: Lot, layout: Sequence[Zone], cloth: Cloth, lines: Lines | None = None) -> tuple[Seat, ...]:
    """Every way in which the lot goes onto the zones, each wide enough, its lines kept."""
    found: list[Seat] = []
    for index, zone in enumerate(layout):
        if zone.layers == 1:
            ways = [(Yield.ONE, EdgeRule.FREE)]
        elif lot.on_fold:
            edges = ((EdgeRule.LOW, zone.fold.low), (EdgeRule.HIGH, zone.fold.high))
            ways = [(Yield.WHOLE_ON_FOLD, edge) for edge, there in edges if there]
        elif lot.pair and (_may_be_turned(lot.want) or not zone.spread.facts.fold_across):
            ways = [(Yield.PAIR, EdgeRule.FREE)]
        else:
            ways = []
        if lot.want.hold.at_first and zone.stretch:
            continue  # places and parts of the length are those of the first stretch
        for yields, edge in ways:
            seat = Seat(index, yields, edge)
            wide_enough = measures(lot.want, yields)[1] <= zone.width_mm + FIT_TOLERANCE_MM
            if wide_enough and _on_its_lines(lot, seat, zone, cloth, lines):
                found.append(seat)
    return tuple(found)


def fill(
    lots: Sequence[Lot],
    seated: Sequence[Seat],
    layout: Sequence[Zone],
    cloth: Cloth,
    lines: Lines | None = None,
) -> tuple[ZoneBatches, ...]:
    """The zones with their strip problems, every lot on its seat and held to its lines.

    A stretch on which nothing lies is left out.
    """
    lain_on = {layout[seat.zone].stretch for seat in seated}
    zones = []
    for index, zone in enumerate(layout):
        groups: dict[tuple[int, Seat], tuple[Wanted, list[tuple[int, ...]]]] = {}
        for lot, seat in zip(lots, seated, strict=True):
            if seat.zone == index:
                groups.setdefault((id(lot.want), seat), (lot.want, []))[1].append(lot.copies)
        batches = [
            batch
            for (_, seat), (want, copies) in groups.items()
            for batch in _batches(want, seat, copies, cloth, lines)
        ]
        if zone.stretch in lain_on:
            problem = StripProblem(zone.width_mm, tuple(batch.item for batch in batches), cloth.gap_mm)
            zones.append(ZoneBatches(zone, tuple(batches), problem))
    return tuple(zones)


def round_flaws(
    zones: Sequence[ZoneBatches], cloth: Cloth, start_mm: float, table_mm: float | None = None
) -> tuple[ZoneBatches, ...]:
    """The zones with the flaws that lie in them when the second stretch begins at `start_mm`.

    `table_mm` is half the cloth, where it lies double across.
    """
    layout = [one.zone for one in zones]
    return tuple(
        replace(
            one,
            problem=replace(
                one.problem,
                obstacles=obstacles(
                    cloth,
                    layout,
                    one.zone,
                    start_mm=start_mm if one.zone.stretch else 0.0,
                    table_mm=table_mm,
                ),
            ),
        )
        for one in zones
    )


@lru_cache(maxsize=1024)
def measures(want: Wanted, yields: Yield) -> tuple[float, float, float]:
    """Along and across the cloth, and in area, what one placement takes: mm, mm, mm2.

    Along and across are those of the box upright where the piece may not lie otherwise, else of the
    narrowest that any allowed turn gives.
    """
    shape = unfolded(want.shape) if want.count.kind is CutKind.ON_FOLD and yields is Yield.ONE else want.shape
    edge = EdgeRule.LOW if yields is Yield.WHOLE_ON_FOLD else EdgeRule.FREE
    (batch,) = _batch(want, shape, yields, [(1,)], (False, True), edge)
    boxes = (_box(shape, variant) for variant in every_variant(batch.item, np.inf))
    along, across = min(boxes, key=lambda box: (round(box[1], 6), box[0]))
    return along, across, _area(shape)


def least_along_mm(want: Wanted, width_mm: float) -> float | None:
    """What the piece measures along the cloth at least, as it may be turned; None where none goes across."""
    shape = unfolded(want.shape) if want.count.kind is CutKind.ON_FOLD else want.shape
    if want.any_turn:
        along_mm, _ = least_along(shape.cut_line, width_mm + FIT_TOLERANCE_MM)
        return None if math.isinf(along_mm) else along_mm
    boxes = (_box(shape, Variant(angle)) for angle in want.angles_deg)
    return min((along for along, across in boxes if across <= width_mm + FIT_TOLERANCE_MM), default=None)


def pinned_outline(want: Wanted, cloth: Cloth) -> FloatArray | None:
    """Where a pinned piece is cut, (N, 2), on the strip of its spread; None where it is not pinned."""
    pin = want.hold.pin
    if pin is None:
        return None
    on_fold = want.count.kind is CutKind.ON_FOLD
    opened = on_fold and not cloth.asked_double
    shape = unfolded(want.shape) if opened else want.shape
    edge = EdgeRule.LOW if on_fold and not opened else EdgeRule.FREE
    (batch,) = _batch(want, shape, Yield.ONE, [want.copies], (False, True), edge)
    ring = variant_outline(shape.cut_line, batch.item.variants[0])
    point = pin_point(shape, pin.point)
    at = (ring.min(axis=0) + ring.max(axis=0)) / 2
    if point is not None:
        at = batch.item.variants[0].matrix() @ point
    placed: FloatArray = ring + np.array([pin.along_mm, pin.across_mm]) - at
    return placed


def opened_problem(wants: Sequence[Wanted], cloth: Cloth) -> StripProblem:
    """All that is wanted in one layer, by a rule so kind that every lay in any spread, opened out, obeys it.

    No gap is kept, for layers opened out at a fold may touch there. A shape that is taken for its own mirror
    image may lie either face up, for the lower layer gives it one way and the upper the other.
    """
    items = []
    for want in wants:
        numbers = want.copies
        if want.shape.symmetric and want.count.kind is not CutKind.ON_FOLD and not want.handed:
            batches = _batch(want, want.shape, Yield.ONE, [(n,) for n in numbers], (False, True))
        else:
            batches = _single_batches(want, numbers, cloth)
        items += [batch.item for batch in batches]
    return StripProblem(cloth.usable_width_mm, tuple(items))


def _box(shape: CutShape, variant: Variant) -> tuple[float, float]:
    placed = variant_outline(shape.cut_line, variant)
    along, across = (placed.max(axis=0) - placed.min(axis=0)).tolist()
    return along, across


def _area(shape: CutShape) -> float:
    return abs(signed_area(shape.cut_line))


def _may_be_turned(want: Wanted) -> bool:
    """Whether the mirror image may come out turned by half."""
    return want.turn is not Turn.NONE


def _on_its_lines(lot: Lot, seat: Seat, zone: Zone, cloth: Cloth, lines: Lines | None) -> bool:
    """Whether all that the seat takes has a place on its lines."""
    if lines is None or not lot.want.matched:
        return True
    free = _batches(lot.want, seat, [lot.copies], cloth, None)
    return all(
        lines.has_place(batch.shape, batch.yields, batch.item.variants, zone.width_mm) for batch in free
    )


def _batches(
    want: Wanted, seat: Seat, copies: list[tuple[int, ...]], cloth: Cloth, lines: Lines | None
) -> list[Batch]:
    if seat.yields is Yield.ONE:
        return _single_batches(want, [n for numbers in copies for n in numbers], cloth, lines)
    symmetric_pair = seat.yields is Yield.PAIR and want.shape.symmetric
    faces = (False,) if symmetric_pair else (False, True)
    return _batch(want, want.shape, seat.yields, copies, faces, seat.edge, lines)


def _single_batches(
    want: Wanted, numbers: Sequence[int], cloth: Cloth, lines: Lines | None = None
) -> list[Batch]:
    """In a single layer: each piece placed by itself."""
    every = [(n,) for n in numbers]

    def batch(shape: CutShape, copies: Sequence[tuple[int, ...]], *mirrored: bool) -> list[Batch]:
        return _batch(want, shape, Yield.ONE, copies, mirrored, lines=lines)

    if want.count.kind is CutKind.ON_FOLD:
        return batch(unfolded(want.shape), every, False)
    if want.shape.symmetric and not want.handed:
        return batch(want.shape, every, False)
    if cloth.right_side is RightSide.BOTH and not want.handed:
        return batch(want.shape, every, False, True)
    if want.count.kind is CutKind.SINGLE:
        return batch(want.shape, every, want.count.mirrored)
    lefts = [(n,) for n in numbers if n % 2 == 1]
    rights = [(n,) for n in numbers if n % 2 == 0]
    return batch(want.shape, lefts, False) + batch(want.shape, rights, True)


def _batch(
    want: Wanted,
    shape: CutShape,
    yields: Yield,
    copies: Sequence[tuple[int, ...]],
    mirrored: tuple[bool, ...],
    edge: EdgeRule = EdgeRule.FREE,
    lines: Lines | None = None,
) -> list[Batch]:
    """One batch, or none where there is nothing to place."""
    if not copies:
        return []
    variants = [Variant(angle, flip) for flip in mirrored for angle in want.angles_deg]
    if edge is not EdgeRule.FREE:
        variants = [variant for variant in variants if _fold_edge_is_at(shape, variant, edge)]
    window, pinned_y = want.hold.window_mm, None
    if want.hold.pin is not None:
        variants, window, pinned_y = _pinned(shape, variants, want.hold.pin, edge)
    held, on_x, on_y = (tuple(variants), None, None) if lines is None else lines.hold(shape, yields, variants)
    item = Item(
        name=want.piece.name,
        outline=shape.cut_line,
        demand=len(copies),
        variants=held,
        edge=edge,
        x_lattice=on_x,
        y_lattice=on_y or pinned_y,
        x_window_mm=window,
        any_turn=want.any_turn and edge is EdgeRule.FREE and want.hold.pin is None,
    )
    return [Batch(want, shape, yields, tuple(copies), item)]


def _pinned(
    shape: CutShape, variants: Sequence[Variant], pin: Pin, edge: EdgeRule
) -> tuple[list[Variant], tuple[float, float], Lattice | None]:
    """How a pinned piece lies, the part of the length that it just takes, and its line across."""
    angle = 180.0 if pin.turned else 0.0
    variant = next((one for one in variants if one.angle_deg == angle), Variant(angle))
    ring = variant_outline(shape.cut_line, variant)
    low, high = ring.min(axis=0), ring.max(axis=0)
    point = pin_point(shape, pin.point)
    at = (low + high) / 2 if point is None else variant.matrix() @ point
    x, y = pin.along_mm - float(at[0]), pin.across_mm - float(at[1])
    window = float(low[0]) + x, float(high[0]) + x
    return [variant], window, Lattice(_ONCE_MM, y) if edge is EdgeRule.FREE else None


_FARTHEST: Mapping[EdgeRule, int] = {EdgeRule.LOW: -1, EdgeRule.HIGH: 1}


def _fold_edge_is_at(shape: CutShape, variant: Variant, edge: EdgeRule) -> bool:
    """Whether this variant has the fold edge along that side, all of the piece inside it."""
    if shape.fold_edge is None:
        raise ValueError(f"piece '{shape.name}' has no fold edge")
    side = _FARTHEST[edge]
    fold = side * (shape.fold_edge @ variant.matrix().T)[:, 1]
    farthest = float((side * variant_outline(shape.cut_line, variant)[:, 1]).max())
    return bool(abs(fold - farthest).max() < 1e-6)
