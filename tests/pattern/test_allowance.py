import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.errors import InvalidShape
from nesting.geometry import signed_area
from nesting.pattern.allowance import COLLINEAR_TOLERANCE_MM, MITRE_LIMIT, cut_outline, without_collinear
from nesting.pattern.curves import arc, smooth
from nesting.pattern.edges import counter_clockwise_edges, outline_ring
from nesting.pattern.piece import Edge

allowances = st.sampled_from([0.0, 6.0, 10.0, 15.0, 40.0])


def edges_of(corners, allowances_mm):
    corners = np.array(corners, dtype=float)
    ends = np.roll(corners, -1, axis=0)
    return counter_clockwise_edges(
        [
            Edge(f"edge {k}", np.array([p, q]), float(a))
            for k, (p, q, a) in enumerate(zip(corners, ends, allowances_mm, strict=True))
        ]
    )


def same_ring(ring, corners):
    return shapely.Polygon(ring).normalize().equals_exact(shapely.Polygon(corners).normalize(), 1e-3)


@st.composite
def stars(draw):
    """A simple polygon of 3 to 9 corners about the origin, angles and distances as they come."""
    count = draw(st.integers(3, 9))
    angles = sorted(draw(st.lists(st.integers(0, 359), min_size=count, max_size=count, unique=True)))
    away = draw(st.lists(st.integers(30, 300), min_size=count, max_size=count))
    corners = (
        np.column_stack([np.cos(np.radians(angles)), np.sin(np.radians(angles))]) * np.array(away)[:, None]
    )
    polygon = shapely.Polygon(corners)
    assume(polygon.is_valid and polygon.area > 500)
    return corners


def test_a_box_with_four_allowances():
    """Each side moves by its own; the corners are where the moved sides meet.

    ::

        +-----------+ 20
        | +-------+ |
      4 | |       | | 1
        | +-------+ |
        +-----------+ 40
    """
    ring = cut_outline(edges_of([(0, 0), (200, 0), (200, 100), (0, 100)], [40, 1, 20, 4]))
    assert same_ring(ring, [(-4, -40), (201, -40), (201, 120), (-4, 120)])
    assert len(ring) == 4


def test_a_flared_hem_runs_on_straight_from_the_side():
    """The side's cut line runs on to the hem's: the hem gets wider below a flared side."""
    ring = cut_outline(edges_of([(0, 0), (400, 0), (300, 400), (100, 400)], [40, 10, 10, 10]))
    slant = np.hypot(100, 400)
    corner = ring[np.argmax(ring[:, 0])]
    assert corner[1] == pytest.approx(-40, abs=1e-3)
    # On the side's line moved out by 10 mm: 400 x + 100 y = 160000 + 10 * slant.
    assert (400 * corner[0] + 100 * corner[1] - 160000) / slant == pytest.approx(10, abs=1e-3)


def test_a_hem_under_a_tapered_side_is_trimmed_along_the_side():
    """Where the side leans inward below, the wide hem band is cut off along the side's cut line."""
    corners = [(100, 0), (300, 0), (400, 400), (0, 400)]
    ring = cut_outline(edges_of(corners, [40, 10, 10, 10]))
    low = ring[np.argsort(ring[:, 1])[:2]]
    assert low[:, 1] == pytest.approx([-40, -40], abs=1e-3)
    slant = np.hypot(100, 400)
    right = low[:, 0].max()
    assert (400 * right - 100 * -40 - 120000) / slant == pytest.approx(10, abs=1e-3)
    assert len(ring) == 4


def test_an_inner_corner_of_two_allowances():
    """In the angle of an L the two offset lines meet, whichever is wider."""
    corners = [(0, 0), (200, 0), (200, 100), (100, 100), (100, 200), (0, 200)]
    ring = cut_outline(edges_of(corners, [10, 10, 30, 5, 10, 10]))
    assert same_ring(ring, [(-10, -10), (210, -10), (210, 130), (105, 130), (105, 210), (-10, 210)])


def test_a_blunt_inner_corner_of_two_allowances():
    corners = [(0, 0), (100, 0), (150, 50), (250, 50), (250, 200), (0, 200)]
    ring = cut_outline(edges_of(corners, [40, 10, 10, 10, 10, 10]))
    # The hem's line y = -40 runs on to the slant's, x - y = 100 + 10 √2.
    assert np.abs(ring - [60 + 10 * 2**0.5, -40]).sum(axis=1).min() < 1e-3


