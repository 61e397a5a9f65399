"""Every way the cloth may lie: what goes where, what is refused, lays that are wrong on one spread only."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.flat.placing import folded_over_mm, numbered, ruler
from nesting.cutting.lay import Fold, Yield
from nesting.cutting.plan.demand import wanted
from nesting.cutting.plan.sharing import plans, why_not
from nesting.cutting.reasons import Barred
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import CutCount, CutKind, Turn
from nesting.words.lying import lies_words
from tests.conftest import (
    box,
    examples,
    fit_mistakes,
    hook,
    make_piece,
    make_project,
    on_fold,
    pairs,
    singles,
)

QUICK = Effort(evaluations_per_placement=0, walks=1)
FLAT = [spread for spread in Spread if spread not in (Spread.BEST, Spread.TUBE)]
EVERY = [*FLAT, Spread.TUBE]


def on(project, spread, **changes):
    """The project with its one cloth spread so; a tube has no selvedge, and half the width lying flat."""
    cloth = replace(project.cloths["main"], spread=spread, **changes)
    if spread is Spread.TUBE:
        cloth = replace(cloth, tube=True, selvedge_mm=0.0, width_mm=cloth.width_mm / 2)
    return replace(project, cloths={"main": cloth})


def laid(project, spread, **changes):
    project = on(project, spread, **changes)
    return lay_cloth(project, project.cloths["main"], effort=QUICK), project


def with_section(lay, index, **changes):
    sections = list(lay.sections)
    sections[index] = replace(sections[index], **changes)
    return replace(lay, sections=tuple(sections))


def moved(section, number, dx, dy):
    placed = list(section.placed)
    shape = placed[number].shape.transformed(np.eye(2), np.array([dx, dy]))
    placed[number] = replace(placed[number], shape=shape)
    return tuple(placed)


@pytest.fixture
def coat():
    """Two fold pieces, a wide and a narrow pair, an odd single: something for every zone."""
    return make_project(
        make_piece("back", box(180, 500), on_fold(), on_fold="edge 3"),
        make_piece("yoke", box(200, 260), on_fold(), on_fold="edge 3"),
        make_piece("front", hook(230, 500), pairs()),
        make_piece("sleeve", hook(190, 420), pairs()),
        make_piece("welt", hook(60, 150), singles()),
    )


@pytest.fixture
def two_wholes():
    """A front and a back, both on the fold, as long as each other."""
    return make_project(
        make_piece("back", box(180, 500), on_fold(), on_fold="edge 3"),
        make_piece("front", box(200, 500), on_fold(), on_fold="edge 3"),
    )


# What goes where


@pytest.mark.parametrize("spread", EVERY)
def test_every_spread_lays_the_coat_and_the_lay_is_sound(coat, spread):
    lay, project = laid(coat, spread)
    assert faults(lay, project) == ()
    assert lay.spread is spread
    assert lay.bound_mm <= lay.length_mm + 1e-6


def test_a_part_fold_has_two_layers_then_one_and_no_piece_on_the_selvedge_between(coat):
    lay, _ = laid(coat, Spread.PART_FOLD, selvedge_mm=15.0)
    doubled, single = lay.stretches[0]
    assert (doubled.layers, doubled.fold, single.layers, single.fold) == (2, Fold.LOW, 1, Fold.NONE)
    # Doubled, selvedge, single, and as much again as is folded over: 102 cm less the far selvedge.
    assert single.across_mm == pytest.approx(doubled.width_mm + 15.0)
    assert single.across_mm + single.width_mm + doubled.width_mm == pytest.approx(1020.0 - 2 * 15.0)
    assert folded_over_mm(lay) == pytest.approx(doubled.width_mm + 15.0)


def test_a_double_fold_has_a_fold_on_either_side_and_the_selvedges_meet(coat):
    lay, _ = laid(coat, Spread.DOUBLE_FOLD, selvedge_mm=15.0)
    near, far = lay.stretches[0]
    assert (near.fold, far.fold) == (Fold.LOW, Fold.HIGH)
    assert far.across_mm - near.width_mm == pytest.approx(30.0)
    # Half of the 102 cm lies on the table.
    assert far.across_mm + far.width_mm == pytest.approx(510.0)
    # Of either side as much is folded over as lies below it.
    assert 0 < folded_over_mm(lay) < 510.0


def test_on_a_double_fold_fold_pieces_may_lie_on_either(two_wholes):
    lay, _ = laid(two_wholes, Spread.DOUBLE_FOLD)
    assert lay.length_mm == pytest.approx(500.0)
    assert [
        sum(one.yields is Yield.WHOLE_ON_FOLD for one in section.placed) for section in lay.stretches[0]
    ] == [1, 1]


def test_distances_on_the_far_side_of_a_double_fold_are_those_from_its_fold(two_wholes):
    lay, project = laid(two_wholes, Spread.DOUBLE_FOLD)
    far = lay.stretches[0][1]
    assert ruler(far, project.cloths["main"]).from_what == "far fold"
    (item,) = [
        one
        for one in numbered(lay)
        if one.section is far and one.placed.yields is Yield.WHOLE_ON_FOLD and one.distances
    ]
    reach = np.ptp(item.placed.shape.cut_line[:, 1])
    assert 0 < item.distances.foot_across_mm < reach


def test_a_crosswise_fold_takes_twice_its_table():
    lay, _ = laid(make_project(make_piece("train", box(990, 400), pairs())), Spread.CROSSWISE_FOLD)
    assert lay.table_mm == pytest.approx(400.0)
    assert lay.length_mm == pytest.approx(800.0)
    assert lay.pieces_area_mm2 == pytest.approx(2 * 990 * 400)
    assert lay.lay_area_mm2 == pytest.approx(1000 * 800)


def test_on_a_crosswise_fold_what_belongs_on_a_fold_is_cut_whole_from_an_opened_length(coat):
    lay, _ = laid(coat, Spread.CROSSWISE_FOLD)
    (doubled,), (opened,) = lay.stretches
    assert {one.piece for one in doubled.placed} == {"front", "sleeve"}
    assert {one.piece for one in opened.placed} == {"back", "yoke", "welt"}


def test_a_piece_that_may_not_be_turned_is_not_cut_double_on_a_crosswise_fold():
    """Trade fact: layers of a crosswise fold run opposite ways (school clothing text, topic 4, p. 38)."""
    project = make_project(
        make_piece("front", hook(300, 500), pairs(), turn=Turn.NONE),
        make_piece("sleeve", hook(200, 400), pairs()),
    )
    lay, _ = laid(project, Spread.CROSSWISE_FOLD)
    (doubled,), (opened,) = lay.stretches
    assert {one.piece for one in doubled.placed} == {"sleeve"}
    assert [one.yields for one in opened.placed] == [Yield.ONE, Yield.ONE]


def test_one_way_cloth_goes_in_two_lengths_instead_of_a_crosswise_fold(coat):
    one_way = on(coat, Spread.BEST, nap=Nap.ONE_WAY)
    cloth = one_way.cloths["main"]
    assert why_not(wanted(one_way, cloth), cloth, Spread.CROSSWISE_FOLD) is Barred.RUNS_THE_OTHER_WAY
    lay, project = laid(coat, Spread.TWO_LENGTHS, nap=Nap.ONE_WAY)
    assert faults(lay, project) == ()


def test_a_crosswise_fold_that_can_cut_nothing_is_refused_with_what_to_write(coat):
    (problem,) = fit_mistakes(on(coat, Spread.CROSSWISE_FOLD, nap=Nap.ONE_WAY))
    assert "the upper layer would run the other way" in problem.what
    assert "two lengths" in problem.remedy


def test_a_spread_in_which_nothing_goes_double_is_refused():
    project = make_project(make_piece("welt", hook(60, 150), singles()))
    (problem,) = fit_mistakes(on(project, Spread.DOUBLE_FOLD))
    assert "'double fold' is asked for, but nothing can be cut double" in problem.what


def test_a_pair_too_wide_for_the_fold_is_opened_out_unless_the_fold_was_asked_for():
    project = make_project(
        make_piece("cape", hook(740, 600), pairs()), make_piece("front", hook(300, 500), pairs())
    )
    best = on(project, Spread.BEST)
    (plan,) = plans(wanted(best, best.cloths["main"]), best.cloths["main"], Spread.LENGTHWISE_FOLD)
    folded, opened = plan.zones
    assert [batch.want.piece.name for batch in folded.batches] == ["front"]
    assert [batch.yields for batch in opened.batches] == [Yield.ONE, Yield.ONE]
    (problem,) = fit_mistakes(on(project, Spread.LENGTHWISE_FOLD))
    assert "'cape' is 74 cm across" in problem.what


def test_after_a_tube_a_length_of_it_is_cut_open(coat):
    lay, _ = laid(coat, Spread.TUBE)
    (tube,), (opened,) = lay.stretches
    assert (tube.fold, tube.width_mm, opened.width_mm) == (Fold.BOTH, 510.0, 1020.0)
    assert lies_words(lay) == "tube, then cut open"


def test_a_tube_gives_a_whole_on_either_fold(two_wholes):
    lay, _ = laid(two_wholes, Spread.TUBE)
    (tube,) = lay.sections
    # Side by side, not one after the other: that is what the second fold is for.
    assert lay.length_mm == pytest.approx(500.0)
    on_folds = {
        round(float(one.shape.fold_edge[0, 1]), 6) for one in tube.placed if one.yields is Yield.WHOLE_ON_FOLD
    }
    assert on_folds == {0.0, 510.0}


def test_the_fold_depth_is_one_that_pays():
    """One narrow fold piece, and singles that want the width: a fold just as deep as the piece."""
    project = make_project(
        make_piece("back", box(150, 600), on_fold(), on_fold="edge 3"),
        make_piece("apron", hook(680, 600), singles()),
    )
    lay, _ = laid(project, Spread.PART_FOLD)
    doubled, single = lay.sections
    assert lay.length_mm == pytest.approx(600.0)
    assert [one.piece for one in doubled.placed] == ["back"]
    assert [one.piece for one in single.placed] == ["apron"]
    assert doubled.width_mm >= 150.0


def test_with_best_the_part_fold_wins_where_it_pays_and_says_so():
    project = on(
        make_project(
            make_piece("back", box(150, 600), on_fold(), on_fold="edge 3"),
            make_piece("apron", hook(680, 600), singles()),
        ),
        Spread.BEST,
    )
    lay = lay_cloth(project, project.cloths["main"], effort=QUICK)
    needed = {tried.spread: tried.to_buy_mm for tried in lay.tried}
    # Laid open, back and apron stand side by side just as well, and that is less work.
    assert needed[Spread.OPEN] == needed[Spread.PART_FOLD] == 700.0
    assert lay.spread is Spread.OPEN


# Lays that are wrong on one spread only


def test_a_piece_that_crosses_from_two_layers_into_one_is_found(coat):
    lay, project = laid(coat, Spread.PART_FOLD)
    doubled = lay.sections[0]
    over = with_section(lay, 0, placed=moved(doubled, 0, 0.0, doubled.width_mm))
    assert any("outside the cloth" in fault for fault in faults(over, project))


def test_a_single_layer_that_begins_under_the_upper_selvedge_is_found(coat):
    lay, project = laid(coat, Spread.PART_FOLD, selvedge_mm=15.0)
    single = lay.sections[1]
    found = faults(with_section(lay, 1, across_mm=single.across_mm - 10.0), project)
    assert any("leaves room from" in fault for fault in found)


def test_a_single_layer_wider_than_what_is_left_is_found(coat):
    lay, project = laid(coat, Spread.PART_FOLD)
    wider = with_section(lay, 1, width_mm=lay.sections[1].width_mm + 20.0)
    assert any("leaves room from" in fault for fault in faults(wider, project))


def test_two_folds_that_would_need_more_cloth_than_there_is_are_found(coat):
    lay, project = laid(coat, Spread.DOUBLE_FOLD)
    far = lay.sections[1]
    beyond = with_section(lay, 1, across_mm=far.across_mm + 20.0)
    assert any("leaves room from" in fault for fault in faults(beyond, project))


def test_a_piece_on_the_line_where_the_selvedges_meet_is_found(coat):
    lay, project = laid(coat, Spread.DOUBLE_FOLD)
    near = lay.sections[0]
    reach = max(float(one.shape.cut_line[:, 1].max()) for one in near.placed)
    number = next(k for k, one in enumerate(near.placed) if float(one.shape.cut_line[:, 1].max()) == reach)
    over = with_section(lay, 0, placed=moved(near, number, 0.0, near.width_mm - reach + 5.0))
    assert any("outside the cloth" in fault for fault in faults(over, project))


def test_a_fold_piece_where_the_selvedges_meet_is_found(two_wholes):
    """The side of the zone that is no fold."""
    lay, project = laid(two_wholes, Spread.DOUBLE_FOLD)
    far = lay.sections[1]
    number = next(k for k, one in enumerate(far.placed) if one.yields is Yield.WHOLE_ON_FOLD)
    down = -float(far.placed[number].shape.cut_line[:, 1].min())
    found = faults(with_section(lay, 1, placed=moved(far, number, 0.0, down)), project)
    assert any("does not lie on the fold" in fault for fault in found)


def test_a_crosswise_fold_of_one_way_cloth_is_found(coat):
    """Laid in two lengths it is sound; folded, the upper layer's pieces come out upside down."""
    lay, project = laid(coat, Spread.TWO_LENGTHS, nap=Nap.ONE_WAY)
    project = on(project, Spread.BEST)
    folded = replace(lay, cloth=project.cloths["main"], spread=Spread.CROSSWISE_FOLD)
    folded = with_section(folded, 0, spread=Spread.CROSSWISE_FOLD)
    assert any("off its grain" in fault for fault in faults(folded, project))
    assert faults(replace(lay, cloth=project.cloths["main"]), project) == ()


