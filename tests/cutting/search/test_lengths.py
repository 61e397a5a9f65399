"""Lays longer than the table: several lengths, each on it, garments kept together as far as they go."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Spread
from nesting.cutting.flat.placing import numbered
from nesting.cutting.lay import Run
from nesting.cutting.search.laying import lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.drawing.pages.work_order import work_steps
from nesting.estimate.estimating import estimate_lay
from nesting.units import Unit
from tests.conftest import examples, fit_mistakes, refusal
from tests.cutting.plan.test_orders import QUICK, SPREADS, order_of


def on_a_table(table_mm, garments=4, **changes):
    project, cloth = order_of(garments, **changes)
    return replace(project, table_mm=table_mm), cloth


def garments_by_length(lay):
    return [
        {number for section in stretch for placed in section.placed for number in placed.garments}
        for stretch in lay.stretches
    ]


@pytest.mark.parametrize("spread", [*SPREADS, Spread.PART_FOLD, Spread.DOUBLE_FOLD])
def test_no_length_is_longer_than_the_table_and_none_is_lost(spread):
    project, cloth = on_a_table(1100.0, spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert len(lay.stretches) > 1
    for stretch in lay.stretches:
        assert max(one.shape.cut_line[:, 0].max() for s in stretch for one in s.placed) <= 1100.0 + 1e-6


def test_garments_stay_whole_where_the_table_takes_them():
    """Of one size and all alike: two by two."""
    project, cloth = on_a_table(1300.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.runs == (Run(Spread.OPEN, 2),)
    lengths = garments_by_length(lay)
    assert [len(one) for one in lengths] == [2, 2]
    assert not lengths[0] & lengths[1]


def test_a_garment_is_parted_only_where_the_table_is_too_short_for_it():
    project, cloth = on_a_table(520.0, garments=1, spread=Spread.OPEN)
    project = replace(project, garments=("12",))
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert len(lay.stretches) == 2


def test_what_goes_on_the_table_is_not_divided():
    free, cloth = order_of(3)
    whole = lay_cloth(free, cloth, effort=QUICK)
    project = replace(free, table_mm=whole.length_mm + 1.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert len(lay.stretches) == 1
    assert lay.length_mm == whole.length_mm


def test_the_verifier_refuses_a_stretch_beyond_the_table():
    project, cloth = order_of(3)
    lay = lay_cloth(project, cloth, effort=QUICK)
    short = replace(project, table_mm=lay.length_mm - 1.0)
    assert any("longer than the table" in fault for fault in faults(lay, short))


def test_the_verifier_refuses_lengths_that_nobody_asked_for():
    project, cloth = on_a_table(1300.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert any("no table to go on" in fault for fault in faults(lay, replace(project, table_mm=None)))


def test_a_table_shorter_than_the_longest_pieces_names_them_all():
    project, _ = on_a_table(490.0)
    told = fit_mistakes(project)
    assert [problem.where for problem in told] == [
        "piece 'front 12' in cloth 'main'",
        "piece 'back 12' in cloth 'main'",
    ]
    assert told[0].what == "It is 50 cm long, the table 49 cm."
    assert "at least 50 cm" in told[0].remedy


def test_a_crosswise_fold_longer_than_the_table_is_refused():
    project, cloth = on_a_table(700.0, garments=4, spread=Spread.CROSSWISE_FOLD)
    (problem,) = refusal(lay_cloth, project, cloth, effort=QUICK)
    assert "more of the table than its 70 cm" in problem.what


def test_the_order_of_work_goes_length_by_length():
    project, cloth = on_a_table(1300.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    steps = work_steps(estimate_lay(lay, project), numbered(lay), Unit.CM)
    assert sum(step.startswith("Lay length") for step in steps) == 2
    assert sum("Draw the cloth on" in step for step in steps) == 1


@examples(5)
@given(
    table=st.floats(505.0, 2500.0),
    garments=st.integers(1, 4),
    spread=st.sampled_from([Spread.OPEN, Spread.LENGTHWISE_FOLD, Spread.BEST]),
)
def test_every_table_is_kept_to(table, garments, spread):
    project, cloth = on_a_table(table, garments, spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm
