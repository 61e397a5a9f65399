"""`pack` as others call it: always verified, always an answer, always the same for one seed and budget."""

import logging
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from nesting.errors import DoesNotFit, InvalidShape
from nesting.packing import (
    BoundReached,
    EdgeRule,
    Evaluations,
    Item,
    Lattice,
    LengthReached,
    StripProblem,
    Variant,
    pack,
    violations,
)
from nesting.packing.problem import variant_outline
from nesting.packing.result import StopReason

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
WEDGE = np.array([[0.0, 0.0], [12.0, 0.0], [0.0, 8.0]])
HOOK = np.array([[0.0, 0.0], [12.0, 0.0], [12.0, 4.0], [4.0, 4.0], [4.0, 9.0], [0.0, 9.0]])
EVERY_WAY = tuple(Variant(angle, mirrored) for angle in (0.0, 180.0) for mirrored in (False, True))
FEW = Evaluations(60_000)


def medley():
    """A dozen pieces that do not tile: enough to search, small enough to be quick."""
    items = (Item("hook", HOOK, 5, EVERY_WAY), Item("wedge", WEDGE, 4, EVERY_WAY), Item("square", SQUARE, 3))
    return StripProblem(29.0, items)


def test_four_squares_two_abreast_are_proven_shortest():
    packing = pack(StripProblem(20.0, (Item("square", SQUARE, 4),)))
    assert packing.length_mm == pytest.approx(20.0)
    assert packing.bound_mm == pytest.approx(20.0)
    assert packing.stopped_because == BoundReached().reason


def test_two_wedges_make_a_rectangle_when_one_may_turn():
    wedge = Item("wedge", WEDGE, 2, (Variant(0), Variant(180)))
    packing = pack(StripProblem(8.0, (wedge,)), stop=FEW)
    assert packing.length_mm == pytest.approx(12.0, abs=1e-3)


def test_the_answer_is_ordered_by_item_and_copy():
    packing = pack(medley(), stop=Evaluations(0))
    assert [(p.item, p.copy) for p in packing.placements] == [
        (item, copy) for item, demand in enumerate((5, 4, 3)) for copy in range(demand)
    ]


def test_no_budget_still_gives_the_constructed_lay():
    problem = medley()
    packing = pack(problem, stop=Evaluations(0))
    assert violations(problem, packing.placements) == ()
    assert packing.stopped_because == Evaluations(0).reason


def test_searching_shortens_the_constructed_lay():
    assert pack(medley(), stop=Evaluations(400_000)).length_mm < pack(medley(), stop=Evaluations(0)).length_mm


def test_same_seed_same_answer_whatever_the_threads():
    with ThreadPoolExecutor(1) as one, ThreadPoolExecutor(2) as two:
        first, second, third = (
            pack(medley(), stop=Evaluations(700_000), seed=3, executor=executor)
            for executor in (one, two, None)
        )
    assert first.placements == second.placements == third.placements
    assert first.evaluations == second.evaluations == third.evaluations


def test_each_better_lay_is_told_once_and_verified():
    problem, told = medley(), []
    packing = pack(problem, stop=Evaluations(700_000), on_progress=lambda progress, best: told.append(best))
    assert len(told) >= 2
    assert all(violations(problem, best.placements) == () for best in told)
    assert all(later.length_mm < earlier.length_mm for earlier, later in pairwise(told))
    assert told[-1].placements == packing.placements


def test_a_wanted_length_ends_the_search():
    packing = pack(medley(), stop=LengthReached(1e6))
    assert packing.stopped_because == LengthReached(0).reason


def test_an_interrupt_keeps_the_best_so_far():
    def interrupt(progress, best):
        if progress.evaluations > told[0].evaluations:
            raise KeyboardInterrupt

    problem, told = medley(), []

    def observe(progress, best):
        told.append(best)
        interrupt(progress, best)

    packing = pack(problem, stop=Evaluations(10_000_000), on_progress=observe)
    assert packing.stopped_because is StopReason.INTERRUPTED
    assert packing.placements == told[-1].placements


def test_an_item_on_an_edge_and_on_a_lattice_keeps_both():
    on_both = Item("wedge", WEDGE, 3, EVERY_WAY, EdgeRule.EITHER, Lattice(7.0, 1.0), Lattice(2.5))
    problem = StripProblem(30.0, (on_both, Item("square", SQUARE, 4)))
    packing = pack(problem, stop=FEW)
    assert violations(problem, packing.placements) == ()
    for placement in packing.placements[:3]:
        columns = (placement.x_mm - 1.0) / 7.0
        assert columns == pytest.approx(round(columns), abs=1e-6)
        outline = variant_outline(WEDGE, EVERY_WAY[placement.variant])[:, 1] + placement.y_mm
        assert min(outline.min(), 30.0 - outline.max()) == pytest.approx(0.0, abs=1e-6)


