"""Forbidden heights and refuted lengths, on arrangements that can be drawn.

They are quick without the compiler too (NUMBA_DISABLE_JIT=1), so that faults can be put into the kernels.
"""

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, StripProblem, Variant
from nesting.packing.bounds.kernel import inner_intervals
from nesting.packing.bounds.proof import _largest, _Search
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build

WEDGE = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
QUARTERS = (Variant(0), Variant(90))
HALVES = (Variant(0), Variant(180))
PLENTY = 200_000


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


def test_forbidden_heights_of_a_diamond():
    # |x| + |y| < 4 in columns of 1: at its far side each column leaves 4 - |x|
    corners = np.array([[4.0, 0.0], [0.0, 4.0], [-4.0, 0.0], [0.0, -4.0]])
    edge = np.column_stack([corners, np.roll(corners, -1, axis=0), np.zeros((4, 3))])
    low, high = np.zeros(8), np.zeros(8)
    inner_intervals(edge, low, high, 1.0, 0.0, np.empty((4, 2)))
    assert high == pytest.approx([0, 1, 2, 3, 3, 2, 1, 0])
    assert low == pytest.approx(-high)


def test_forbidden_heights_of_two_blocks_are_those_of_the_larger():
    def ring(y, height):
        corners = board(2, height) + np.array([-1.0, y])
        return np.column_stack([corners, np.roll(corners, -1, axis=0), np.zeros((4, 3))])

    low, high = np.zeros(4), np.zeros(4)
    inner_intervals(np.concatenate([ring(-5, 1), ring(2, 3)]), low, high, 0.5, 0.0, np.empty((8, 2)))
    assert low[1:3] == pytest.approx([2, 2])
    assert high[1:3] == pytest.approx([5, 5])
    inner_intervals(np.concatenate([ring(-5, 3), ring(2, 1)]), low, high, 0.5, 0.0, np.empty((8, 2)))
    assert low[1:3] == pytest.approx([-5, -5])
    assert high[1:3] == pytest.approx([-2, -2])


def test_forbidden_heights_far_from_where_both_middles_are():
    corners = board(2, 3) + np.array([2.5, 7.0])
    edge = np.column_stack([corners, np.roll(corners, -1, axis=0), np.zeros((4, 4))])
    low, high = np.zeros(12), np.zeros(12)
    inner_intervals(edge, low, high, 1.0, 0.0, np.empty((4, 2)))
    assert (low[9], high[9]) == (7.0, 10.0)
    assert (high > low).nonzero()[0].tolist() == [9]


@pytest.mark.parametrize(
    ("loose", "first", "highs"),
    [
        (0.0, 5, [3.5, 2.5, 1.5, 0.5, -0.5]),
        (0.25, 5, [3.25, 2.25, 1.25, 0.25, -0.75]),
        (0.6, 6, [1.9, 0.9, -0.1]),
    ],
)
def test_forbidden_heights_of_a_wedge_whichever_way_round(loose, first, highs):
    """x from -1.5, y from -1, x + y < 3.5: a column leaves 3.5 less its right side, with what is loose."""
    corners = np.array([[-1.5, -1.0], [4.5, -1.0], [-1.5, 5.0]])
    edge = np.column_stack([corners, np.roll(corners, -1, axis=0), np.zeros((3, 4))])
    for ring in (edge, edge[:, [2, 3, 0, 1, 4, 5, 6, 7]], edge[::-1]):
        low, high = np.full(12, 9.0), np.full(12, 9.0)
        inner_intervals(ring, low, high, 1.0, loose, np.empty((3, 2)))
        inside = np.arange(first, first + len(highs))
        assert low[inside] == pytest.approx(-1.0)
        assert high[inside] == pytest.approx(highs)
        assert (np.delete(low, inside) >= np.delete(high, inside)).all()


def search_for(width, *items, gap=0.0, columns=200):
    tables = build(checked(StripProblem(width, items))).tables
    return _Search(tables, _largest(tables, 8), gap, 0.0, columns)


def least(search, pieces, between, partner=-1):
    """The least length not refuted, to a fiftieth of a millimetre or so."""
    low, high = between
    assert search.refutes(low, pieces, partner, PLENTY)
    assert not search.refutes(high, pieces, partner, PLENTY)
    while high - low > 0.02:
        middle = (low + high) / 2
        if search.refutes(middle, pieces, partner, PLENTY):
            low = middle
        else:
            high = middle
    return high


def test_two_boards_lie_side_by_side_where_they_can():
    assert least(
        search_for(10.0, Item("a", board(6, 5)), Item("b", board(4, 5))), 2, (5, 11)
    ) == pytest.approx(6, abs=0.1)
    assert least(
        search_for(9.9, Item("a", board(6, 5)), Item("b", board(4, 5))), 2, (5, 11)
    ) == pytest.approx(10, abs=0.1)
    near = search_for(10.0, Item("a", board(6, 5)), Item("b", board(4, 5)), gap=0.5)
    assert least(near, 2, (5, 11)) == pytest.approx(10, abs=0.1)
    assert least(
        search_for(10.6, Item("a", board(6, 5)), Item("b", board(4, 5)), gap=0.5), 2, (5, 11)
    ) == pytest.approx(6, abs=0.1)


