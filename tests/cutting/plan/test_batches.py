from dataclasses import replace

import pytest

from nesting.cloth.cloth import Nap, RightSide, Spread
from nesting.cutting.lay import Yield
from nesting.cutting.plan.demand import wanted
from nesting.cutting.plan.sharing import plans
from nesting.cutting.plan.spreading import spreads_of
from nesting.packing.problem import EdgeRule
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles


def stretches(project, spread, **cloth_changes):
    cloth = replace(project.cloths["main"], **cloth_changes)
    return plans(wanted(project, cloth), cloth, spread)[0].zones


def test_open_cloth_takes_a_pair_as_one_face_up_and_one_face_down():
    (stretch,) = stretches(make_project(make_piece("front", hook(300, 500), pairs(2))), Spread.OPEN)
    up, down = stretch.batches
    assert {variant.mirrored for variant in up.item.variants} == {False}
    assert {variant.mirrored for variant in down.item.variants} == {True}
    assert up.copies == ((1,), (3,))
    assert down.copies == ((2,), (4,))


def test_open_cloth_takes_a_fold_piece_whole():
    project = make_project(make_piece("back", box(250, 500), on_fold(), on_fold="edge 3"))
    (stretch,) = stretches(project, Spread.OPEN)
    (batch,) = stretch.batches
    across = batch.item.outline[:, 1]
    assert across.max() - across.min() == pytest.approx(500.0)
    assert batch.item.edge is EdgeRule.FREE


def test_on_a_fold_one_placement_cuts_a_pair_whichever_face_is_up():
    project = make_project(make_piece("front", hook(300, 500), pairs()))
    (stretch,) = stretches(project, Spread.LENGTHWISE_FOLD)
    (batch,) = stretch.batches
    assert (batch.yields, batch.copies) == (Yield.PAIR, ((1, 2),))
    assert {variant.mirrored for variant in batch.item.variants} == {False, True}
    assert stretch.problem.width_mm == 500.0


def test_a_fold_piece_is_held_to_the_fold_with_its_fold_edge_there():
    project = make_project(make_piece("back", hook(250, 500), on_fold(), on_fold="edge 5"))
    (stretch,) = stretches(project, Spread.LENGTHWISE_FOLD)
    (batch,) = stretch.batches
    assert batch.item.edge is EdgeRule.LOW
    # Edge 5 is the left side of the paper: top first, it must be turned over to reach the fold.
    assert {(v.angle_deg, v.mirrored) for v in batch.item.variants} == {(0.0, True), (180.0, False)}


def test_odd_singles_follow_the_fold_on_an_opened_out_length(jacket_like):
    folded, opened = stretches(jacket_like, Spread.LENGTHWISE_FOLD)
    assert [batch.want.piece.name for batch in folded.batches] == ["front", "back"]
    assert [batch.want.piece.name for batch in opened.batches] == ["welt"]
    assert (opened.zone.spread, opened.zone.layers, opened.problem.width_mm) == (Spread.OPEN, 1, 1000.0)


def test_symmetric_singles_are_cut_two_at_a_time_and_the_odd_one_after():
    project = make_project(make_piece("pocket", box(150, 180), singles(3)))
    folded, opened = stretches(project, Spread.LENGTHWISE_FOLD)
    assert folded.batches[0].copies == ((1, 2),)
    assert opened.batches[0].copies == ((3,),)


def test_two_sided_cloth_lets_singles_be_cut_from_either_face():
    project = make_project(make_piece("welt", hook(60, 150), singles(2)))
    (stretch,) = stretches(project, Spread.OPEN, right_side=RightSide.BOTH)
    assert {variant.mirrored for variant in stretch.batches[0].item.variants} == {False, True}


def test_nap_leaves_one_direction_even_where_a_piece_may_be_turned_more():
    project = make_project(make_piece("pocket", box(150, 180), singles(2)))
    (stretch,) = stretches(project, Spread.OPEN, nap=Nap.ONE_WAY)
    assert {variant.angle_deg for variant in stretch.batches[0].item.variants} == {0.0}


def test_best_tries_every_spread_and_a_named_one_only_itself(jacket_like):
    cloth = jacket_like.cloths["main"]
    best = replace(cloth, spread=Spread.BEST)
    assert set(spreads_of(best)) == set(Spread) - {Spread.BEST, Spread.TUBE}
    assert spreads_of(best)[:2] == (Spread.LENGTHWISE_FOLD, Spread.OPEN)
    assert spreads_of(replace(best, tube=True)) == (Spread.TUBE, Spread.OPEN)
    assert spreads_of(replace(cloth, spread=Spread.OPEN)) == (Spread.OPEN,)
