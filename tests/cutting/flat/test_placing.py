from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.cloth import Spread
from nesting.cutting.flat.placing import numbered, ruler
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimate import Estimate
from nesting.pattern.cut_shape import FeatureKind
from nesting.words.placing import copies_text, how_text
from tests.conftest import box, make_piece, make_project, on_fold, singles


def test_on_a_fold_distances_are_those_of_the_grain_line(folded: Estimate):
    back = numbered(folded.lay)[0]
    assert back.placed.piece == "back"
    assert ruler(back.section, folded.lay.cloth).from_what == "fold"
    # Paper: grain from 20 % to 80 % of the seam line's 590 mm, 110 mm from centre back; the hem's
    # cutting line is 10 mm beyond it.
    at = back.distances
    assert at is not None
    assert (at.foot_along_mm, at.foot_across_mm) == pytest.approx((10 + 0.2 * 590, 110))
    assert (at.top_along_mm, at.top_across_mm) == pytest.approx((10 + 0.8 * 590, 110))


def test_in_one_layer_distances_across_include_the_washed_selvedge(folded: Estimate):
    hanger = next(item for item in numbered(folded.lay) if item.placed.piece == "hanger")
    assert hanger.section.spread is Spread.OPEN
    assert ruler(hanger.section, folded.lay.cloth).from_what == "near selvedge"
    # 10 mm of selvedge, shrunk by 2 %.
    assert folded.lay.cloth.washed_selvedge_mm == pytest.approx(9.8)
    grain = next(f for f in hanger.placed.shape.features if f.kind == "grain line")
    at = hanger.distances
    assert at is not None
    assert at.foot_across_mm == pytest.approx(grain.vertices[0, 1] + 9.8)
    assert at.foot_along_mm == pytest.approx(grain.vertices[0, 0] + hanger.section.start_mm)


def test_both_ends_of_a_straight_grain_line_lie_level(any_estimate: Estimate):
    turned = {item.placed.turned_deg % 180: item.distances for item in numbered(any_estimate.lay)}
    along = turned.get(0.0)
    assert along is None or along.foot_across_mm == pytest.approx(along.top_across_mm)
    across = turned.get(90.0)
    assert across is None or across.foot_along_mm == pytest.approx(across.top_along_mm)
    assert along or across


def test_nap_leaves_one_way_only(folded: Estimate, opened: Estimate):
    assert not any(item.either_way for item in numbered(folded.lay))
    assert all(item.either_way for item in numbered(opened.lay))


def test_a_corner_to_lay_by_is_measured_like_the_grain_line():
    collar = make_piece("collar", box(570, 90), singles())
    yoke = make_piece("yoke", box(140, 60), on_fold(), on_fold="edge 3")
    for spread, pieces in ((Spread.OPEN, (collar, yoke)), (Spread.LENGTHWISE_FOLD, (yoke,))):
        project = make_project(*pieces)
        cloth = replace(project.cloths["main"], spread=spread)
        project = replace(project, cloths={"main": cloth})
        lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=0, walks=1))
        for item in numbered(lay):
            corners = [one for one in item.shape.features if one.kind is FeatureKind.CORNER]
            assert [name for name, *_ in item.distances.corners] == [one.name for one in corners]
            # The fold holds what lies on it.
            assert bool(corners) == (spread is Spread.OPEN)
            edge = ruler(item.section, lay.cloth).at_mm
            for (_, along, across), one in zip(item.distances.corners, corners, strict=True):
                assert (along, across + edge) == pytest.approx(tuple(one.vertices[0]))


def test_words_for_copies_and_for_how_the_paper_lies(folded: Estimate, opened: Estimate):
    said = {item.number: (copies_text(item.placed), how_text(item.placed)) for item in numbered(folded.lay)}
    assert said[1] == ("1 of 1", "on the fold")
    assert said[5] == ("3+4 of 4", "pair, face down")
    assert {how_text(item.placed) for item in numbered(opened.lay)} == {"face up", "face down"}


def test_a_shape_without_grain_line_has_no_distances(three_pieces: Estimate):
    section = three_pieces.lay.sections[0]
    bare = replace(section.placed[0], shape=replace(section.placed[0].shape, features=()))
    lay = replace(three_pieces.lay, sections=(replace(section, placed=(bare,)),))
    (item,) = numbered(lay)
    assert item.distances is None
    assert np.array_equal(item.shape.cut_line, bare.shape.cut_line)
