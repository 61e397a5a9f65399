"""Outlines that fit into each other to the last unit, turned anyhow; and what a refused lay becomes."""

import numpy as np
import pytest

from benchmarks.spirals import first_lay_faults, two_spirals
from nesting.packing import EdgeRule, Evaluations, Item, Lattice, StripProblem, Variant, pack, violations
from nesting.packing import search as search_module
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import placements_of
from nesting.packing.problem import variant_outline
from nesting.packing.walks.construct import construct, in_a_row

SPIRAL = np.array(
    [
        *[(98, -55.8), (156, 11), (105.9, 54.5), (76.9, 21.1), (93.6, 6.6), (108.1, 23.3), (124.8, 8.8)],
        *[(95.8, -24.6), (45.7, 18.9), (103.7, 85.7), (187.2, 13.2), (100.2, -87), (0, 0)],
    ]
)
"""Its slot is as wide as its arm; turned by half it goes into itself."""
HALF = (Variant(0), Variant(180))
BOARD = np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 100.0], [0.0, 100.0]])


def test_two_spirals_that_fit_into_each_other_are_laid():
    assert first_lay_faults(StripProblem(737.3, (Item("spiral", SPIRAL, 2, HALF),))) == ()


@pytest.mark.parametrize("cases", [40, pytest.param(2000, marks=pytest.mark.heavy)])
def test_no_first_lay_of_two_spirals_is_refused(cases):
    # of the first 200 three were, at 3, 71 and 173
    for number in {*range(cases), 71, 173}:
        assert first_lay_faults(two_spirals(0, number)) == (), number


def test_two_edges_of_one_direction_are_a_corner_all_the_same():
    # two edges of this spiral, put on the grid, differ in direction by less than can be told
    assert first_lay_faults(two_spirals(5, 9442)) == ()


def test_a_refused_first_lay_becomes_one_piece_after_another(monkeypatch, caplog):
    def on_one_heap(layout):
        xy, shape, length, used = construct(layout)
        return np.broadcast_to(xy[0], xy.shape).copy(), shape, length, used

    monkeypatch.setattr(search_module, "construct", on_one_heap)
    problem = StripProblem(400.0, (Item("board", BOARD, 3, HALF), Item("spiral", SPIRAL, 2, HALF)))
    found = pack(problem, stop=Evaluations(0))
    assert violations(problem, found.placements) == ()
    assert found.length_mm == pytest.approx(3 * 300 + 2 * 187.2)
    assert "was refused" in caplog.text
    assert (
        pack(problem, stop=Evaluations(50_000)).length_mm < found.length_mm
    )  # the search goes on from there


def test_one_piece_after_another_keeps_to_every_rule():
    problem = StripProblem(
        400.0,
        (
            Item("free", BOARD, 2, tuple(Variant(90.0 * k) for k in range(4))),
            Item("in a part", BOARD, 1, HALF, x_window_mm=(50.0, 420.0)),
            Item("at the fold", BOARD, 1, HALF, EdgeRule.HIGH),
            Item("on lines", BOARD, 2, HALF, x_lattice=Lattice(70.0, 3.0), y_lattice=Lattice(90.0, 20.0)),
        ),
        gap_mm=5.0,
        obstacles=(np.array([[430.0, 10.0], [600.0, 10.0], [600.0, 390.0], [430.0, 390.0]]),),
    )
    layout = build(checked(problem))
    xy, shape, length = in_a_row(layout)
    placements = placements_of(layout, xy, shape)
    assert violations(problem, placements) == ()
    assert length >= _end_mm(problem, placements) - 1e-6


def _end_mm(problem, placements):
    return max(
        p.x_mm + variant_outline(item.outline, item.variants[p.variant])[:, 0].max()
        for p in placements
        for item in [problem.items[p.item]]
    )
