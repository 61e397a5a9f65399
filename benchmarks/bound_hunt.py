"""A hunt for a lower bound above a lay: ``python -m benchmarks.bound_hunt --cases N --seed S``.

Most cases are made from lays, so that one of known length exists. A strip is cut up along straight lines
and zigzags; the pieces, turned and mirrored at random and allowed to be turned back, fit it again. A stretch
of it may be there two or three times, shifted, turned or mirrored: its pieces are then copies of one item, or
items of their own that are each other's mirror images. Where a piece touches a side it may be bound to it;
it may be held to lattices that it lies on, or to a part of the strip that holds it, often exactly; some may
lie at any angle; some are not asked for and stand as obstacles, or are left out; a gap is made by cutting
round every piece. The engine has no part in these.

Such lays can mostly be mirrored as a whole, which hides what a bound may wrongly take for symmetric. So for
each there are `PAIRS` smaller ones of another sort: one or two outlines, a left and a right of each, some not
free to lie in every turn all along the strip. They are laid by a short search; the lay is verified.

Prints a JSON line for each case whose bound is above its lay (the function named makes it again from the seed
and the case's number), then one for each kind of case, and one for all: how many, and the bound as a share of
the length, in the mean and at most. Exit code 1 if any bound was above.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import fmean

import numpy as np
import shapely
from shapely.ops import split

from nesting.geometry import FloatArray, counter_clockwise
from nesting.packing import EdgeRule, Item, Lattice, Placement, StripProblem, Variant
from nesting.packing.bounds.bound import lower_bound
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build
from nesting.packing.problem import WHOLE_STRIP, variant_outline
from nesting.packing.turning import finite

__all__ = ["KINDS", "KnownLay", "bound_of", "cut_lay", "cut_up", "flipped", "hunt", "laid_pairs"]

WAYS = (
    (Variant(0),),
    (Variant(0), Variant(180)),
    (Variant(0), Variant(180), Variant(0, True), Variant(180, True)),
    tuple(Variant(90.0 * k) for k in range(4)),
    (Variant(0), Variant(90)),
    (Variant(30), Variant(210, True), Variant(75)),
)

TURNED = (WAYS[3], WAYS[4], (Variant(30), Variant(75)))
"""Ways of which some reach farther along than others: a part of the strip may shut those out."""

FLIPS = ((1, 1), (-1, -1), (-1, 1), (1, -1))

PAIRS = 10
"""Lays of lefts and rights for each strip that is cut up: they are small, and take a tenth of the time."""

KINDS = (
    "cut up",
    "left and right, laid",
    "equal copies",
    "mirror images",
    "bound to a side",
    "lattices",
    "windows",
    "obstacles",
    "gap",
    "many vertices",
    "toothed",
    "any angle",
)

ROUNDING_MM = 1e-9
"""By how much a bound may seem to be above a lay that was put together by additions of its own."""


@dataclass(frozen=True, slots=True, eq=False)
class KnownLay:
    """A problem with a lay of it, and what is special in it (of `KINDS`)."""

    problem: StripProblem
    placements: tuple[Placement, ...]
    length_mm: float
    kinds: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class Seat:
    """Where a stretch of the strip lies: x and y multiplied by `flip`, then moved."""

    flip: tuple[int, int]
    shift: FloatArray

    def of(self, points: FloatArray) -> FloatArray:
        """Points of the stretch (in its own coordinates) as they lie on the strip."""
        return np.asarray(points * np.array(self.flip) + self.shift)


@dataclass(frozen=True, slots=True)
class Place:
    """One copy as it lies on the strip."""

    variant: Variant
    at: FloatArray
    ring: FloatArray


def cut_up(rng: np.random.Generator, length: float, width: float, pieces: int) -> list[shapely.Polygon]:
    """The polygons of a rectangle cut along random lines and zigzags."""
    parts = [shapely.box(0, 0, length, width)]
    while len(parts) < pieces:
        parts.sort(key=lambda part: part.area)
        part = parts.pop()
        x, y, X, Y = part.bounds
        middle = rng.uniform([x + 0.2 * (X - x), y + 0.2 * (Y - y)], [X - 0.2 * (X - x), Y - 0.2 * (Y - y)])
        angle = rng.choice([0.0, np.pi / 2, rng.uniform(0, np.pi)])
        ahead = np.array([np.cos(angle), np.sin(angle)]) * (X - x + Y - y)
        line = middle + np.linspace(-1, 1, 8)[:, None] * ahead
        if rng.random() < 0.6:
            line += np.outer(rng.normal(0, 0.06, 8), [-ahead[1], ahead[0]])
        halves = [half for half in split(part, shapely.LineString(line)).geoms if half.area > 0]
        if len(halves) < 2 or min(half.area for half in halves) < 0.01 * part.area:
            halves = [part]
        parts += halves
    return parts


def flipped(variant: Variant, flip: tuple[int, int]) -> Variant:
    """What shows an outline as `variant` does, but with x and y multiplied by `flip`."""
    along, across = flip
    angle, mirrored = variant.angle_deg, variant.mirrored
    if along * across < 0:
        angle, mirrored = -angle, not mirrored
    if along < 0:
        angle += 180.0
    return Variant(angle % 360.0, mirrored)


def cut_lay(seed: int, case: int = 0) -> KnownLay:
    """A problem made from a lay; the same for the same two numbers."""
    rng = np.random.default_rng([seed, case])
    width, gap = float(rng.uniform(20, 100)), float(rng.choice([0.0, 0.0, 0.5]))
    blocked, windowed = (rng.random() < share for share in (0.25, 0.35))
    items: list[Item] = []
    placements: list[Placement] = []
    obstacles: list[FloatArray] = []
    kinds = {"cut up", "gap"} if gap else {"cut up"}
    reach = 0.0
    for whole, seats in _stretches(rng, width, gap):
        part = whole.buffer(-gap / 2, join_style="mitre") if gap else whole
        if part.geom_type != "Polygon" or part.is_empty or part.interiors:
            continue
        lot = rng.random() if items else 1.0
        if lot < 0.04:  # waste
            continue
        ring = np.array(part.exterior.coords)[:-1]
        if blocked and lot < 0.3:
            obstacles += [seat.of(ring) for seat in seats]
            kinds.add("obstacles")
            continue
        edge = rng.random()
        if edge < 0.1:
            ring = _many_vertices(rng, part)
            kinds.add("many vertices")
        elif edge < 0.2:
            ring = _toothed(rng, part)
            kinds.add("toothed")
        for item, places in _asked_for(rng, ring, seats, width - gap, windowed):
            for copy, place in enumerate(places):
                variant = item.variants.index(place.variant)
                placements.append(Placement(len(items), copy, variant, *place.at.tolist()))
                reach = max(reach, float(place.ring[:, 0].max()))
            items.append(replace(item, name=f"part {len(items)}"))
            kinds |= _kinds_of(item)
        if len({seat.flip for seat in seats}) > 1 and items[-1].demand == 1:
            kinds.add("mirror images")
    if blocked and rng.random() < 0.3:  # behind the lay, in no one's way
        obstacles.append(np.array(shapely.box(reach + 1, 0, reach + 20, width).exterior.coords)[:-1])
        kinds.add("obstacles")
    if rng.random() < 0.3:
        items, placements = _freed(rng, items, placements)
        kinds |= {"any angle"} if any(item.any_turn for item in items) else set()
    # a hair less than was cut round each: corners are not to the last digit where they should be
    problem = StripProblem(width - gap, tuple(items), max(0.0, gap * (1 - 1e-6)), tuple(obstacles))
    return KnownLay(problem, tuple(placements), reach, frozenset(kinds))


def _freed(
    rng: np.random.Generator, items: list[Item], placements: list[Placement]
) -> tuple[list[Item], list[Placement]]:
    """Some or all of the items that are bound to nothing may lie at any angle, and do so."""
    share = rng.choice([0.5, 1.0])
    off = rng.uniform(-180.0, 180.0, len(items))
    free = [
        item.edge is EdgeRule.FREE
        and not item.x_lattice
        and not item.y_lattice
        and bool(rng.random() < share)
        for item in items
    ]
    freed = [
        replace(
            item,
            variants=tuple(replace(way, angle_deg=way.angle_deg - off[k]) for way in item.variants),
            any_turn=True,
        )
        if free[k]
        else item
        for k, item in enumerate(items)
    ]
    turned = [replace(one, further_deg=float(off[one.item])) if free[one.item] else one for one in placements]
    return freed, turned


def _stretches(
    rng: np.random.Generator, width: float, gap: float
) -> Iterator[tuple[shapely.Polygon, list[Seat]]]:
    """The parts of a strip, each with all the places where it is found.

    One stretch cut into some parts, or into few and found two or three times, one behind or beside the
    other; and sometimes another one before or behind all that.
    """
    length = float(rng.uniform(20, 150))
    more = np.array([rng.uniform(5, 60) if rng.random() < 0.3 else 0.0, width])
    before = bool(rng.random() < 0.5)
    start = np.array([more[0] if before else 0.0, 0.0]) - gap / 2
    even = bool(rng.random() < 0.3)  # all of it once more, mirrored end for end: where symmetry is used
    times = 2 if even else int(rng.choice([1, 1, 2, 2, 3]))
    beside = bool(rng.random() < 0.5)
    cell = np.array([length, width / times] if beside else [length / times, width])
    on = np.array([0.0, cell[1]] if beside else [cell[0], 0.0])
    flips = [(1, 1), (-1, 1)] if even else [FLIPS[rng.integers(len(FLIPS))] for _ in range(times)]
    seats = [_seat(flip, cell, start + k * on) for k, flip in enumerate(flips)]
    for part in cut_up(rng, *cell, int(rng.integers(2, 9) if times == 1 else rng.integers(1, 5))):
        yield part, seats
    if more[0] > 0:
        seat = _seat((1, 1), more, np.array([0.0 if before else length, 0.0]) - gap / 2)
        for part in cut_up(rng, *more, 1 if even else int(rng.integers(1, 4))):
            yield part, [seat]


def _seat(flip: tuple[int, int], cell: FloatArray, corner: FloatArray) -> Seat:
    """A cell with its lower left corner there, whichever way it lies."""
    return Seat(flip, corner + np.where(np.array(flip) < 0, cell, 0.0))


def _many_vertices(rng: np.random.Generator, part: shapely.Polygon) -> FloatArray:
    """As good as the same outline, with so many corners that the engine thins it."""
    ring = np.array(part.segmentize(part.length / 250).exterior.coords)[:-1]
    inside = np.array(part.representative_point().coords[0])
    ring = ring + 1e-3 * (inside - ring) * rng.random((len(ring), 1))
    return _if_inside(ring, part)


def _toothed(rng: np.random.Generator, part: shapely.Polygon) -> FloatArray:
    """The same outline with teeth cut into it, few enough corners but so rough that the engine thins it."""
    tooth = part.length / 160
    ring = np.array(part.segmentize(tooth).exterior.coords)[:-1]
    inwards = np.array(part.representative_point().coords[0]) - ring
    inwards *= rng.uniform(1.0, 4.0) * tooth / np.hypot(*inwards.T)[:, None]
    ring[1::2] += inwards[1::2]
    return _if_inside(ring, part)


def _if_inside(ring: FloatArray, part: shapely.Polygon) -> FloatArray:
    """The ring if it is simple and inside the part, else the part's own."""
    smaller = shapely.Polygon(ring)
    plain: FloatArray = np.array(part.exterior.coords)[:-1]
    return ring if smaller.is_valid and part.covers(smaller) else plain


