"""A hunt for a bound above a lay: cases made from lays, so that one of known length exists.

A strip is cut up along straight lines and zigzags; the pieces, turned and mirrored at random and allowed to
be turned back, fit it again. Where a piece touches a side it may be bound to it; a gap is made by cutting
round every piece. Nothing here was made by the engine, so a bound above the length is a fault of the bound.
"""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.ops import split

from nesting.geometry import counter_clockwise
from nesting.packing import EdgeRule, Item, Lattice, Placement, StripProblem, Variant, violations
from nesting.packing.bound import lower_bound
from nesting.packing.checks import checked
from nesting.packing.table_building import build

WAYS = [
    (Variant(0),),
    (Variant(0), Variant(180)),
    (Variant(0), Variant(180), Variant(0, True), Variant(180, True)),
    tuple(Variant(90.0 * k) for k in range(4)),
    (Variant(30), Variant(210, True), Variant(75)),
]


def cut_up(rng, length, width, pieces):
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


def known_lay(seed, pieces=None, gap=None):
    """A problem with a lay of it: (problem, placements, length)."""
    rng = np.random.default_rng(seed)
    width, length = rng.uniform(20, 100), rng.uniform(20, 150)
    gap = rng.choice([0.0, 0.0, 0.5]) if gap is None else gap
    items, placements = [], []
    for part in cut_up(rng, length, width, pieces or rng.integers(2, 9)):
        part = part.buffer(-gap / 2, join_style="mitre") if gap else part
        if part.geom_type != "Polygon" or part.is_empty or part.interiors:
            continue
        ring = np.array(part.exterior.coords)[:-1]
        if rng.random() < 0.1:  # many vertices: as good as the same outline
            ring = np.array(part.segmentize(part.length / 250).exterior.coords)[:-1]
            ring = ring + 1e-3 * (np.array(part.representative_point().coords[0]) - ring) * rng.random(
                (len(ring), 1)
            )
            if not shapely.Polygon(ring).is_valid or not part.covers(shapely.Polygon(ring)):
                ring = np.array(part.exterior.coords)[:-1]
        ways = WAYS[rng.integers(len(WAYS))]
        chosen = rng.integers(len(ways))
        x, y = rng.uniform(-5, 5, 2)
        outline = (ring - [x, y]) @ np.linalg.inv(ways[chosen].matrix()).T
        low, high = ring[:, 1].min(), ring[:, 1].max()
        edge = EdgeRule.FREE
        if rng.random() < 0.5:
            if abs(low - gap / 2) < 1e-9:
                edge = EdgeRule(rng.choice([EdgeRule.LOW, EdgeRule.EITHER]))
            elif abs(high - width + gap / 2) < 1e-9:
                edge = EdgeRule(rng.choice([EdgeRule.HIGH, EdgeRule.EITHER]))
        x_lattice = Lattice(rng.uniform(3, 20), x) if rng.random() < 0.1 else None
        y -= gap / 2
        y_lattice = Lattice(rng.uniform(3, 20), y) if rng.random() < 0.1 else None
        placements.append(Placement(len(items), 0, int(chosen), x, y))
        outline = counter_clockwise(outline)
        items.append(Item(f"part {len(items)}", outline, 1, ways, edge, x_lattice, y_lattice))
    problem = StripProblem(width - gap, tuple(items), gap_mm=max(0.0, gap * (1 - 1e-6)))
    reach = max(
        (item.outline @ item.variants[p.variant].matrix().T)[:, 0].max() + p.x_mm
        for item, p in zip(items, placements, strict=True)
    )
    return problem, placements, float(reach)


def bound(problem):
    problem = checked(problem)
    return lower_bound(problem, build(problem))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**9))
def test_no_bound_is_above_a_known_lay(seed):
    problem, placements, length = known_lay(seed)
    assert violations(problem, placements) == ()
    assert bound(problem) <= length + 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_is_not_far_below_where_nothing_may_turn(seed):
    # no waste at all: the area alone gives the length, and no other bound may spoil it
    rng = np.random.default_rng(seed)
    parts = cut_up(rng, 80.0, 50.0, 6)
    items = tuple(Item(str(k), np.array(p.exterior.coords)[:-1]) for k, p in enumerate(parts))
    found = bound(StripProblem(50.0, items))
    assert 80.0 * (1 - 1e-6) < found <= 80.0
