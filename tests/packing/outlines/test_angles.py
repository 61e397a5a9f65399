"""How short an outline can be along at any angle, against all angles tried; and which angles are tried."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.packing.outlines.angles import least_along, worth_trying
from nesting.packing.problem import Variant, variant_outline

BOARD = np.array([[0.0, 0.0], [500.0, 0.0], [500.0, 120.0], [0.0, 120.0]])


def extents(ring, angle):
    return np.ptp(variant_outline(ring, Variant(angle)), axis=0)


def test_a_board_is_shortest_standing():
    along, angle = least_along(BOARD)
    assert along == pytest.approx(120.0)
    assert extents(BOARD, angle) == pytest.approx([120.0, 500.0])


def test_on_a_narrow_strip_it_leans_as_far_as_it_goes():
    along, angle = least_along(BOARD, 400.0)
    assert extents(BOARD, angle) == pytest.approx([along, 400.0])
    assert along == pytest.approx(469.5, abs=0.1)  # 500 sin t + 120 cos t = 400 at t = 37.57 degrees
    # On 300 mm it could lean by 22.2 degrees, and would take 508.3 mm: lying flat is shorter.
    assert least_along(BOARD, 300.0)[0] == pytest.approx(500.0)


def test_a_board_wider_than_the_strip_goes_on_at_no_angle():
    assert least_along(BOARD, 100.0)[0] == np.inf


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**9), st.floats(0.3, 1.3))
def test_no_angle_is_shorter(seed, share):
    rng = np.random.default_rng(seed)
    ring = rng.uniform(0, 100, (int(rng.integers(3, 9)), 2)) * [1.0, rng.uniform(0.05, 1.0)]
    width = share * float(np.hypot(*np.ptp(ring, axis=0)))
    along, angle = least_along(ring, width)
    tried = np.array([extents(ring, one) for one in np.arange(0.0, 180.0, 0.25)])
    fits = tried[tried[:, 1] <= width, 0]
    assert along <= fits.min(initial=np.inf) + 1e-9
    if np.isfinite(along):
        assert extents(ring, angle) == pytest.approx([along, min(extents(ring, angle)[1], width)], rel=1e-6)


def test_the_angles_tried_do_not_depend_on_how_the_outline_was_drawn():
    drawn = variant_outline(BOARD * [1.0, 1.3] + [0.0, 3.0], Variant(22.0))
    one, other = (np.array(sorted(worth_trying(ring, 900.0, 24))) for ring in (BOARD * [1.0, 1.3], drawn))
    off = (one[:, None] - other[None, :] - 22.0 + 180.0) % 360.0 - 180.0
    assert np.abs(off).min(axis=1).max() < 1e-6
