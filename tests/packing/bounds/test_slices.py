"""Areas counted in steps along lines: the functions, the chords, and what they prove."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.packing import Item, StripProblem, Variant
from nesting.packing.bounds.slices import Slices, _chords, dual_feasible, slice_bound
from nesting.packing.problem import variant_outline


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


WEDGE = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
SCALENE = np.array([[0.0, 0.0], [9.0, 1.0], [2.0, 6.0]])

ONE_AT_AN_EIGHTH, ONE_AT_A_QUARTER = 9, 19
"""Places of e = 1/8 and e = 1/4 among the forty, of which the last is one half."""


@pytest.mark.parametrize(
    ("share", "at_an_eighth", "at_a_quarter", "at_a_half"),
    [
        (0.1, 0.0, 0.0, 0.0),
        (0.2, 0.2, 0.0, 0.0),
        (0.3, 0.3, 0.3, 0.0),
        (0.7, 0.7, 0.7, 1.0),
        (0.8, 0.8, 1.0, 1.0),
        (0.9, 1.0, 1.0, 1.0),
        (1.0, 1.0, 1.0, 1.0),
        # exactly on a step the lesser value
        (0.125, 0.0, 0.0, 0.0),
        (0.75, 0.75, 0.75, 1.0),
        (0.5, 0.5, 0.5, 0.0),
    ],
)
def test_a_share_counts_for_nothing_for_itself_or_for_all(share, at_an_eighth, at_a_quarter, at_a_half):
    """U of Fekete and Schepers: nothing below e, all above 1 - e."""
    (values,) = dual_feasible(np.array([share])).T
    assert values[[ONE_AT_AN_EIGHTH, ONE_AT_A_QUARTER, 39]] == pytest.approx(
        [at_an_eighth, at_a_quarter, at_a_half]
    )


@pytest.mark.parametrize(
    ("share", "at_an_eighth", "at_a_quarter"),
    [
        (0.1, 0, 0),
        (0.2, 1, 0),
        (0.3, 1, 1),
        (0.5, 1, 1),
        (0.51, 8 - 3, 4 - 1),
        (0.7, 8 - 2, 4 - 1),
        (0.8, 8 - 1, 4),
        (0.9, 8, 4),
        # exactly on a step the lesser value
        (0.125, 0, 0),
        (0.25, 1, 0),
        (0.75, 8 - 2, 4 - 1),
    ],
)
def test_shares_are_counted_by_how_many_fit(share, at_an_eighth, at_a_quarter):
    """P: what is up to one half is one of all that fit, more is what it leaves to them."""
    (values,) = dual_feasible(np.array([share])).T
    found = values[[40 + ONE_AT_AN_EIGHTH, 40 + ONE_AT_A_QUARTER]]
    assert found == pytest.approx([at_an_eighth / 8, at_a_quarter / 4])


@pytest.mark.parametrize(
    ("share", "steps"),
    [
        (0.15, [0, 0, 0, 0, 0]),
        (0.35, [0, 1 / 2, 1 / 3, 1 / 4, 2 / 5]),
        (0.5, [0, 1 / 2, 1 / 3, 2 / 4, 2 / 5]),
        (0.55, [1, 1 / 2, 2 / 3, 2 / 4, 3 / 5]),
        (2 / 3, [1, 1 / 2, 2 / 3, 3 / 4, 3 / 5]),
        (1.0, [1, 1, 1, 1, 1]),
    ],
)
def test_shares_are_rounded_down_to_steps(share, steps):
    """F for k from 1 to 5, itself and under U at eight e: where that is below e it counts for nothing."""
    (values,) = dual_feasible(np.array([share])).T
    assert len(values) == 2 * 40 + 5 * (1 + 8)
    found = values[80:].reshape(5, 9)
    assert found[:, 0] == pytest.approx(steps)
    e = np.linspace(0.0, 0.5, 41)[5::5]
    for step, under in zip(steps, found[:, 1:], strict=True):
        assert under == pytest.approx(
            [0.0 if step < one + 1e-6 else 1.0 if step > 1 - one + 1e-6 else step for one in e]
        )


def test_chords_of_a_board_lose_a_rim_all_round():
    lengths, widths = _chords(board(10, 6), 0.0)
    assert set(np.round(lengths, 9)) == {6.0}
    assert len(lengths) == 200
    assert widths.sum() == pytest.approx(10.0)
    lengths, widths = _chords(board(10, 6), 0.5)
    assert lengths[widths > 0] == pytest.approx(5.0)
    assert widths.sum() == pytest.approx(9.0)


@pytest.mark.parametrize("rim", [0.0, 0.5])
def test_chords_of_a_wedge_are_measured_at_their_shorter_side(rim):
    """Its slope loses √2 times the rim across, measured at right angles to it."""
    lengths, widths = _chords(WEDGE, rim)
    right = 10 * np.arange(1, 201) / 200
    expected = 10 - right - rim * (1 + np.sqrt(2))
    assert lengths == pytest.approx(expected[expected > 1e-9])
    behind, ahead = np.maximum(right - 0.05, rim), np.minimum(right, 10 - rim)
    assert widths == pytest.approx(np.maximum(0.0, ahead - behind)[expected > 1e-9])


def test_a_line_through_two_arms_has_two_chords():
    #   +---+   +---+
    #   |   |   |   |
    #   |   +---+   |   arms 2 and 3 across above and below a gap of 1, the back 4 along
    #   ...
    fork = np.array([[0, 0], [10, 0], [10, 3], [4, 3], [4, 4], [10, 4], [10, 6], [0, 6]], dtype=float)
    lengths, widths = _chords(fork, 0.0)
    taken = {length: widths[np.isclose(lengths, length)].sum() for length in (2.0, 3.0, 6.0)}
    assert taken == {2.0: pytest.approx(6.0), 3.0: pytest.approx(6.0), 6.0: pytest.approx(4.0)}
    lengths, widths = _chords(fork, 0.25)
    taken = {length: widths[np.isclose(lengths, length)].sum() for length in (1.5, 2.5, 5.5)}
    assert taken == {1.5: pytest.approx(5.5), 2.5: pytest.approx(5.5), 5.5: pytest.approx(3.5)}


@pytest.mark.parametrize("variant", [Variant(30, True), Variant(150), Variant(210), Variant(330, True)])
def test_a_variant_is_cut_as_it_is_shown(variant):
    shown = Slices(StripProblem(20.0, (Item("shown", variant_outline(SCALENE, variant)),)))
    turned = Slices(StripProblem(20.0, (Item("turned", SCALENE, 1, (variant,)),)))
    assert turned.across() == pytest.approx(shown.across(), rel=1e-4)
    for length in (1.0, 1.5, 2.0, 2.5, 3.0):
        assert turned.refutes(length) == shown.refutes(length)


def test_turns_too_broad_for_the_strip_are_left_out():
    lath = Item("lath", board(10, 2), 1, (Variant(0), Variant(90)))
    assert Slices(StripProblem(9.0, (lath,))).across() == pytest.approx(10 / 4, rel=1e-3)
    broad = Item("broad", board(10, 8), 1, (Variant(90), Variant(0)))
    assert Slices(StripProblem(9.0, (broad,))).across() == pytest.approx(10.0, rel=1e-3)
    assert Slices(StripProblem(9.9, (broad,)), 0.2).across() == pytest.approx(7.8, rel=1e-3)


def test_demand_counts_and_what_is_loose_comes_off():
    boards = StripProblem(10.0, (Item("six", board(10, 6), 3), Item("seven", board(5, 7), 2)))
    assert Slices(boards).across() == pytest.approx(40.0, rel=1e-6)
    assert Slices(boards, 0.5).across() == pytest.approx(3 * 9.5 + 2 * 4.5, rel=1e-6)


def test_lines_along_refute_lengths_below_what_is_needed():
    # three boards 10 long and 4 across on a strip of 10: below 20 none lies behind another
    slices = Slices(StripProblem(10.0, (Item("board", board(10, 4), 3),)))
    assert slices.refutes(19.9)
    assert not slices.refutes(20.0)
    abreast = Item("board", board(10, 4), 3)
    assert not Slices(StripProblem(12.0, (abreast,))).refutes(10.0)
    assert Slices(StripProblem(11.99, (abreast,))).refutes(10.0)
    # 9.5 by 3.5 without a rim of a quarter: 10.5 across in all
    assert Slices(StripProblem(10.4, (abreast,)), 0.5).refutes(9.4)
    assert not Slices(StripProblem(10.6, (abreast,)), 0.5).refutes(9.4)


def test_the_bound_from_lines_is_never_below_what_is_known():
    problem = StripProblem(10.0, (Item("board", board(10, 6), 2),))
    assert slice_bound(problem, 19.0) == pytest.approx(20.0, rel=1e-3)
    assert slice_bound(problem, 30.0) == 30.0
    thin = StripProblem(10.0, (Item("film", board(10, 0.001), 2),))
    assert slice_bound(thin, 0.0, 0.01) == 0.0
    assert slice_bound(thin, 10.0, 0.01) == 10.0


def test_the_bound_from_lines_comes_within_a_thousandth():
    # three boards of 10 by 4: 12 by area, below 20 they would have to lie three abreast
    problem = StripProblem(10.0, (Item("board", board(10, 4), 3),))
    assert 20 * (1 - 2e-3) < slice_bound(problem, 0.0) <= 20.0


def test_a_share_that_is_nearly_a_step_is_taken_for_the_lesser():
    # (1 - 0.7) / 0.1 is 2.9999999999999996: three of ten, and seven are left
    (values,) = dual_feasible(np.array([0.7])).T
    assert values[40 + 7] == pytest.approx(0.7)


def test_pieces_shorter_than_a_millimetre_have_a_bound_too():
    boards = StripProblem(1.0, (Item("board", board(0.1, 0.4), 3),))
    assert 0.199 < slice_bound(boards, 0.0) <= 0.2


def test_chords_between_parallel_slopes_lose_nothing():
    lengths, widths = _chords(np.array([[0.0, 0.0], [10.0, 5.0], [10.0, 9.0], [0.0, 4.0]]), 0.0)
    assert lengths == pytest.approx(4.0)
    assert widths.sum() == pytest.approx(10.0)
