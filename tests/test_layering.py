"""Data goes down one road: a room imports nothing that lies further along it.

A room is a folder of `nesting` with the modules right in it, or one of the modules at its top. Rooms on one
line of the road know nothing of each other, unless they are one room.
"""

import ast
from pathlib import Path

import pytest

import nesting

ROOT = Path(nesting.__file__).parent
ROAD = """
errors fault geometry lettering
units
pattern
cloth
project
doubts
packing.problem packing.kept_code
packing.jit
packing.result packing.verify packing.outlines
packing.stop packing.kernels packing.turning
packing.walks packing.bounds
packing.search
packing
cutting
cutting.flat cutting.plan
cutting.verify cutting.fit
cutting.search
cutting.in_hand
estimate
estimate.many
estimate.overview
words
drawing.ink files.lines
files.tables
drawing.lay files.project files.results files.example
drawing.pages drawing.true_size
drawing.drafts
"""
PLACE = {room: place for place, rooms in enumerate(ROAD.split("\n")) for room in rooms.split()}

JUDGES = {
    "cutting.verify": {
        "cutting",
        "cutting.flat",
        "cloth",
        "pattern",
        "project",
        "geometry",
        "errors",
        "fault",
    },
    "packing.verify": {"packing.problem", "fault"},
}
"""What those who judge may know: what a lay is, and what was asked for; nothing of how a lay is made."""

SHAPERS = {f"nesting.pattern.{name}" for name in ("shaping", "allowance", "unfold", "edges", "outline")}
"""What makes of a paper the shape that is cut: a judge that asked it would let a wrong one pass."""


def room_of(module):
    """The room that a module of `nesting` is in: `cutting.plan` for `nesting.cutting.plan.demand`.

    Some single modules have a place of their own, as the door of the engine has.
    """
    name = module.removeprefix("nesting.")
    return name if name in PLACE else name.rpartition(".")[0]


def imported(path):
    """The modules of `nesting` that a module imports, those inside functions too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        if isinstance(node, ast.ImportFrom) and node.module:
            assert not node.level, f"{path} imports from where it stands"
            as_module = [f"{node.module}.{alias.name}" for alias in node.names]
            names += [name if is_module(name) else node.module for name in as_module]
        yield from (name for name in names if name.startswith("nesting."))


def is_module(name):
    path = ROOT.parent.joinpath(*name.split("."))
    return path.is_dir() or path.with_suffix(".py").is_file()


MODULES = {
    "nesting." + ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
    for path in sorted(ROOT.rglob("*.py"))
    if path != ROOT / "__init__.py"
}


def rooms_known_to(room):
    """The rooms whose modules the modules of a room import."""
    own = [module for module in MODULES if room_of(module) == room]
    return {room_of(other) for module in own for other in imported(MODULES[module])}


FOLDERS = {
    module for module, path in MODULES.items() if path.stem == "__init__" and module != "nesting.packing"
}


def test_every_room_has_its_place_on_the_road():
    assert {room_of(module) for module in MODULES if module not in FOLDERS} == set(PLACE)


@pytest.mark.parametrize("folder", sorted(FOLDERS))
def test_every_folder_says_what_it_answers_and_no_more(folder):
    (said,) = ast.parse(MODULES[folder].read_text(encoding="utf-8")).body
    assert ast.get_docstring(ast.Module([said], []))


@pytest.mark.parametrize("module", sorted(MODULES.keys() - FOLDERS))
def test_no_module_imports_along_the_road(module):
    own = room_of(module)
    for other in imported(MODULES[module]):
        assert not other.startswith("nesting.cli"), f"{module} imports the command line"
        assert room_of(other) == own or PLACE[room_of(other)] < PLACE[own], f"{module} imports {other}"


@pytest.mark.parametrize(("judge", "allowed"), JUDGES.items())
def test_what_judges_knows_nothing_of_what_it_judges(judge, allowed):
    assert rooms_known_to(judge) - {judge} <= allowed


@pytest.mark.parametrize("judge", ["cutting.verify", "cutting.flat"])
def test_what_judges_has_a_paper_of_its_own(judge):
    """Not even by way of another module."""
    known = {module for module in MODULES if room_of(module) == judge}
    while more := {other for module in known for other in imported(MODULES[module])} & MODULES.keys() - known:
        known |= more
    assert not known & SHAPERS


def test_what_a_lay_is_opened_out_is_told_without_how_it_was_planned():
    known = {
        room_of(other) for m in MODULES if room_of(m) == "cutting.flat" for other in imported(MODULES[m])
    }
    assert not known & {"cutting.plan", "cutting.fit", "cutting.search", "packing.search", "packing.walks"}


def test_the_engine_knows_polygons_and_strips_only():
    engine = [module for module in MODULES if room_of(module).partition(".")[0] == "packing"]
    others = {room_of(other) for module in engine for other in imported(MODULES[module])}
    assert {room.partition(".")[0] for room in others} <= {"packing", "geometry", "errors", "fault"}
