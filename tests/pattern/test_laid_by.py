"""How far a piece is off where one of the points it is laid by is 1 mm off, by laying it so."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.files.example import example_text
from nesting.files.project.reading import parse_project, read_project
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.laid_by import MOST_GAIN, corners_of, gain, lengthened
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from tests.conftest import box, make_piece, on_fold, singles

ROOT = Path(__file__).parents[2]
SHIPPED = [
    *(parse_project(example_text(name)) for name in ("jacket", "jacket-sizes")),
    *map(read_project, sorted((ROOT / "benchmarks").glob("*.toml"))),
]


def laid_by(shape):
    """The points of the paper that are measured."""
    kinds = (FeatureKind.GRAIN, FeatureKind.CORNER)
    return np.vstack([one.vertices for one in shape.features if one.kind in kinds])


def off_mm(outline, held, swung, by):
    """How far the outline is off when one point is held and the other is read off by a vector."""
    before, after = swung - held, swung + by - held
    turn = math.atan2(after[1], after[0]) - math.atan2(before[1], before[0])
    c, s = math.cos(turn), math.sin(turn)
    turned = (outline - held) @ np.array([[c, s], [-s, c]]) + held
    return float(np.linalg.norm(turned - outline, axis=1).max())


@given(
    corners=st.tuples(st.floats(60, 900), st.floats(20, 900)),
    line=st.tuples(st.floats(0.05, 0.45), st.floats(0.55, 0.95), st.floats(0.1, 0.9)),
    way=st.floats(0, 2 * math.pi),
)
def test_a_millimetre_at_one_point_is_no_more_than_the_gain_anywhere(corners, line, way):
    wide, high = corners
    outline = np.array([(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)])
    grain = np.array([(line[0] * wide, line[2] * high), (line[1] * wide, line[2] * high)])
    by = 0.01 * np.array([math.cos(way), math.sin(way)])
    found = [off_mm(outline, *pair, by) for pair in (grain, grain[::-1])]
    assert max(found) <= 0.01 * gain(grain, outline) * 1.001
    square_off = [off_mm(outline, *pair, np.array([0.0, 0.01])) for pair in (grain, grain[::-1])]
    assert max(square_off) == pytest.approx(0.01 * gain(grain, outline), rel=1e-3)


@pytest.mark.parametrize("project", SHIPPED, ids=lambda project: project.title)
def test_no_piece_of_an_example_is_off_by_more_than_two(project):
    for one in (project, *project.sizes):
        for piece in one.pieces:
            shape = cut_shape(piece)
            for cut in (shape,) if shape.fold_edge is None else (shape, unfolded(shape)):
                assert gain(laid_by(cut), cut.cut_line) <= MOST_GAIN, piece.name


def test_a_collar_is_laid_by_its_far_corner_too():
    """57 cm long across the grain: a millimetre at its grain line alone would be seven at the far end."""
    collar = make_piece("collar", box(570, 90), singles())
    shape = cut_shape(collar)
    points = laid_by(shape)
    assert len(points) == 3
    assert gain(points[:2], shape.cut_line) > 5
    assert gain(points, shape.cut_line) <= MOST_GAIN
    (corner,) = (one for one in shape.features if one.kind is FeatureKind.CORNER)
    x, y = corners_of(collar.edges)[corner.name]
    assert (x, y) in {(0.0, 0.0), (570.0, 0.0), (570.0, 90.0), (0.0, 90.0)}
    # Where it is on the cloth it is on the paper: as far from both ends of the grain line.
    away = np.linalg.norm(shape.grain_on_paper - (x, y), axis=1)
    assert np.linalg.norm(points[:2] - points[2], axis=1) == pytest.approx(away)


def test_a_short_grain_line_on_the_paper_is_drawn_longer():
    piece = make_piece("front", box(300, 600), singles())
    drawn = replace(piece, grain_line=((100.0, 250.0), (100.0, 350.0)))
    shape = cut_shape(drawn)
    foot, top = shape.grain_on_paper
    assert foot[0] == pytest.approx(100.0)
    assert top[0] == pytest.approx(100.0)
    assert foot[1] < 250 < 350 < top[1]
    assert len(laid_by(shape)) == 2
    assert gain(laid_by(shape), shape.cut_line) <= MOST_GAIN


def test_a_line_that_holds_the_piece_stays_as_it_is():
    grain = np.array([(100.0, 50.0), (500.0, 50.0)])
    outline = np.array([(0.0, 0.0), (600.0, 0.0), (600.0, 100.0), (0.0, 100.0)])
    assert lengthened(grain, outline, outline) is grain


def test_a_half_paper_is_held_for_the_whole_that_is_cut():
    shape = cut_shape(make_piece("facing", box(140, 60), on_fold(), on_fold="edge 3"))
    whole = unfolded(shape)
    assert gain(laid_by(shape)[:2], whole.cut_line) > MOST_GAIN
    assert gain(laid_by(whole), whole.cut_line) <= MOST_GAIN
    assert len(laid_by(whole)) == len(laid_by(shape))  # those of the paper, not of its other half
