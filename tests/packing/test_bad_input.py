"""What no one should ask of the engine: a clear error of a known type, or a verified lay."""

from dataclasses import replace

import numpy as np
import pytest

from benchmarks.hard_input import TURNS, board, hook, saw
from nesting.errors import DoesNotFit, InvalidProblem, InvalidShape
from nesting.packing import (
    EdgeRule,
    Evaluations,
    Item,
    Lattice,
    StripProblem,
    Variant,
    pack,
    violations,
)

FEW = Evaluations(40_000)


def laid(problem, stop=FEW):
    """A lay that the verifier passes and no bound contradicts."""
    packing = pack(problem, stop=stop, walks=1)
    assert violations(problem, packing.placements) == ()
    assert packing.bound_mm <= packing.length_mm
    return packing


def test_an_item_that_fits_in_no_orientation():
    wide = Item("curtain", board(50, 12), 1, (Variant(0), Variant(180), Variant(90)))
    with pytest.raises(DoesNotFit, match=r"'curtain' measures at least 12\.0 mm across"):
        pack(StripProblem(10.0, (wide,)))


def test_an_item_with_no_place_on_its_lattice():
    checked = Item("check", board(5, 9), y_lattice=Lattice(40.0, 20.0))
    with pytest.raises(DoesNotFit, match="its lattice across the strip"):
        pack(StripProblem(10.0, (checked,)))


@pytest.mark.parametrize("demand", [0, -3])
def test_nothing_wanted_of_an_item(demand):
    with pytest.raises(InvalidProblem, match=f"'tile' is asked for {demand} times"):
        pack(StripProblem(10.0, (Item("tile", board(2, 2), demand),)))


def test_input_that_makes_no_sense():
    tile = Item("tile", board(2, 2))
    for problem, words in (
        (StripProblem(10.0, ()), "nothing to place"),
        (StripProblem(10.0, (Item("tile", board(2, 2), variants=()),)), "no variant"),
        (StripProblem(0.0, (tile,)), "width must be above 0"),
        (StripProblem(float("nan"), (tile,)), "width must be above 0"),
        (StripProblem(10.0, (tile,), gap_mm=-1.0), "gap between items must be 0"),
        (StripProblem(10.0, (tile,), gap_mm=float("inf")), "gap between items must be 0"),
        (StripProblem(10.0, (replace(tile, variants=(Variant(float("nan")),)),)), "has to be a number"),
        (
            StripProblem(10.0, (replace(tile, variants=(Variant(0, x_phase_mm=float("inf")),)),)),
            "has to be a number",
        ),
        (StripProblem(10.0, (replace(tile, x_window_mm=(5.0, 5.0)),)), "between 5.0 and 5.0 mm"),
        (StripProblem(10.0, (replace(tile, x_window_mm=(float("nan"), 9.0)),)), "nowhere"),
    ):
        with pytest.raises(InvalidProblem, match=words):
            pack(problem)


@pytest.mark.parametrize(("repeat", "phase"), [(0.0, 0.0), (float("inf"), 0.0), (4.0, float("nan"))])
def test_a_lattice_of_no_repeat_or_no_beginning(repeat, phase):
    with pytest.raises(InvalidProblem, match="a lattice"):
        Lattice(repeat, phase)


@pytest.mark.parametrize(
    ("ring", "words"),
    [
        ([[0, 0], [5, 0]], "no area"),
        ([[0, 0], [5, 0], [9, 0]], "no area"),
        ([[0, 0], [5, 5], [5, 0], [0, 5]], "crosses or touches itself"),
        ([[0, 0], [float("nan"), 0], [0, 5]], "not a number"),
        ([1, 2, 3], "a table of x and y"),
        (np.zeros((0, 2)), "no area"),
    ],
    ids=["two points", "a line", "a bow", "not a number", "no table", "empty"],
)
def test_an_outline_that_is_none(ring, words):
    with pytest.raises(InvalidShape, match=words):
        pack(StripProblem(10.0, (Item("odd", np.array(ring, dtype=np.float64)),)))


