"""Distances between shapes, rows and chains of them: worked out by hand."""

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.bounds.rows import Distances, _first_free, chain_bound, heights, row_bound
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build

AS_DRAWN, TURNED, MIRRORED = Variant(0), Variant(180), Variant(0, mirrored=True)
WEDGE = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
"""About its middle: all of a square of 10 with x + y <= 0."""


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


def tables_of(width, *items, **changes):
    return build(checked(StripProblem(width, items, **changes))).tables


def row_of(*items, width=10.0, gap=0.0):
    tables = tables_of(width, *items)
    edges = [item.edge for item in items for _ in range(item.demand)]
    return row_bound(tables, Distances(tables, gap, 0.0), edges)


def chain_of(*items, width=10.0, gap=0.0):
    tables = tables_of(width, *items)
    return chain_bound(tables, Distances(tables, gap, 0.0))


def near(mm):
    return pytest.approx(mm, abs=1e-4)


def edges(*corners):
    ring = np.array(corners, dtype=float)
    return np.column_stack([ring, np.roll(ring, -1, axis=0), np.zeros((len(ring), 4))])


@pytest.mark.parametrize(
    ("low", "high", "right", "left"),
    [
        (0.0, 0.0, 4.0, 8.0),
        (-1.0, 1.0, 3.0, 6.0),
        (1.0, 2.0, 2.0, 4.0),
        (-2.0, -1.0, 2.0, 4.0),
        (-3.0, 1.0, 1.0, 2.0),
        (3.8, 3.9, 0.1, 0.2),
        (-1.0, 4.0, 0.0, 0.0),
        (5.0, 6.0, 0.0, 0.0),
    ],
)
def test_how_far_a_segment_stays_inside_a_kite(low, high, right, left):
    kite = edges((4, 0), (0, 4), (-8, 0), (0, -4))
    assert _first_free(kite, low, high) == (pytest.approx(right), pytest.approx(left))
    assert _first_free(kite[:, [2, 3, 0, 1, 4, 5, 6, 7]], low, high) == (
        pytest.approx(right),
        pytest.approx(left),
    )


def test_how_far_a_segment_stays_inside_a_box_with_a_notch():
    #   +--+    +--+   from 2 on up at x = 3 the notch begins
    #   |  +----+  |
    #   +----------+
    box = edges((-5, -4), (9, -4), (9, 4), (6, 4), (6, 2), (3, 2), (3, 4), (-5, 4))
    assert _first_free(box, -1.0, 1.0) == (9.0, 5.0)
    assert _first_free(box, -1.0, 3.0) == (3.0, 5.0)
    assert _first_free(box, 2.5, 3.0) == (3.0, 5.0)
    away = box - [4, 0, 4, 0, 0, 0, 0, 0]  # the notch above 0
    assert _first_free(away, 2.5, 3.0) == (0.0, 0.0)
    assert _first_free(away, -1.0, 1.0) == (5.0, 9.0)
    assert _first_free(box - [20, 0, 20, 0, 0, 0, 0, 0], -1.0, 1.0) == (0.0, 0.0)


def test_a_segment_stays_inside_up_to_the_tip_of_a_dart():
    dart = edges((-5, -4), (6, -4), (3, 0), (6, 4), (-5, 4))
    assert _first_free(dart, -1.0, 1.0) == (3.0, 5.0)
    assert _first_free(dart[:, [2, 3, 0, 1, 4, 5, 6, 7]], -1.0, 1.0) == (3.0, 5.0)
    assert _first_free(dart * [-1, 1, -1, 1, 1, 1, 1, 1], -1.0, 1.0) == (5.0, 3.0)
    from_above = edges((-5, -4), (9, -4), (9, 4), (0.5, 4), (0, 2), (-0.5, 4), (-5, 4))
    assert _first_free(from_above, 1.0, 3.0) == (0.0, 0.0)
    assert _first_free(from_above, 0.0, 1.0) == (9.0, 5.0)


