"""The verifier must find each fault, and nothing in a right lay."""

from dataclasses import replace

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, Placement, StripProblem, Variant
from nesting.packing.verify import RELATIVE_TOLERANCE, PlacementFault, violations

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


WIDE = 1000.0
"""A strip on which the tolerance is a thousandth of a millimetre."""


@pytest.mark.parametrize(
    ("place", "told"),
    [
        ((-0.0011, 0), "'square' copy 1 begins 0.0011 mm before the strip"),
        ((0, -0.0011), "'square' copy 1 lies 0.0011 mm below the strip"),
        ((0, 990.0011), "'square' copy 1 lies 0.0011 mm above the strip"),
        ((-0.0009, 0), None),
        ((0, -0.0009), None),
        ((0, 990.0009), None),
    ],
)
def test_a_millionth_of_the_width_may_lie_outside(place, told):
    problem = StripProblem(WIDE, (Item("square", SQUARE),))
    assert violations(problem, at(place)) == ((told,) if told else ())


@pytest.mark.parametrize(
    ("x", "y", "shared"),
    [(9.9989, 0.0, 0.0011), (9.9991, 0.0, None), (9.0, 9.0, 0.5), (0.0, 9.9989, 0.0011), (5.0, 0.0, 20 / 6)],
)
def test_two_overlap_by_the_width_of_what_they_share(x, y, shared):
    """Twice its area over its perimeter: of a long sliver its width, of a square of 1 mm half of that."""
    problem = StripProblem(WIDE, (Item("square", SQUARE, 2),))
    told = f"'square' copy 1 and 'square' copy 2 overlap by {shared:.6g} mm" if shared else None
    found = violations(problem, at((0, 0), (x, y)))
    assert (*(one.rsplit(" by ")[0] for one in found),) == ((told.rsplit(" by ")[0],) if told else ())
    assert [float(one.split()[-2]) for one in found] == pytest.approx([shared] if shared else [], rel=1e-3)


def test_the_gap_is_held_from_both_sides():
    problem = StripProblem(WIDE, (Item("square", SQUARE, 2),), gap_mm=2.0)
    assert violations(problem, at((0, 0), (11.9991, 0))) == ()
    assert violations(problem, at((0, 0), (0, 11.5))) == (
        "'square' copy 1 and 'square' copy 2 are 1.5 mm apart, not 2",
    )
    assert len(violations(problem, at((0, 0), (11.9989, 0)))) == 1
    half = replace(problem, gap_mm=0.5)
    assert len(violations(half, at((0, 0), (10.4, 0)))) == 1
    assert violations(half, at((0, 0), (10.5, 0))) == ()


def test_a_gap_within_the_tolerance_is_none():
    problem = StripProblem(WIDE, (Item("square", SQUARE, 2),), gap_mm=0.0009)
    assert violations(problem, at((0, 0), (10, 0))) == ()
    assert violations(problem, at((0, 0), (9.9995, 0))) == ()


@pytest.mark.parametrize(
    ("window", "x", "right"),
    [
        ((0.5, 20.0), 0.5, True),
        ((0.5, 20.0), 0.4991, True),
        ((0.5, 20.0), 0.4989, False),
        ((0.5, 20.0), 10.0009, True),
        ((0.5, 20.0), 10.0011, False),
        ((0.0, 20.0), 0.0, True),
        ((0.0, 20.0), 500.0, False),
        ((30.0, np.inf), 500.0, True),
        ((30.0, np.inf), 0.0, False),
    ],
)
def test_an_item_held_to_a_part_of_the_strip_lies_there(window, x, right):
    problem = StripProblem(WIDE, (Item("square", SQUARE, x_window_mm=window),))
    told = f"'square' copy 1 does not lie between {window[0]:.6g} and {window[1]:.6g} mm along the strip"
    assert violations(problem, at((x, 500))) == (() if right else (told,))


