import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.errors import InvalidShape
from nesting.pattern.curves import CHORD_TOLERANCE_MM, arc, smooth

ARMHOLE = np.array([[205, 546], [186, 480], [189, 420], [215, 376], [245, 362]], dtype=float)
coordinate = st.floats(-500, 500).map(lambda v: round(v, 1))
points = st.lists(st.tuples(coordinate, coordinate), min_size=2, max_size=7).map(np.array)


def turns_deg(line):
    steps = np.diff(line, axis=0)
    angles = np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))
    return (np.diff(angles) + 180) % 360 - 180


@given(points)
def test_a_smooth_curve_goes_through_every_point_in_order(run):
    assume(np.linalg.norm(np.diff(run, axis=0), axis=1).min() > 0.05)
    line = smooth(run)
    at = [int(np.argmin(np.linalg.norm(line - p, axis=1))) for p in run]
    assert np.array_equal(line[at], run) or len({tuple(p) for p in run}) < len(run)
    assert np.array_equal(line[[0, -1]], run[[0, -1]])


def test_an_armhole_has_few_vertices_and_no_corner():
    line = smooth(ARMHOLE)
    assert 15 <= len(line) <= 25
    assert np.abs(turns_deg(line)).max() < 20
    assert (turns_deg(line) > 0).all(), "it bends one way only, as its points do"


def test_a_finer_curve_is_within_the_chord_tolerance_of_the_plain_one():
    fine = shapely.LineString(smooth(ARMHOLE, tolerance_mm=1e-4))
    assert shapely.hausdorff_distance(fine, shapely.LineString(smooth(ARMHOLE))) <= CHORD_TOLERANCE_MM


def test_a_smooth_curve_has_one_tangent_at_each_point():
    fine = smooth(ARMHOLE, tolerance_mm=1e-4)
    assert np.abs(turns_deg(fine)).max() < 1.0


def test_a_curve_through_uneven_points_makes_no_loop():
    """A long and a very short step side by side: where an evenly timed curve loops over itself."""
    line = shapely.LineString(smooth(np.array([[0.0, 0.0], [200.0, 0.0], [203.0, 4.0], [203.0, 200.0]])))
    assert line.is_simple
    assert line.bounds[2] < 203 + 6
    assert line.bounds[1] > -6


def test_points_on_a_line_give_that_line():
    line = smooth(np.array([[0.0, 0.0], [10.0, 10.0], [70.0, 70.0]]))
    assert np.allclose(line[:, 0], line[:, 1])
    assert (np.diff(line[:, 0]) > 0).all()


def test_a_curve_that_comes_back_is_smooth_at_its_start_too():
    square = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0], [0.0, 0.0]])
    line = smooth(square, tolerance_mm=1e-3)
    assert abs(turns_deg(np.vstack([line[-2:], line[1:2]]))[0]) < 5


@pytest.mark.parametrize(
    ("run", "message"),
    [([[0.0, 0.0]], "at least two"), ([[0.0, 0.0], [9.0, 9.0], [9.0, 9.0]], "points 2 and 3 .* same place")],
)
def test_a_curve_that_cannot_be_drawn_is_refused(run, message):
    with pytest.raises(InvalidShape, match=message):
        smooth(np.array(run))


@given(
    st.floats(5, 2000),
    st.floats(0, 6.28),
    st.floats(0.05, 6.0),
    st.floats(0.2, 0.8),
    st.booleans(),
)
def test_an_arc_lies_on_its_circle(radius, first, sweep, share, clockwise):
    sweep = -sweep if clockwise else sweep

    def spot(angle):
        return radius * np.array([np.cos(angle), np.sin(angle)])

    line = arc(spot(first), spot(first + share * sweep), spot(first + sweep))
    # A shallow arc of a great circle may be read as its chord, within the tolerance.
    assert np.abs(np.linalg.norm(line, axis=1) - radius).max() < CHORD_TOLERANCE_MM
    middles = (line[1:] + line[:-1]) / 2
    assert np.abs(np.linalg.norm(middles, axis=1) - radius).max() <= CHORD_TOLERANCE_MM + 0.02
    length = np.linalg.norm(np.diff(line, axis=0), axis=1).sum()
    assert length == pytest.approx(radius * abs(sweep), rel=0.03)


def test_an_arc_keeps_its_ends_exactly_and_has_few_vertices():
    start, end = np.array([100.0, 0.0]), np.array([0.0, 100.0])
    line = arc(start, np.array([70.71, 70.71]), end)
    assert np.array_equal(line[0], start)
    assert np.array_equal(line[-1], end)
    assert len(line) <= 13


def test_an_arc_through_points_on_a_line_is_the_line():
    line = arc(np.array([0.0, 0.0]), np.array([30.0, 0.0]), np.array([100.0, 0.0]))
    assert line.tolist() == [[0, 0], [30, 0], [100, 0]]


@pytest.mark.parametrize(
    ("on_the_way", "end", "message"),
    [((150.0, 0.0), (100.0, 0.0), "on one line"), ((50.0, 50.0), (0.0, 0.0), "three different points")],
)
def test_an_arc_that_cannot_be_drawn_is_refused(on_the_way, end, message):
    with pytest.raises(InvalidShape, match=message):
        arc(np.zeros(2), np.array(on_the_way), np.array(end))
