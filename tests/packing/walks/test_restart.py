"""What a walk does between its passes."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.packing import EdgeRule, Evaluations, Item, StripProblem, Variant, pack
from nesting.packing.kernels.sight import new_scratch
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build
from nesting.packing.walks import separate
from nesting.packing.walks.attempt import bring_onto
from nesting.packing.walks.restart import (
    after_lull,
    begin_anew,
    exchange,
    keep_best,
    large_piece,
    settled,
    throw_about,
)
from nesting.packing.walks.settings import ROAM
from nesting.packing.walks.walk import POOL, new_walk

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
OBLONG = SQUARE * [3.0, 1.0]


@pytest.fixture
def row():
    """Two squares and an oblong one after the other on a strip as wide as a square, 2 mm between them."""
    items = (Item("square", SQUARE, 2), Item("oblong", OBLONG, 1))
    tables = build(checked(StripProblem(10.0, items))).tables
    xy = np.array([[5.0, 5.0], [17.0, 5.0], [39.0, 5.0]])
    shape = tables.shapes[:, 0].copy()
    return tables, new_walk(tables, xy, shape, 54.0, 40.0, 1)


def test_large_pieces_are_drawn_by_their_areas(row):
    tables, walk = row
    drawn = np.bincount([large_piece(tables, walk.attempt.rng) for _ in range(5000)], minlength=3) / 5000
    assert np.allclose(drawn, [0.2, 0.2, 0.6], atol=0.03)


def test_two_of_different_kinds_change_places_and_are_measured_anew(row):
    tables, walk = row
    before = walk.attempt.xy.copy()
    walk.aim_mm = 54.0
    exchange(tables, walk.attempt)
    moved = np.flatnonzero((walk.attempt.xy != before).any(axis=1))
    assert 2 in moved
    assert len(moved) == 2
    assert (walk.attempt.xy[:, 0] + tables.half[walk.attempt.shape, 0] <= 54.0).all()
    overlapping = walk.attempt.over.copy()
    bring_onto(tables, walk.attempt)
    assert overlapping.max() > 0.0
    assert (overlapping == walk.attempt.over).all()


def test_pieces_thrown_about_keep_to_their_rules_and_are_measured_anew():
    both_ways = (Variant(0), Variant(90))
    items = (
        Item("free", OBLONG, 2, both_ways),
        Item("on the fold", SQUARE, 2, edge=EdgeRule.LOW),
        Item("in a part", SQUARE, 2, x_window_mm=(20.0, 45.0)),
    )
    tables = build(checked(StripProblem(50.0, items))).tables
    count, seen = len(tables.shapes), []
    walk = new_walk(tables, np.full((count, 2), 25.0), tables.shapes[:, 0].copy(), 60.0, 10.0, 1)
    for _ in range(30):
        throw_about(tables, walk)
        half = tables.half[walk.attempt.shape]
        assert (walk.attempt.xy >= half - 1e-9).all()
        assert (walk.attempt.xy <= [60.0, 50.0] - half + 1e-9).all()
        assert walk.attempt.xy[2:4, 1] == pytest.approx(5.0)
        assert (abs(walk.attempt.xy[4:, 0] - 32.5) <= 7.5 + 1e-9).all()
        overlapping = walk.attempt.over.copy()
        bring_onto(tables, walk.attempt)
        assert (overlapping == walk.attempt.over).all()
        seen.append((*walk.attempt.xy[0], walk.attempt.shape[0] - tables.shapes[0, 0]))
    places = np.array(seen)
    assert np.ptp(places, axis=0) == pytest.approx([40.0, 30.0, 1.0], abs=12.0)
    assert set(places[:, 2]) == {0.0, 1.0}


@pytest.mark.parametrize("most_failures", [1, 0])
def test_every_other_time_that_an_aim_is_given_up_all_pieces_are_thrown_about(monkeypatch, most_failures):
    items = (Item("square", SQUARE, 3), Item("oblong", OBLONG, 2, (Variant(0), Variant(90))))
    layout = build(checked(StripProblem(31.0, items)))
    tables = layout.tables
    xy = np.array([[5.0, 5.0], [5.0, 15.5], [5.0, 26.0], [25.0, 5.0], [25.0, 15.5]])
    walk = new_walk(tables, xy, tables.shapes[:, 0].copy(), 40.0, 10.0, 3)
    settings = ROAM._replace(patience=2, max_lulls=1, max_failures=most_failures)
    told = []
    for name in ("begin_anew", "throw_about"):
        as_before = getattr(separate, name)

        def noted(tables, walk, name=name, as_before=as_before):
            told.append((name, walk.given_up))
            as_before(tables, walk)

        monkeypatch.setattr(separate, name, noted)
    separate.walk_on(tables, walk, new_scratch(tables, 5), settings, 40_000)
    thrown = [times for name, times in told if name == "throw_about"]
    most = walk.given_up
    assert most > 4
    assert thrown == (list(range(1, most + 1, 2)) if most_failures else [])
    assert all(told[k - 1][0] == "begin_anew" for k, (name, _) in enumerate(told) if name == "throw_about")


def test_a_lay_that_fits_is_pressed_together_and_one_at_the_floor_is_the_last(row):
    tables, walk = row
    keep_best(tables, walk, ROAM)
    assert 50.0 - 1e-3 <= walk.best_mm < 50.2
    assert not walk.done
    walk.floor_mm = walk.best_mm
    walk.attempt.xy[:] = walk.best_xy
    keep_best(tables, walk, ROAM)
    assert walk.done


def test_a_new_aim_is_below_the_shortest_and_all_pieces_are_on_it(row):
    tables, walk = row
    walk.step = 0.1
    begin_anew(tables, walk)
    assert walk.aim_mm == pytest.approx(54.0 * 0.9)
    assert (walk.attempt.xy[:, 0] + tables.half[walk.attempt.shape, 0] <= walk.aim_mm).all()
    assert walk.attempt.over.max() > 0.0


def test_the_lay_of_least_overlap_is_pushed_apart_only_where_there_is_room(row):
    tables, walk = row
    walk.aim_mm, walk.low = 51.0, 1.0
    walk.attempt.low_xy[:] = [[5.0, 5.0], [14.0, 5.0], [33.0, 5.0]]
    assert settled(tables, walk)
    bring_onto(tables, walk.attempt)
    assert walk.attempt.over.max() == 0.0
    walk.aim_mm, walk.best_mm = 49.0, 49.5
    assert not settled(tables, walk)


def fail(walk, tables, overlap):
    """Lulls until they count as a failure, `overlap` being the least; whether the aim is given up."""
    failures = walk.failures
    while walk.failures == failures:
        walk.low = overlap
        given_up = after_lull(tables, walk, ROAM)
    return given_up


def test_the_pool_fills_and_then_the_worst_of_it_is_replaced(row):
    tables, walk = row
    walk.aim_mm = 49.0
    for overlap in (5.0, 9.0, 1.0, 2.0, 3.0, 4.0, 6.0, 7.0):
        assert not fail(walk, tables, overlap)
    assert len(walk.pool) == POOL
    walk.attempt.low_xy[:] = 7.5
    fail(walk, tables, 8.0)
    assert [lay.overlap for lay in walk.pool] == [5.0, 8.0, 1.0, 2.0, 3.0, 4.0, 6.0, 7.0]
    assert (walk.pool[1].xy == 7.5).all()
    assert len(walk.pool) == POOL


def test_after_many_failures_the_aim_is_given_up_for_one_half_as_far_below(row):
    tables, walk = row
    walk.aim_mm = 49.0
    before = walk.step
    assert not any(fail(walk, tables, 100.0) for _ in range(ROAM.max_failures))
    assert fail(walk, tables, 100.0)
    assert walk.step == max(ROAM.step_least, before / 2)


def test_a_lay_no_shorter_than_the_shortest_ends_the_walk(row):
    tables, walk = row
    walk.best_mm = 54.0 - 4.0 - 1e-3  # what pressing can't reach from where the pieces lie
    keep_best(tables, walk, ROAM)
    assert walk.done


def test_a_search_ends_where_the_longest_piece_alone_decides():
    """The bound is a hair below its length there, so that no lay is ever at the floor."""
    hook = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 8.0], [8.0, 8.0], [8.0, 25.0], [0.0, 25.0]])
    turned = tuple(Variant(turn) for turn in (0, 90, 180, 270))
    found = pack(StripProblem(31.0, (Item("hook", hook, 2, turned),)), stop=Evaluations(1_000_000), seed=1)
    assert found.length_mm == pytest.approx(25.0, abs=1e-6)
    assert found.evaluations < 300_000


def test_a_piece_with_no_place_on_the_strip_takes_another_of_its_shapes():
    oblong = Item("oblong", OBLONG, 1, (Variant(0), Variant(90)))
    tables = build(checked(StripProblem(40.0, (oblong,)))).tables
    walk = new_walk(tables, np.array([[15.0, 5.0]]), np.zeros(1, dtype=np.int64), 30.0, 10.0, 1)
    walk.aim_mm = 20.0
    bring_onto(tables, walk.attempt)
    assert walk.attempt.shape[0] == 1
    assert walk.attempt.xy[0, 0] + tables.half[1, 0] <= 20.0
    assert tables.half[1, 1] <= walk.attempt.xy[0, 1] <= 40.0 - tables.half[1, 1]
