"""What the proof by exhaustion is told: rows, sides and forbidden heights, worked out by hand."""

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.bounds.proof import _forbidden, _largest, _partner, _rows, _Search, proven_length
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build

AS_DRAWN, QUARTER = Variant(0), Variant(90)
WEDGE = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
"""About its middle: all of a square of 10 with x + y <= 0."""


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


def tables_of(width, *items):
    return build(checked(StripProblem(width, items))).tables


def kinds_of(tables, *pieces):
    return [(int(tables.shapes[p, 0]), int(tables.shapes[p, 1])) for p in pieces]


def near(mm):
    return pytest.approx(mm, abs=1e-4)


def test_each_variant_and_then_any_of_them_has_its_extent_and_heights():
    tables = tables_of(
        20.0,
        Item("turning", board(8, 3), 1, (AS_DRAWN, QUARTER)),
        Item("on a lattice", board(5, 2), y_lattice=Lattice(5.0, 1.0)),
        Item("on the fold", board(5, 4), edge=EdgeRule.LOW),
    )
    half, rule = _rows(tables, kinds_of(tables, 0, 1, 2), 0.0)
    assert half == near([4, 1.5, 1.5, 2.5, 2.5, 2.5, 2.5])
    assert rule == near(np.array([[1.5, 18.5], [4, 16], [1.5, 18.5], [2, 17], [2, 17], [2, 2], [2, 2]]))
    loose_half, loose_rule = _rows(tables, kinds_of(tables, 0, 1, 2), 0.25)
    assert loose_half == near(half - 0.25)
    assert loose_rule - rule == near(np.tile([-0.25, 0.25], (7, 1)))


@pytest.mark.parametrize(("gap", "loose"), [(0.0, 0.0), (0.5, 0.0), (0.0, 0.2), (0.5, 0.2)])
def test_boards_are_forbidden_to_each_other_wherever_they_overlap(gap, loose):
    """4 by 3 beside 6 by 5: middles within 5 along and within 4 across; columns of 1 from -6 to 6."""
    tables = tables_of(30.0, Item("four", board(4, 3)), Item("six", board(6, 5)))
    low, high, column = _forbidden(tables, kinds_of(tables, 0, 1), gap, loose, 12)
    assert column == near(1.0)
    within = np.abs(np.arange(12) - 5.5) + 0.5 + loose < 5.0
    assert low[0, 2] == near(np.where(within, -4.0 + loose - gap, np.inf))
    assert high[0, 2] == near(np.where(within, 4.0 - loose + gap, -np.inf))
    assert low[2, 0] == near(low[0, 2])
    same = np.abs(np.arange(12) - 5.5) + 0.5 + loose < 4.0
    assert high[0, 0] == near(np.where(same, 3.0 - loose + gap, -np.inf))
    # one variant only: any of them is that
    for table in (low, high):
        assert (table[0] == table[1]).all()
        assert (table[:, 2] == table[:, 3]).all()


@pytest.mark.parametrize("first", range(4))
def test_a_slope_forbids_less_the_further_along(first):
    """A board of 4 by 4 and a wedge: forbidden where x + y < 4 and both within 7, all across a column.

    So for all its flips, whichever the tables are made of.
    """
    flips = [Variant(0), Variant(180), Variant(0, True), Variant(180, True)]
    order = [*flips[first:], *flips[:first]]
    tables = tables_of(30.0, Item("wedge", WEDGE, 1, tuple(order)), Item("board", board(4, 4)))
    low, high, column = _forbidden(tables, kinds_of(tables, 0, 1), 0.0, 0.0, 20)
    assert column == near(1.0)
    right = np.arange(20) - 9.0  # of each column
    some = (right - 1 > -7) & (right < 7)
    upper, within, square = np.minimum(7.0, 4.0 - right), np.full(20, 7.0), 5
    as_drawn, turned, upside_down, end_for_end = (order.index(flip) for flip in flips)
    lows = {as_drawn: -within, end_for_end: -within, upside_down: -upper, turned: -upper[::-1]}
    highs = {as_drawn: upper, end_for_end: upper[::-1], upside_down: within, turned: within}
    for way in range(4):
        assert low[way, square, some] == near(lows[way][some])
        assert high[way, square, some] == near(highs[way][some])
        # the other way round both differences change their signs: columns from the other end
        assert low[square, way, ::-1][some] == near(-highs[way][some])
        assert high[square, way, ::-1][some] == near(-lows[way][some])
    # any of them: what all forbid
    assert low[4, square, some] == near(np.max([lows[way][some] for way in range(4)], axis=0))
    assert high[4, square, some] == near(np.min([highs[way][some] for way in range(4)], axis=0))
    assert not np.isfinite(low[:5, square, ~some]).any()


