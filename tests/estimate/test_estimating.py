from dataclasses import replace

import pytest

from nesting.cloth.cloth import RightSide, Spread
from nesting.cutting.findings import CannotBeLaid
from nesting.cutting.lay import Face, TriedSpread
from nesting.cutting.reasons import Barred
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimating import estimate_lay, lay_project
from nesting.estimate.remarks import CutRemark, InOneLayer
from nesting.pattern.piece import Turn
from nesting.units import Unit
from nesting.words.verdict import verdict
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=500, walks=1)


def laid(*pieces, **cloth_changes):
    project = make_project(*pieces)
    cloth = replace(project.cloths["main"], **cloth_changes)
    (estimate,) = lay_project(replace(project, cloths={"main": cloth}), effort=QUICK).estimates
    return estimate


def told(*pieces, **cloth_changes):
    """What is said of the lay of these pieces."""
    return verdict(laid(*pieces, **cloth_changes), make_project(*pieces))


def test_figures_of_one_box_by_hand():
    """A box 50 x 48 cm on 100 cm of usable width: half of the lay is waste, 52 cm with ends, buy 60 cm."""
    estimate = laid(make_piece("box", box(500, 480), singles()), price_per_m=20.0)
    assert estimate.lay.length_mm == pytest.approx(480.0)
    assert estimate.washed_mm == pytest.approx(520.0)
    assert estimate.to_buy_mm == 600.0
    assert estimate.spare_mm == pytest.approx(80.0)
    assert estimate.cost == pytest.approx(12.0)
    assert estimate.utilisation_pct == pytest.approx(50.0)
    assert estimate.waste_mm2 == pytest.approx(500 * 480)


def test_a_proven_purchase_says_so():
    estimate = laid(make_piece("box", box(1000, 480), singles()))
    assert estimate.above_bound_pct == pytest.approx(0.0, abs=1e-6)
    assert estimate.proven
    assert told(make_piece("box", box(1000, 480), singles())) == (
        "Proven: laid open, no lay can save another 10 cm."
    )


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD])
def test_a_bagged_collar_cut_four_counts_two_of_each_hand(spread):
    """Common practice, no source: a bagged collar is cut four, two pairs."""
    estimate = laid(make_piece("collar", hook(300, 80), pairs(2)), spread=spread)
    (tally,) = estimate.tallies
    assert (tally.asked, tally.placed, tally.face_up, tally.face_down, tally.on_fold) == (4, 4, 2, 2, 0)


def test_a_back_on_the_fold_counts_as_one_whole():
    piece = make_piece("back", box(250, 500), on_fold(), on_fold="edge 3")
    (tally,) = laid(piece, spread=Spread.LENGTHWISE_FOLD).tallies
    assert (tally.asked, tally.placed, tally.on_fold) == (1, 1, 1)


def test_an_odd_single_after_the_fold_is_remarked():
    estimate = laid(
        make_piece("front", hook(300, 500), pairs()),
        make_piece("welt", hook(60, 150), singles()),
        spread=Spread.LENGTHWISE_FOLD,
    )
    remarks = {tally.piece: tally.remarks for tally in estimate.tallies}
    assert remarks == {"front": (), "welt": (InOneLayer(Spread.LENGTHWISE_FOLD),)}


def test_cloths_without_pieces_are_left_out(jacket_like):
    spare = replace(jacket_like.cloths["main"], key="spare")
    both = replace(jacket_like, cloths={**jacket_like.cloths, "spare": spare})
    assert [one.lay.cloth.key for one in lay_project(both, effort=QUICK).estimates] == ["main"]


def test_every_piece_too_wide_is_told_at_once():
    project = make_project(
        make_piece("cape", box(1500, 600), singles()), make_piece("train", box(1200, 600), singles())
    )
    with pytest.raises(CannotBeLaid) as raised:
        lay_project(project, effort=QUICK)
    assert [finding.hindrance.piece for finding in raised.value.findings] == ["cape", "train"]


def test_with_best_the_verdict_tells_what_the_other_spread_takes():
    """Two hooks on a fold take as much as one; open, they lie beside each other."""
    said = told(make_piece("front", hook(300, 500), pairs()), spread=Spread.BEST)
    assert "On a lengthwise fold it takes 0.60 m; of the spreads that were found to take no more" in said
    assert "As first laid, not searched on: laid open 0.60 m" in said