def test_three_boards_fill_a_square():
    #   +-----+---+
    #   |     |   |
    #   +-----+   |
    #   |     |   |
    #   +-----+---+
    boards = (Item("a", board(6, 4)), Item("b", board(6, 6)), Item("c", board(4, 10)))
    assert least(search_for(10.0, *boards), 3, (7, 17)) == pytest.approx(10, abs=0.15)
    assert least(search_for(9.99, *boards[:2], Item("c", board(4, 9.99))), 3, (7, 17)) == pytest.approx(
        16, abs=0.15
    )


def test_pieces_that_may_turn_take_the_better_turn():
    laths = Item("lath", board(8, 3), 2, QUARTERS)
    assert least(search_for(9.0, laths), 2, (2, 9)) == pytest.approx(6, abs=0.1)
    assert least(search_for(7.0, laths), 2, (2, 9)) == pytest.approx(8, abs=0.1)
    assert least(
        search_for(9.0, Item("long", board(12, 3), 1, QUARTERS), laths), 3, (2, 16)
    ) == pytest.approx(12, abs=0.15)


def test_a_piece_that_may_turn_keeps_inside_the_strip_as_it_lies():
    #   |   |  lath 8 x 2 |   the lath above the board reaches past it; turned it would need 2 more
    #   | 2 +-------------+
    #   |   |  board 7 x 6
    pieces = (Item("board", board(7, 6)), Item("full", board(2, 9)), Item("lath", board(8, 2), 1, QUARTERS))
    assert least(search_for(9.0, *pieces), 3, (7, 19)) == pytest.approx(10, abs=0.15)


def test_a_smaller_piece_may_lie_before_a_larger():
    """Under the slope of a turned wedge, not behind it."""
    pieces = (Item("wedge", WEDGE, 1, (Variant(180),)), Item("board", board(4, 4)))
    assert least(search_for(10.0, *pieces), 2, (8, 15)) == pytest.approx(10, abs=0.1)


def test_four_boards_about_a_hole():
    """A pinwheel: 6 by 4 each, a hole of 2 by 2 in the middle, none above all others."""
    boards = Item("board", board(6, 4), 4, QUARTERS)
    assert least(search_for(10.0, boards, columns=100), 4, (9, 13)) == pytest.approx(10, abs=0.25)


def test_wedges_lie_slope_to_slope():
    assert least(search_for(10.0, Item("wedge", WEDGE, 2, HALVES)), 2, (6, 21)) == pytest.approx(10, abs=0.2)
    assert least(search_for(10.0, Item("wedge", WEDGE, 2)), 2, (6, 21)) == pytest.approx(20, abs=0.2)
    assert least(search_for(10.0, Item("wedge", WEDGE, 3, HALVES)), 3, (6, 25)) == pytest.approx(20, abs=0.4)


def test_pieces_on_the_fold_are_in_each_others_way():
    fold = Item("fold", board(5, 2), 2, edge=EdgeRule.LOW)
    assert least(search_for(10.0, fold), 2, (4, 12)) == pytest.approx(10, abs=0.1)
    beside = Item("beside", board(9, 8))
    assert least(search_for(10.0, fold, beside), 3, (4, 22)) == pytest.approx(10, abs=0.2)
    assert least(search_for(9.9, fold, beside), 3, (4, 22)) == pytest.approx(19, abs=0.2)


def test_a_partner_in_mirror_image_does_not_change_what_is_needed():
    left, right = Item("left", WEDGE, 1), Item("right", WEDGE[::-1] * [-1.0, 1.0] + [10.0, 0.0], 1)
    search = search_for(10.0, left, right)
    alone, together = least(search, 2, (6, 21)), least(search, 2, (6, 21), partner=1)
    assert alone == pytest.approx(together, abs=0.05)
    assert together == pytest.approx(20, abs=0.2)
    itself = search_for(10.0, Item("one", board(7, 6)), Item("other", board(5, 6)))
    assert least(itself, 2, (6, 21), partner=0) == pytest.approx(12, abs=0.1)


def test_a_budget_used_up_refutes_nothing():
    search = search_for(10.0, Item("board", board(5, 6), 3))
    assert search.refutes(14.5, 3, -1, PLENTY)
    used = int(search.used[0])
    assert used > 3
    assert not search.refutes(14.5, 3, -1, used // 2)
    assert search.refutes(14.5, 3, -1, used)
    assert used // 2 <= search.used[0] - 2 * used < used
    assert search.refutes(4.9, 3, -1, 0), "a strip shorter than a piece needs no search"