@pytest.mark.parametrize(
    ("edge", "y", "right"),
    [
        (EdgeRule.LOW, 0.0009, True),
        (EdgeRule.LOW, 0.0011, False),
        (EdgeRule.HIGH, 989.9991, True),
        (EdgeRule.HIGH, 989.9989, False),
        (EdgeRule.EITHER, 0.0009, True),
        (EdgeRule.EITHER, 989.9989, False),
    ],
)
def test_an_edge_rule_is_held_to_a_millionth_of_the_width(edge, y, right):
    problem = StripProblem(WIDE, (Item("square", SQUARE, edge=edge),))
    assert (violations(problem, at((0, y))) == ()) is right


def test_how_far_a_piece_is_off_its_edge_is_told():
    problem = StripProblem(WIDE, (Item("square", SQUARE, edge=EdgeRule.LOW),))
    assert violations(problem, at((0, 2.5))) == (
        "'square' copy 1 is off its edge (low): 2.5 mm from low, 987.5 from high",
    )


@pytest.mark.parametrize(
    ("off", "right"), [(0.0009, True), (-0.0009, True), (0.0011, False), (-0.0011, False)]
)
def test_a_lattice_is_held_to_a_millionth_of_the_width(off, right):
    item = Item("square", SQUARE, x_lattice=Lattice(3.0, 1.0))
    assert (violations(StripProblem(WIDE, (item,)), at((7.0 + off, 0))) == ()) is right


def test_every_fault_of_counting_is_told_with_its_copy():
    strange = [Placement(2, 0, 0, 0, 0), Placement(-1, 0, 0, 0, 0), Placement(0, 1, -1, 0, 0)]
    thrice = [Placement(1, 0, 0, 0, 0)] * 3 + [Placement(1, 4, 0, 0, 0)]
    problem = StripProblem(20.0, (Item("square", SQUARE, 3), Item("small", SQUARE / 10)))
    assert violations(problem, [*strange, *thrice]) == (
        "a placement of item 2, which does not exist",
        "a placement of item -1, which does not exist",
        "'square' copy 2 lies in variant -1, which is not allowed",
        "'square' copy 1 is placed 0 times",
        "'square' copy 3 is placed 0 times",
        "'small' copy 1 is placed 3 times",
        "'small' copy 5 was not asked for",
    )


TURNED = Item("square", SQUARE, edge=EdgeRule.LOW)
HELD = Item("square", SQUARE, x_lattice=Lattice(3.0), x_window_mm=(3.0, 16.0))
BESIDE = StripProblem(20.0, (Item("square", SQUARE),), obstacles=(SQUARE + np.array([20.0, 0.0]),))
WRONG = {
    PlacementFault.NO_SUCH_ITEM: (PAIR, [*at((0, 0), (10, 0)), Placement(1, 0, 0, 0, 0)]),
    PlacementFault.NO_SUCH_VARIANT: (StripProblem(20.0, (TURNED,)), at((0, 0), variant=1)),
    PlacementFault.TURNED: (StripProblem(20.0, (TURNED,)), [Placement(0, 0, 0, 10, 0, further_deg=90.0)]),
    PlacementFault.NO_PLACE: (PAIR, at((0, 0), (0, float("inf")))),
    PlacementFault.OTHER_NUMBER: (PAIR, at((0, 0))),
    PlacementFault.NOT_ASKED_FOR: (PAIR, at((0, 0), (10, 0), (20, 0))),
    PlacementFault.BEFORE: (PAIR, at((-1, 0), (10, 0))),
    PlacementFault.OUT_OF_ITS_WINDOW: (StripProblem(20.0, (HELD,)), at((9, 0))),
    PlacementFault.BELOW: (PAIR, at((0, -1), (10, 0))),
    PlacementFault.ABOVE: (PAIR, at((0, 0), (10, 11))),
    PlacementFault.OFF_ITS_EDGE: (StripProblem(20.0, (TURNED,)), at((0, 1))),
    PlacementFault.OFF_ITS_LATTICE: (StripProblem(20.0, (HELD,)), at((4, 0))),
    PlacementFault.OVERLAP: (PAIR, at((0, 0), (9, 0))),
    PlacementFault.TOO_NEAR: (replace(PAIR, gap_mm=2.0), at((0, 0), (11, 0))),
}


