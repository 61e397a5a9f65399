"""The width-conversion table of pattern leaflets against real lays of the example.

Source: fabric conversion chart, three reprints that agree cell by cell, issuer not shown (usually
credited to the Cooperative Extension Service, Rutgers, New Jersey: from memory). Yards needed at each
width, a row for every size of garment. The table is an equal-area rule rounded to 1/8 yd, so a real
lay is held to the ratios it shows, each widened by what that rounding alone can move.
"""

from dataclasses import replace

import pytest

from nesting.cutting.laying import Effort, lay_cloth
from nesting.files import example
from nesting.files.project import parse_project

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
def lengths_mm():
    """Lay length of the example's main cloth at 90, 115 and 150 cm."""
    project = parse_project(example.example_text(), source="jacket.toml")
    lengths = []
    for width_mm in (900.0, 1150.0, 1500.0):
        cloth = replace(project.cloths["main"], width_mm=width_mm)
        version = replace(project, cloths={"main": cloth})
        lengths.append(lay_cloth(version, cloth, effort=Effort(evaluations_per_placement=100_000)).length_mm)
    return lengths


def test_every_row_of_the_table_falls_as_the_cloth_gets_wider():
    assert all(narrow > middle > wide for narrow, middle, wide in YARDS)


@pytest.mark.parametrize(("narrow", "wide"), [(0, 1), (1, 2), (0, 2)])
def test_a_real_lay_changes_its_length_as_the_table_says(lengths_mm, narrow, wide):
    least, greatest = spread_of_ratios(narrow, wide)
    assert least <= lengths_mm[narrow] / lengths_mm[wide] <= greatest
