"""Items that may lie at any angle: laid as short however they were drawn, and told as they lie."""

import numpy as np
import pytest

from nesting.errors import DoesNotFit, InvalidProblem
from nesting.packing import EdgeRule, Evaluations, Item, Placement, StripProblem, Variant, pack, violations
from nesting.packing.bounds.bound import _any_angle_bound
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.position_rules import ROUNDED, SLACK
from nesting.packing.stop import Seconds
from nesting.packing.turning import about, among, finite

EIGHTHS = tuple(45.0 * k for k in range(8))
ALONG = np.linspace(0.0, 1.0, 9)
COLLAR = np.concatenate(
    [
        np.column_stack([570 * ALONG, 440 * ALONG * (1 - ALONG)]),
        np.column_stack([40 + 490 * ALONG, 90 + 380 * ALONG * (1 - ALONG)])[::-1],
    ]
)
"""A collar of 570 mm, bowed by 110 mm."""


def collars(grain_deg, *, any_turn=True):
    """A left and a right of the collar, drawn that much off its grain, on fusible of 90 cm."""
    ring = COLLAR @ Variant(grain_deg).matrix().T
    ways = [tuple(Variant(angle, mirrored) for angle in EIGHTHS) for mirrored in (False, True)]
    items = (
        Item("left", ring, 1, ways[0], any_turn=any_turn),
        Item("right", ring, 1, ways[1], any_turn=any_turn),
    )
    return StripProblem(900.0, items)


def test_how_a_piece_was_drawn_does_not_decide_how_short_its_lay_is():
    lengths = []
    for grain_deg in (0.0, 10.0, 22.0):
        problem = collars(grain_deg)
        found = pack(problem, stop=Evaluations(300_000))
        assert violations(problem, found.placements) == ()
        assert found.bound_mm <= found.length_mm
        lengths.append(found.length_mm)
    assert (
        max(lengths) < 230.0
    )  # in eighths of a turn 260, 309 and 308, and the first two are proven for eighths
    assert max(lengths) - min(lengths) < 10.0


def test_what_is_proven_of_eighths_is_not_proven_of_all_angles():
    eighths, free = (pack(collars(0.0, any_turn=turn), stop=Evaluations(0)) for turn in (False, True))
    assert eighths.bound_mm == pytest.approx(260.0, abs=0.01)
    assert free.bound_mm < 224.0


def test_a_board_is_turned_until_it_just_goes_across():
    board = np.array([[0.0, 0.0], [500.0, 0.0], [500.0, 120.0], [0.0, 120.0]])
    problem = StripProblem(400.0, (Item("board", board, any_turn=True),))
    found = pack(problem, stop=Evaluations(20_000))
    assert found.length_mm == pytest.approx(469.46, abs=0.01)
    assert found.bound_mm == pytest.approx(found.length_mm, rel=1e-6)
    lies = found.placements[0].further_deg % 180
    assert min(lies, 180 - lies) == pytest.approx(37.57, abs=0.01)


def test_one_that_goes_on_at_no_angle_is_refused():
    board = np.array([[0.0, 0.0], [500.0, 0.0], [500.0, 120.0], [0.0, 120.0]])
    with pytest.raises(DoesNotFit, match=r"at least 120\.0 mm across in every allowed turn"):
        pack(StripProblem(119.0, (Item("board", board, any_turn=True),)), stop=Evaluations(0))


def test_what_may_lie_at_any_angle_is_bound_to_no_side():
    item = Item("collar", COLLAR, edge=EdgeRule.LOW, any_turn=True)
    with pytest.raises(InvalidProblem, match="bound to a side"):
        checked(StripProblem(900.0, (item,)))


def test_placements_are_told_of_the_items_that_were_asked_for():
    held = Item("board", np.array([[0.0, 0.0], [50.0, 0.0], [50.0, 20.0]]), 2, (Variant(0), Variant(180)))
    free = Item("collar", COLLAR, 2, (Variant(0), Variant(0, True)), any_turn=True)
    problem = StripProblem(900.0, (held, free))
    lay = (
        Placement(0, 0, 1, 0.0, 0.0),
        Placement(0, 1, 0, 1.0, 0.0),
        Placement(1, 0, 0, 2.0, 0.0, further_deg=12.0),
        Placement(1, 1, 1, 3.0, 0.0),
    )
    way = about(problem, lay, 5.0)
    assert [item.demand for item in way.searched.items] == [2, 1, 1]
    assert [one.angle_deg for one in way.searched.items[1].variants] == [12.0, 17.0, 7.0]
    assert all(one.mirrored for one in way.searched.items[2].variants)
    searched = (
        Placement(0, 0, 1, 0.0, 0.0),
        Placement(0, 1, 0, 1.0, 0.0),
        Placement(1, 0, 0, 2.0, 0.0),
        Placement(2, 0, 2, 3.0, 0.0),
    )
    turned = Placement(1, 1, 1, 3.0, 0.0, further_deg=-5.0)
    assert way.told(searched) == (*lay[:3], turned)


def test_a_problem_without_free_items_is_searched_as_it_is():
    problem = checked(collars(0.0, any_turn=False))
    assert finite(problem).searched.items == problem.items


def test_one_free_piece_by_itself_is_searched_on():
    """Nothing has been evaluated yet when it is asked how much the first share of the budget is."""
    stick = np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 20.0], [0.0, 20.0]])
    held = Item("stick", stick, any_turn=True, x_window_mm=(50.0, np.inf))
    for stop in (Evaluations(2_000), Seconds(0.2)):
        assert pack(StripProblem(400.0, (held,)), stop=stop).length_mm == pytest.approx(70.0, abs=1e-4)


def test_many_free_pieces_are_searched_at_no_more_turns_than_there_is_time_for():
    ways = tuple(Variant(angle, mirrored) for mirrored in (False, True) for angle in EIGHTHS)
    items = tuple(
        Item(f"piece {k}", np.array([[0.0, 0.0], [90.0 + k, 0.0], [30.0, 50.0 + k]]), 1, ways, any_turn=True)
        for k in range(20)
    )
    problem = StripProblem(900.0, items)
    lay = tuple(Placement(k, 0, 0, 0.0, 0.0) for k in range(20))
    few, many = finite(problem), among(problem, lay)
    assert [len(item.variants) for item in few.searched.items] == [16] * 20
    assert all(len(item.variants) <= 17 for item in many.searched.items)
    told = few.told([Placement(3, 0, 15, 0.0, 0.0)])[0]
    lies, searched = items[3].presented(told), few.searched.items[3].variants[15]
    assert (lies.mirrored, lies.angle_deg) == (searched.mirrored, pytest.approx(searched.angle_deg))


def test_a_hair_too_long_for_the_width_proves_nothing_that_the_engine_lets_pass():
    stick = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 2.0], [0.0, 2.0]])
    passes_mm = SLACK * 100.0 + ROUNDED / 1e5
    problem = StripProblem(100.0, (Item("stick", stick * [1 + 0.9 * passes_mm / 100.0, 1.0], any_turn=True),))
    assert _any_angle_bound(problem, 1e5) == pytest.approx(2.0, abs=1e-6)
