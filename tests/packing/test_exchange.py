"""What a trial begins with: two large pieces change places."""

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.checks import checked
from nesting.packing.construct import construct
from nesting.packing.exchange import exchange
from nesting.packing.place_kernel import snap_x, snap_y
from nesting.packing.sight_kernel import new_scratch
from nesting.packing.table_building import build
from nesting.packing.tables import Tables
from nesting.packing.walk import AIM, EXPLORE, Walk, measure_all, new_walk

LONG = np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 10.0], [0.0, 10.0]])
SQUARE = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]])
WEDGE = np.array([[0.0, 0.0], [30.0, 0.0], [0.0, 15.0]])
HALF_TURNS = (Variant(), Variant(angle_deg=180.0))


def walk_of(problem: StripProblem, seed: int) -> tuple[Tables, Walk]:
    layout = build(checked(problem))
    xy, shape, length, _ = construct(layout)
    walk = new_walk(layout.tables, xy, shape, length, 0.0, seed)
    measure_all(layout.tables, walk)
    return layout.tables, walk


def moved(before: Walk, after: Walk) -> list[int]:
    return [
        i
        for i in range(len(after.shape))
        if after.shape[i] != before.shape[i] or not np.array_equal(after.xy[i], before.xy[i])
    ]


def copied(walk: Walk) -> Walk:
    return Walk(*(array.copy() for array in walk))


@pytest.mark.parametrize("seed", range(6))
def test_at_most_two_pieces_move_and_each_to_where_its_rules_allow(seed: int) -> None:
    problem = StripProblem(
        50.0,
        (
            Item("long", LONG, 2, HALF_TURNS, edge=EdgeRule.LOW),
            Item("square", SQUARE, 2, x_lattice=Lattice(5.0)),
            Item("wedge", WEDGE, 3, HALF_TURNS),
        ),
    )
    tables, walk = walk_of(problem, seed)
    before = copied(walk)
    exchange(tables, walk, new_scratch(len(walk.shape)), EXPLORE)
    assert 1 <= len(moved(before, walk)) <= 2
    for i in moved(before, walk):
        s = walk.shape[i]
        assert tables.shapes[i, 0] <= s < tables.shapes[i, 1]
        assert walk.xy[i, 0] == pytest.approx(snap_x(tables, s, walk.number[AIM], walk.xy[i, 0]), abs=1e-6)
        assert walk.xy[i, 1] == pytest.approx(snap_y(tables, s, walk.xy[i, 1]), abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_the_depths_afterwards_are_those_of_the_new_lay(seed: int) -> None:
    tables, walk = walk_of(
        StripProblem(45.0, (Item("square", SQUARE, 3), Item("wedge", WEDGE, 4, HALF_TURNS))), seed
    )
    exchange(tables, walk, new_scratch(len(walk.shape)), EXPLORE)
    kept = walk.over.copy()
    measure_all(tables, walk)
    np.testing.assert_array_equal(kept, walk.over)


def test_a_long_piece_and_a_square_fit_where_the_other_was() -> None:
    """On a strip with room to spare both come to lie without overlap, near the place of the other."""
    tables, walk = walk_of(StripProblem(40.0, (Item("long", LONG, 1), Item("square", SQUARE, 1))), 1)
    walk.number[AIM] = 200.0
    walk.xy[:, 0] += np.where(tables.shapes[:2, 0] == tables.shapes[0, 0], 0.0, 100.0)
    measure_all(tables, walk)
    before = copied(walk)
    exchange(tables, walk, new_scratch(2), EXPLORE)
    assert not walk.over.any()
    for one, other in ((0, 1), (1, 0)):
        assert abs(walk.xy[one, 0] - before.xy[other, 0]) < 60.0
        assert abs(walk.xy[one, 0] - before.xy[one, 0]) > 40.0


def test_pieces_of_one_kind_change_shapes_rather_than_nothing() -> None:
    """Fitted as different ones are, two alike would come back to the lay as it was."""
    problem = StripProblem(40.0, (Item("wedge", WEDGE, 4, HALF_TURNS),))
    tables, walk = walk_of(problem, 3)
    shapes = set()
    for _ in range(12):
        exchange(tables, walk, new_scratch(4), EXPLORE)
        shapes.add(tuple(sorted(walk.shape)))
    assert len(shapes) > 1
