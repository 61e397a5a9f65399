"""One cloth as a job: the same figures whether laid here, in a single thread, or taken from what was kept."""

import pickle
from dataclasses import replace

from nesting.cloth.remnant import Remnant
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.estimate.figures import project_figures
from nesting.estimate.many.jobs import LayJob, jobs_of, lay_figures, work
from nesting.packing.result import StopReason
from nesting.pattern.piece import CutCount, CutKind
from tests.conftest import hook, make_piece, make_project

LITTLE = Effort(evaluations_per_placement=2_000)


class Shelf(dict):
    """A store in memory."""

    put = dict.__setitem__


class Enough:
    """Ctrl-C before anything was searched."""

    reason = StopReason.INTERRUPTED

    def __call__(self, progress):
        return True


def test_a_job_gives_the_figures_of_the_whole_lay(jacket_like):
    whole = project_figures(lay_project(jacket_like, effort=LITTLE))
    assert work(pickle.loads(pickle.dumps(LayJob.of(jacket_like, "main", LITTLE)))) == whole.cloths["main"]
    assert whole.cloths["main"].pieces == 4  # a pair, one whole on the fold, one single


def test_what_is_kept_is_not_laid_again(jacket_like):
    shelf, told = Shelf(), []
    first = lay_figures(jacket_like, effort=LITTLE, store=shelf)
    again = lay_figures(jacket_like, effort=LITTLE, store=shelf, on_lay=told.append)
    assert again.cloths == first.cloths
    assert list(shelf) == [job.key for job in jobs_of(jacket_like, LITTLE).values()]
    assert told == []


def test_an_interrupted_search_is_told_and_not_kept(jacket_like):
    shelf = Shelf()
    result = lay_figures(jacket_like, effort=LITTLE, store=shelf, until=Enough())
    assert result.cloths["main"].interrupted
    assert not shelf


def test_a_cloth_in_hand_costs_nothing_and_its_remnants_are_told_together(jacket_like):
    cloth = jacket_like.cloths["main"]
    remnants = (Remnant("long", 1500.0), Remnant("short", 700.0))
    owned = replace(cloth, remnants=remnants, price_per_m=9.0)
    result = lay_figures(replace(jacket_like, cloths={"main": owned}), effort=LITTLE)
    (figures,) = result.cloths.values()
    assert figures.to_buy_mm == 0.0
    assert result.cost == 0.0
    assert figures.pieces == 4
    assert figures.in_hand
    assert not any(one.lacking_mm for one in figures.in_hand)


def test_after_an_interruption_no_cloth_is_taken_for_searched_to_the_end():
    """The cloths still to come get a first lay only, which ends by itself."""
    cuts = {"main": CutCount(CutKind.PAIR, 2), "lining": CutCount(CutKind.PAIR, 2)}
    project = make_project(make_piece("side", hook(300, 200), cuts), make_piece("top", hook(170, 90), cuts))
    cloth = project.cloths["main"]
    project = replace(project, cloths={"main": cloth, "lining": replace(cloth, key="lining")})
    shelf = Shelf()
    done = lay_figures(project, effort=LITTLE, store=shelf, until=Enough())
    assert [figures.interrupted for figures in done.cloths.values()] == [True, True]
    assert not done.finished
    assert not shelf