def test_edges_that_run_straight_on_make_a_step():
    ring = cut_outline(edges_of([(0, 0), (100, 0), (200, 0), (200, 100), (0, 100)], [40, 10, 10, 10, 10]))
    assert same_ring(ring, [(-10, -40), (100, -40), (100, -10), (210, -10), (210, 110), (-10, 110)])


@pytest.mark.parametrize("lift", [12, -12])
def test_edges_that_nearly_run_straight_on_make_a_step(lift):
    ring = cut_outline(edges_of([(0, 0), (100, 0), (200, lift), (200, 100), (0, 100)], [40, 10, 10, 10, 10]))
    assert np.abs(ring - [100, -40]).sum(axis=1).min() < 1e-3
    at = int(np.argmin(np.abs(ring - [100, -40]).sum(axis=1)))
    after = ring[(at + 1) % len(ring)]
    assert after[0] == pytest.approx(100, abs=1e-3), "the step goes square up"
    assert -12 < after[1] < -7


def test_a_sharp_point_is_cut_square_across_at_the_limit():
    ring = cut_outline(edges_of([(0, -20), (200, 0), (0, 20)], [10, 10, 10]))
    assert ring[:, 0].max() == pytest.approx(200 + 10 * MITRE_LIMIT, abs=1e-3)
    tip = ring[ring[:, 0] > 220]
    assert len(tip) == 2
    assert tip[:, 0] == pytest.approx([230, 230], abs=1e-3)


def test_a_narrow_inward_curve_is_filled_without_crossing():
    """A slit 30 mm wide with 25 mm allowances closes altogether: the cut goes straight over it."""
    round_end = arc(np.array([115.0, 120.0]), np.array([100.0, 105.0]), np.array([85.0, 120.0]))
    slit = np.vstack([[(115, 200)], round_end, [(85, 200)]])
    edges = counter_clockwise_edges(
        [
            Edge("rest", np.array([(85, 200), (0, 200), (0, 0), (200, 0), (200, 200), (115, 200.0)]), 10.0),
            Edge("slit", slit, 25.0),
        ]
    )
    ring = cut_outline(edges)
    assert same_ring(ring, [(-10, -10), (210, -10), (210, 210), (-10, 210)])


def test_an_inward_curve_tighter_than_its_allowance():
    """A scoop of radius 40 mm with 60 mm allowances round it; the cut line stays one simple ring."""
    scoop = arc(np.array([140.0, 200.0]), np.array([100.0, 160.0]), np.array([60.0, 200.0]))
    rest = np.array([(60, 200), (0, 200), (0, 0), (200, 0), (200, 200), (140.0, 200.0)])
    edges = counter_clockwise_edges([Edge("rest", rest, 10.0), Edge("scoop", scoop, 60.0)])
    shape = shapely.Polygon(cut_outline(edges))
    assert shape.is_valid
    assert shape.buffer(0.02).covers(shapely.Polygon(outline_ring(edges)))


def test_an_edge_without_allowance_is_cut_as_drawn():
    """A raw edge: its neighbours end on its own line, run on."""
    ring = cut_outline(edges_of([(0, 0), (200, 0), (250, 100), (0, 100)], [0, 10, 10, 10]))
    assert ring[:, 1].min() == pytest.approx(0, abs=1e-9)
    bottom = ring[ring[:, 1] < 1e-6]
    assert sorted(bottom[:, 0]) == pytest.approx([-10, 200 + 10 * np.hypot(50, 100) / 100], abs=1e-3)


@pytest.mark.parametrize("turned_over", [False, True])
def test_neighbours_of_the_fold_end_squarely_on_its_line(turned_over):
    """Hem and neck allowances run along the fold line; nothing lies behind it."""
    sign = -1.0 if turned_over else 1.0
    corners = np.array([(0, 0), (500, 0), (480, 80), (400, 180), (-10, 200)]) * [1, sign]
    edges = edges_of(corners, [99, 6, 10, 10, 40])
    ring = cut_outline(edges, on_fold="edge 0")
    on_fold = ring[ring[:, 1] == 0.0]
    assert len(on_fold) == 2
    assert (ring[:, 1] * sign >= 0).all()
    # The hem leans by 1 in 20 from the square, the neck by 1 in 4.
    assert on_fold[:, 0].min() == pytest.approx(-40 * np.hypot(1, 1 / 20), abs=1e-3)
    assert on_fold[:, 0].max() == pytest.approx(500 + 6 * np.hypot(1, 1 / 4), abs=1e-3)


