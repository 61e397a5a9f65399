"""Every constraint of the engine together with every other, each time on outlines with dents drawn anew.

Phases, parts of the strip and obstacles are drawn so that a lay must exist, or so that none can. What comes
out is judged twice: by the verifier, and by a reading of the rules that shares nothing with it.
"""

import logging
from dataclasses import replace
from itertools import product
from typing import NamedTuple

import numpy as np
import pytest
from shapely import Polygon, affinity

from nesting.errors import DoesNotFit
from nesting.packing import (
    EdgeRule,
    Evaluations,
    Item,
    Lattice,
    Placement,
    StripProblem,
    Variant,
    pack,
    violations,
)

TURNS = {
    "as drawn": (0.0,),
    "half turns": (0.0, 180.0),
    "quarter turns": (0.0, 90.0, 180.0, 270.0),
    "odd turns": (10.0, 217.0),
}
YES_NO = (True, False)
FEW = Evaluations(50_000)
NEAR_MM = 1e-4


class Kinds(NamedTuple):
    """What is asked of an item."""

    edge: EdgeRule
    turns: str
    mirrored: bool
    x_lattice: bool
    y_lattice: bool
    window: bool

    def __str__(self):
        return ", ".join([self.edge, self.turns, *(name for name in self._fields[2:] if getattr(self, name))])


class Case(NamedTuple):
    """Two items, and what is asked of the strip."""

    one: Kinds
    other: Kinds
    obstacle: bool
    gap: bool

    def __str__(self):
        strip = [name for name in ("obstacle", "gap") if getattr(self, name)]
        return " + ".join([str(self.one), str(self.other), *strip])


KINDS = [Kinds(*kinds) for kinds in product(EdgeRule, TURNS, *[YES_NO] * 4)]


def every_combination():
    """Each kind of item on each kind of strip, two of them at a time, paired by chance."""
    rng = np.random.default_rng(0)
    for obstacle, gap in product(YES_NO, YES_NO):
        order = rng.permutation(len(KINDS)).tolist()
        for one, other in zip(order[::2], order[1::2], strict=True):
            yield Case(KINDS[one], KINDS[other], obstacle, gap)


EVERY = list(every_combination())


