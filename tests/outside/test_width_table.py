"""The width-conversion table of pattern leaflets against real lays of the example.

Source: fabric conversion chart, three reprints that agree cell by cell, issuer not shown (usually
credited to the Cooperative Extension Service, Rutgers, New Jersey: from memory). Yards needed at each
width, a row for every size of garment. The table is an equal-area rule rounded to 1/8 yd, so a real
lay is held to the ratios it shows, each widened by what that rounding alone can move.
"""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Nap
from nesting.cutting.search.laying import Effort
from nesting.estimate.many.jobs import NothingKept, work
from nesting.estimate.many.side_by_side import still_to_do
from nesting.estimate.overview.chart import filled, plan_chart
from nesting.files import example
from nesting.files.project.reading import parse_project

INCH_MM = 25.4
# Columns 35-36 in, 44-45 in and 58-60 in: the shops' 90, 115 and 150 cm (common practice, no source).
YARDS = [
    (1.75, 1.375, 1.0),
    (2.0, 1.625, 1.25),
    (2.25, 1.75, 1.375),
    (2.5, 2.125, 1.625),
    (2.875, 2.25, 1.75),
    (3.125, 2.5, 1.875),
    (3.375, 2.75, 2.0),
    (3.75, 2.875, 2.25),
    (4.25, 3.125, 2.375),
    (4.5, 3.375, 2.625),
    (4.75, 3.625, 2.75),
    (5.0, 3.875, 2.875),
]
EIGHTH = 0.125


def spread_of_ratios(narrow, wide):
    """Least and greatest ratio of the table, if each figure was rounded up by less than an eighth."""
    ratios = [((row[narrow] - EIGHTH) / row[wide], row[narrow] / (row[wide] - EIGHTH)) for row in YARDS]
    return min(low for low, _ in ratios), max(high for _, high in ratios)


@pytest.fixture(scope="module")
def chart():
    """The example's main cloth, without nap, at 90, 115 and 150 cm; rounded up to 1 cm, and to 1/8 yd."""
    project = parse_project(example.example_text(), source="jacket.toml")
    finely = replace(project, cloths={"main": replace(project.cloths["main"], step_mm=10.0)})
    plan = plan_chart(
        finely,
        cloths=["main"],
        naps=[Nap.EITHER_WAY],
        widths_mm=(900.0, 1150.0, 1500.0),
        effort=Effort(evaluations_per_placement=100_000),
    )
    _, jobs = still_to_do(plan.jobs, NothingKept())
    return filled(plan, {job.key: work(job) for job in jobs})


def test_every_row_of_the_table_falls_as_the_cloth_gets_wider():
    assert all(narrow > middle > wide for narrow, middle, wide in YARDS)


@pytest.mark.parametrize(("narrow", "wide"), [(0, 1), (1, 2), (0, 2)])
def test_a_chart_changes_with_the_width_as_the_table_says(chart, narrow, wide):
    least, greatest = spread_of_ratios(narrow, wide)
    metres = [row.cells[0].metres_mm for row in chart.cloths["main"]]
    yards = [row.cells[0].yards_mm for row in chart.cloths["main"]]
    assert least <= metres[narrow] / metres[wide] <= greatest
    # In yards the chart itself is rounded up to an eighth, as the table is.
    eighth = EIGHTH * 914.4
    assert (yards[narrow] - eighth) / yards[wide] <= greatest
    assert yards[narrow] / (yards[wide] - eighth) >= least


def test_yards_are_those_of_the_international_agreement(chart):
    """1 in = 25.4 mm exactly, so an eighth of a yard is 114.3 mm (Addendum to NBS Circular 572, 1959)."""
    for row in chart.cloths["main"]:
        (cell,) = row.cells
        eighths = cell.yards_mm / (36 * INCH_MM / 8)
        assert eighths == pytest.approx(round(eighths), abs=1e-9)
        assert cell.yards_mm >= cell.metres_mm - 10.0
        assert cell.yards_mm - 114.3 < cell.metres_mm
