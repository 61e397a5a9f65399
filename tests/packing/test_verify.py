"""The verifier must find each fault, and nothing in a right lay."""

from dataclasses import replace

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, Placement, StripProblem, Variant
from nesting.packing.verify import violations

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
PAIR = StripProblem(20.0, (Item("square", SQUARE, 2),))


def at(*places, variant=0):
    return [Placement(0, copy, variant, x, y) for copy, (x, y) in enumerate(places)]


def test_touching_squares_are_a_lay():
    assert violations(PAIR, at((0, 0), (0, 10))) == ()


@pytest.mark.parametrize(
    ("places", "word"),
    [
        ([(0, 0), (0, 9.99)], "overlap"),
        ([(0, 0), (0, 0)], "overlap"),
        ([(-0.1, 0), (10, 0)], "before the strip"),
        ([(0, -0.1), (10, 0)], "below"),
        ([(0, 0), (0, 10.1)], "above"),
        ([(0, 0)], "placed 0 times"),
        ([(0, 0), (10, 0), (20, 0)], "not asked for"),
        ([(0, 0), (float("nan"), 0)], "no place"),
    ],
)
def test_each_fault_is_found(places, word):
    (fault,) = violations(PAIR, at(*places))
    assert word in fault


def test_a_copy_placed_twice():
    faults = violations(PAIR, [Placement(0, 0, 0, 0, 0), Placement(0, 0, 0, 10, 0)])
    assert any("placed 2 times" in fault for fault in faults)


def test_variants_and_items_that_do_not_exist():
    assert "variant 1" in violations(PAIR, at((0, 0), (10, 0), variant=1))[0]
    assert "item 7" in violations(PAIR, [*at((0, 0), (10, 0)), Placement(7, 0, 0, 0, 0)])[0]


def test_one_inside_another_is_an_overlap():
    small = Item("small", SQUARE / 10)
    problem = StripProblem(20.0, (Item("square", SQUARE), small))
    assert violations(problem, [Placement(0, 0, 0, 0, 0), Placement(1, 0, 0, 4, 4)])


@pytest.mark.parametrize(
    ("edge", "y", "right"),
    [
        (EdgeRule.LOW, 0.0, True),
        (EdgeRule.LOW, 0.01, False),
        (EdgeRule.HIGH, 10.0, True),
        (EdgeRule.HIGH, 9.99, False),
        (EdgeRule.EITHER, 0.0, True),
        (EdgeRule.EITHER, 10.0, True),
        (EdgeRule.EITHER, 5.0, False),
    ],
)
def test_edge_rules_are_exact(edge, y, right):
    problem = StripProblem(20.0, (Item("square", SQUARE, edge=edge),))
    assert (violations(problem, at((0, y))) == ()) is right


def test_lattices_hold_the_reference_point():
    item = Item("square", SQUARE, x_lattice=Lattice(3.0, 1.0), y_lattice=Lattice(4.0))
    problem = StripProblem(20.0, (item,))
    assert violations(problem, at((7.0, 8.0))) == ()
    assert "lattice in x" in violations(problem, at((6.0, 8.0)))[0]
    assert "lattice in y" in violations(problem, at((7.0, 9.0)))[0]


def test_each_variant_has_its_own_phase_on_the_lattice():
    as_drawn, turned = Variant(), Variant(180, x_phase_mm=1.0, y_phase_mm=-0.5)
    item = Item("square", SQUARE, 1, (as_drawn, turned), x_lattice=Lattice(3.0), y_lattice=Lattice(4.0))
    problem = StripProblem(20.0, (item,))

    def lies(variant, x, y):
        return violations(problem, [Placement(0, 0, variant, x, y)])

    assert lies(0, 6.0, 8.0) == lies(1, 13.0, 15.5) == ()
    assert "0.5 mm off its lattice in y" in lies(1, 13.0, 16.0)[0]
    assert "1 mm off its lattice in x" in lies(1, 12.0, 15.5)[0]


def test_the_gap_is_kept_between_items_not_to_the_sides():
    problem = replace(PAIR, gap_mm=2.0)
    assert violations(problem, at((0, 0), (12, 0))) == ()
    assert "apart" in violations(problem, at((0, 0), (11.9, 0)))[0]


def test_obstacles_are_not_touched():
    problem = StripProblem(20.0, (Item("square", SQUARE),), obstacles=(SQUARE + 5.0,))
    assert violations(problem, at((15, 5))) == ()
    assert "obstacle 1" in violations(problem, at((0, 0)))[0]


def test_a_mirrored_variant_is_measured_mirrored():
    wedge = np.array([[0.0, 0.0], [10.0, 0.0], [0.0, 10.0]])
    problem = StripProblem(20.0, (Item("wedge", wedge, 1, (Variant(0, mirrored=True),)),))
    assert violations(problem, at((0, 10))) == ()
    assert "below" in violations(problem, at((0, 0)))[0]


def test_corners_a_rounding_error_apart_are_no_overlap():
    # found by the hunt in test_bound_hunt (seed 15113064): GEOS takes one for inside the other
    one = [[23.62072282969823, 1.431107858251114], [1.1102230246251565e-16, 12.762651309800534]]
    one += [[1.1102230246251565e-16, 0.0], [36.076040149584315, 4.440892098500626e-16]]
    other = [[23.62072282969823, 1.431107858251114], [36.076040149584315, 1.3322676295501878e-15]]
    other += [[42.35183392506291, -8.881784197001252e-16], [24.807603404208407, 20.67835404610354]]
    other += [[16.93655535656794, 24.50207477086571], [8.881784197001252e-16, 24.502074770865708]]
    other += [[8.881784197001252e-16, 12.762651309800534]]
    items = (Item("one", np.array(one)), Item("other", np.array(other)))
    lay = (Placement(0, 0, 0, 0.0, 0.0), Placement(1, 0, 0, 0.0, 0.0))
    assert violations(StripProblem(24.50207477086571, items), lay) == ()
