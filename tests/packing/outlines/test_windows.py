"""Items that may lie only in a part of the strip."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import DoesNotFit
from nesting.packing import pack
from nesting.packing.problem import Item, Lattice, Placement, StripProblem
from nesting.packing.stop import Evaluations
from nesting.packing.verify import violations
from tests.conftest import examples


def box(width, height):
    return np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])


def test_an_item_kept_from_the_beginning_lies_after_the_others():
    problem = StripProblem(
        100.0, (Item("kept", box(30, 100), x_window_mm=(50.0, math.inf)), Item("free", box(50, 100)))
    )
    packing = pack(problem, stop=Evaluations(2000))
    assert packing.length_mm == pytest.approx(80.0)
    assert violations(problem, packing.placements) == ()


def test_the_bound_knows_that_it_lies_so_far_along():
    problem = StripProblem(100.0, (Item("kept", box(30, 100), x_window_mm=(50.0, math.inf)),))
    assert pack(problem, stop=Evaluations(0)).bound_mm == pytest.approx(80.0)


def test_items_kept_at_the_beginning_stay_there():
    kept = Item("kept", box(40, 50), 2, x_window_mm=(0.0, 40.0))
    problem = StripProblem(100.0, (kept, Item("free", box(100, 60), 2)))
    packing = pack(problem, stop=Evaluations(5000))
    assert violations(problem, packing.placements) == ()
    assert {placement.x_mm for placement in packing.placements if placement.item == 0} == {0.0}


def test_what_does_not_all_go_into_its_part_is_told():
    problem = StripProblem(100.0, (Item("kept", box(40, 60), 2, x_window_mm=(0.0, 45.0)),))
    with pytest.raises(DoesNotFit, match="Make that part longer"):
        pack(problem, stop=Evaluations(0))


def test_an_item_longer_than_its_part_is_told_by_name():
    problem = StripProblem(100.0, (Item("kept", box(40, 60), x_window_mm=(10.0, 45.0)),))
    with pytest.raises(DoesNotFit, match="'kept' is at least 40"):
        pack(problem, stop=Evaluations(0))


def test_an_item_may_be_held_to_one_place():
    held = Item("held", box(30, 20), y_lattice=Lattice(1e6, 41.0), x_window_mm=(25.0, 55.0))
    problem = StripProblem(100.0, (held, Item("free", box(30, 30), 5)))
    packing = pack(problem, stop=Evaluations(3000))
    (at,) = (placement for placement in packing.placements if placement.item == 0)
    assert (at.x_mm, at.y_mm) == pytest.approx((25.0, 41.0))
    assert violations(problem, packing.placements) == ()


def test_the_verifier_sees_what_lies_outside_its_part():
    problem = StripProblem(100.0, (Item("kept", box(30, 20), x_window_mm=(25.0, 60.0)),))
    assert violations(problem, [Placement(0, 0, 0, 30.0, 0.0)]) == ()
    assert "does not lie between" in violations(problem, [Placement(0, 0, 0, 31.0, 0.0)])[0]
    assert "does not lie between" in violations(problem, [Placement(0, 0, 0, 24.0, 0.0)])[0]


def along(problem, packing, item):
    """From where to where the copies of an item lie along the strip."""
    ring = problem.items[item].outline
    at = [placement.x_mm for placement in packing.placements if placement.item == item]
    return min(at) + ring[:, 0].min(), max(at) + ring[:, 0].max()


def held_and_free(windows):
    """A box for each window, and three that may lie anywhere."""
    items = [
        Item(f"item {k}", box(50 - 5 * k, 30 + 5 * k), x_window_mm=window) for k, window in enumerate(windows)
    ]
    return StripProblem(100.0, (*items, Item("free", box(35, 45), 3)))


def assert_kept(problem, packing):
    assert violations(problem, packing.placements) == ()
    for k, item in enumerate(problem.items):
        first, last = along(problem, packing, k)
        assert item.x_window_mm[0] - 1e-4 <= first
        assert last <= item.x_window_mm[1] + 1e-4
    assert packing.bound_mm <= packing.length_mm


@examples(10)
@given(
    windows=st.lists(st.tuples(st.floats(0, 200), st.floats(0, 150)), min_size=1, max_size=4),
    seed=st.integers(0, 5),
)
def test_every_window_is_kept(windows, seed):
    # each with room for the item (50 at most) however badly the three others, laid before it, divide it up
    room = 50.0 + 2 * 50.0 * (len(windows) - 1)
    problem = held_and_free([(low, low + room + spare) for low, spare in windows])
    assert_kept(problem, pack(problem, stop=Evaluations(20_000), seed=seed))


@examples(10)
@given(
    windows=st.lists(st.tuples(st.floats(0, 60), st.floats(0, 10)), min_size=1, max_size=2),
    seed=st.integers(0, 5),
)
def test_windows_hardly_longer_than_their_items_are_kept(windows, seed):
    # one above the other the two take up 30 and 35 of 100 mm across, so there is always room
    problem = held_and_free([(low, low + 50.0 - 5 * k + spare) for k, (low, spare) in enumerate(windows)])
    assert_kept(problem, pack(problem, stop=Evaluations(20_000), seed=seed))
