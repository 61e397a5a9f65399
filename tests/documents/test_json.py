"""The page on the JSON, and the tables for a spreadsheet: every key that is written is told, and no other."""

import csv
import json
import re
from enum import StrEnum

import pytest

from nesting.cloth.cloth import Nap, RightSide
from nesting.cloth.waste import Lie
from nesting.cutting.in_hand.asking import what_would_do
from nesting.cutting.lay import Face, Fold, Yield
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.estimate.overview.chart import Chart
from nesting.files.results.answer_json import answer_json
from nesting.files.results.chart_text import chart_csv
from nesting.files.results.cut_list import COLUMNS
from nesting.files.results.lay_json import estimate_json
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.match import Axis
from nesting.pattern.piece import Turn
from nesting.units import Unit
from tests.documents.pages import apron, in_code, page, rows, section

TOLD = page("docs/json.md")
FIRST = Effort(evaluations_per_placement=0, walks=1)

ORDER = """
base_size = "S"
table_length = "3 m"

[order]
sizes = { S = 1, L = 1 }

[size.L]
piece.apron.seam_allowance = 2

[cloth.main]
repeat = { along = 8 }

[[match]]
name = "level"
points = { apron = "A", pocket = "A" }

[[strip]]
name = "ties"
cloth = "main"
width = 6
length = 120
grain = "across"
"""
"""Two sizes on stripes, with ties in strips."""

IN_HAND = """
[cloth.main]
in_hand = 160
spread = "open"
grain_tolerance = 2
flaws = [ { name = "moth hole", along = [20, 24], across = [10, 14] } ]
cut_away = [ { along = [150, 160], across = [0, 30] } ]

[[from_waste]]
name = "covered buttons"
cloth = "main"
round = 3
count = 4

[[wish]]
piece = "pocket"
from_end = 30
"""
"""Out of a remnant with a hole in it, the pocket away from the end, the grain not quite strict."""

TOO_SHORT = """
piece.pocket.may_be_left_off = true

[cloth.main]
width = 80
in_hand = 100
spread = "open"
"""


@pytest.fixture(scope="module")
def lays():
    results = [lay_project(apron(more), effort=FIRST) for more in ("", ORDER, IN_HAND)]
    return [json.loads(estimate_json(result)) for result in results]


@pytest.fixture(scope="module")
def answer():
    short = apron(TOO_SHORT)
    (cloth,) = short.cloths.values()
    answers = {cloth.key: what_would_do(short, cloth, effort=FIRST)}
    return json.loads(answer_json(lay_project(short, effort=FIRST), answers))


def paths(value, before=""):
    """Every key of every level, with the keys that lead to it."""
    if isinstance(value, list):
        return {path for one in value for path in paths(one, before)}
    if not isinstance(value, dict):
        return set()
    found = {before + key for key in value}
    return found.union(*(paths(inner, f"{before}{key}.") for key, inner in value.items()))


def told_paths(text, before=""):
    return {before + key for cells in rows(text) for key in in_code(cells[0])}


def told_of_a_lay():
    text = TOLD[: TOLD.index("## Where not all goes on")]
    found = told_paths(section(text, "The whole"))
    for heading, path in re.findall(r"^#+ ((?:Each of )?`(cloths[a-z_.]*)`)$", text, re.MULTILINE):
        own = re.split(r"^#", section(text, heading), maxsplit=1, flags=re.MULTILINE)[0]
        found |= told_paths(own, f"{path}.")
    return found


def test_every_key_of_a_lay_is_told_and_no_other(lays):
    assert set().union(*map(paths, lays)) == told_of_a_lay()


def test_every_key_of_an_answer_is_told_and_no_other(answer):
    assert paths(answer) == told_paths(section(TOLD, "Where not all goes on"))


def test_the_formats_are_those_written(lays, answer):
    told = set(re.findall(r'"ellwand-[a-z-]+ \d+"', TOLD))
    assert {f'"{one["format"]}"' for one in (*lays, answer)} == told


@pytest.mark.parametrize("words", [Nap, RightSide, Turn, Face, Fold, Yield, FeatureKind, Axis, Lie, Unit])
def test_every_word_that_a_key_may_hold_is_told(words: type[StrEnum]):
    codes = " ".join(in_code(TOLD))
    assert [word for word in words if f'"{word}"' not in codes] == []


def test_a_number_has_the_unit_of_its_key_and_three_decimals(lays):
    def numbers(value, key=""):
        if isinstance(value, dict):
            return [pair for name, inner in value.items() for pair in numbers(inner, name)]
        if isinstance(value, list):
            return [pair for inner in value for pair in numbers(inner, key)]
        return [(key, value)] if isinstance(value, float) else []

    found = [pair for lay in lays for pair in numbers(lay)]
    assert {key for key, _ in found if not re.search(r"_(mm|mm2|deg|pct)$", key)} <= {"cost", "price_per_m"}
    assert all(value == round(value, 3) for _, value in found)


def test_the_columns_of_the_tables_are_told():
    cut_list, chart = rows(section(TOLD, "The tables as CSV"))
    assert tuple(in_code(cut_list[1])) == COLUMNS
    assert in_code(chart[1]) == next(csv.reader([chart_csv(Chart(apron(), (), {}))]))
