"""Proof by exhaustion, on lays whose shortest length is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from benchmarks.hard_input import saw
from nesting.packing import EdgeRule, Evaluations, Item, StripProblem, Variant, pack
from nesting.packing.bounds.bound import _inside, lower_bound
from nesting.packing.bounds.proof import proven_length
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.shapes import is_thinned
from nesting.packing.outlines.table_building import build
from nesting.packing.problem import variant_outline

HALF_TURN = (Variant(0), Variant(180))
ALL_FLIPS = (*HALF_TURN, Variant(0, True), Variant(180, True))


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


def bound(problem):
    problem = checked(problem)
    return lower_bound(problem, build(problem))


@pytest.mark.parametrize("seed", range(8))
def test_rectangles_against_an_exact_solver(seed):
    # CP-SAT (Google OR-tools) gives the true optimum; the bound must not pass it, and comes close to it
    rng = np.random.default_rng(seed)
    sizes = rng.integers(4, 14, (5, 2))
    width = int(rng.integers(16, 22))
    model = cp_model.CpModel()
    length = model.new_int_var(0, int(sizes[:, 0].sum()), "length")
    along, across = [], []
    for w, h in sizes.tolist():
        x, y = model.new_int_var(0, 100, ""), model.new_int_var(0, width - h, "")
        along.append(model.new_fixed_size_interval_var(x, w, ""))
        across.append(model.new_fixed_size_interval_var(y, h, ""))
        model.add(x + w <= length)
    model.add_no_overlap_2d(along, across)
    model.minimize(length)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 5
    assert solver.solve(model) == cp_model.OPTIMAL
    items = tuple(Item(str(k), board(*size)) for k, size in enumerate(sizes.tolist()))
    found = bound(StripProblem(float(width), items))
    assert 0.97 * solver.objective_value < found <= solver.objective_value


def test_wedges_that_nest_are_proven_shortest_to_a_half_per_cent():
    # three right-angled wedges 12 by 8 on a strip of 8: two make a rectangle, the third needs its own 12
    wedges = StripProblem(
        8.0, (Item("wedge", np.array([[0.0, 0.0], [12.0, 0.0], [0.0, 8.0]]), 3, ALL_FLIPS),)
    )
    length = pack(wedges, stop=Evaluations(100_000)).length_mm
    assert 0.995 * length < bound(wedges) <= length


def test_pieces_on_the_fold_and_one_beside_them():
    # on a fold of 10: two fronts of 6 across, both at the fold, and a sleeve of 5 that fits beside neither
    items = (
        Item("front", board(20, 6), 2, ALL_FLIPS, EdgeRule.LOW),
        Item("sleeve", board(15, 5), 1, ALL_FLIPS),
    )
    assert bound(StripProblem(10.0, items)) == pytest.approx(55.0, abs=1e-3)


def test_a_side_of_ones_own_choice_shares_the_items_out():
    # boards 10, 8, 6, 4 long, each on one of two far sides: 14 and 14
    items = tuple(Item(f"{n}", board(n, 1), 1, (Variant(0),), EdgeRule.EITHER) for n in (10, 8, 6, 4))
    assert bound(StripProblem(100.0, items)) == pytest.approx(14.0, abs=1e-3)


def test_a_row_on_the_fold_is_ordered_as_it_fits_best():
    # two wedges and a board on the fold, wide strip: the wedges' slopes can't nest at the fold,
    # the whole of every base is needed
    wedge = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
    ways = (Variant(0), Variant(180, mirrored=True))
    items = (Item("wedge", wedge, 2, ways, EdgeRule.LOW), Item("board", board(7, 3), edge=EdgeRule.LOW))
    assert bound(StripProblem(40.0, items)) == pytest.approx(27.0, abs=1e-3)


def test_a_gap_is_kept_between_items_in_a_row():
    items = (Item("six", board(3, 6), 2), Item("seven", board(4, 7)))
    assert bound(StripProblem(10.0, items, gap_mm=1.0)) == pytest.approx(12.0, abs=1e-3)


def test_outlines_of_many_vertices_are_taken_from_inside():
    # a disc of 400 corners: two of diameter 6 on a strip of 10 lie at a slant, centres 4 apart across
    angle = np.linspace(0, 2 * np.pi, 401)[:-1]
    disc = 3.0 * np.column_stack([np.cos(angle), np.sin(angle)])
    found = bound(StripProblem(10.0, (Item("disc", disc, 2),)))
    shortest = 6.0 + np.sqrt(6.0**2 - 4.0**2)
    assert 0.97 * shortest < found <= shortest


@pytest.mark.parametrize("gap", [0.0, 10.0])
@pytest.mark.parametrize(("teeth", "depth"), [(45, 5.0), (45, 20.0), (49, 40.0), (120, 5.0)])
def test_outlines_too_rough_to_be_laid_as_they_are_are_taken_from_inside(teeth, depth, gap):
    """Two lie one above the other, their boxes just fitting; what stands for them would not."""
    item = Item("toothed", saw(teeth, depth, 400.0, 100.0), 2)
    assert is_thinned(item.outline)
    assert bound(StripProblem(200.0 + gap, (item,), gap_mm=gap)) <= 400.0


@given(seed=st.integers(0, 10_000), vertices=st.integers(200, 400))
@settings(max_examples=20, deadline=None)
def test_the_middle_of_an_outline_inside_is_within_half_of_what_its_box_is_off(seed, vertices):
    """What the proof's "so its middle within d/2" rests on."""
    rng = np.random.default_rng(seed)
    angle = np.sort(rng.uniform(0, 2 * np.pi, vertices))
    radius = 100.0 + rng.uniform(-0.2, 0.2, (vertices, 1))
    ring = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    item = Item("a disc, nearly", ring, 1, ALL_FLIPS)
    inner, off = _inside(item)
    assert inner is not None
    assert off > 0
    for variant in item.variants:
        whole, part = variant_outline(ring, variant), variant_outline(inner, variant)
        middles = [outline.min(axis=0) + outline.max(axis=0) for outline in (whole, part)]
        assert np.abs(middles[0] - middles[1]).max() <= off * (1 + 1e-9)  # twice the middles


def test_five_of_the_largest_are_tried_by_themselves():
    """For 300 000 steps: of all eight at once they would prove 31.2 of the 35 mm needed."""
    large, small = (
        [Item(f"{n}", board(n, 6)) for n in (5, 6, 7, 8, 9)],
        [Item(f"{n} low", board(n, 1)) for n in (1, 2, 3)],
    )
    tables = build(checked(StripProblem(10.0, (*large, *small)))).tables
    found = proven_length(tables, [-1] * 8, 30.0, gap_mm=0.0, loose_mm=0.0)
    assert 32.0 < found <= 35.0