@pytest.mark.parametrize("kind", PlacementFault)
def test_each_fault_that_is_known_is_found_alone(kind):
    assert [fault.kind for fault in violations(*WRONG[kind])] == [kind]


@pytest.mark.parametrize(("turned", "right"), [(45.0, True), (44.0, True), (-45.0, True), (90.0, False)])
def test_an_item_that_may_lie_at_any_angle_is_judged_as_it_lies(turned, right):
    # a square of 10 mm, its lowest corner at 7.08 from the side where it lies by its corner
    problem = StripProblem(14.2, (Item("square", SQUARE, any_turn=True),))
    spot = {45.0: (7.08, 0.0), 44.0: (7.05, 0.0), -45.0: (0.0, 7.08), 90.0: (9.0, 0.0)}[turned]
    found = violations(problem, [Placement(0, 0, 0, *spot, further_deg=turned)])
    assert [fault.kind for fault in found] == ([] if right else [PlacementFault.BEFORE])


TOLERANCE = RELATIVE_TOLERANCE * 20.0


@pytest.mark.parametrize(
    ("problem", "places"),
    [
        (PAIR, lambda off: at((-off, 0), (10, 0))),
        (PAIR, lambda off: at((0, -off), (10, 0))),
        (PAIR, lambda off: at((0, 0), (10, 10 + off))),
        (PAIR, lambda off: at((0, 0), (10 - off, 0))),
        (replace(PAIR, gap_mm=2.0), lambda off: at((0, 0), (12 - off, 0))),
        (BESIDE, lambda off: at((10 + off, 0))),
        (StripProblem(20.0, (TURNED,)), lambda off: at((0, off))),
        (StripProblem(20.0, (replace(TURNED, edge=EdgeRule.HIGH),)), lambda off: at((0, 10 - off))),
        (StripProblem(20.0, (replace(TURNED, edge=EdgeRule.EITHER),)), lambda off: at((0, 10 - off))),
        (StripProblem(20.0, (HELD,)), lambda off: at((6 - off, 0))),
        (StripProblem(20.0, (replace(HELD, x_lattice=None),)), lambda off: at((3 - off, 0))),
        (StripProblem(20.0, (replace(HELD, x_lattice=None),)), lambda off: at((6 + off, 0))),
        (StripProblem(20.0, (Item("square", SQUARE, y_lattice=Lattice(4.0)),)), lambda off: at((0, 4 + off))),
    ],
)
def test_every_length_is_held_from_both_sides(problem, places):
    """A millionth of the strip's width may be rounding, and no more."""
    assert violations(problem, places(0.9 * TOLERANCE)) == ()
    assert len(violations(problem, places(1.2 * TOLERANCE))) == 1


def test_what_is_off_by_the_tolerance_itself_is_right():
    """On a strip where that is a power of two, so that every sum is exact."""
    off = 2.0**-10
    width = 976.5625
    for place in ((-off, 0.0), (0.0, -off), (0.0, width - 10.0 + off)):
        assert violations(StripProblem(width, (Item("square", SQUARE),)), at(place)) == ()
    for changes, place in (
        ({"edge": EdgeRule.LOW}, (0.0, off)),
        ({"edge": EdgeRule.HIGH}, (0.0, width - 10.0 - off)),
        ({"x_lattice": Lattice(3.0)}, (off, 0.0)),
        ({"x_window_mm": (16.0, 32.0)}, (16.0 - off, 0.0)),
        ({"x_window_mm": (16.0, 32.0)}, (22.0 + off, 0.0)),
    ):
        assert violations(StripProblem(width, (Item("square", SQUARE, **changes),)), at(place)) == ()
    two = StripProblem(width, (Item("square", SQUARE, 2),), gap_mm=2.0)
    assert violations(two, at((0.0, 0.0), (12.0 - off, 0.0))) == ()