def test_columns_reach_as_far_as_pieces_along_and_thin_ones_forbid_too():
    tables = tables_of(30.0, Item("tall", board(4, 9), 2))
    assert _forbidden(tables, kinds_of(tables, 0), 0.0, 0.0, 8)[2] == near(1.0)
    thin = tables_of(30.0, Item("thin", board(4, 0.4), 2))
    low, high, _ = _forbidden(thin, kinds_of(thin, 0), 0.0, 0.0, 10)
    assert high[0, 0, 5] == -low[0, 0, 5] == near(0.4)


def test_the_largest_are_taken_equal_ones_together():
    tables = tables_of(
        30.0, Item("small", board(2, 2), 2), Item("large", board(9, 9), 2), Item("middling", board(5, 5), 2)
    )
    assert _largest(tables, 6) == [2, 3, 4, 5, 0, 1]
    assert _largest(tables, 3) == [2, 3, 4]


def test_no_more_kinds_are_taken_than_there_are_rows_for():
    """Sixteen turns and one for any of them: two such items take 34 of 50 rows, a third would take 51."""
    turns = tuple(Variant(k * 20.0) for k in range(16))
    hook = np.array([[0, 0], [9, 0], [9, 3], [3, 3], [3, 7], [0, 7]], dtype=float)
    items = [Item(f"{n}", hook * n, 2, turns) for n in (1.0, 1.1, 1.2)]
    tables = tables_of(60.0, *items)
    assert _largest(tables, 6) == [4, 5, 2, 3]
    assert _largest(tables_of(60.0, *items[:2], Item("board", board(30, 30))), 6) == [4, 2, 3, 0, 1]
    fifty = Item("fifteen turns", items[0].outline, 2, turns[:15])
    assert _largest(tables_of(60.0, fifty, *items[1:]), 6) == [4, 5, 2, 3, 0, 1]


def test_the_first_piece_changes_places_with_the_one_it_becomes_when_mirrored():
    left, right = Item("left", WEDGE, 2), Item("right", WEDGE[::-1] * [-1.0, 1.0] + [10.0, 0.0], 2)
    tables = tables_of(60.0, left, right, Item("board", board(4, 4)))
    mirror = [2, 2, 0, 0, 4]
    assert _partner(tables, mirror, [0, 1, 2, 3]) == 2
    assert _partner(tables, mirror, [2, 3, 0, 1]) == 2
    assert _partner(tables, mirror, [4, 0, 2]) == 0
    # the board is its own mirror image, but the two lefts have no two rights here
    assert _partner(tables, mirror, [4, 0, 1, 2]) == -1
    assert _partner(tables, [2, 2, 0, 0, -1], [4, 0, 2]) == -1


@pytest.mark.parametrize(("gap", "length"), [(0.0, 14.0), (1.0, 16.0)])
def test_what_cannot_lie_side_by_side_is_refuted_up_to_its_length(gap, length):
    """Three boards of 6 across on a strip of 10, 4, 5 and 5 along, a gap between each two."""
    tables = tables_of(10.0, Item("four", board(4, 6)), Item("five", board(5, 6), 2))
    search = _Search(tables, _largest(tables, 3), gap, 0.0, 400)
    assert search.refutes(length - gap * 2 - 0.5, 3, -1, 100_000)
    assert not search.refutes(length + 0.05, 3, -1, 100_000)
    assert not search.refutes(length - gap * 2 - 0.5, 3, -1, 1)
    assert search.refutes(9.5, 2, -1, 100_000)
    assert not search.refutes(10.05, 2, -1, 100_000)


def test_the_proven_length_comes_close_to_what_is_needed():
    tables = tables_of(10.0, Item("four", board(4, 6)), Item("five", board(5, 6), 2))
    found = proven_length(tables, [-1] * 3, 9.0, gap_mm=0.0, loose_mm=0.0)
    assert 13.8 < found <= 14.0
    assert proven_length(tables, [-1] * 3, 14.0, gap_mm=0.0, loose_mm=0.0) == 14.0
    assert proven_length(tables, [-1] * 3, 9.0, gap_mm=0.0, loose_mm=0.0, most=1) == 9.0
    assert 9.8 < proven_length(tables, [-1] * 3, 9.0, gap_mm=0.0, loose_mm=0.0, most=2) <= 10.0
