"""Metres against width, from amounts that are easy to follow by eye."""

import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Run
from nesting.cutting.search.laying import Effort
from nesting.errors import BadInput
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.jobs import work
from nesting.estimate.overview.widths import FOLDED, OPEN, Step, curve_of, plan_widths
from nesting.packing.result import StopReason
from nesting.words.widths import widths_sentences
from tests.conftest import box, make_piece, make_project, on_fold, pairs

OPENED = ((Run(Spread.OPEN, 1),),)


def project(width=1000.0, **cloth):
    own = Cloth(key="main", name="calico", width_mm=width, **cloth)
    return make_project(make_piece("side", box(300, 400), pairs()), cloth=own)


def figures(to_buy_mm, stopped=StopReason.TIME):
    return ClothFigures(0.0, 0.0, to_buy_mm, to_buy_mm, 0.0, 0.0, 0.0, 0.0, 2, OPENED, stopped, rounds=1)


def curve(opened, folded, **options):
    """Amounts at 80, 90, 100 ... cm wide."""
    plan = plan_widths(project(), "main", [800 + 100 * k for k in range(len(opened))])
    amounts = {OPEN: opened, FOLDED: folded}
    found = {
        job.key: figures(amount, **options)
        for spread, jobs in plan.jobs.items()
        for job, amount in zip(jobs, amounts[spread], strict=True)
        if job is not None and amount is not None
    }
    return curve_of(plan, found)


def test_the_steps_are_where_less_is_bought():
    made = curve([1500, 1500, 1300, 1300, 1200], [1900, 1700, 1300, 1300, 1200])
    assert made.steps == (Step(900, 1000, 1300), Step(1100, 1200, 1200))
    assert made.fold_pays_mm == 1000
    assert widths_sentences(made) == (
        "Between 90 cm and 100 cm it falls to 1.30 m.",
        "Between 110 cm and 120 cm it falls to 1.20 m.",
        "From 100 cm on, in the lays found, a lengthwise fold pays: it takes no more than the open cloth, "
        "and is half the cutting.",
    )


def test_a_lay_of_narrower_cloth_is_sound_on_wider():
    made = curve([1500, 1600, 1400], [1500, 1500, 1500])
    assert made.to_buy_mm[OPEN] == (1500, 1500, 1400)
    assert made.to_buy_mm[FOLDED] == (1500, 1500, 1500)
    assert made.fold_pays_mm is None
    assert "takes more than the open cloth" in widths_sentences(made)[-1]


def test_a_folded_lay_is_sound_opened_out():
    assert curve([1500, 1400], [1400, 1400]).to_buy_mm[OPEN] == (1400, 1400)


def test_one_amount_for_all():
    assert widths_sentences(curve([1000, 1000], [1000, 1000]))[0] == "All these widths take the same."


def test_what_is_missing_or_was_ended_early_is_owned_up_to():
    assert curve([1500, None], [1500, 1500]).early
    assert curve([1500, 1400], [1500, 1400], stopped=StopReason.INTERRUPTED).early
    assert not curve([1500, 1400], [1500, 1400]).early


def test_a_width_too_narrow_for_the_fold_has_none():
    plan = plan_widths(project(), "main", [500.0, 700.0])
    assert [job is None for job in plan.jobs[FOLDED]] == [True, False]
    assert [job is None for job in plan.jobs[OPEN]] == [False, False]


def test_a_tube_is_not_folded():
    assert list(plan_widths(project(tube=True, selvedge_mm=0.0), "main", [500.0]).jobs) == [OPEN]


@pytest.mark.parametrize(("cloth", "widths"), [("wool", [1000.0]), ("main", [200.0, 250.0])])
def test_what_cannot_be_laid_is_told(cloth, widths):
    with pytest.raises(BadInput):
        plan_widths(project(), cloth, widths)


def test_real_lays_of_a_back_on_the_fold():
    """A back 60 cm wide needs 62 cm of cloth with its selvedges, open or folded: its fold pays at once."""
    own = Cloth(key="main", name="calico", width_mm=1000.0)
    back = make_project(make_piece("back", box(300, 500), on_fold(), on_fold="edge 3"), cloth=own)
    plan = plan_widths(back, "main", [600.0, 620.0], effort=Effort(evaluations_per_placement=0))
    found = {job.key: work(job) for job in plan.all_jobs}
    made = curve_of(plan, found)
    assert made.to_buy_mm == {OPEN: (None, 600.0), FOLDED: (None, 600.0)}
    assert made.fold_pays_mm == 620.0
    assert {job.project.cloths["main"].spread for job in plan.all_jobs} == {Spread.OPEN, FOLDED}
