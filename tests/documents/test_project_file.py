"""The reference to the project file says what the reader does: its examples are read, all entries told."""

import re
import tomllib

import pytest

from nesting.cloth.cloth import Nap, RightSide, Spread
from nesting.cloth.waste import Lie
from nesting.errors import BadInput
from nesting.files.project.reading import parse_project, project_from_table
from nesting.files.tables import schema
from nesting.files.tables.in_hand import BlockedTable, RemnantTable, WasteTable
from nesting.files.tables.overlay import overlaid
from nesting.files.tables.strip import StripTable
from nesting.files.tables.wish import WishTable
from nesting.pattern.piece import Turn
from nesting.pattern.strips import Join, StripGrain
from nesting.units import Unit, parse_length
from tests.documents.pages import in_code, listings, page

REFERENCE = page("docs/project-file.md")
WHOLE, *PARTS = listings(REFERENCE, "toml")


def test_the_whole_file_is_a_project():
    project = project_from_table(tomllib.loads(WHOLE))
    assert [piece.name for piece in project.pieces] == ["apron", "pocket"]


@pytest.mark.parametrize("part", PARTS)
def test_each_part_fits_into_it(part):
    project = project_from_table(overlaid(tomllib.loads(WHOLE), tomllib.loads(part)))
    assert len(project.pieces) >= 2


def test_the_part_on_tubes_fits_into_it_too():
    (rib,) = listings(page("docs/spreads.md"), "toml")
    project = project_from_table(overlaid(tomllib.loads(WHOLE), tomllib.loads(rib)))
    assert project.cloths["rib"].tube


WHERE = {
    schema.ProjectTable: "",
    schema.ClothTable: "cloth.*",
    schema.ShrinkageTable: "cloth.*.shrinkage",
    schema.RepeatTable: "cloth.*.repeat",
    BlockedTable: "cloth.*.flaws",
    RemnantTable: "cloth.*.remnant",
    schema.PieceTable: "piece.*",
    schema.EdgeTable: "piece.*.edges.*",
    schema.NotchTable: "piece.*.notches",
    schema.DartTable: "piece.*.darts",
    schema.MarkTable: "piece.*.marks",
    schema.MatchTable: "match",
    schema.OrderTable: "order",
    schema.AlternativeTable: "alternative.*",
    StripTable: "strip",
    WishTable: "wish",
    WasteTable: "from_waste",
}
"""Where in a file each kind of table stands; a star is a name of the person's own."""


def tables(value, path):
    """All tables that stand there, those in lists one by one."""
    if isinstance(value, list):
        return [table for one in value for table in tables(one, path)]
    if not isinstance(value, dict):
        return []
    if not path:
        return [value]
    inner = value.values() if path[0] == "*" else [value[path[0]]] if path[0] in value else []
    return [table for one in inner for table in tables(one, path[1:])]


@pytest.mark.parametrize("model", WHERE)
def test_every_entry_is_shown_where_it_stands(model):
    """In one of the listings; or in the text, or a note, by its name or as ``turn = "quarter"``."""
    path = [step for step in WHERE[model].split(".") if step]
    shown = {key for part in (WHOLE, *PARTS) for table in tables(tomllib.loads(part), path) for key in table}
    told = [*in_code(REFERENCE), *re.findall(r"#.*", "\n".join(PARTS))]
    shown |= {name for text in told for name in re.findall(r"^\w+$|\b\w+(?= = )", text)}
    assert set(model.model_fields) <= shown


@pytest.mark.parametrize(
    "words",
    [
        *(Nap, RightSide, Spread, Turn, Lie, Unit, Join, StripGrain),
        *(schema.Curve, schema.Outline, schema.PerLength, schema.Directions),
    ],
)
def test_every_word_that_an_entry_takes_is_told(words):
    codes = "\n".join([*in_code(REFERENCE), *listings(REFERENCE, "toml")])
    told = [word for word in words if f'"{word}"' in codes]
    # What is meant where nothing is said: nobody has to write these.
    assert set(words) - set(told) <= {schema.Curve.STRAIGHT, schema.Outline.STITCHING}


def test_what_is_meant_by_leaving_an_entry_out_is_so():
    defaults = {
        name: field.default
        for model in (schema.ClothTable, StripTable, schema.DefaultsTable)
        for name, field in model.model_fields.items()
    }
    whole = project_from_table(tomllib.loads(WHOLE))
    defaults["step"] = whole.cloths["main"].step_mm
    told = re.findall(r"^(\w+) = .*# .*?([\d.]+ [cm]m)\b.* if you leave it out", REFERENCE, re.MULTILINE)
    assert {name for name, _ in told} >= {"seam_allowance", "selvedge", "step", "end_allowance", "seam"}
    for name, length in told:
        assert defaults[name] == parse_length(length, Unit.CM), name


def test_the_message_that_is_shown_is_the_one_that_is_told():
    """Of a front whose hem begins at the wrong corner; the listing is as the command prints it."""
    (told,) = listings(REFERENCE, "text")
    front = """
units = "cm"
[cloth.main]
width = 150
[piece.front]
points = { A = [0, 0], B = [30, 0], C = [30, 10], D = [0, 70] }
cut = { main = 1 }
[piece.front.edges]
side = "A B"
hem = "C D"
centre = "D A"
"""
    with pytest.raises(BadInput) as refused:
        parse_project(front, source="jacket.toml")
    mistake = refused.value.mistakes[0]
    assert told == f"  {mistake.where}\n    {mistake.what}\n    {mistake.remedy}\n"


def test_how_a_count_is_understood_is_told_as_it_is_shown():
    collar = "[piece.collar]\npoints = { A = [0, 0], B = [9, 0], C = [0, 30] }\ncut = { main = 4 }\n"
    collar += '[piece.collar.edges]\nneck = "A B"\nouter = "B C"\nback = "C A"\n'
    (note,) = project_from_table(overlaid(tomllib.loads(WHOLE), tomllib.loads(collar))).notes[-1:]
    assert note.rstrip(".") in " ".join(REFERENCE.replace("*", "").split())
