"""A piece cut in two across its middle."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.pattern.piece import Dart, Mark, Notch
from nesting.pattern.piecing import JOIN, pieced
from nesting.pattern.shaping import cut_shape
from tests.conftest import box, hook, make_piece, on_fold, singles


def area(piece):
    return shapely.Polygon(cut_shape(piece).cut_line).area


def test_a_strip_is_cut_across_its_length():
    """200 by 50, the grain along the short way: two of 100 by 50, and 10 more where they are joined."""
    collar = make_piece("under collar", box(200, 50), singles())
    first, second = pieced(collar, 10.0)
    assert [half.name for half in (first, second)] == [
        "under collar, first half",
        "under collar, second half",
    ]
    for half in (first, second):
        join = half.edge(JOIN)
        assert join.allowance_mm == 10.0
        assert join.vertices[:, 0] == pytest.approx([100.0, 100.0])
        assert area(half) == pytest.approx(110 * 50)
        assert half.cuts == collar.cuts


def test_notches_darts_and_marks_go_with_their_half():
    collar = replace(
        make_piece("collar", box(200, 50), singles()),
        notches=(Notch("left", "edge 0", (20.0, 0.0)), Notch("right", "edge 0", (180.0, 0.0))),
        darts=(Dart("right dart", ((150.0, 0.0), (155.0, 20.0), (160.0, 0.0))),),
        marks=(Mark("left mark", ((10.0, 10.0),)),),
    )
    halves = {half.edge(JOIN).vertices[:, 1].tolist()[0]: half for half in pieced(collar, 10.0)}
    told = {tuple(n.name for n in half.notches): half for half in halves.values()}
    assert set(told) == {("left",), ("right",)}
    assert [dart.name for dart in told["right",].darts] == ["right dart"]
    assert [mark.name for mark in told["left",].marks] == ["left mark"]
    for half in halves.values():
        cut_shape(half)  # every notch still lies on an edge that is there


def test_what_cannot_simply_be_cut_in_two():
    collar = make_piece("collar", box(200, 50), singles())
    across = replace(collar, marks=(Mark("roll line", ((10.0, 25.0), (190.0, 25.0))),))
    assert pieced(across, 10.0) is None
    assert pieced(make_piece("yoke", box(200, 50), on_fold(), on_fold="edge 3"), 10.0) is None
    # A horseshoe is crossed four times.
    horseshoe = [(0, 0), (100, 0), (100, 300), (80, 300), (80, 20), (20, 20), (20, 300), (0, 300)]
    assert pieced(make_piece("horseshoe", horseshoe, singles()), 10.0) is None


@given(st.floats(20, 400), st.floats(20, 400), st.sampled_from([0.0, 37.0, 90.0]), st.integers(0, 5))
def test_the_halves_make_the_piece(width, height, grain, start):
    corners = hook(width, height)
    corners = corners[start:] + corners[:start]
    piece = replace(make_piece("hook", corners, singles()), grain_deg=grain)
    halves = pieced(piece, 0.0)
    if halves is None:
        return
    rings = [np.concatenate([edge.vertices[:-1] for edge in half.edges]) for half in halves]
    whole = shapely.union_all([shapely.Polygon(ring) for ring in rings], grid_size=1e-6)
    assert sum(shapely.Polygon(ring).area for ring in rings) == pytest.approx(whole.area, rel=1e-6)
    assert whole.symmetric_difference(shapely.Polygon(corners)).area < 1e-3
