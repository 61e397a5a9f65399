"""The parts of which the bound is made, one by one."""

from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon

from benchmarks.hard_input import saw
from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.bounds.bound import (
    _area_bound,
    _box_distance,
    _inside,
    _mirrored,
    _perimeters,
    _single_bound,
    _without_excess,
)
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build

WEDGE = np.array([[0.0, 0.0], [12.0, 0.0], [0.0, 8.0]])
OTHER = WEDGE[::-1] * [-1.0, 1.0] + [12.0, 0.0]
"""The wedge as it is seen in a mirror at its end."""
QUARTERS = (Variant(0), Variant(90))


def board(length, width, at=(0.0, 0.0)):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]]) + np.array(at)


def tables_of(problem):
    return build(checked(problem)).tables


def mirrored(*items, width=40.0):
    problem = checked(StripProblem(width, items))
    return _mirrored(problem, build(problem))


TILES = Item("tile", board(5, 5), 4)


@pytest.mark.parametrize(
    ("blocked", "length"),
    [
        ((), 10.0),
        ((board(5, 10),), 15.0),
        ((board(5, 10, (9.0, 0.0)),), 15.0),
        ((board(5, 10, (10.5, 0.0)),), 10.0),
        # half the strip from 9.9 on: half of what is needed beyond that is lost again
        ((board(90, 5, (9.9, 0.0)),), 10.1),
        # two that lie on each other take their place once
        ((board(5, 10), board(4, 10)), 15.0),
    ],
)
def test_area_of_items_and_of_obstacles_within_reach(blocked, length):
    assert _area_bound(StripProblem(10.0, (TILES,), obstacles=blocked)) == pytest.approx(length)


def test_a_gap_makes_items_larger_all_round_by_half_of_it():
    """Four sides of 4 by 1 and a quarter of a disc at each corner; the strip has half a gap more each way."""
    tiles = StripProblem(10.0, (Item("tile", board(4, 4), 6),), gap_mm=2.0)
    assert _area_bound(tiles) == pytest.approx(6 * (16 + 16 + np.pi) / 12 - 2, rel=2e-3)
    assert _area_bound(replace(tiles, gap_mm=1e-9)) == pytest.approx(9.6)


def test_each_item_lies_inside_the_strip_whole_in_its_shortest_turn():
    lath, plate = Item("lath", board(9, 2), 3, QUARTERS), Item("plate", board(5, 4))
    assert _single_bound(tables_of(StripProblem(20.0, (lath, plate)))) == pytest.approx(5.0)
    assert _single_bound(tables_of(StripProblem(20.0, (lath,)))) == pytest.approx(2.0)
    assert _single_bound(tables_of(StripProblem(8.0, (lath,)))) == pytest.approx(9.0)
    striped = replace(plate, x_lattice=Lattice(3.0, 1.0))
    assert _single_bound(tables_of(StripProblem(20.0, (lath, striped)))) == pytest.approx(6.0)


def test_all_that_can_touch_is_the_edges_of_every_copy_and_obstacle():
    problem = StripProblem(10.0, (TILES, Item("plate", board(5, 4))), obstacles=(board(2, 3), board(1, 1)))
    assert _perimeters(problem) == pytest.approx(4 * 20 + 18 + 10 + 4)


def test_left_and_right_change_places_in_the_mirror():
    left, right = Item("left", WEDGE, 2), Item("right", OTHER, 2)
    assert mirrored(left, right, Item("board", board(5, 4))) == [2, 2, 0, 0, 4]
    assert mirrored(Item("board", board(5, 4), 2), left, right) == [0, 0, 4, 4, 2, 2]
    both_ways = (Variant(0), Variant(180, mirrored=True))
    assert mirrored(Item("either", WEDGE, 3, both_ways)) == [0] * 3
    assert mirrored(Item("turning", WEDGE, 3, (Variant(0), Variant(180)))) == [-1] * 3


@pytest.mark.parametrize(
    "change",
    [
        {"demand": 2},
        {"edge": EdgeRule.LOW},
        {"y_lattice": Lattice(5.0)},
        {"x_window_mm": (0.0, 30.0)},
        {"variants": QUARTERS},
        {"outline": 1.01 * OTHER},
    ],
)
def test_no_places_are_changed_where_left_and_right_are_not_free_alike(change):
    left, right = Item("left", WEDGE), Item("right", OTHER)
    assert mirrored(left, right) == [1, 0]
    changed = replace(right, **change)
    assert mirrored(left, changed) == [-1] * (1 + changed.demand)
    assert mirrored(changed, left) == [-1] * (1 + changed.demand)


def test_how_far_off_a_box_inside_is():
    item = Item("board", board(10, 6))
    ring = np.array([[1.0, 0.5], [8.0, 0.5], [8.0, 5.0], [1.0, 5.0]])
    assert _box_distance(item, ring) == pytest.approx(2.0)
    assert _box_distance(item, ring - np.array([0.5, 0.0])) == pytest.approx(2.5)
    assert _box_distance(item, ring + np.array([1.5, -0.5])) == pytest.approx(2.5)
    assert _box_distance(item, ring + np.array([0.5, 0.5])) == pytest.approx(1.5)
    assert _box_distance(replace(item, variants=QUARTERS), ring + np.array([0.5, 0.5])) == pytest.approx(1.5)
    assert _box_distance(item, item.outline) == 0.0


def test_plain_outlines_without_a_gap_stand_for_themselves():
    problem = checked(StripProblem(40.0, (Item("wedge", WEDGE),)))
    layout = build(problem)
    plain, loose = _without_excess(problem, layout)
    assert plain is layout
    assert loose == 2 * layout.tables.tolerance


def test_with_a_gap_outlines_stand_for_themselves_on_tables_without_it():
    problem = checked(StripProblem(40.0, (Item("wedge", WEDGE, 2),), gap_mm=3.0, obstacles=(board(2, 2),)))
    layout = build(problem)
    plain, loose = _without_excess(problem, layout)
    assert plain is not layout
    assert (plain.tables.moving, len(plain.tables.shapes)) == (2, 2)
    k = int(plain.tables.pair[0, 0])
    assert plain.tables.box[k] == pytest.approx([-12, -8, 12, 8], abs=1e-5)
    assert loose == 2 * layout.tables.tolerance


def test_rough_outlines_are_stood_for_from_inside_and_looser_by_twice_what_they_are_off():
    item = Item("toothed", saw(60, 5.0, 400.0, 100.0), 2, x_lattice=Lattice(7.0))
    problem = checked(StripProblem(300.0, (item, Item("board", board(50, 40)))))
    layout = build(problem)
    plain, loose = _without_excess(problem, layout)
    inner, off = _inside(item)
    assert Polygon(item.outline).covers(Polygon(inner))
    assert 5 < off < 15
    assert off == _box_distance(item, inner)
    assert loose == pytest.approx(2 * layout.tables.tolerance + 2 * off)
    assert plain.tables.half[0] == pytest.approx(np.ptp(inner, axis=0) / 2, abs=1e-4)
    assert plain.tables.half[1] == pytest.approx([25, 20], abs=1e-4)