def _asked_for(
    rng: np.random.Generator, ring: FloatArray, seats: Sequence[Seat], width: float, windowed: bool
) -> Iterator[tuple[Item, list[Place]]]:
    """The items that a part becomes, found in all these seats: one with copies, or one for each seat."""
    ways = WAYS[rng.integers(len(WAYS))]
    chosen = ways[rng.integers(len(ways))]
    reference = rng.uniform(-5, 5, 2)
    outline = counter_clockwise((ring - reference) @ np.linalg.inv(chosen.matrix()).T)
    places = [Place(flipped(chosen, seat.flip), seat.of(reference), seat.of(ring)) for seat in seats]
    if len(seats) == 1 or rng.random() < 0.5:
        needed = [place.variant for place in places]
        variants = tuple(dict.fromkeys([*(flipped(way, (1, 1)) for way in ways), *needed]))
        yield _bound_down(rng, Item("", outline, len(seats), variants), places, width, windowed)
        return
    for seat, place in zip(seats, places, strict=True):
        variants = tuple(flipped(way, seat.flip) for way in ways)
        yield _bound_down(rng, Item("", outline, 1, variants), [place], width, windowed)


def _bound_down(
    rng: np.random.Generator, item: Item, places: list[Place], width: float, windowed: bool
) -> tuple[Item, list[Place]]:
    """The item with rules that all its places keep to."""
    if rng.random() < 0.5:
        item = replace(item, edge=_side(rng, places, width))
    if windowed and rng.random() < 0.6:
        rings = np.concatenate([place.ring for place in places])
        low, high = rings[:, 0].min(), rings[:, 0].max()
        spare = rng.exponential(8.0, 2) * rng.integers(0, 2, 2)
        window = (max(0.0, float(low - spare[0])), float(high + spare[1]))
        item = replace(item, x_window_mm=window if rng.random() < 0.7 else (window[0], np.inf))
    lattices = [
        _lattice(rng, [float(p.at[k]) for p in places]) if rng.random() < 0.1 else None for k in (0, 1)
    ]
    return replace(item, x_lattice=lattices[0], y_lattice=lattices[1]), places