def test_a_piece_on_the_fold_of_a_spread_that_has_none_along_the_grain_is_found(coat):
    lay, project = laid(coat, Spread.CROSSWISE_FOLD)
    whole = laid(coat, Spread.LENGTHWISE_FOLD)[0].sections[0]
    back = next(one for one in whole.placed if one.piece == "back")
    found = faults(with_section(lay, 0, placed=(*lay.sections[0].placed, back)), project)
    assert any("does not lie on the fold" in fault for fault in found)


def test_a_flat_cloth_laid_as_a_tube_is_found(coat):
    lay, project = laid(coat, Spread.LENGTHWISE_FOLD)
    project = on(project, Spread.BEST)
    tube = replace(lay, cloth=project.cloths["main"], spread=Spread.TUBE)
    tube = with_section(tube, 0, spread=Spread.TUBE, fold=Fold.BOTH)
    assert any("not a tube" in fault for fault in faults(tube, project))


def test_sections_side_by_side_that_are_not_equally_long_are_found(coat):
    lay, project = laid(coat, Spread.PART_FOLD)
    longer = with_section(lay, 1, length_mm=lay.sections[1].length_mm + 50.0)
    assert any("over the same length" in fault for fault in faults(longer, project))


def test_a_zone_left_out_is_found(coat):
    lay, project = laid(coat, Spread.DOUBLE_FOLD)
    assert any("is not what" in fault for fault in faults(replace(lay, sections=lay.sections[1:]), project))


