"""The requirements chart: what is laid for it, and how its cells are filled."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.search.laying import Effort
from nesting.errors import BadInput
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.crew import ProcessCrew
from nesting.estimate.many.jobs import NothingKept, work
from nesting.estimate.many.side_by_side import Watcher, lay_side_by_side, still_to_do
from nesting.estimate.overview.chart import ChartCell, filled, plan_chart
from nesting.packing.result import StopReason
from nesting.pattern.piece import Turn
from nesting.units import Unit
from nesting.words.chart import amounts, chart_notes, row_label
from tests.conftest import box, make_piece, make_project, pairs

LITTLE = Effort(evaluations_per_placement=1_000)


def figures(unwashed_mm, stopped="the time was up"):
    return ClothFigures(
        0.0, 0.0, unwashed_mm, 0.0, 0.0, 0.0, 0.0, 0.0, 2, "open, one layer", stopped, rounds=2
    )


def sized(*names, **cloth):
    """A pair of boxes, 10 cm longer from size to size."""
    own = Cloth(key="main", name="calico", width_mm=1000.0, **cloth)
    sizes = [
        replace(make_project(make_piece("side", box(300, 400 + 100 * k), pairs()), cloth=own), size=name)
        for k, name in enumerate(names)
    ]
    return replace(sizes[0], sizes=tuple(sizes)) if len(sizes) > 1 else sizes[0]


def lay(plan, unwashed_of):
    return filled(plan, {job.key: figures(unwashed_of(job)) for job in plan.jobs})


def cloth_of(job):
    return job.project.cloths[job.cloth_key]


def test_every_size_at_every_width_with_and_without_nap():
    plan = plan_chart(sized("small", "large"), widths_mm=(900, 1400))
    assert plan.sizes == ("small", "large")
    assert [(row.cloth.width_mm, row.cloth.nap) for row in plan.rows] == [
        (900, Nap.EITHER_WAY),
        (900, Nap.ONE_WAY),
        (1400, Nap.EITHER_WAY),
        (1400, Nap.ONE_WAY),
    ]
    assert len(plan.jobs) == 8


def test_sizes_that_are_numbers_stand_in_their_order():
    assert plan_chart(sized("10", "8", "12")).sizes == ("8", "10", "12")
    assert plan_chart(sized("tall", "short")).sizes == ("tall", "short")


def test_widths_of_the_shops_and_the_cloths_own_unless_others_are_asked_for():
    plan = plan_chart(sized(""))
    assert [row.cloth.width_mm for row in plan.rows[::2]] == [900.0, 1000.0, 1150.0, 1400.0, 1500.0]
    inches = plan_chart(replace(sized(""), unit=Unit.IN))
    assert {row.cloth.width_mm for row in inches.rows} == {914.4, 1000.0, 1143.0, 1371.6, 1524.0}


def test_cloth_without_a_grain_has_no_nap_and_a_tube_its_own_width_alone():
    rows = plan_chart(sized("", turn=Turn.ANY), widths_mm=(900,)).rows
    assert [row.cloth.nap for row in rows] == [Nap.EITHER_WAY]
    rows = plan_chart(sized("", tube=True, selvedge_mm=0.0)).rows
    assert {row.cloth.width_mm for row in rows} == {1000.0}


def test_alternatives_come_after_the_plain_version():
    plain = sized("")
    seam = replace(make_project(make_piece("side", box(290, 400), pairs()), cloth=plain.cloths["main"]))
    project = replace(plain, alternatives=(replace(seam, version="slim"),))
    plan = plan_chart(project, widths_mm=(900,), naps=(Nap.ONE_WAY,), alternatives=("slim",))
    chart = lay(plan, lambda job: 1000.0)
    (rows,) = chart.cloths.values()
    assert [row_label(row, Unit.CM) for row in rows] == ["90 cm, with nap", "90 cm, with nap, slim"]


@pytest.mark.parametrize("asked", [{"cloths": ["wool"]}, {"sizes": ["huge"]}, {"alternatives": ["cape"]}])
def test_what_there_is_not_is_answered_with_what_there_is(asked):
    with pytest.raises(BadInput, match="There is no"):
        plan_chart(sized("small", "large"), **asked)


def test_amounts_are_rounded_up_to_the_step_of_each_system():
    """Trade arithmetic, worked out by hand: 145.9 cm gives 1.5 m, and 1 5/8 yd (1.596 yd)."""
    plan = plan_chart(sized(""), widths_mm=(900,), naps=(Nap.EITHER_WAY,))
    (rows,) = lay(plan, lambda job: 1459.0).cloths.values()
    assert (amounts(rows[0], Unit.CM), amounts(rows[0], Unit.IN)) == (("1.50",), ("1 5/8",))


def test_a_cloth_that_is_too_narrow_is_not_laid():
    plan = plan_chart(sized("small"), widths_mm=(250, 900), naps=(Nap.EITHER_WAY,))
    assert len(plan.jobs) == 1
    chart = lay(plan, lambda job: 1000.0)
    (narrow, wide) = chart.cloths["main"]
    assert not narrow.cells[0].fits
    assert amounts(narrow, Unit.CM) == ("–",)
    assert wide.cells[0].metres_mm == 1000.0
    assert chart.missing == 0
    assert "– a piece is wider than the cloth." in chart_notes(chart)


def test_a_lay_of_narrower_cloth_or_with_nap_is_taken_over_where_it_is_shorter():
    plan = plan_chart(sized(""), widths_mm=(900, 1400))
    needs = {
        (900, Nap.EITHER_WAY): 1500.0,
        (900, Nap.ONE_WAY): 1400.0,
        (1400, Nap.EITHER_WAY): 1420.0,
        (1400, Nap.ONE_WAY): 1200.0,
    }
    chart = lay(plan, lambda job: needs[cloth_of(job).width_mm, cloth_of(job).nap])
    metres = [amounts(row, Unit.CM)[0] for row in chart.cloths["main"]]
    assert metres == ["1.40°", "1.40", "1.20°", "1.20"]
    assert any(note.startswith("°") for note in chart_notes(chart))
    asked = plan_chart(sized("", spread=Spread.DOUBLE_FOLD), widths_mm=(900, 1400))
    chart = lay(asked, lambda job: needs[cloth_of(job).width_mm, cloth_of(job).nap])
    assert [amounts(row, Unit.CM)[0] for row in chart.cloths["main"]] == ["1.50", "1.40", "1.50", "1.20"]


def test_what_is_not_there_yet_or_was_ended_early_is_marked():
    plan = plan_chart(sized("1", "2", "3"), widths_mm=(900,), naps=(Nap.EITHER_WAY,))
    keys = [job.key for job in plan.jobs]
    chart = filled(plan, {keys[0]: figures(1000.0), keys[1]: figures(1100.0, StopReason.INTERRUPTED)})
    assert amounts(chart.cloths["main"][0], Unit.CM) == ("1.00", "1.10*", "…")
    assert chart.missing == 1
    assert chart.cells[2] == ChartCell(None, None)


def test_two_processes_give_what_this_one_gives_and_alike_jobs_are_done_once():
    plan = plan_chart(sized("small", "large"), widths_mm=(900,), effort=LITTLE)
    _, jobs = still_to_do((*plan.jobs, *plan.jobs), NothingKept())
    assert len(jobs) == 4
    better, done = [], []
    watcher = Watcher(
        better=lambda job, mm: better.append(job.key), done=lambda job, figures: done.append(job.key)
    )
    with ProcessCrew(2) as crew:
        found = lay_side_by_side(jobs, crew, NothingKept(), watcher)
    assert found == {job.key: work(job) for job in jobs}
    assert sorted(done) == sorted(found)
    assert set(better) <= set(found)