@given(stars(), st.data())
def test_any_outline_gives_one_simple_ring_round_it(corners, data):
    given_mm = data.draw(st.lists(allowances, min_size=len(corners), max_size=len(corners)))
    edges = edges_of(corners, given_mm)
    ring = cut_outline(edges)
    shape = shapely.Polygon(ring)
    assert shape.is_valid
    assert signed_area(ring) > 0
    assert shape.buffer(0.02).covers(shapely.Polygon(corners))
    assert shapely.Polygon(corners).distance(shapely.MultiPoint(ring)) <= MITRE_LIMIT * max(given_mm) + 0.02


@given(stars(), st.data())
def test_the_cut_line_is_the_allowance_away_from_the_middle_of_a_long_edge(corners, data):
    """Where neither corner nor neighbour is near, straight out from the edge lies exactly its allowance.

    Near is what a neighbour's corner reaches, three times 40 mm, beyond an allowance of 40 mm.
    """
    given_mm = data.draw(st.lists(allowances, min_size=len(corners), max_size=len(corners)))
    edges = edges_of(3 * corners, given_mm)
    boundary = shapely.LinearRing(cut_outline(edges))
    far = [edge for edge in edges if to_the_others_mm(edge, edges) > 160]
    assume(far)
    for edge in far:
        p, q = edge.vertices
        outward = np.array([q[1] - p[1], p[0] - q[0]]) / np.hypot(*(q - p))
        place = shapely.Point((p + q) / 2 + edge.allowance_mm * outward)
        assert boundary.distance(place) <= COLLINEAR_TOLERANCE_MM + 1e-4


def to_the_others_mm(edge, edges):
    others = shapely.MultiLineString([list(other.vertices) for other in edges if other is not edge])
    return others.distance(shapely.Point(edge.vertices.mean(axis=0)))


@given(stars(), st.floats(1.0, 60.0), st.integers(-500, 500), st.integers(-500, 500))
def test_moving_the_paper_moves_the_cut_line(corners, allowance_mm, dx, dy):
    here = shapely.Polygon(cut_outline(edges_of(corners, [allowance_mm] * len(corners))))
    there = shapely.Polygon(cut_outline(edges_of(np.add(corners, (dx, dy)), [allowance_mm] * len(corners))))
    assert here.area == pytest.approx(there.area, abs=0.5)


def test_an_outline_that_crosses_itself_is_refused():
    with pytest.raises(InvalidShape, match="crosses itself"):
        cut_outline(edges_of([(0, 0), (100, 100), (100, 0), (0, 90)], [10] * 4))


def test_curves_keep_few_vertices():
    hem = smooth(np.array([(0.0, 30.0), (150.0, 0.0), (300.0, 30.0)]))
    rest = np.array([(300, 30), (260, 300), (40, 300), (0.0, 30.0)])
    edges = counter_clockwise_edges([Edge("hem", hem, 40.0), Edge("rest", rest, 10.0)])
    assert len(cut_outline(edges)) <= len(outline_ring(edges)) + 4


def test_collinear_vertices_are_left_out_wherever_the_ring_begins():
    ring = np.array([(50, 0), (100, 0), (100, 100), (50, 100.005), (0, 100), (0, 0)], dtype=float)
    for k in range(len(ring)):
        assert same_ring(
            without_collinear(np.roll(ring, k, axis=0)), [(0, 0), (100, 0), (100, 100), (0, 100)]
        )
    assert signed_area(without_collinear(ring[::-1])) > 0


def sharpest_turn_deg(ring):
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return float(np.abs(np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))).max())


@given(stars(), st.data())
def test_no_crack_is_left_between_parts(corners, data):
    """A crack shows as a vertex at which the cut line turns right round."""
    given_mm = data.draw(st.lists(allowances, min_size=len(corners), max_size=len(corners)))
    assume(sharpest_turn_deg(np.asarray(corners)) < 178)
    assert sharpest_turn_deg(cut_outline(edges_of(corners, given_mm))) < 179.5


