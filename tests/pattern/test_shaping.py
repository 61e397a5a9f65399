from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.geometry import signed_area
from nesting.pattern.allowance import cut_outline
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.edges import counter_clockwise_edges, outline_ring
from nesting.pattern.laid_by import MOST_GAIN, gain
from nesting.pattern.piece import Dart, Edge, Mark, Notch, Piece
from nesting.pattern.shaping import GRAIN_SHARE, cut_shape
from nesting.pattern.unfold import unfolded


def features(shape, kind):
    return [feature for feature in shape.features if feature.kind is kind]


def feature(shape, kind):
    (only,) = features(shape, kind)
    return only


def straight(corners, *, grain_deg=90.0, allowance_mm=10.0, **changes):
    corners = np.array(corners, dtype=float)
    ends = np.roll(corners, -1, axis=0)
    edges = (
        Edge(f"edge {k}", np.array([p, q]), allowance_mm)
        for k, (p, q) in enumerate(zip(corners, ends, strict=True))
    )
    return Piece("piece", tuple(edges), grain_deg, {}, **changes)


# Up the paper: a tall L, its foot towards the right.
L_SHAPE = [(0, 0), (60, 0), (60, 30), (20, 30), (20, 100), (0, 100)]


def test_the_top_of_the_grain_points_along_the_cloth_and_the_face_is_up():
    """Straight up the paper becomes towards +x, so the paper's right becomes the cloth's low side.

    ::

        paper  +-+         cloth  +----------+
               | |                |  +-------+
               | +--+             |  |
               +----+             +--+
    """
    shape = cut_shape(straight(L_SHAPE, allowance_mm=0.0))
    assert shape.cut_line.tolist() == [[100, 40], [100, 60], [0, 60], [0, 0], [30, 0], [30, 40]]
    assert signed_area(shape.cut_line) > 0


@given(st.floats(-360, 360))
def test_turning_the_paper_and_its_grain_together_changes_nothing(angle_deg):
    turn = np.radians(angle_deg)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    turned = straight(np.array(L_SHAPE) @ matrix.T + 77, grain_deg=90 + angle_deg)
    first, second = (shapely.Polygon(cut_shape(p).cut_line) for p in (straight(L_SHAPE), turned))
    assert shapely.hausdorff_distance(first, second) < 0.02


def test_going_round_the_other_way_changes_nothing(jacket_front):
    other = tuple(replace(edge, vertices=edge.vertices[::-1]) for edge in reversed(jacket_front.edges))
    first, second = cut_shape(jacket_front), cut_shape(replace(jacket_front, edges=other))
    assert shapely.hausdorff_distance(*(shapely.Polygon(s.cut_line) for s in (first, second))) < 0.02


def test_the_box_about_the_cut_line_begins_at_the_origin(jacket_front, bodice_back):
    for piece in (jacket_front, bodice_back):
        assert cut_shape(piece).cut_line.min(axis=0).tolist() == [0.0, 0.0]


def test_a_jacket_front_keeps_few_vertices(jacket_front):
    assert 30 <= len(cut_shape(jacket_front).cut_line) <= 80


@pytest.mark.parametrize(("grain_deg", "side"), [(90.0, "greatest"), (270.0, "least")])
def test_the_fold_edge_is_exactly_on_one_side(bodice_back, grain_deg, side):
    shape = cut_shape(replace(bodice_back, grain_deg=grain_deg))
    y = shape.cut_line[:, 1].max() if side == "greatest" else 0.0
    assert (shape.fold_edge[:, 1] == y).all()
    assert np.isin(shape.fold_edge, shape.cut_line).all()
    assert (shape.cut_line[:, 1] == y).sum() == 2
    assert np.array_equal(feature(shape, FeatureKind.FOLD).vertices, shape.fold_edge)
    assert feature(shape, FeatureKind.FOLD).name == "centre back"


