"""The hunt for a bound above a lay, on cases that `benchmarks.bound_hunt` makes; and what was found."""

from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.bound_hunt import KINDS, ROUNDING_MM, bound_of, cut_lay, cut_up, flipped, hunt, laid_pairs
from nesting.packing import Item, Placement, StripProblem, Variant, violations
from nesting.packing.problem import variant_outline

NOTCHED = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [14.0, 20.0], [14.0, 14.0], [0.0, 14.0]])


@pytest.mark.parametrize("cases", [10, pytest.param(300, marks=pytest.mark.heavy)])
@pytest.mark.parametrize("make", [cut_lay, laid_pairs])
def test_no_bound_is_above_a_known_lay(make, cases):
    @settings(max_examples=cases, deadline=None)
    @given(seed=st.integers(0, 10**9))
    def never(seed):
        known = make(seed)
        assert violations(known.problem, known.placements) == ()
        assert bound_of(known.problem) <= known.length_mm + ROUNDING_MM

    never()


def test_every_kind_of_case_is_hunted():
    cases = Counter(kind for seed in range(150) for kind in cut_lay(seed).kinds)
    cases += Counter(kind for seed in range(20) for kind in laid_pairs(seed).kinds)
    assert min(cases[kind] for kind in KINDS) >= 10


@pytest.mark.parametrize("flip", [(1, 1), (-1, -1), (-1, 1), (1, -1)])
@pytest.mark.parametrize("variant", [Variant(0), Variant(90), Variant(30, True), Variant(75)])
def test_a_flipped_variant_shows_the_flipped_outline(variant, flip):
    shown = variant_outline(NOTCHED, flipped(variant, flip))
    expected = variant_outline(NOTCHED, variant) * np.array(flip)
    corners, expected_corners = ({(round(x, 9), round(y, 9)) for x, y in ring} for ring in (shown, expected))
    assert corners == expected_corners


def test_a_bound_above_the_lay_is_noticed():
    assert not any(case.above for case in hunt(0, 2, bound=lambda problem: 1.0))
    assert all(case.above for case in hunt(0, 2, bound=lambda problem: 1e6))


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_is_not_far_below_where_nothing_may_turn(seed):
    # no waste at all: the area alone gives the length, and no other bound may spoil it
    rng = np.random.default_rng(seed)
    parts = cut_up(rng, 80.0, 50.0, 6)
    items = tuple(Item(str(k), np.array(p.exterior.coords)[:-1]) for k, p in enumerate(parts))
    found = bound_of(StripProblem(50.0, items))
    assert 80.0 * (1 - 1e-6) < found <= 80.0


def test_a_part_of_the_strip_too_short_for_a_turn_leaves_no_symmetry():
    # the lay is 30 by 44; mirrored end for end the upper piece would lie along, longer than its part:
    #       +---------+
    #       |         |
    #       +--+      |
    #   +------+      |
    #   |      |      |
    #   |      +------+
    #   +-------------+
    left, right = (Variant(0), Variant(90)), (Variant(180, True), Variant(90, True))
    upper = Item("upper", NOTCHED, 1, left, x_window_mm=(10.0, 30.0))
    problem = StripProblem(45.0, (upper, Item("lower", NOTCHED, 1, right)))
    assert violations(problem, (Placement(0, 0, 1, 30.0, 14.0), Placement(1, 0, 0, 30.0, 0.0))) == ()
    assert bound_of(problem) <= 30.0