@pytest.mark.parametrize(("gap", "loose", "apart"), [(0.0, 0.0, 5.0), (1.0, 0.0, 6.0), (0.0, 0.25, 4.75)])
def test_boards_side_by_side_are_half_their_lengths_apart(gap, loose, apart):
    tables = tables_of(20.0, Item("four", board(4, 3)), Item("six", board(6, 5)))
    distances = Distances(tables, gap, loose)
    assert distances.after(0, 1, 0.0, 0.0) == distances.after(1, 0, -1.0, 2.0) == near(apart)
    # 3 and 5 across: apart from 4 on, a little before where they may be loose
    assert distances.after(0, 1, -1.0, 3.99 - loose) == near(apart)
    assert distances.after(0, 1, -1.0, 4.01 - loose) == 0.0
    assert distances.after(0, 1, -4.01 + loose, 1.0) == 0.0
    assert distances.after(0, 1, -3.99 + loose, 1.0) == near(apart)


def test_a_distance_within_what_is_loose_is_none():
    tables = tables_of(20.0, Item("four", board(4, 3)), Item("six", board(6, 5)))
    assert Distances(tables, 1.0, 5.5).after(0, 1, 0.0, 0.0) == 0.0


def test_a_board_lies_the_nearer_to_a_slope_the_higher_it_may_lie():
    tables = tables_of(
        30.0, Item("wedge", WEDGE, 1, (AS_DRAWN, TURNED, MIRRORED)), Item("board", board(4, 4))
    )
    wedge, turned, mirrored, square = 0, 1, 2, int(tables.shapes[1, 0])
    distances = Distances(tables, 0.0, 0.0)
    # the board's lower left corner on the slope: 2 to the right of the middle of the board, at 4 - dy
    assert [distances.after(wedge, square, dy, dy) for dy in (-3, 0, 1)] == [near(7), near(4), near(3)]
    assert distances.after(wedge, square, -1.0, 1.0) == near(3.0)
    assert distances.after(square, wedge, -1.0, 1.0) == near(7.0)
    # the same scene turned half round, and mirrored top to bottom or end to end
    assert distances.after(square, turned, 1.0, 1.0) == near(3.0)
    assert distances.after(turned, square, 1.0, 1.0) == near(7.0)
    assert {
        round(distances.after(a, b, dy, dy), 3)
        for a, b in ((mirrored, square), (square, mirrored))
        for dy in (1.0, -1.0)
    } == {3.0, 5.0, 7.0}
    # the slopes of two of them, one turned, may lie on each other
    assert distances.after(wedge, turned, 0.0, 0.0) == distances.after(turned, wedge, 0.0, 0.0) == near(0.0)
    assert distances.after(wedge, wedge, 0.0, 0.0) == near(10.0)
    # clear of each other, the turned one above: no distance, so no gap to be added to it
    assert Distances(tables, 1.0, 0.0).after(wedge, turned, 1.0, 1.0) == 0.0
    assert Distances(tables, 1.0, 0.25).after(wedge, turned, 1.0, 1.0) == 0.0


def test_heights_are_those_that_the_strip_a_side_or_a_lattice_leaves():
    tables = tables_of(
        20.0,
        Item("free", board(5, 4)),
        Item("low", board(6, 4), edge=EdgeRule.LOW),
        Item("high", board(7, 4), edge=EdgeRule.HIGH),
        Item("either", board(8, 4), edge=EdgeRule.EITHER),
        Item("on a lattice", board(9, 4), y_lattice=Lattice(5.0, 1.0)),
    )
    at = heights(tables)
    assert at[tables.shapes[:5, 0]] == near(np.array([[2, 18], [2, 2], [18, 18], [2, 18], [3, 18]]))


def test_a_row_lies_in_the_order_that_is_shortest():
    """Slope to slope the wedges share a square of 10, the board before them; between them: 24."""
    wedge, other = Item("wedge", WEDGE, 1, (AS_DRAWN,)), Item("other", WEDGE, 1, (TURNED,))
    between = Item("board", board(4, 10))
    assert row_of(wedge, between, other) == near(14.0)
    assert row_of(wedge, other) == near(10.0)
    assert row_of(wedge, between) == near(14.0)
    assert row_of(wedge) == near(10.0)
    assert row_of(Item("two", WEDGE, 2, (AS_DRAWN,)), between) == near(24.0)
    assert row_of(Item("two", WEDGE, 2, (AS_DRAWN, TURNED)), between) == near(14.0)


def test_a_gap_is_kept_between_neighbours_of_a_row_only():
    boards = (Item("three", board(3, 10), 2), Item("four", board(4, 10)))
    assert row_of(*boards, gap=0.5) == near(11.0)
    assert chain_of(*boards, gap=0.5) == near(10.0)


