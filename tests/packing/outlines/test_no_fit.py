"""No-fit polygons against what they mean: does a placed pair overlap? shapely says."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon
from shapely.affinity import translate

from nesting.packing.outlines.no_fit import SHRINK, no_fit, offset_ring, shrunk
from nesting.packing.outlines.shapes import checked_ring


def ring(*points):
    return np.array(points, dtype=np.int64)


def region(rings):
    """Rings of a no-fit polygon as one shapely geometry (holes cut out)."""
    whole = Polygon()
    for one in rings:
        whole = whole.symmetric_difference(Polygon(one))
    return whole


def test_two_squares_give_a_square_twice_as_wide():
    square = ring((0, 0), (1000, 0), (1000, 1000), (0, 1000))
    (found,) = no_fit(square, square)
    assert Polygon(found).equals(shapely.box(-1000, -1000, 1000, 1000))


def test_a_tab_fits_a_slot_of_its_own_width():
    #  +--+  +--+     the tab |  | is exactly as wide as the slot: it may slide in, and only there
    #  |  +--+  |
    #  +--------+
    slotted = ring((0, 0), (90_000, 0), (90_000, 60_000), (60_000, 60_000), (60_000, 30_000))
    slotted = np.vstack([slotted, ring((30_000, 30_000), (30_000, 60_000), (0, 60_000))])
    tab = ring((0, 0), (30_000, 0), (30_000, 50_000), (0, 50_000))
    inside = region(no_fit(shrunk(slotted), tab))
    assert not inside.contains(Point(30_000, 30_000))
    assert not inside.contains(Point(30_000, 45_000))
    assert inside.contains(Point(30_000 - 2 * SHRINK, 45_000))
    assert inside.contains(Point(30_000, 30_000 - 2 * SHRINK))


def test_a_peg_fits_a_hollow_of_its_own_size():
    # a frame with a way in too narrow for the peg: the fit is a single point, kept as a tiny hole
    frame = ring((0, 0), (90_000, 0), (90_000, 44_000), (60_000, 44_000), (60_000, 30_000), (30_000, 30_000))
    frame = np.vstack([frame, ring((30_000, 60_000), (60_000, 60_000), (60_000, 46_000), (90_000, 46_000))])
    frame = np.vstack([frame, ring((90_000, 90_000), (0, 90_000))])
    peg = ring((0, 0), (30_000, 0), (30_000, 30_000), (0, 30_000))
    inside = region(no_fit(shrunk(frame), peg))
    assert not inside.contains(Point(30_000, 30_000))
    assert inside.contains(Point(31_000, 30_000))
    assert inside.contains(Point(30_000, 29_000))


@st.composite
def outlines(draw, size=1_000_000):
    """Star-shaped outlines, most of them hollow somewhere."""
    count = draw(st.integers(3, 14))
    share = draw(st.lists(st.floats(0.0, 0.8), min_size=count, max_size=count))
    radius = draw(st.lists(st.floats(0.2, 1.0), min_size=count, max_size=count))
    angle = (np.arange(count) + np.array(share)) / count * 2 * np.pi
    points = size * np.array(radius)[:, None] * np.column_stack([np.cos(angle), np.sin(angle)])
    return checked_ring(np.rint(points), "star").astype(np.int64)


@settings(max_examples=60, deadline=None)
@given(outlines(), outlines(), st.integers(0, 2**32 - 1))
def test_inside_means_overlap(a, b, seed):
    inside = region(no_fit(a, b))
    one, other = Polygon(a), Polygon(b)
    for shift in np.random.default_rng(seed).uniform(-2e6, 2e6, (30, 2)):
        overlap = one.intersection(translate(other, *shift)).area > 0
        spot = Point(shift)
        assert inside.contains(spot) == overlap or inside.boundary.distance(spot) < 2.0


@settings(max_examples=30, deadline=None)
@given(outlines(), st.floats(1_000.0, 300_000.0))
def test_an_offset_outline_holds_all_within_reach(a, reach):
    grown = Polygon(offset_ring(a, reach))
    assert grown.covers(Polygon(a).buffer(reach, quad_segs=64))
    assert grown.buffer(-0.03 * reach - 4).difference(
        Polygon(a).buffer(1.0001 * reach, quad_segs=64)
    ).area == (pytest.approx(_hollows(grown, a, reach), abs=0.01 * grown.area))


def _hollows(grown, a, reach):
    """Area of hollows that closed up and count as filled."""
    buffered = Polygon(a).buffer(reach)
    return sum(Polygon(hole).area for hole in buffered.interiors)


def test_a_corner_on_a_straight_edge_is_in_no_ones_way():
    straight = ring((0, 0), (400, 0), (1000, 0), (1000, 1000), (0, 1000))
    square = ring((0, 0), (1000, 0), (1000, 1000), (0, 1000))
    for one, other in ((straight, square), (square, straight), (straight, straight)):
        assert region(no_fit(one, other)).equals(shapely.box(-1000, -1000, 1000, 1000))
