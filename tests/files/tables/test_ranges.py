"""Every number has a range: within it is taken, beyond it is refused, and the reference tells it."""

import copy
import tomllib

import pytest

from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table
from nesting.files.tables import ranges
from nesting.units import Unit, parse_length
from tests.documents.pages import page, rows, section
from tests.files.conftest import DATA

WAISTCOAT = (DATA / "waistcoat.toml").read_text(encoding="utf-8")
ADDED = """
[cloth.stripe]
width = 150
repeat = { along = 8, across = 6, line = 2 }
[cloth.scrap]
width = 150
remnant = [ { name = "long", length = 200, width = 70, flaws = [ { along = [2, 4] } ] } ]
[[strip]]
name = "binding"
cloth = "lining"
width = 4
length = 100
longest = 90
seam = 0.6
[[from_waste]]
name = "button"
cloth = "lining"
round = 4
count = 3
[[wish]]
together = ["front", "back"]
within = 90
[[wish]]
piece = "back"
from_end = 2
"""
WHOLE = tomllib.loads(WAISTCOAT + ADDED)
WHOLE |= {"table_length": 300, "order": {"garments": 2}}
del WHOLE["alternative"]
RANGES = rows(section(page("docs/project-file.md"), "How large a number may be"))
HUGE = {
    "digits": 10**400,
    "minus": -(10**400),
    "hex": 16**5000,
    "large": 1e306,
    "inf": float("inf"),
    "nan": float("nan"),
}


def spoilt(path, value, table=WHOLE):
    """The whole project with that value at that place; a step of digits is one of a list."""
    table = copy.deepcopy(table)
    place = table
    *steps, last = path.split(".")
    for step in steps:
        place = place[int(step) if step.isdigit() else step]
    place[int(last) if last.isdigit() else last] = value
    return table


def mistakes_of(table):
    try:
        project_from_table(table, source="jacket.toml")
    except BadInput as error:
        return error.mistakes
    return ()


def about(path, mistakes):
    """Those that speak of the number itself, not of what it does to the whole."""
    entry = [step for step in path.split(".") if not step.isdigit()][-1]
    starts = (f"'{entry}' is", f"'{entry}' cannot", f"'{entry}' lies", "cut ")
    return [
        mistake
        for mistake in mistakes
        if mistake.what.startswith(starts)
        or (mistake.where.endswith(f"point '{entry}'") and mistake.what.startswith(("It is", "It cannot")))
    ]


def test_the_file_that_is_spoilt_is_good_before():
    assert mistakes_of(WHOLE) == ()


@pytest.mark.parametrize("value", list(HUGE.values()), ids=list(HUGE))
def test_no_number_may_be_endless(value):
    table = WHOLE
    for path, *_ in RANGES:
        table = spoilt(path.strip("`"), value, table)
    told = mistakes_of(table)
    for path, *_ in RANGES:
        assert about(path.strip("`"), told), path
    for mistake in told:
        assert not any(len(word) > 80 for word in str(mistake).split())


@pytest.mark.parametrize("row", RANGES, ids=lambda row: row[0].strip("`"))
def test_what_the_reference_says_is_so(row):
    path, least, most = row[0].strip("`"), *row[2:]
    for told, outward in ((least, -1), (most, 1)):
        word, _, bound = told.rpartition("above " if outward < 0 else "below ")
        assert word in ("", "above ", "below ")
        edge = number(bound)
        on_it = about(path, mistakes_of(spoilt(path, as_written(edge, bound))))
        beyond = about(path, mistakes_of(spoilt(path, as_written(edge + outward, bound))))
        assert bool(on_it) == told.startswith(("above", "below"))
        assert beyond


def number(told):
    """A bound: millimetres of a length, else the plain number."""
    plain = told.removesuffix(" %").removesuffix("°").replace(",", "")
    return float(plain) if plain.lstrip("-").isdigit() else parse_length(told, Unit.CM)


def as_written(value, told):
    """In the file, whose unit is cm; whole numbers without a point."""
    is_length = any(letter.isalpha() for letter in told)
    value = value / 10 if is_length else value
    return int(value) if value == int(value) else value


@pytest.mark.parametrize("path", ["piece.back.edges.hem", "piece.front.edges.hem.allowance"])
def test_next_to_nothing_is_nothing(path):
    value = {"through": "F A", "allowance": 1e-300} if path.endswith("hem") else 1e-300
    assert mistakes_of(spoilt(path, value)) == ()


def test_every_range_is_told():
    told = len(RANGES)
    assert told == sum(isinstance(value, ranges.Range) for value in vars(ranges).values())


def test_a_hundred_thousand_points_are_told_at_once():
    names = " ".join(["A", "B"] * 50_000)
    (mistake,) = mistakes_of(spoilt("piece.back.edges.hem", names))
    assert mistake.what == "'through' names 100,000 points."
    points = WHOLE["piece"]["back"]["points"] | {f"p{k}": [k % 7, k % 5] for k in range(100_000)}
    (mistake,) = mistakes_of(spoilt("piece.back.points", points))
    assert "has 100,007 points in it" in mistake.what


@pytest.mark.parametrize("entry", ["notches", "darts", "marks"])
def test_marks_have_a_limit_too(entry):
    (mistake,) = mistakes_of(spoilt(f"piece.front.{entry}", [{}] * 501))
    assert f"has 501 {entry} in it" in mistake.what


def test_an_edge_may_name_as_many_points_as_stand_on_several_lines():
    table = copy.deepcopy(WHOLE)
    curve = [f"armhole-{k}" for k in range(1, 41)]
    table["piece"]["back"]["points"] |= {name: [20 + k / 10, 55 - k / 4] for k, name in enumerate(curve, 1)}
    table["piece"]["back"]["edges"]["armhole"] = " ".join(["D", *curve, "E"])
    assert mistakes_of(table) == ()


@pytest.mark.parametrize("name", [["front"] * 3, {"a": 1}, [], [{}], 7, [[1]], {}])
@pytest.mark.parametrize("entry", ["notches", "darts", "marks", "cut", "turn", "points"])
def test_lines_of_the_piece_below_the_heading_of_its_edges(entry, name):
    for value in (name, [{"edge": "hem"}], [name]):
        for mistake in mistakes_of(spoilt(f"piece.front.edges.{entry}", value)):
            assert mistake.where.startswith("jacket.toml, piece 'front'")