@pytest.mark.parametrize(
    ("rules", "length"),
    [
        ("low low low", 24),
        ("low low either", 18),
        ("low high either", 14),
        ("high high either", 18),
        ("either either either", 14),
        ("low low high", 18),
        ("low high low", 16),
        ("low free free", 10),
        ("high high free", 18),
        ("free free either", 7),  # the longest may lie above or below both: half an 8 and half a 6
    ],
)
def test_boards_on_a_side_stand_in_a_row_there(rules, length):
    """Boards 10, 8 and 6 long on a wide strip, where only those of one side are in each other's way."""
    items = [
        Item(f"{n} long", board(n, 1), edge=EdgeRule[rule.upper()])
        for n, rule in zip((10, 8, 6), rules.split(), strict=True)
    ]
    assert row_of(*items, width=100.0) == near(length)


def test_a_dozen_boards_too_broad_to_pass_each_other_are_a_chain():
    """All of them count in a chain, nine in a row."""
    boards = (Item("three", board(3, 6), 12), Item("five", board(5, 7), 2))
    assert chain_of(*boards) == near(46.0)
    assert row_of(*boards) == near(2 * 5 + 7 * 3)


def test_a_chain_takes_in_only_what_makes_it_longer():
    """Seven apart at least from the wedge, the tall board is whole; the low one nearly under its slope."""
    wedge = Item("wedge", WEDGE, 1, (AS_DRAWN,))
    assert chain_of(wedge, Item("tall", board(4, 10))) == near(14.0)
    assert chain_of(wedge, Item("low", board(4, 4))) == near(10.0)
    assert chain_of(Item("wedges", WEDGE, 3, (AS_DRAWN,)), Item("tall", board(4, 10))) == near(34.0)
    assert chain_of(Item("wedges", WEDGE, 3, (AS_DRAWN, TURNED))) == near(10.0)
    assert chain_of(Item("narrow", board(8, 3), 3), Item("broad", board(3, 6), 2)) == near(8.0)


def test_of_ten_boards_on_a_side_the_nine_longest_stand_in_the_row():
    """Their lengths are 1 to 10; which is the broadest does not matter."""
    boards = [Item(f"{n}", board(n, 11 - n), edge=EdgeRule.LOW) for n in range(1, 11)]
    assert row_of(*boards, width=200.0) == near(54.0)


def test_pieces_shorter_than_a_millimetre_are_a_chain_too():
    assert chain_of(Item("short", board(0.5, 6))) == near(0.5)
    assert chain_of(Item("four tenths", board(0.4, 6)), Item("six tenths", board(0.6, 6))) == near(1.0)
    assert chain_of(Item("four tenths", board(0.4, 6), 3)) == near(1.2)


def test_a_chain_is_of_all_kinds_that_cannot_pass_one_another():
    six = [Item(f"{n} by 6", board(n, 6)) for n in (4, 3, 2)]
    assert chain_of(*six) == near(9.0)
    # two of 5 across pass each other: one of them counts
    assert chain_of(six[0], Item("3 by 5", board(3, 5)), Item("2 by 5", board(2, 5))) == near(7.0)


def test_the_tallest_stand_in_a_row_with_what_cannot_pass_them():
    """Between two that fill the strip, or beside them, laths lie over one another."""
    assert row_of(Item("lath", board(20, 1), 9), Item("tall", board(3, 10), 2)) == near(26.0)


@pytest.mark.parametrize("edge", [EdgeRule.LOW, EdgeRule.HIGH])
def test_what_can_pass_on_one_side_only_is_no_chain(edge):
    free, tied = Item("free", board(4, 3)), Item("tied", board(5, 3), edge=edge)
    assert chain_of(free, tied) == chain_of(tied, free) == near(5.0)


def test_two_that_lie_in_each_other_count_for_what_keeps_them_apart():
    """Arrowheads 10 long and 4 thick: the second begins 4 behind the first."""
    arrow = np.array([[0, 0], [4, 0], [10, 5], [4, 10], [0, 10], [6, 5]], dtype=float)
    assert row_of(Item("arrow", arrow, 2)) == near(14.0)
    assert chain_of(Item("arrow", arrow, 2)) == near(8.0)
