from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.errors import InvalidShape
from nesting.geometry import signed_area
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import Notch
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded


def of_kind(shape, kind):
    return [feature for feature in shape.features if feature.kind is kind]


@pytest.fixture(params=[90.0, 270.0], ids=["fold above", "fold below"])
def half(request, bodice_back):
    return cut_shape(replace(bodice_back, grain_deg=request.param))


def test_it_is_twice_the_half_and_its_own_mirror_image(half):
    whole = unfolded(half)
    assert signed_area(whole.cut_line) == pytest.approx(2 * signed_area(half.cut_line), rel=1e-6)
    assert whole.symmetric
    assert whole.fold_edge is None
    height = whole.cut_line[:, 1].max()
    assert height == pytest.approx(2 * half.cut_line[:, 1].max())
    mirrored = shapely.Polygon(whole.cut_line * [1, -1] + [0, height])
    assert mirrored.symmetric_difference(shapely.Polygon(whole.cut_line)).area < 1.0
    assert whole.cut_line.min(axis=0).tolist() == [0.0, 0.0]


def test_it_is_the_union_of_the_half_and_its_mirror_image(half):
    y = half.fold_edge[0, 1]
    union = shapely.union(
        shapely.Polygon(half.cut_line), shapely.Polygon(half.cut_line * [1, -1] + [0, 2 * y])
    )
    whole = shapely.Polygon(unfolded(half).cut_line)
    shift = -np.array(union.bounds[:2])
    moved = shapely.transform(union, lambda p: p + shift)
    assert whole.is_valid
    assert whole.symmetric_difference(moved).area < 1.0
    assert shapely.hausdorff_distance(whole, moved) < 0.02


def test_a_half_laid_the_other_way_round_opens_out_just_as_well(half):
    flipped = half.transformed(np.diag([1.0, -1.0]), np.array([30.0, 700.0]))
    turned = half.transformed(np.diag([-1.0, -1.0]), np.array([900.0, 500.0]))
    for other in (flipped, turned):
        assert signed_area(unfolded(other).cut_line) == pytest.approx(
            2 * signed_area(half.cut_line), rel=1e-6
        )


def test_everything_is_on_both_sides_but_the_grain_line_and_the_fold_line(half):
    whole = unfolded(half)
    for kind in (FeatureKind.NOTCH, FeatureKind.DART):
        assert len(of_kind(whole, kind)) == 2 * len(of_kind(half, kind)) > 0
    assert len(of_kind(whole, FeatureKind.GRAIN)) == 1
    assert [feature.name for feature in of_kind(whole, FeatureKind.FOLD)] == ["centre back"]


def test_marks_on_the_fold_are_not_doubled(half):
    names = [feature.name for feature in of_kind(unfolded(half), FeatureKind.MARK)]
    assert sorted(names) == ["label", "yoke", "yoke"]


def test_the_stitching_line_is_closed(half):
    (line,) = of_kind(unfolded(half), FeatureKind.STITCHING)
    assert np.array_equal(line.vertices[0], line.vertices[-1])
    ring = shapely.LinearRing(line.vertices)
    assert ring.is_simple
    assert shapely.Polygon(unfolded(half).cut_line).buffer(0.02).covers(ring)


def test_features_stay_on_the_opened_shape(half):
    whole = unfolded(half)
    ring = shapely.LinearRing(whole.cut_line)
    for notch in of_kind(whole, FeatureKind.NOTCH):
        assert ring.distance(shapely.Point(notch.vertices[0])) < 0.02
    for feature in whole.features:
        assert shapely.Polygon(ring).buffer(0.02).covers(shapely.MultiPoint(feature.vertices))


def test_a_shape_without_fold_is_refused(jacket_front):
    with pytest.raises(InvalidShape, match="'front' has no fold edge"):
        unfolded(cut_shape(jacket_front))


def test_a_notch_where_hem_meets_fold_is_kept_once(bodice_back):
    square = replace(bodice_back.edges[-1], vertices=np.array([(248.0, -4.0), (120.0, 0.0), (0.0, 0.0)]))
    piece = replace(
        bodice_back, edges=(*bodice_back.edges[:-1], square), notches=(Notch("centre", "hem", (0.0, 0.0)),)
    )
    assert len(of_kind(unfolded(cut_shape(piece)), FeatureKind.NOTCH)) == 1