def _side(rng: np.random.Generator, places: list[Place], width: float) -> EdgeRule:
    """A side that all places touch, if there is one."""
    low = [bool(abs(place.ring[:, 1].min()) < 1e-9) for place in places]
    high = [bool(abs(place.ring[:, 1].max() - width) < 1e-9) for place in places]
    rules = [EdgeRule.LOW] * all(low) + [EdgeRule.HIGH] * all(high)
    rules += [EdgeRule.EITHER] * all(a or b for a, b in zip(low, high, strict=True))
    return rules[rng.integers(len(rules))] if rules else EdgeRule.FREE


def _lattice(rng: np.random.Generator, at: list[float]) -> Lattice | None:
    """One that these coordinates lie on, where they are one or two that are not too near."""
    apart = abs(at[-1] - at[0])
    if len(at) > 2 or 0.0 < apart < 3.0:
        return None
    repeat = apart / rng.integers(1, 5) if apart else rng.uniform(3, 20)
    return Lattice(float(repeat), at[0])


def _kinds_of(item: Item) -> set[str]:
    has = {
        "equal copies": item.demand > 1,
        "bound to a side": item.edge is not EdgeRule.FREE,
        "lattices": item.x_lattice is not None or item.y_lattice is not None,
        "windows": item.x_window_mm != WHOLE_STRIP,
    }
    return {kind for kind, present in has.items() if present}