@pytest.mark.parametrize("bend", [-25, 25])
def test_no_crack_beside_a_curved_edge_that_is_cut_as_drawn(bend):
    """In an inner corner the wide band runs on to the curve itself, not to its tangent."""
    rise = smooth(np.array([(100, 0), (160 + bend, 60 - bend), (220.0, 120.0)]))
    rest = np.array([(220, 120), (220, 300), (0, 300), (0, 0.0)])
    edges = (
        Edge("low", np.array([(0, 0), (100.0, 0.0)]), 40.0),
        Edge("rise", rise[:, :] * [1, -1], 0.0),
        Edge("rest", np.vstack([rise[-1:] * [1, -1], rest]), 10.0),
    )
    ring = cut_outline(counter_clockwise_edges(edges))
    assert sharpest_turn_deg(ring) < 150
    assert np.abs(ring[:, 1] + 40).min() < 1e-3


def test_a_tight_inward_curve_has_no_teeth():
    """Strips along a scoop of radius 20 mm with 40 mm allowances cross over; their ends are joined."""
    scoop = arc(np.array([120.0, 200.0]), np.array([100.0, 192.0]), np.array([80.0, 200.0]))
    rest = np.array([(80, 200), (0, 150), (0, 0), (200, 0), (200, 150), (120.0, 200.0)])
    edges = counter_clockwise_edges([Edge("rest", rest, 0.0), Edge("scoop", scoop, 60.0)])
    ring = cut_outline(edges)
    assert sharpest_turn_deg(ring) < 120


def test_a_curved_edge_keeps_its_allowance_beside_one_that_it_turns_away_from():
    """Where its neighbour's line, run on, would take it off the whole edge there is a step.

    ::

                    /|
        ---.___.-´   |      the curve, 40 mm wide; its neighbours are cut as drawn
        |____________|
    """
    curve = smooth(np.array([(150.0, 130.0), (110.0, 100.0), (61.0, 102.0)]))
    rest = np.array([(61.0, 102.0), (-115.0, 72.0), (-115.0, 0.0), (170.0, 0.0), (150.0, 130.0)])
    shape = shapely.Polygon(cut_outline((Edge("curve", curve, 40.0), Edge("rest", rest, 0.0))))
    middle = shapely.LineString(curve).interpolate(0.5, normalized=True)
    assert shape.exterior.distance(middle) == pytest.approx(40.0, abs=0.5)


FAR = 600.0
"""Length of the two edges at a corner: nothing else is near it."""


def about_a_corner(turn_deg, before_mm, after_mm, near=100.0):
    """The cut shape near a corner at the origin, as travel along +x turns by that angle; left is inside."""
    v = np.array([np.cos(np.radians(turn_deg)), np.sin(np.radians(turn_deg))])
    start, end = np.array([-FAR, 0.0]), FAR * v
    if turn_deg > 0:
        rest = [(start + end) / 2 + FAR * np.array([-v[1], 1 + v[0]]) / np.hypot(v[1], 1 + v[0])]
    else:
        rest = [end + FAR * np.array([-v[1], v[0]]), np.array([2 * FAR, 2 * FAR]), np.array([-FAR, 2 * FAR])]
    corners = [start, np.zeros(2), end, *rest]
    ring = cut_outline(edges_of(corners, [before_mm, after_mm, 5.0, *(5.0 for _ in rest)]))
    return shapely.Polygon(ring).intersection(shapely.Point(0, 0).buffer(near))


def side(direction_deg, out_mm, near=400.0):
    """All that is left of a line in that direction, moved so far out to its right."""
    half = shapely.box(-near, -out_mm, near, near)
    return shapely.affinity.rotate(half, direction_deg, origin=(0, 0))


def differs_mm2(shape, expected, near=100.0):
    disc = shapely.Point(0, 0).buffer(near)
    return shape.symmetric_difference(expected.intersection(disc)).area


BOTH = [(10, 10), (40, 10), (10, 40), (15, 6), (6, 15), (0, 10), (10, 0), (0, 0)]


