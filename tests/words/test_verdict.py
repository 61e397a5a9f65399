"""Sentences on spreads: only what the lay itself shows, and what bounds prove."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import TriedSpread
from nesting.cutting.reasons import Barred
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimating import lay_project
from nesting.words.verdict import barred_words, verdict
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=500, walks=1)


def verdict_of(project, **changes):
    cloth = replace(project.cloths["main"], **changes)
    result = lay_project(replace(project, cloths={"main": cloth}), effort=QUICK)
    return verdict(result.estimates[0], result.project)


@pytest.fixture
def apron():
    """A narrow piece on the fold beside one that is wider than half the cloth."""
    return make_project(
        make_piece("bib", box(150, 600), on_fold(), on_fold="edge 3"),
        make_piece("skirt", hook(680, 600), singles()),
    )


def test_a_part_fold_says_how_far_to_fold(apron):
    """15 cm of piece and 1 cm of selvedge."""
    assert "Fold the selvedge over by 16 cm." in verdict_of(apron, spread=Spread.PART_FOLD)


def test_a_double_fold_says_both_depths():
    project = make_project(make_piece("back", box(240, 500), on_fold(2), on_fold="edge 3"))
    told = verdict_of(project, spread=Spread.DOUBLE_FOLD)
    # Two equal folds of a cloth 102 cm wide.
    assert "Fold the selvedge over by 25.5 cm, the other by 25.5 cm." in told


def test_spreads_that_are_ruled_out_for_one_reason_are_told_together():
    piece = make_piece("cape", [(0, 0), (800, 0), (500, 400), (300, 400)], pairs())
    told = verdict_of(make_project(piece), spread=Spread.BEST)
    assert "Not on a lengthwise fold or on a part fold or on a double fold: too narrow for 'cape'." in told


def test_a_spread_that_loses_is_told_with_what_it_needs(apron):
    told = verdict_of(apron, spread=Spread.BEST)
    assert "on a part fold 0.70 m" in told
    assert "Laid open it takes 0.70 m" in told


def test_the_two_lengths_are_not_told_as_another_way_where_a_crosswise_fold_does():
    project = make_project(make_piece("front", hook(300, 500), pairs()))
    assert "Not in two lengths: as a crosswise fold, with a cut more." in verdict_of(
        project, spread=Spread.BEST
    )


def test_one_reason_against_every_other_spread_is_told_once():
    told = verdict_of(make_project(make_piece("belt", hook(80, 900), singles())), spread=Spread.BEST)
    assert "In no other spread: nothing can be cut double." in told


def test_spreads_that_an_interruption_left_untried_are_not_told_as_impossible():
    project = make_project(make_piece("front", hook(300, 500), pairs()))
    cloth = replace(project.cloths["main"], spread=Spread.BEST)
    lay = lay_cloth(replace(project, cloths={"main": cloth}), cloth, effort=QUICK)
    untried = tuple(
        one if one.spread is lay.spread else TriedSpread(one.spread, None, None, None, Barred.INTERRUPTED)
        for one in lay.tried
    )
    (told,) = barred_words(replace(lay, tried=untried))
    assert told.startswith("Not ")