def bound_of(problem: StripProblem) -> float:
    """The engine's bound, in mm."""
    problem = checked(problem)
    return lower_bound(problem, build(finite(problem).searched))


def laid_pairs(seed: int, case: int = 0) -> KnownLay:
    """A left and a right of one or two outlines, laid by the engine; the same for the same two numbers."""
    from nesting.packing import Evaluations, pack

    rng = np.random.default_rng([seed, case])
    items: list[Item] = []
    for _ in range(int(rng.choice([1, 1, 1, 2]))):
        outline, ways = _dented(rng), TURNED[rng.integers(len(TURNED))]
        for flip in ((1, 1), (-1, 1)):
            item = Item(f"part {len(items)}", outline, 1, tuple(flipped(way, flip) for way in ways))
            if rng.random() < 0.2:
                item = replace(item, x_lattice=Lattice(float(rng.uniform(2, 9)), float(rng.uniform(0, 9))))
            elif rng.random() < 0.1:
                item = replace(item, demand=2)
            if rng.random() < 0.6:
                item = replace(item, x_window_mm=(float(rng.uniform(0, 20)), np.inf))
            items.append(item)
    first = items[0]
    along = [_extents(first, way)[0] for way in first.variants]
    if first.demand == 1 and rng.random() < 0.8:  # long enough for one turn, if not for all
        step = first.x_lattice.repeat_mm if first.x_lattice else 0.0
        room = rng.uniform(min(along), max(along)) + step + 1e-6
        items[0] = replace(first, x_window_mm=(first.x_window_mm[0], first.x_window_mm[0] + float(room)))
    widest = max(max(_extents(item, way)[1] for way in item.variants) for item in items)
    problem = StripProblem(
        float(widest * rng.uniform(1.0, 2.2)), tuple(items), float(rng.choice([0, 0, 0.5]))
    )
    packing = pack(problem, stop=Evaluations(30_000), walks=1)
    kinds = {"left and right, laid", "mirror images"}.union(*map(_kinds_of, items))
    kinds |= {"gap"} if problem.gap_mm else set()
    return KnownLay(problem, packing.placements, packing.length_mm, frozenset(kinds))


