"""Compiled kernels against their plain twins and against shapely."""

import numpy as np
import pytest
import shapely

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.checks import checked
from nesting.packing.depth_kernel import depth
from nesting.packing.grid_kernel import edge_columns, edge_distance, signed_nearest
from nesting.packing.place_kernel import random_share, reach, snap_x, snap_y
from nesting.packing.table_building import build

HOOK = np.array([[0.0, 0.0], [12.0, 0.0], [12.0, 4.0], [4.0, 4.0], [4.0, 9.0], [0.0, 9.0]])
EVERY_WAY = tuple(Variant(angle, mirrored) for angle in (0.0, 90.0, 180.0) for mirrored in (False, True))


@pytest.fixture(scope="module")
def tables():
    """Tables of a hook in six ways."""
    return build(checked(StripProblem(30.0, (Item("hook", HOOK, 2, EVERY_WAY),)))).tables


def test_twins_agree_on_distances():
    edge = edge_columns(HOOK)
    every = np.arange(len(edge))
    for x, y in np.random.default_rng(0).uniform(-5, 15, (200, 2)):
        assert edge_distance.py_func(edge, 1, x, y) == pytest.approx(edge_distance(edge, 1, x, y))
        plain = signed_nearest.py_func(edge, every, 0, len(edge), x, y)
        assert plain == pytest.approx(signed_nearest(edge, every, 0, len(edge), x, y))


def test_signed_distance_is_shapelys():
    edge, hook = edge_columns(HOOK), shapely.Polygon(HOOK)
    every = np.arange(len(edge))
    places = np.vstack(
        [np.random.default_rng(1).uniform(-5, 15, (300, 2)), np.indices((18, 15)).reshape(2, -1).T]
    )
    for x, y in places:
        distance, _ = signed_nearest(edge, every, 0, len(edge), float(x), float(y))
        spot = shapely.Point(x, y)
        assert abs(distance) == pytest.approx(hook.exterior.distance(spot), abs=1e-12)
        if abs(distance) > 1e-9:
            assert (distance > 0) == hook.contains(spot)


def test_depth_by_cells_is_depth_by_all_edges(tables):
    rng = np.random.default_rng(2)
    for k in range(len(tables.box)):
        begin, end = tables.edge_first[k], tables.edge_first[k + 1]
        every = np.arange(len(tables.edge))
        for share in rng.uniform(0, 1, (60, 2)):
            x, y = tables.box[k, :2] + share * (tables.box[k, 2:] - tables.box[k, :2])
            slow, _ = signed_nearest(tables.edge, every, begin, end, x, y)
            quick, _ = depth(tables, k, x, y)
            assert max(quick, 0.0) == pytest.approx(max(slow, 0.0), abs=1e-12)


def test_well_outside_there_is_no_depth(tables):
    assert depth(tables, 0, 1e6, 0.0) == (-np.inf, -1)
    assert depth.py_func(tables, 0, 1e6, 0.0) == (-np.inf, -1)


def test_the_random_stream_is_the_same_in_both_twins_and_fills_the_unit_interval():
    one, other = np.array([12345]), np.array([12345])
    compiled = [random_share(one) for _ in range(2000)]
    assert compiled == [random_share.py_func(other) for _ in range(2000)]
    assert 0.0 <= min(compiled) < 0.01
    assert 0.99 < max(compiled) < 1.0
    assert np.mean(compiled) == pytest.approx(0.5, abs=0.03)


def test_positions_snap_to_edges_and_lattices():
    square = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]])
    items = (
        Item("free", square),
        Item("low", square, edge=EdgeRule.LOW),
        Item("either", square, edge=EdgeRule.EITHER),
        Item("checked", square, x_lattice=Lattice(5.0, 1.0), y_lattice=Lattice(3.0)),
    )
    tables = build(checked(StripProblem(20.0, items))).tables
    # centres: half of 4 from each side; the lattice holds the corner, two before the centre
    assert [snap_y(tables, s, 11.0) for s in range(4)] == pytest.approx([11.0, 2.0, 18.0, 11.0])
    assert [snap_y(tables, s, 9.9) for s in range(4)] == pytest.approx([9.9, 2.0, 2.0, 11.0])
    assert [snap_x(tables, s, 100.0, 9.0) for s in range(4)] == pytest.approx([9.0, 9.0, 9.0, 8.0])
    assert [reach(tables, s, 19.0) for s in range(4)] == pytest.approx([17.0, 17.0, 17.0, 13.0])
