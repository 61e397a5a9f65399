"""Words stand in one room: what decides holds values, and no message is taken apart again."""

import ast
import re
from dataclasses import fields, is_dataclass
from typing import get_args, get_type_hints

import pytest

from nesting.estimate.estimate import Tally
from nesting.estimate.figures import ClothFigures
from nesting.estimate.matching import MatchingCost
from nesting.estimate.overview.compare import Comparison
from nesting.project import Project
from tests.test_layering import MODULES, PLACE, room_of

QUOTES_TOML = re.compile(r"""\w+ = ("|'|\[|\{|true|false|\d|\.\.\.)""")
"""An entry as it would be written into a project file."""
DECIDES = sorted(
    module for module in MODULES if room_of(module) in PLACE and PLACE[room_of(module)] < PLACE["words"]
)
"""Every module that comes before the words on the road; those that read TOML come after."""


def texts(tree):
    """Every text of a module but its documentation, what is filled in shown as {}."""
    prose = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    parts = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in prose | parts:
            yield node.value


def parsed(module):
    return ast.parse(MODULES[module].read_text(encoding="utf-8"))


def test_the_search_finds_what_it_looks_for():
    code = (
        '"""spread = "open" in a docstring."""\nremedy = f"Write spread = \\"{spread}\\"."\nplain = "a = b"\n'
    )
    assert [text for text in texts(ast.parse(code)) if QUOTES_TOML.search(text)] == ['Write spread = "{}".']
    assert any(QUOTES_TOML.search(text) for text in texts(parsed("nesting.words.fit")))


@pytest.mark.parametrize("module", DECIDES)
def test_no_sentence_below_the_words_quotes_a_project_file(module):
    assert [text for text in texts(parsed(module)) if QUOTES_TOML.search(text)] == []


def test_no_message_is_taken_apart_at_its_full_stop():
    cut = {"partition", "rpartition", "split", "rsplit"}
    for module in MODULES:
        for node in ast.walk(parsed(module)):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in cut:
                apart = [arg.value for arg in node.args if isinstance(arg, ast.Constant)]
                assert ". " not in apart, f"{module}, line {node.lineno}"


def held(kind, seen=None):
    """The fields of a dataclass, and of those that it holds, that are plain text."""
    seen = set() if seen is None else seen
    if kind in seen:
        return
    seen.add(kind)
    if is_dataclass(kind):
        hints = get_type_hints(kind)
        for field in fields(kind):
            if hints[field.name] is str:
                yield f"{kind.__name__}.{field.name}"
            yield from held(hints[field.name], seen)
    for inner in get_args(kind):
        yield from held(inner, seen)


@pytest.mark.parametrize(
    ("kind", "names"),
    [
        (ClothFigures, {"OnRemnant.name"}),
        (
            Tally,
            {
                "Tally.piece",
                "ReadAsPairs.piece",
                "ReadAsSingles.piece",
                "JoinedByFold.piece",
                "PartedBySeam.piece",
            },
        ),
        (MatchingCost, set()),
    ],
)
def test_what_is_estimated_holds_names_and_no_sentences(kind, names):
    assert set(held(kind)) == names


def test_a_comparison_holds_names_and_no_sentences():
    of_its_own = set(held(Comparison, {Project}))
    assert of_its_own == {"VersionRow.version", "OnRemnant.name", "Seam.piece", "Seam.edge", "Seam.cloth"}