def test_the_fold_edge_takes_in_the_allowances_of_its_neighbours(bodice_back):
    shape = cut_shape(bodice_back)
    length = float(np.ptp(shape.fold_edge[:, 0]))
    # 56.5 cm, 4 cm hem and 6 mm neck; both meet the fold nearly at right angles.
    assert length == pytest.approx(565 + 40 + 6, abs=0.1)


def test_a_fold_edge_slightly_off_the_grain_still_lies_along_the_cloth(bodice_back):
    shape = cut_shape(replace(bodice_back, grain_deg=90.4))
    assert shape.fold_edge[0, 1] == shape.fold_edge[1, 1] == shape.cut_line[:, 1].max()


def test_cut_with_a_seam_the_former_fold_edge_gets_its_allowance(bodice_back):
    folded, seamed = cut_shape(bodice_back), cut_shape(replace(bodice_back, on_fold=None))
    assert seamed.fold_edge is None
    assert np.ptp(seamed.cut_line[:, 1]) - np.ptp(folded.cut_line[:, 1]) == pytest.approx(15, abs=1e-3)


def test_an_outline_that_is_the_cutting_line_is_cut_as_drawn(jacket_front):
    as_drawn = tuple(replace(edge, allowance_mm=0.0) for edge in jacket_front.edges)
    shape = cut_shape(replace(jacket_front, edges=as_drawn, allowance_included=True))
    drawn = shapely.Polygon(outline_ring(jacket_front.edges))
    assert shapely.Polygon(shape.cut_line).area == pytest.approx(drawn.area, rel=1e-4)
    assert features(shape, FeatureKind.STITCHING) == []


def test_a_cutting_line_cut_open_at_its_fold_gets_an_allowance_there_only(bodice_back):
    """The fold edge of a piece drawn with its allowances becomes a seam: 15 mm there, nothing elsewhere."""
    drawn = tuple(
        replace(edge, allowance_mm=15.0 if edge.name == "centre back" else 0.0) for edge in bodice_back.edges
    )
    folded = cut_shape(replace(bodice_back, edges=drawn, allowance_included=True))
    seamed = cut_shape(replace(bodice_back, edges=drawn, allowance_included=True, on_fold=None))
    grown = signed_area(seamed.cut_line) - signed_area(folded.cut_line)
    assert grown == pytest.approx(15 * 565, abs=15)


def test_the_stitching_line_is_the_outline(jacket_front):
    shape = cut_shape(jacket_front)
    line = feature(shape, FeatureKind.STITCHING).vertices
    assert np.array_equal(line[0], line[-1])
    assert shapely.Polygon(line).area == pytest.approx(abs(signed_area(outline_ring(jacket_front.edges))))
    assert shapely.Polygon(shape.cut_line).buffer(0.02).covers(shapely.LineString(line))


def test_a_fold_has_no_stitching(bodice_back):
    line = feature(cut_shape(bodice_back), FeatureKind.STITCHING).vertices
    fold_y = cut_shape(bodice_back).fold_edge[0, 1]
    assert line[[0, -1], 1].tolist() == [fold_y, fold_y]
    assert (line[1:-1, 1] < fold_y - 1).all()


def test_a_notch_is_on_the_cut_line_and_points_inside(bodice_back, jacket_front):
    for piece in (bodice_back, jacket_front):
        shape = cut_shape(piece)
        ring = shapely.LinearRing(shape.cut_line)
        for notch in features(shape, FeatureKind.NOTCH):
            on_cut, inside = notch.vertices
            assert ring.distance(shapely.Point(on_cut)) < 1e-6
            assert np.hypot(*(inside - on_cut)) == pytest.approx(5.0)
            assert shapely.Polygon(ring).contains(shapely.Point(inside))


def test_a_notch_moves_straight_out():
    piece = straight(
        [(0, 0), (300, 0), (300, 100), (0, 100)], notches=(Notch("middle", "edge 1", (300.0, 40.0)),)
    )
    on_cut, inside = feature(cut_shape(piece), FeatureKind.NOTCH).vertices
    # The paper's right side is the cloth's low side.
    assert on_cut == pytest.approx([50, 0], abs=1e-3)
    assert inside == pytest.approx([50, 5], abs=1e-3)