def test_random_outlines_give_verified_lays():
    rng = np.random.default_rng(5)
    for _ in range(6):
        items = []
        for k in range(5):
            count = int(rng.integers(3, 40))
            angle = (np.arange(count) + rng.uniform(0, 0.8, count)) / count * 2 * np.pi
            ring = rng.uniform(20, 100, count)[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
            items.append(Item(f"star {k}", ring, 2, EVERY_WAY))
        problem = StripProblem(260.0, tuple(items))
        packing = pack(problem, stop=Evaluations(300_000))
        assert violations(problem, packing.placements) == ()


def scaled(problem, size):
    """The same with all measures so many times as large."""
    items = tuple(replace(item, outline=item.outline * size) for item in problem.items)
    return StripProblem(problem.width_mm * size, items)


@pytest.mark.parametrize("size", [2.0**-7, 2.0**20])
def test_a_scale_that_is_a_power_of_two_gives_the_same_lay(size):
    packing = pack(scaled(medley(), size), stop=FEW)
    same = pack(medley(), stop=FEW)
    assert packing.length_mm == size * same.length_mm
    assert packing.placements == tuple(
        replace(p, x_mm=size * p.x_mm, y_mm=size * p.y_mm) for p in same.placements
    )


@pytest.mark.parametrize("size", [1e-2, 1e6])
def test_any_scale_gives_as_short_a_lay(size):
    problem = scaled(medley(), size)
    packing = pack(problem, stop=FEW)
    assert violations(problem, packing.placements) == ()
    assert packing.length_mm == pytest.approx(size * pack(medley(), stop=FEW).length_mm, rel=1e-3)


def test_a_strip_that_an_obstacle_blocks_goes_on_behind_it():
    wall = np.array([[5.0, 0.0], [8.0, 0.0], [8.0, 20.0], [5.0, 20.0]])
    problem = StripProblem(20.0, (Item("square", SQUARE, 2),), obstacles=(wall,))
    assert pack(problem, stop=FEW).length_mm == pytest.approx(18.0, abs=1e-3)


def test_an_item_too_wide_is_named_with_its_measure_and_the_strip():
    with pytest.raises(DoesNotFit, match=r"'board' measures at least 40\.0 mm across .* 30\.0 mm"):
        pack(StripProblem(30.0, (Item("board", SQUARE * 4),)))


def test_an_item_as_wide_as_the_strip_fits():
    assert pack(StripProblem(10.0, (Item("square", SQUARE),))).length_mm == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("outline", "word"),
    [
        ([[0, 0], [10, 10], [10, 0], [0, 10]], "crosses"),
        ([[0, 0], [10, 0], [20, 0]], "no area"),
        ([[0, 0], [10, 0]], "no area"),
        ([[0, 0], [10, 0], [np.nan, 5]], "not a number"),
    ],
)
def test_outlines_that_are_no_polygon(outline, word):
    with pytest.raises(InvalidShape, match=word):
        pack(StripProblem(30.0, (Item("scrap", np.array(outline, dtype=np.float64)),)))


def test_repeated_and_idle_points_do_no_harm():
    ring = np.repeat(np.vstack([SQUARE, [[0.0, 5.0]]]), 3, axis=0)
    assert pack(StripProblem(20.0, (Item("square", ring, 4),))).length_mm == pytest.approx(20.0)


@pytest.mark.parametrize(
    "problem",
    [
        StripProblem(0.0, (Item("square", SQUARE),)),
        StripProblem(float("nan"), (Item("square", SQUARE),)),
        StripProblem(30.0, ()),
        StripProblem(30.0, (Item("square", SQUARE, 0),)),
        StripProblem(30.0, (Item("square", SQUARE, 1, ()),)),
        StripProblem(30.0, (Item("square", SQUARE),), gap_mm=-1.0),
    ],
)
def test_problems_that_make_no_sense(problem):
    with pytest.raises(ValueError, match=r"must|asked|variant|nothing"):
        pack(problem)


def test_no_lay_of_the_search_is_refused(caplog):
    with caplog.at_level(logging.WARNING, logger="nesting"):
        pack(medley(), stop=Evaluations(400_000))
    assert caplog.records == []
