"""Data goes down one road: a package imports nothing that lies further along it."""

import ast
from pathlib import Path

import pytest

import nesting

ROOT = Path(nesting.__file__).parent
ROAD = [
    {"errors", "geometry", "lettering"},
    {"units"},
    {"pattern"},
    {"cloth"},
    {"project"},
    {"packing"},
    {"cutting"},
    {"estimate"},
    {"drawing", "files"},
]
PLACE = {name: place for place, names in enumerate(ROAD) for name in names}


def imported(path):
    """Parts of `nesting` that a module imports, those inside functions too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [node.module] if isinstance(node, ast.ImportFrom) else []
        names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        for name in names:
            root, *parts = (name or "").split(".")
            assert root != "cli", f"{path} imports the command line"
            if root == "nesting" and parts:
                yield parts[0]


MODULES = [path for path in sorted(ROOT.rglob("*.py")) if path.parent != ROOT or path.stem in PLACE]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_module_imports_along_the_road(path):
    own = path.relative_to(ROOT).with_suffix("").parts[0]
    for other in imported(path):
        assert other == own or PLACE[other] < PLACE[own], f"{own} imports {other}"


def test_the_engine_knows_polygons_and_strips_only():
    others = {other for path in (ROOT / "packing").glob("*.py") for other in imported(path)}
    assert others <= {"packing", "geometry", "errors"}