@pytest.mark.parametrize("turn_deg", [20, 45, 80, 90, 110, 135])
@pytest.mark.parametrize(("before_mm", "after_mm"), BOTH)
def test_an_outer_corner_is_what_both_cut_lines_leave(turn_deg, before_mm, after_mm):
    """Left of both lines, each moved out by its own allowance: filled where they meet further out, trimmed
    where they meet before the wider band ends."""
    found = about_a_corner(turn_deg, before_mm, after_mm)
    assert differs_mm2(found, side(0, before_mm).intersection(side(turn_deg, after_mm))) < 0.2


@pytest.mark.parametrize("turn_deg", [-20, -45, -80, -90, -110])
@pytest.mark.parametrize(("before_mm", "after_mm"), BOTH)
def test_an_inner_corner_is_what_either_cut_line_leaves(turn_deg, before_mm, after_mm):
    """Left of one line or the other: the wider band runs on until it meets the other's line."""
    found = about_a_corner(turn_deg, before_mm, after_mm)
    assert differs_mm2(found, side(0, before_mm).union(side(turn_deg, after_mm))) < 0.2


@pytest.mark.parametrize("turn_deg", [-14, -5, 0.5, 5, 14])
@pytest.mark.parametrize(("before_mm", "after_mm"), [(40, 10), (10, 40), (15, 6), (10, 0)])
def test_a_corner_that_hardly_turns_is_a_step(turn_deg, before_mm, after_mm):
    """Each cut line ends square out from the corner, where the wider is cut straight in to the narrower.

    Up to the narrower allowance it is a corner as any other.
    """
    found = about_a_corner(turn_deg, before_mm, after_mm)
    first, second = shapely.box(-400, -before_mm, 0, 400), shapely.box(0, -after_mm, 400, 400)
    narrow = min(before_mm, after_mm)
    lines = side(0, narrow), side(turn_deg, narrow)
    corner = lines[0].intersection(lines[1]) if turn_deg > 0 else lines[0].union(lines[1])
    turned = shapely.affinity.rotate(second, turn_deg, origin=(0, 0))
    assert differs_mm2(found, shapely.union_all([first, turned, corner])) < 0.2


@pytest.mark.parametrize(("before_mm", "after_mm"), [(40, 10), (10, 40)])
def test_from_fifteen_degrees_on_two_cut_lines_meet(before_mm, after_mm):
    for turn_deg in (15.1, -15.1):
        lines = side(0, before_mm), side(turn_deg, after_mm)
        both = lines[0].intersection(lines[1]) if turn_deg > 0 else lines[0].union(lines[1])
        assert differs_mm2(about_a_corner(turn_deg, before_mm, after_mm), both) < 0.5
        assert differs_mm2(about_a_corner(turn_deg * 14.9 / 15.1, before_mm, after_mm), both) > 100


@pytest.mark.parametrize(("before_mm", "after_mm"), [(40, 0), (0, 40)])
@pytest.mark.parametrize("turn_deg", [16, -16])
def test_a_cut_line_that_would_run_on_for_three_allowances_ends_in_a_step(turn_deg, before_mm, after_mm):
    """At 16 degrees 40 mm meet the line of an edge cut as drawn 140 mm away, more than 3 times 40."""
    assert_step(turn_deg, before_mm, after_mm)
    assert 40 / np.tan(np.radians(16)) > 3 * 40 > 40 / np.tan(np.radians(20))


def assert_step(turn_deg, before_mm, after_mm):
    first, second = shapely.box(-400, -before_mm, 0, 400), shapely.box(0, -after_mm, 400, 400)
    turned = shapely.affinity.rotate(second, turn_deg, origin=(0, 0))
    inner = side(0, 0), side(turn_deg, 0)
    corner = inner[0].intersection(inner[1]) if turn_deg > 0 else inner[0].union(inner[1])
    found = about_a_corner(turn_deg, before_mm, after_mm)
    assert differs_mm2(found, shapely.union_all([first, turned, corner])) < 0.2