def test_the_gap_is_kept_between_zones(coat):
    lay, project = laid(coat, Spread.DOUBLE_FOLD, gap_mm=30.0, selvedge_mm=5.0)
    assert faults(lay, project) == ()
    near, far = lay.sections[:2]
    assert far.across_mm - near.width_mm == pytest.approx(30.0)


# Whatever is asked for


@st.composite
def demands(draw):
    pieces = []
    for number in range(draw(st.integers(1, 4))):
        width, height = draw(st.integers(40, 400)), draw(st.integers(40, 500))
        shape = draw(st.sampled_from([box, hook]))
        kind = draw(st.sampled_from(list(CutKind)))
        count = CutCount(kind, draw(st.integers(1, 3)))
        fold = {"on_fold": "edge 3" if shape is box else "edge 5"} if kind is CutKind.ON_FOLD else {}
        turn = draw(st.sampled_from([None, Turn.NONE, Turn.HALF]))
        pieces.append(make_piece(f"piece {number}", shape(width, height), {"main": count}, turn=turn, **fold))
    spread = draw(st.sampled_from([*EVERY, Spread.BEST]))
    tube = spread is Spread.TUBE
    cloth = Cloth(
        key="main",
        name="cloth",
        width_mm=draw(st.sampled_from([450.0, 600.0]))
        if tube
        else draw(st.sampled_from([900.0, 1137.0, 1500.0])),
        selvedge_mm=0.0 if tube else draw(st.sampled_from([0.0, 7.3, 15.0])),
        shrinkage_across_pct=draw(st.sampled_from([0.0, 3.1])),
        nap=draw(st.sampled_from(list(Nap))),
        right_side=draw(st.sampled_from(list(RightSide))),
        turn=draw(st.sampled_from([Turn.HALF, Turn.QUARTER])),
        spread=spread,
        gap_mm=draw(st.sampled_from([0.0, 5.0, 40.0])),
        tube=tube,
    )
    return make_project(*pieces, cloth=cloth)


@examples(25)
@given(demands())
def test_every_lay_in_every_spread_gives_the_pieces_asked_for(project):
    """`faults` rebuilds each piece of cloth, opened out flat, and compares it with the paper."""
    cloth = project.cloths["main"]
    if fit_mistakes(project):
        return
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm * (1 + 1e-9)
    # Counted once more, from the lay alone.
    copies = sorted(
        (one.piece, copy) for section in lay.sections for one in section.placed for copy in one.copies
    )
    assert copies == sorted(
        (piece.name, n + 1) for piece in project.pieces for n in range(piece.cuts["main"].pieces)
    )
    assert lay.pieces_area_mm2 <= lay.lay_area_mm2 * (1 + 1e-9)
