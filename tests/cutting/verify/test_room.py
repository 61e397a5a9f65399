"""What room a cut line has at corners and bends that garments seldom have."""

import math

import numpy as np
import pytest
import shapely

from nesting.cutting.verify.room import CURVE_TURN_DEG, STEP_TURN_DEG, ends, outward, room
from nesting.pattern.piece import Edge


def closed(*bottom):
    """Edges of a paper 200 mm wide: those given, from lower left to lower right, and the other three."""
    sides = [[(200, 0), (200, 150)], [(200, 150), (0, 150)], [(0, 150), (0, 0)]]
    return [*bottom, *(Edge(f"side {k}", np.array(line, dtype=float), 0.0) for k, line in enumerate(sides))]


@pytest.mark.parametrize(("turn_deg", "runs_on"), [(STEP_TURN_DEG - 3, False), (STEP_TURN_DEG + 3, True)])
def test_the_wider_allowance_runs_on_only_at_an_inner_corner_that_turns_enough(turn_deg, runs_on):
    top = (100.0, 100.0 * math.tan(math.radians(turn_deg / 2)))
    narrow = Edge("narrow", np.array([(0.0, 0.0), top]), 10.0)
    wide = Edge("wide", np.array([top, (200.0, 0.0)]), 20.0)
    least, most = room(closed(narrow, wide), None)
    (out,) = outward(wide.vertices)
    before_its_start = shapely.Point(top + 15.0 * out - 4.0 * np.array([-out[1], out[0]]))
    assert most.contains(before_its_start) == runs_on
    assert not least.contains(before_its_start)


@pytest.mark.parametrize(("turn_deg", "is_curve"), [(20.0, True), (CURVE_TURN_DEG, True), (33.0, False)])
def test_an_inward_curve_in_short_steps_has_the_ends_of_its_allowance_joined(turn_deg, is_curve):
    turns = np.radians(turn_deg * np.arange(2.0, -3.0, -1.0))
    steps = 3.0 * np.column_stack([np.cos(turns), np.sin(turns)])
    curve = (
        np.array([100.0, 20.0]) - steps.sum(axis=0) / 2 + np.vstack([[0.0, 0.0], np.cumsum(steps, axis=0)])
    )
    bottom = [
        Edge("left", np.array([(0.0, 0.0), curve[0]]), 0.0),
        Edge("bend", curve, 30.0),
        Edge("right", np.array([curve[-1], (200.0, 0.0)]), 0.0),
    ]
    least, most = room(closed(*bottom), None)
    one, other = outward(curve)[1:3]
    between = (one + other) / np.linalg.norm(one + other)
    joined = shapely.Point(curve[2] + 28.0 * between)
    assert most.contains(joined) == is_curve
    assert not least.contains(joined)


def test_at_a_corner_of_just_the_angle_at_which_lines_begin_to_run_on_both_are_right():
    """The wide allowance may end on the line of the narrow one, or step down to it."""
    low = (100.0, -100.0 * math.tan(math.radians(STEP_TURN_DEG / 2)))
    narrow = Edge("narrow", np.array([(0.0, 0.0), low]), 10.0)
    wide = Edge("wide", np.array([low, (200.0, 0.0)]), 20.0)
    least, most = room(closed(narrow, wide), None)
    (out,) = outward(wide.vertices)
    past_the_narrow_line = shapely.Point(low + 19.0 * out + 1.0 * np.array([-out[1], out[0]]))
    assert most.contains(past_the_narrow_line)
    assert not least.contains(past_the_narrow_line)


def test_a_fold_edge_of_several_points_ends_at_its_last():
    fold = Edge("fold", np.array([(0.0, 0.0), (0.0, 40.0), (1.0, 90.0)]), 0.0)
    assert ends(fold).tolist() == [[0.0, 0.0], [1.0, 90.0]]