def test_a_wide_band_is_not_trimmed_for_longer_than_an_edge_is():
    """A hem of 40 mm, 70 mm long, beside a side that turns by 20 degrees: their lines meet 81 mm back."""
    turn = np.radians(20)
    far = np.array([np.cos(turn), np.sin(turn)]) * 400
    ring = cut_outline(edges_of([(-70, 0), (0, 0), far, (-70, 400)], [40, 10, 10, 10]))
    assert np.abs(ring - [0, -40]).sum(axis=1).min() < 5e-3, "the hem ends square at its corner"
    longer = cut_outline(edges_of([(-100, 0), (0, 0), far, (-100, 400)], [40, 10, 10, 10]))
    assert np.abs(longer - [0, -40]).sum(axis=1).min() > 5


@pytest.mark.parametrize("turn_deg", [145, 160, 170])
def test_a_point_under_39_degrees_is_cut_square_across_at_three_allowances(turn_deg):
    """39 degrees: where a mitre is three allowances long, 2 asin(1/3) = 38.9."""
    found = about_a_corner(turn_deg, 10, 10)
    across = shapely.affinity.rotate(shapely.box(-400, -400, 30, 400), turn_deg / 2 - 90, origin=(0, 0))
    whole = side(0, 10).intersection(side(turn_deg, 10))
    assert differs_mm2(found, whole.intersection(across)) < 0.2
    assert whole.difference(across).area > 1


@pytest.mark.parametrize("turned_over", [False, True])
@pytest.mark.parametrize("at", [(0.0, 0.0), (-700.0, 300.0), (200.0, -450.0)])
def test_a_box_on_the_fold_wherever_it_lies_on_the_paper(at, turned_over):
    sign = -1.0 if turned_over else 1.0
    edges = edges_of(np.array([(0, 0), (500, 0), (500, 200), (0, 200)]) * [1, sign] + at, [99, 6, 10, 40])
    ring = cut_outline(edges, on_fold="edge 0" if not turned_over else edges_on_y(edges, at[1]))
    expected = np.array([(-40, 0), (506, 0), (506, 210), (-40, 210)]) * [1, sign] + at
    assert same_ring(ring, expected)
    assert len(ring) == 4
    assert (ring[:, 1] == at[1]).sum() == 2


def edges_on_y(edges, y):
    (name,) = (edge.name for edge in edges if (edge.vertices[:, 1] == y).all())
    return name


def test_a_fold_in_several_segments_is_one_edge():
    low = np.array([(0, 0), (200, 0), (500, 0.0)])
    rest = np.array([(500, 0), (500, 200), (0, 200), (0, 0.0)])
    edges = counter_clockwise_edges([Edge("fold", low, 99.0), Edge("rest", rest, 10.0)])
    ring = cut_outline(edges, on_fold="fold")
    assert same_ring(ring, [(-10, 0), (510, 0), (510, 210), (-10, 210)])


def test_rounding_opens_no_slit_along_an_edge():
    """Found at random: on the grid of the union, a band came off the last part of its curve by a hair."""
    curve = np.array(
        [
            [-29.88584094, 2.61467228], [-10.94108004, -0.61113232], [6.76845074, -2.52322284],
            [23.24275139, -3.12159927], [38.48182192, -2.40626163], [52.48566231, -0.37720989],
            [65.25427258, 2.96555592], [76.78765272, 7.62203582], [87.08580273, 13.5922298],
            [96.14872262, 20.87613786], [103.97641237, 29.47376001], [110.568872, 39.38509624],
            [115.92610151, 50.61014656], [120.04810088, 63.14891095], [122.93487013, 77.00138944],
            [124.58640925, 92.167582], [125.00271824, 108.64748865], [124.1837971, 126.44110938],
            [122.12964584, 145.54844419],
        ]
    )  # fmt: skip
    inner, tip = np.array([12.37158987, 35.92970587]), np.array([-13.778137, 98.03653881])
    edges = (
        Edge("hem", np.array([curve[-1], inner]), 0.0),
        Edge("slit", np.array([inner, tip]), 0.0),
        Edge("side", np.array([tip, curve[0]]), 0.0),
        Edge("curve", curve, 6.0),
    )
    ring = cut_outline(edges)
    turned_back = np.linalg.norm(np.roll(ring, 1, axis=0) - np.roll(ring, -1, axis=0), axis=1)
    assert turned_back.min() > 0.01
    assert shapely.Polygon(ring).covers(
        shapely.Polygon(np.concatenate([e.vertices[:-1] for e in edges])).buffer(-0.001)
    )