def test_a_spread_that_is_too_narrow_is_named_and_does_not_weaken_the_proof():
    said = told(make_piece("train", box(990, 480), pairs()), spread=Spread.BEST)
    assert said.startswith("Proven: laid open or on a crosswise fold, no lay can save another")
    assert "Not on a lengthwise fold or on a part fold or on a double fold: too narrow" in said


def test_an_interrupted_search_claims_nothing_of_the_spread_it_did_not_try(jacket_like):
    cloth = replace(jacket_like.cloths["main"], spread=Spread.LENGTHWISE_FOLD)
    project = replace(jacket_like, cloths={"main": cloth})
    lay = lay_cloth(project, cloth, effort=QUICK)
    searched = TriedSpread(Spread.LENGTHWISE_FOLD, lay.length_mm, 800.0, 700.0)
    untried = TriedSpread(Spread.OPEN, None, None, None, Barred.INTERRUPTED)
    estimate = estimate_lay(replace(lay, tried=(searched, untried)), project)
    first, second = verdict(estimate, project).split(". ", 1)
    assert "on a lengthwise fold" in first
    assert "laid open" not in first
    assert "could still be saved that way" in first
    assert "Not laid open: not tried, as the search was interrupted." in second


def test_what_is_proven_of_pieces_turned_any_way_is_proven_of_every_angle():
    # The box goes across at any angle; standing it takes 480 mm, and no angle less.
    said = told(make_piece("box", box(1000, 480), singles()), turn=Turn.ANY)
    assert said.startswith("Proven: laid open, no lay can save another")


def test_a_claim_about_a_fold_with_a_single_after_it_says_what_lies_on_the_fold():
    """Cut open beside the single, a small pair might take less: the fold's own bound cannot speak of that."""
    said = told(
        make_piece("front", box(500, 500), pairs()),
        make_piece("welt", hook(60, 150), singles()),
        spread=Spread.LENGTHWISE_FOLD,
    )
    assert said.startswith("Proven: on a lengthwise fold with all that can be cut double on it, no")


def test_a_pair_cut_alike_from_a_cloth_with_two_right_sides_is_remarked():
    pieces = (make_piece("front", hook(300, 500), pairs()), make_piece("belt", box(40, 900), pairs()))
    project = make_project(*pieces)
    lay = laid(*pieces, right_side=RightSide.BOTH, spread=Spread.OPEN).lay
    (section,) = lay.sections
    for faces, remarked in (((Face.UP, Face.UP), {"front"}), ((Face.UP, Face.DOWN), set())):
        fronts = [one for one in section.placed if one.piece == "front"]
        belts = [one for one in section.placed if one.piece == "belt"]
        placed = (*belts, *(replace(one, face=face) for one, face in zip(fronts, faces, strict=True)))
        estimate = estimate_lay(replace(lay, sections=(replace(section, placed=placed),)), project)
        assert {
            tally.piece for tally in estimate.tallies if CutRemark.EITHER_FACE in tally.remarks
        } == remarked


def test_what_could_be_saved_is_told_in_yards_to_those_who_buy_by_the_yard():
    project = replace(make_project(make_piece("box", box(1000, 480), singles())), unit=Unit.IN)
    cloth = replace(project.cloths["main"], step_mm=114.3, spread=Spread.OPEN)
    (estimate,) = lay_project(replace(project, cloths={"main": cloth}), effort=QUICK).estimates
    assert verdict(estimate, project) == "Proven: laid open, no lay can save another 1/8 yd."


def test_the_least_to_buy_is_that_of_the_kindest_spread_that_was_searched(jacket_like):
    """The lay's own spread may have the higher bound: nobody is held to that one."""
    cloth = replace(jacket_like.cloths["main"], spread=Spread.BEST)
    project = replace(jacket_like, cloths={"main": cloth})
    (estimate,) = lay_project(project, effort=QUICK).estimates
    lay = estimate.lay
    fold = replace(
        lay, tried=tuple(replace(one, least_to_buy_mm=300.0) for one in lay.tried[:1]) + lay.tried[1:]
    )
    assert estimate_lay(fold, project).least_to_buy_mm == 300.0
