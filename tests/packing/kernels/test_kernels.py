"""Compiled kernels against their plain twins and against shapely."""

import numpy as np
import pytest
import shapely

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.kernels import depth as depth_kernel
from nesting.packing.kernels import line as line_kernel
from nesting.packing.kernels import place as place_kernel
from nesting.packing.kernels import sight as sight_kernel
from nesting.packing.kernels.sight import new_scratch
from nesting.packing.outlines import grid as grid_kernel
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.grid import edge_columns
from nesting.packing.outlines.table_building import build
from tests.kernels_by_hand import by_hand

depth = by_hand(depth_kernel.depth)
edge_distance, signed_nearest = by_hand(grid_kernel.edge_distance), by_hand(grid_kernel.signed_nearest)
clip, crossings = by_hand(line_kernel.clip), by_hand(line_kernel.crossings)
inverse, line_search = by_hand(line_kernel.inverse), by_hand(line_kernel.line_search)
random_share, reach = by_hand(place_kernel.random_share), by_hand(place_kernel.reach)
snap_x, snap_y = by_hand(place_kernel.snap_x), by_hand(place_kernel.snap_y)
cost_at, look_round = by_hand(sight_kernel.cost_at), by_hand(sight_kernel.look_round)
with_neighbour = by_hand(sight_kernel.with_neighbour)

HOOK = np.array([[0.0, 0.0], [12.0, 0.0], [12.0, 4.0], [4.0, 4.0], [4.0, 9.0], [0.0, 9.0]])
EVERY_WAY = tuple(Variant(angle, mirrored) for angle in (0.0, 90.0, 180.0) for mirrored in (False, True))


@pytest.fixture(scope="module")
def tables():
    """Tables of a hook in six ways."""
    return build(checked(StripProblem(30.0, (Item("hook", HOOK, 2, EVERY_WAY),)))).tables


def test_twins_agree_on_distances():
    edge, plain = edge_columns(HOOK), grid_kernel.edge_distance.py_func
    for x, y in np.random.default_rng(0).uniform(-5, 15, (200, 2)):
        assert plain(edge, 1, x, y) == pytest.approx(edge_distance(edge, 1, x, y))


def test_signed_distance_is_shapelys():
    edge, hook = edge_columns(HOOK), shapely.Polygon(HOOK)
    every = np.arange(len(edge), dtype=np.uint64)
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
        every = np.arange(len(tables.edge), dtype=np.uint64)
        for share in rng.uniform(0, 1, (60, 2)):
            x, y = tables.box[k, :2] + share * (tables.box[k, 2:] - tables.box[k, :2])
            slow, _ = signed_nearest(tables.edge, every, begin, end, x, y)
            quick, _ = depth(tables, k, x, y)
            assert max(quick, 0.0) == pytest.approx(max(slow, 0.0), abs=1e-12)


def test_no_depth_in_a_cell_is_less_than_its_least(tables):
    rng = np.random.default_rng(3)
    for k in range(len(tables.box)):
        columns, rows, first = tables.cells[k]
        wide, high = 1.0 / tables.grid[k, 2:]
        for cell in range(columns * rows):
            corner = tables.grid[k, :2] + (cell % columns * wide, cell // columns * high)
            least = tables.cell_least[first + cell]
            shares = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0), *rng.uniform(0, 1, (4, 2))]
            for x, y in corner + np.array(shares) * (wide, high):
                assert least <= max(depth(tables, k, x, y)[0], 0.0) + 1e-12 or least <= 0.0


def test_a_least_depth_within_the_tolerance_does_not_hide_a_deeper_one(tables):
    xy, shape, weight = np.array([[5.0, 5.0], [5.0, 6.0]]), np.zeros(2, dtype=np.int64), np.full((2, 2), 1e12)
    doubtful = tables._replace(cell_least=np.full_like(tables.cell_least, 0.5 * tables.tolerance))
    for held in (tables, doubtful):
        scratch = new_scratch(held, 2)
        m = look_round(held, xy, shape, weight, 0, 0, (-np.inf, np.inf), scratch)
        assert with_neighbour(held, scratch, 0, 5.0, 5.0, 0.0, 1.0) >= 1.0, m


def test_a_line_asks_only_neighbours_it_goes_through_and_finds_what_asking_all_would():
    cup = np.array([[0, 0], [20, 0], [20, 14], [13, 14], [13, 6], [7, 6], [7, 14], [0, 14]], dtype=float)
    slot = np.array([[0.0, 0.0], [6.0, 0.0], [6.0, 5.0], [0.0, 5.0]])  # fits the cup's slot exactly
    items = (Item("hook", HOOK, 3, EVERY_WAY), Item("cup", cup, 2, EVERY_WAY), Item("slot", slot, 3))
    tables = build(checked(StripProblem(40.0, items))).tables
    rng, used, everywhere = np.random.default_rng(4), np.zeros(1, dtype=np.int64), (-np.inf, np.inf)
    free = 0
    for _ in range(150):
        shape = np.array([rng.integers(first, last) for first, last in tables.shapes])
        xy = np.column_stack([rng.integers(7, 40, 8), rng.integers(7, 34, 8)]).astype(float)
        i = int(rng.integers(8))
        s, scratch = shape[i], new_scratch(tables, 8)
        m = look_round(tables, xy, shape, rng.uniform(0.5, 5, (8, 8)), i, s, everywhere, scratch)
        for dx, dy in [(1.0, 0.0), (0.0, 1.0), (0.6, 0.8), (-0.8, 0.6)]:  # whole numbers lie along many edges
            x, y = float(rng.integers(12, 40)), float(rng.integers(12, 28))
            line = (x, y, dx, dy)
            found, at_x, at_y = line_search(
                tables, scratch, m, s, 60.0, everywhere, line, everywhere, 0.0, np.inf, used
            )
            least_x, most_x = tables.half[s, 0], 60.0 - tables.half[s, 0]
            least_y, most_y = tables.half[s, 1], 40.0 - tables.half[s, 1]
            span = clip(y, inverse(dy), least_y, most_y, clip(x, inverse(dx), least_x, most_x, everywhere))
            n, _ = crossings(tables, scratch, m, line, span, used)
            asked = [
                cost_at(tables, scratch, m, x + t * dx, y + t * dy, 0.0, np.inf, used)
                for t in scratch.stops[:n]
            ]
            assert found == pytest.approx(min(asked), abs=1e-9)
            assert found == pytest.approx(cost_at(tables, scratch, m, at_x, at_y, 0.0, np.inf, used))
            free += found == 0.0
    assert 50 < free < 550  # some lines have a free place, some have none


def test_well_outside_there_is_no_depth(tables):
    assert depth(tables, 0, 1e6, 0.0) == (-np.inf, -1)


def test_the_random_stream_is_the_same_in_both_twins_and_fills_the_unit_interval():
    one, other = np.array([12345]), np.array([12345])
    compiled = [random_share(one) for _ in range(2000)]
    assert compiled == [place_kernel.random_share.py_func(other) for _ in range(2000)]
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