def star(rng, least=8.0, most=14.0):
    """A random outline with three or four dents, so many mm from a point near the origin to its tips."""
    corners = 2 * int(rng.integers(3, 5))
    angle = (np.arange(corners) + rng.uniform(0.0, 0.7, corners)) / corners * 2 * np.pi
    far = np.where(np.arange(corners) % 2, rng.uniform(0.1, 0.2, corners), rng.uniform(0.7, 1.0, corners))
    ring = rng.uniform(least, most) * far[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    return ring + rng.uniform(-5.0, 5.0, 2)


def shown(outline, variant):
    """The outline mirrored and turned, about the origin still."""
    polygon = affinity.scale(Polygon(outline), 1.0, -1.0 if variant.mirrored else 1.0, origin=(0, 0))
    return affinity.rotate(polygon, variant.angle_deg, origin=(0, 0))


def heights(kinds, rng, polygon, width):
    """The y at which an outline meets an edge it is allowed to lie on; any one where it may lie anywhere."""
    _, low, _, high = polygon.bounds
    at = {EdgeRule.LOW: [-low], EdgeRule.HIGH: [width - high], EdgeRule.EITHER: [-low, width - high]}
    return at.get(kinds.edge, [rng.uniform(-5.0, 5.0)])


def between(ends, repeat):
    """A phase as far from one or two others as can be."""
    apart = (ends[-1] - ends[0]) % repeat
    return ends[0] + (0.5 * apart if apart > 0.5 * repeat else 0.5 * (apart + repeat))


def tied(kinds, rng, width, *, misses=False):
    """An item of these kinds, each of its variants with a phase at which it meets (or misses) its edge."""
    outline = star(rng, 5.0, 8.0) if kinds.window else star(rng)  # a small one would lie anywhere
    repeat, phase = rng.uniform(2.0, 6.0, 2)
    variants = []
    for angle, mirrored in product(TURNS[kinds.turns], YES_NO if kinds.mirrored else (False,)):
        variant = Variant(angle, mirrored, rng.uniform(-4.0, 4.0))
        ends = heights(kinds, rng, shown(outline, variant), width)
        meets = between(ends, repeat) if misses else rng.choice(ends)
        if variants and rng.random() < 0.2:  # not all turns need to have a place
            meets = between(ends, repeat)
        variants.append(replace(variant, y_phase_mm=meets - phase + repeat * rng.integers(-3, 4)))
    return Item(
        str(kinds),
        outline,
        1 if kinds.window and rng.random() < 0.7 else int(rng.integers(1, 3)),
        tuple(variants),
        kinds.edge,
        Lattice(*rng.uniform(2.0, 6.0, 2)) if kinds.x_lattice else None,
        Lattice(repeat, phase) if kinds.y_lattice else None,
    )


def longest(item):
    """How far it reaches along in its longest variant."""
    bounds = [shown(item.outline, variant).bounds for variant in item.variants]
    return max(right - left for left, _, right, _ in bounds)


def held(rng, item, others, gap):
    """The item held to a part of the strip that has room for one wherever others lie, so long each.

    Each of them bars less than the two reach together, with the gap on both sides; and what they leave must
    hold a line of the lattice.
    """
    own, step = longest(item), item.x_lattice.repeat_mm if item.x_lattice else 0.0
    low = rng.uniform(0.0, 20.0)
    return replace(
        item, x_window_mm=(low, low + own + step + sum(own + other + 2.1 * gap + step for other in others))
    )


def problem_of(case, number):
    """The case with outlines, phases, parts of the strip and an obstacle drawn for it."""
    rng = np.random.default_rng(number)
    width, gap = rng.uniform(36.0, 50.0), rng.uniform(0.5, 2.5) if case.gap else 0.0
    obstacles = (star(rng) + rng.uniform([0.0, -5.0], [40.0, width + 5.0]),) if case.obstacle else ()
    asked = (case.one, case.other)
    items = [tied(kinds, rng, width) for kinds in asked]
    # those that are held are laid first, so that nothing else can bar their part
    bars = [
        [longest(item)] * item.demand if kinds.window else []
        for item, kinds in zip(items, asked, strict=True)
    ]
    blocks = [float(np.ptp(ring[:, 0])) for ring in obstacles]
    for k in (0, 1):
        if asked[k].window:
            items[k] = held(rng, items[k], bars[k][1:] + bars[1 - k] + blocks, gap)
    return StripProblem(width, tuple(items), gap, obstacles)


def broken(problem, placements):
    """The rules that a lay breaks, by name, each read off the outlines as shapely places them."""
    found = set()
    lying = []
    for placement in placements:
        item = problem.items[placement.item]
        variant = item.variants[placement.variant]
        polygon = affinity.translate(shown(item.outline, variant), placement.x_mm, placement.y_mm)
        lying.append(polygon)
        left, low, right, high = polygon.bounds
        ends = {"low": [low], "high": [high - problem.width_mm], "free": [0.0]}
        ends["either"] = ends["low"] + ends["high"]
        rules = {
            "strip": min(left, low, problem.width_mm - high) > -NEAR_MM,
            "window": item.x_window_mm[0] - NEAR_MM < left and right < item.x_window_mm[1] + NEAR_MM,
            "edge": min(abs(end) for end in ends[item.edge]) < NEAR_MM,
            "x lattice": on_line(item.x_lattice, placement.x_mm - variant.x_phase_mm),
            "y lattice": on_line(item.y_lattice, placement.y_mm - variant.y_phase_mm),
        }
        found |= {name for name, kept in rules.items() if not kept}
    if sorted((p.item, p.copy) for p in placements) != [
        (index, copy) for index, item in enumerate(problem.items) for copy in range(item.demand)
    ]:
        found.add("demand")
    obstacles = [Polygon(ring) for ring in problem.obstacles]
    for k, one in enumerate(lying):
        for other in lying[k + 1 :] + obstacles:
            if one.buffer(-NEAR_MM).intersects(other.buffer(-NEAR_MM)):
                found.add("overlap")
            elif one.distance(other) < problem.gap_mm - NEAR_MM:
                found.add("gap")
    return found


def on_line(lattice, value):
    """Whether a coordinate is on a lattice, if there is one."""
    lines = 0.0 if lattice is None else (value - lattice.phase_mm) / lattice.repeat_mm
    return abs(lines - round(lines)) < 1e-5


def daily(case):
    """Half of all: each kind of item on a strip with an obstacle and a gap, and on one with neither."""
    return case.obstacle == case.gap


@pytest.mark.parametrize(
    ("number", "case"),
    [
        pytest.param(number, case, marks=() if daily(case) else pytest.mark.heavy)
        for number, case in enumerate(EVERY)
    ],
    ids=str,
)
def test_every_combination_is_laid(number, case, caplog):
    problem = problem_of(case, number)
    with caplog.at_level(logging.WARNING, logger="nesting"):
        packing = pack(problem, stop=FEW, walks=1)
    assert violations(problem, packing.placements) == ()
    assert broken(problem, packing.placements) == set()
    assert packing.bound_mm <= packing.length_mm
    assert caplog.messages == []  # and none of the lays on the way had to be refused


def test_there_is_every_combination():
    assert len({(kinds, *case[2:]) for case in EVERY for kinds in case[:2]}) == 4 * 4 * 2**6
    assert {kinds for case in EVERY if daily(case) for kinds in case[:2]} == set(KINDS)


@pytest.mark.parametrize("kinds", [k for k in KINDS if k.edge is not EdgeRule.FREE and k.y_lattice], ids=str)
def test_an_edge_that_no_line_of_the_lattice_meets_is_told(kinds):
    rng = np.random.default_rng(KINDS.index(kinds))
    item = tied(kinds, rng, 50.0, misses=True)
    problem = StripProblem(50.0, (held(rng, item, [30.0], 0.0) if kinds.window else item,))
    with pytest.raises(
        DoesNotFit, match=rf"has no place .* its lattice .* and its edge rule \({kinds.edge}\)"
    ):
        pack(problem, stop=FEW, walks=1)


def test_outlines_have_dents():
    rng = np.random.default_rng(0)
    for polygon in (Polygon(star(rng)) for _ in range(500)):
        assert polygon.is_valid
        assert polygon.area < 0.9 * polygon.convex_hull.area


SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
LAY = (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 12.0, 0.0))
ASKED = StripProblem(30.0, (Item("one", SQUARE), Item("other", SQUARE)))