@pytest.mark.parametrize("included", [False, True])
def test_a_notch_at_a_corner_is_still_on_the_cut_line(included):
    piece = straight(
        [(0, 0), (300, 0), (300, 100), (0, 100)],
        notches=(Notch("corner", "edge 1", (300.0, 0.0)),),
        allowance_included=included,
    )
    shape = cut_shape(piece)
    on_cut = feature(shape, FeatureKind.NOTCH).vertices[0]
    assert shapely.LinearRing(shape.cut_line).distance(shapely.Point(on_cut)) < 1e-6


def test_darts_and_marks_are_carried_along():
    piece = straight(
        [(0, 0), (300, 0), (300, 100), (0, 100)],
        darts=(Dart("bust", ((290.0, 40.0), (200.0, 50.0), (290.0, 60.0))),),
        marks=(Mark("button", ((30.0, 20.0),)), Mark("pocket", ((50.0, 50.0), (150.0, 50.0)))),
    )
    shape = cut_shape(piece)
    # Allowances of 10 mm all round: a paper point (x, y) comes to lie at (10 + y, 310 - x).
    assert feature(shape, FeatureKind.DART).vertices == pytest.approx(
        np.array([(50, 20), (60, 110), (70, 20)])
    )
    button, pocket = features(shape, FeatureKind.MARK)
    assert button.vertices == pytest.approx(np.array([(30, 280)]))
    assert pocket.vertices == pytest.approx(np.array([(60, 260), (60, 160)]))


CRESCENT = [(0, 0), (120, -40), (300, -40), (420, 0), (300, -10), (120, -10)]


@pytest.mark.parametrize("corners", [L_SHAPE, CRESCENT, [(0, 0), (400, 0), (200, 90)]])
@pytest.mark.parametrize("grain_deg", [0.0, 45.0, 90.0, 200.0])
def test_the_grain_line_lies_inside_and_runs_from_foot_to_top(corners, grain_deg):
    piece = straight(corners, grain_deg=grain_deg)
    shape = cut_shape(piece)
    foot, top = feature(shape, FeatureKind.GRAIN).vertices
    assert foot[1] == top[1]
    assert top[0] > foot[0]
    stitched = shapely.Polygon(feature(shape, FeatureKind.STITCHING).vertices)
    assert stitched.contains(shapely.LineString([foot, top]))
    usual = GRAIN_SHARE * np.ptp(stitched.exterior.xy[0])
    # Longer only where a line of the usual length would not hold the piece.
    assert (
        top[0] - foot[0] <= usual + 1e-6
        or gain([foot, (foot[0] + usual, foot[1])], shape.cut_line) > MOST_GAIN
    )


def test_the_grain_line_of_a_plain_box_is_in_its_middle():
    shape = cut_shape(straight([(0, 0), (100, 0), (100, 200), (0, 200)]))
    foot, top = feature(shape, FeatureKind.GRAIN).vertices
    assert top[0] - foot[0] == pytest.approx(120)
    assert [*foot, *top] == pytest.approx([50, 60, 170, 60])


KITE = [(0, 0), (100, 0), (120, 150), (50, 200), (-20, 150)]


def test_symmetric_is_judged_across_the_grain():
    assert cut_shape(straight(KITE)).symmetric
    assert not cut_shape(straight(KITE, grain_deg=60.0)).symmetric
    assert not cut_shape(straight(L_SHAPE)).symmetric


@pytest.mark.parametrize(("off_mm", "symmetric"), [(0.6, True), (4.0, False)])
def test_symmetric_within_a_millimetre(off_mm, symmetric):
    corners = [(0, 0), (100, 0), (120 + off_mm, 150), (50, 200), (-20, 150)]
    assert cut_shape(straight(corners)).symmetric is symmetric