def _dented(rng: np.random.Generator) -> FloatArray:
    """An outline of six or eight corners, far and near in turn, not the same both ways along."""
    corners = 2 * int(rng.integers(3, 5))
    angle = (np.arange(corners) + rng.uniform(0, 0.7, corners)) / corners * 2 * np.pi
    far = np.where(np.arange(corners) % 2, rng.uniform(0.2, 0.8, corners), rng.uniform(0.7, 1.0, corners))
    ring: FloatArray = 15 * far[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    return ring * [1.0, rng.uniform(0.4, 1.0)]


def _extents(item: Item, way: Variant) -> FloatArray:
    """Along and across, in mm."""
    return np.asarray(np.ptp(variant_outline(item.outline, way), axis=0))


@dataclass(frozen=True, slots=True)
class Case:
    """What came of one case; `maker` is the function that made it, `number` what it was told."""

    maker: str
    number: int
    bound_mm: float
    length_mm: float
    kinds: frozenset[str]

    @property
    def above(self) -> bool:
        """Whether the bound is above the lay."""
        return self.bound_mm > self.length_mm + ROUNDING_MM


def hunt(seed: int, cases: int, bound: Callable[[StripProblem], float] = bound_of) -> Iterator[Case]:
    """The bound and the known length of one case after the other, so many cut up, and the pairs."""
    from nesting.packing import violations

    for k in range(cases):
        makers = [(cut_lay, k), *((laid_pairs, number) for number in range(PAIRS * k, PAIRS * (k + 1)))]
        for maker, number in makers:
            known = maker(seed, number)
            faults = violations(known.problem, known.placements)
            if faults:
                raise AssertionError(f"{maker.__name__}({seed}, {number}) is no lay: {'; '.join(faults)}")
            yield Case(maker.__name__, number, bound(known.problem), known.length_mm, known.kinds)


def summary(kind: str, found: Sequence[Case]) -> dict[str, object]:
    """What is told of the cases of one kind."""
    shares = [case.bound_mm / case.length_mm for case in found]
    return {
        "kind": kind,
        "cases": len(found),
        "bound / length, mean": round(fmean(shares), 5) if shares else None,
        "bound / length, at most": max(shares, default=None),
        "above": sum(case.above for case in found),
    }


def main() -> None:
    """Read the command line, hunt, sum up."""
    parser = argparse.ArgumentParser(description="Hunt for a bound above a known lay; JSON lines.")
    parser.add_argument("--cases", type=int, default=1000, help=f"cut up; {PAIRS} times as many are laid")
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    found = []
    for case in hunt(asked.seed, asked.cases):
        found.append(case)
        if case.above:
            line = {"maker": case.maker, "seed": asked.seed, "case": case.number, "kinds": sorted(case.kinds)}
            line |= {"bound, mm": case.bound_mm, "length, mm": case.length_mm}
            print(json.dumps(line), flush=True)
    for kind in KINDS:
        print(json.dumps(summary(kind, [case for case in found if kind in case.kinds])))
    print(json.dumps(summary("all", found)))
    sys.exit(any(case.above for case in found))


if __name__ == "__main__":
    main()
