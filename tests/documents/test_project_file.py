"""The reference to the project file says what the reader does: each of its examples is read."""

import re
import tomllib
from pathlib import Path

import pytest

from nesting.files.project.reading import project_from_table
from nesting.files.tables.in_hand import BlockedTable, RemnantTable, WasteTable
from nesting.files.tables.overlay import overlaid
from nesting.files.tables.schema import ClothTable, EdgeTable, NotchTable, PieceTable, ProjectTable

DOCS = Path(__file__).parent.parent.parent / "docs"
REFERENCE = (DOCS / "project-file.md").read_text(encoding="utf-8")
WHOLE, *PARTS = re.findall(r"^```toml\n(.*?)^```", REFERENCE, re.MULTILINE | re.DOTALL)


def test_the_whole_file_is_a_project():
    project = project_from_table(tomllib.loads(WHOLE))
    assert [piece.name for piece in project.pieces] == ["apron", "pocket"]


@pytest.mark.parametrize("part", PARTS)
def test_each_part_fits_into_it(part):
    project = project_from_table(overlaid(tomllib.loads(WHOLE), tomllib.loads(part)))
    assert len(project.pieces) >= 2


@pytest.mark.parametrize(
    "model",
    [
        ProjectTable,
        ClothTable,
        PieceTable,
        EdgeTable,
        NotchTable,
        BlockedTable,
        RemnantTable,
        WasteTable,
    ],
)
def test_every_entry_is_explained(model):
    for name in model.model_fields:
        assert re.search(rf"\b{name}\b", REFERENCE), name