def test_a_notch_on_one_side_only_makes_left_and_right():
    left, right = Notch("left", "edge 4", (-10.0, 75.0)), Notch("right", "edge 1", (110.0, 75.0))
    assert not cut_shape(straight(KITE, notches=(left,))).symmetric
    assert cut_shape(straight(KITE, notches=(left, right))).symmetric


def test_the_cut_line_is_that_of_the_allowances(jacket_front):
    there = shapely.Polygon(cut_outline(counter_clockwise_edges(jacket_front.edges)))
    assert shapely.Polygon(cut_shape(jacket_front).cut_line).area == pytest.approx(there.area, rel=1e-5)


def test_a_grain_line_drawn_on_the_paper_is_taken_over():
    piece = straight(L_SHAPE, grain_line=((10.0, 20.0), (10.0, 90.0)))
    shape = cut_shape(piece)
    assert shape.grain_on_paper.tolist() == [[10.0, 20.0], [10.0, 90.0]]
    foot, top = feature(shape, FeatureKind.GRAIN).vertices
    # 1 cm of allowance is below and to the left; "up" has become "along".
    assert foot == pytest.approx([30.0, 60.0])
    assert top - foot == pytest.approx([70.0, 0.0])


def test_a_grain_line_along_the_edge_of_the_paper_is_replaced_by_one_well_inside():
    shape = cut_shape(straight(L_SHAPE, grain_line=((0.0, 0.0), (0.0, 100.0))))
    assert shapely.Polygon(L_SHAPE).buffer(-5).covers(shapely.LineString(shape.grain_on_paper))


@given(angle_deg=st.floats(-180, 180))
def test_the_grain_line_can_be_found_again_on_the_paper(angle_deg):
    """Its place on the paper is inside the outline as drawn, and points along the grain."""
    angle = np.radians(angle_deg)
    matrix = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    corners = np.array(L_SHAPE) @ matrix.T + 77
    foot, top = cut_shape(straight(corners, grain_deg=90 + angle_deg)).grain_on_paper
    assert shapely.Polygon(corners).contains(shapely.LineString([foot, top]))
    along = (top - foot) / np.linalg.norm(top - foot)
    assert along == pytest.approx([np.cos(angle + np.pi / 2), np.sin(angle + np.pi / 2)], abs=1e-6)


def test_a_mark_or_dart_on_one_side_only_makes_left_and_right():
    mark, dart = (
        Mark("pocket", ((20.0, 50.0), (40.0, 50.0))),
        Dart("", ((60.0, 0.0), (65.0, 60.0), (70.0, 0.0))),
    )
    assert not cut_shape(straight(KITE, marks=(mark,))).symmetric
    assert not cut_shape(straight(KITE, darts=(dart,))).symmetric
    middle = Mark("pocket", ((30.0, 50.0), (70.0, 50.0)))
    assert cut_shape(straight(KITE, marks=(middle,))).symmetric


def test_a_notch_at_the_fold_goes_out_to_the_cut_line(bodice_back):
    """Not to the stretch of it on the fold, where nothing is cut: the centre of a neck or a hem."""
    notches = (Notch("centre", "neck", (0.0, 565.0)), Notch("hem", "hem", (0.0, 0.0)))
    shape = cut_shape(replace(bodice_back, notches=notches))
    neck, hem = (one.vertices[0] for one in features(shape, FeatureKind.NOTCH))
    assert neck[0] == pytest.approx(shape.fold_edge[:, 0].max(), abs=0.1)
    assert hem[0] == pytest.approx(shape.fold_edge[:, 0].min(), abs=0.1)


def test_an_outline_that_strays_over_its_fold_line_ends_on_it():
    """By no more than reading points allows; without allowances too, and then opened out."""
    corners = [(0, 0), (100, 0), (110, 40), (150, -0.3), (150, 100), (0, 100)]
    piece = straight(corners, grain_deg=0.0, allowance_mm=0.0, on_fold="edge 0")
    shape = cut_shape(piece)
    assert (shape.cut_line[:, 1] >= shape.fold_edge[0, 1]).all()
    assert shapely.Polygon(unfolded(shape).cut_line).is_valid
