"""Areas counted in steps along lines: the functions, the chords, and what they prove."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.packing import Item, StripProblem, Variant
from nesting.packing.bounds.slices import Slices, dual_feasible, slice_bound


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


@given(st.lists(st.integers(1, 60), min_size=1, max_size=12), st.floats(1.0, 1.5))
def test_dual_feasible_functions_never_make_a_fitting_set_too_large(parts, slack):
    # the definition of dual feasible, on shares with small denominators where rounding is hardest
    share = np.array(parts, dtype=np.float64)
    for room in (share.sum(), share.sum() * slack):
        assert (dual_feasible(share / room).sum(axis=1) <= 1 + 1e-9).all()


def test_dual_feasible_functions_never_fall():
    values = dual_feasible(np.linspace(0, 1, 3001))
    assert (np.diff(values, axis=1) >= -1e-12).all()


def test_a_stretch_taller_than_half_the_strip_counts_for_all_of_it():
    # two boards 10 long and 6 across on a strip of 10: 12 by area, 20 as neither fits beside the other
    problem = StripProblem(10.0, (Item("board", board(10, 6), 2),))
    assert Slices(problem).across() == pytest.approx(20.0, rel=1e-3)


def test_pieces_longer_than_half_the_lay_lie_side_by_side():
    # three boards 10 long, 4 across, strip of 10: two abreast, so no lay below 20 exists; area says 12
    problem = StripProblem(10.0, (Item("board", board(10, 4), 3),))
    assert slice_bound(problem, 12.0) == pytest.approx(20.0, rel=5e-3)
    assert slice_bound(problem, 12.0) <= 20.0


def test_a_piece_that_may_turn_counts_as_it_lies_best():
    turning = Item("board", board(10, 6), 2, (Variant(0), Variant(90)))
    assert Slices(StripProblem(10.0, (turning,))).across() == pytest.approx(12.0, rel=1e-2)


@given(st.integers(0, 2**31))
def test_all_slices_together_are_no_more_than_the_area(seed):
    # against shapely: chords are taken at their shorter side, so the sum is a little below the area
    rng = np.random.default_rng(seed)
    angles = np.sort(rng.uniform(0, 2 * np.pi, 12))
    ring = rng.uniform(3, 10, 12)[:, None] * np.column_stack([np.cos(angles), np.sin(angles)])
    polygon = shapely.Polygon(ring)
    if not polygon.is_valid or np.diff(angles).max() > 3:
        return
    slices = Slices(StripProblem(100.0, (Item("star", ring),)))
    assert 0.8 * polygon.area < 100 * slices.across() <= polygon.area * (1 + 1e-9)


def test_an_edge_that_is_upright_but_for_the_least_number_there_is_divides_nothing_by_it():
    # as rounding leaves one of a board turned by a hair; warnings are errors here
    ring = board(700, 150)
    ring[3, 0] = 5.8e-311
    upright = Slices(StripProblem(200.0, (Item("board", board(700, 150)),)))
    assert Slices(StripProblem(200.0, (Item("board", ring),))).across() == pytest.approx(upright.across())