def test_thousands_of_vertices():
    angle = np.linspace(0, 2 * np.pi, 4001)[:-1]
    flower = (30 + 3 * np.cos(9 * angle))[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    laid(StripProblem(100.0, (Item("flower", flower, 3),)))


@pytest.mark.parametrize("gap", [pytest.param(0.0, marks=pytest.mark.heavy), 1.0])
def test_thousands_of_teeth(gap):
    # taken as they are, a pair would have about as many edges as the product of their 4000 vertices
    pinked = Item("pinked", saw(1000, 0.5, 60.0, 20.0), 3, TURNS)
    packing = laid(StripProblem(41.5, (pinked,), gap_mm=gap), Evaluations(100_000))
    assert packing.length_mm < 61.5 * 2


def test_slivers():
    # 400 mm long, 0.01 mm high; beside ordinary pieces
    sliver = np.array([[0.0, 0.0], [400.0, 0.0], [200.0, 0.01]])
    laid(StripProblem(100.0, (Item("sliver", sliver, 3, TURNS), Item("hook", hook(20.0), 2, TURNS))))


def test_a_sliver_too_thin_to_be_one():
    with pytest.raises(InvalidShape, match="no area"):
        pack(StripProblem(100.0, (Item("hair", np.array([[0.0, 0.0], [400.0, 0.0], [200.0, 1e-9]])),)))


def test_copies_that_touch_all_round():
    packing = laid(StripProblem(30.0, (Item("tile", board(10, 10), 9),)))
    assert packing.length_mm == pytest.approx(30.0, abs=1e-4)


def test_duplicate_and_straight_through_points():
    ring = np.array([[0, 0], [0, 0], [5, 0], [10, 0], [10, 0], [10, 4], [0, 4], [0, 2], [0, 0]], dtype=float)
    packing = laid(StripProblem(8.0, (Item("board", ring, 2),)))
    assert packing.length_mm == pytest.approx(10.0, abs=1e-4)


@pytest.mark.parametrize("size", [1e6, 0.01], ids=["a kilometre", "a hundredth of a millimetre"])
def test_coordinates_of_any_size(size):
    packing = laid(
        StripProblem(4 * size, (Item("hook", hook(size), 3, TURNS), Item("tile", board(size, size), 2)))
    )
    assert packing.length_mm < 12 * size


def test_far_from_the_origin():
    away = hook(20.0) + np.array([1e6, -1e6])
    near = laid(StripProblem(80.0, (Item("hook", hook(20.0), 3, TURNS),)))
    far = laid(StripProblem(80.0, (Item("hook", away, 3, TURNS),)))
    assert far.length_mm == pytest.approx(near.length_mm, rel=0.2)


def test_very_different_sizes_together():
    items = (Item("sheet", board(50_000.0, 900.0)), Item("crumb", hook(0.05), 3, TURNS))
    laid(StripProblem(1000.0, items))


def test_a_thousand_copies():
    packing = laid(StripProblem(100.0, (Item("tile", board(9.0, 9.0), 1000),)), Evaluations(0))
    assert packing.length_mm == pytest.approx(91 * 9.0, rel=0.02)


def test_a_thousand_hooks_are_searched():
    hooks = StripProblem(100.0, (Item("hook", hook(3.0), 1000, TURNS),))
    first = laid(hooks, Evaluations(0))
    searched = laid(hooks, Evaluations(first.evaluations + 500_000))
    assert searched.length_mm <= first.length_mm
    assert searched.evaluations > first.evaluations + 300_000


def test_an_obstacle_that_blocks_the_strip_is_gone_round():
    # a wall from side to side at 20: a short board fits before it, the long one must begin behind it
    wall = board(5.0, 10.0) + np.array([20.0, 0.0])
    problem = StripProblem(10.0, (Item("long", board(30, 8)), Item("short", board(15, 8))), obstacles=(wall,))
    packing = laid(problem)
    assert packing.length_mm == pytest.approx(55.0, abs=1e-3)


def test_a_wall_at_the_very_beginning():
    problem = StripProblem(10.0, (Item("board", board(30, 8)),), obstacles=(board(25.0, 10.0),))
    assert laid(problem).length_mm == pytest.approx(55.0, abs=1e-3)


def test_an_edge_covered_by_an_obstacle_is_reached_behind_it():
    ledge = board(500.0, 1.0)
    back = Item("back", board(30, 8), edge=EdgeRule.LOW)
    assert laid(StripProblem(20.0, (back,), obstacles=(ledge,))).length_mm == pytest.approx(530.0, abs=1e-3)


def test_an_obstacle_outside_the_strip_is_in_no_ones_way():
    outside = board(10.0, 10.0) + np.array([0.0, 50.0])
    problem = StripProblem(10.0, (Item("board", board(30, 8)),), obstacles=(outside,))
    assert laid(problem).length_mm == pytest.approx(30.0, abs=1e-3)


@pytest.mark.parametrize("width", [1000.0, 333.3, 1234.567])
def test_an_item_exactly_as_wide_as_the_strip_beside_a_very_long_obstacle(width):
    # the obstacle makes the grid coarse: the item must still fit after its corners are rounded
    item = Item("full", board(100.1, width))
    long = board(60 * width, 0.3 * width) + np.array([500.0, 0.0])
    packing = pack(StripProblem(width, (item,), obstacles=(long,)), stop=Evaluations(10_000))
    assert packing.length_mm == pytest.approx(100.1)


def test_a_window_exactly_as_long_as_the_item_on_a_coarse_grid():
    item = Item("snug", board(100.105, 500.0), x_window_mm=(0.0, 100.105))
    long = board(60_000.0, 300.0) + np.array([500.0, 0.0])
    packing = pack(StripProblem(1000.0, (item,), obstacles=(long,)), stop=Evaluations(10_000))
    assert packing.length_mm == pytest.approx(100.105)


def test_a_gap_wider_than_the_strip():
    packing = laid(StripProblem(10.0, (Item("tile", board(4, 4), 3),), gap_mm=40.0))
    assert packing.length_mm == pytest.approx(3 * 4 + 2 * 40, rel=0.05)


def test_a_budget_below_nothing_still_gives_a_lay():
    laid(StripProblem(30.0, (Item("hook", hook(5.0), 6, TURNS),)), Evaluations(-5))


@pytest.mark.parametrize("gap", [0.0, 5.0])
def test_an_obstacle_that_is_nothing_on_the_grid(gap):
    speck = board(1e-6, 1e-8)
    with pytest.raises(InvalidShape, match=r"'obstacle 1' is thinner than .* mm"):
        pack(StripProblem(1000.0, (Item("tile", board(200, 100)),), gap, (speck,)))


def test_a_hair_with_a_gap_is_kept_clear_of():
    hair = np.array([100.0, 0.0]) + board(1e-4, 300)
    laid(StripProblem(300.0, (Item("tile", board(120, 300)),), 5.0, (hair,)))