@pytest.mark.parametrize(
    ("rule", "other", "strip", "at"),
    [
        (None, {}, {}, (12.0, 0.0)),
        (None, {"edge": EdgeRule.HIGH, "x_lattice": Lattice(5.0, 2.0)}, {"gap_mm": 2.0}, (12.0, 20.0)),
        (None, {"edge": EdgeRule.EITHER, "y_lattice": Lattice(5.0)}, {}, (12.0, 0.0)),
        ("demand", {"demand": 2}, {}, (12.0, 0.0)),
        ("strip", {}, {}, (12.0, 20.1)),
        ("strip", {"x_window_mm": (-1.0, 40.0)}, {}, (-0.1, 20.0)),
        ("edge", {"edge": EdgeRule.LOW}, {}, (12.0, 20.0)),
        ("edge", {"edge": EdgeRule.HIGH}, {}, (12.0, 0.0)),
        ("edge", {"edge": EdgeRule.EITHER}, {}, (12.0, 7.0)),
        ("x lattice", {"x_lattice": Lattice(5.0)}, {}, (12.0, 0.0)),
        ("y lattice", {"y_lattice": Lattice(5.0)}, {}, (12.0, 12.0)),
        ("window", {"x_window_mm": (12.1, 40.0)}, {}, (12.0, 0.0)),
        ("window", {"x_window_mm": (0.0, 21.9)}, {}, (12.0, 0.0)),
        ("gap", {}, {"gap_mm": 2.1}, (12.0, 0.0)),
        ("overlap", {}, {}, (9.9, 0.0)),
        ("overlap", {}, {"obstacles": (SQUARE + 15.0,)}, (12.0, 10.0)),
    ],
)
def test_the_reading_sees_each_rule_broken(rule, other, strip, at):
    items = (ASKED.items[0], replace(ASKED.items[1], **other))
    lay = (LAY[0], replace(LAY[1], x_mm=at[0], y_mm=at[1]))
    assert broken(replace(ASKED, items=items, **strip), lay) == ({rule} if rule else set())
