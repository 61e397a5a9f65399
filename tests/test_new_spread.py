"""A new spread is added in the places that DEVELOPERS.md lists, and nothing else need be touched."""

import ast
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from nesting.cloth.spread import FACTS, Spread, no_way_to_lie, row_for_each
from nesting.words.spreads import SPREAD_WORDS
from tests import new_spread
from tests.new_spread import NAME, STEPS

WAYS = [spread for spread in Spread if spread is not Spread.BEST]
GUIDE = Path(__file__).parents[1] / "DEVELOPERS.md"

NAMED_ELSEWHERE = {
    "nesting.cutting.fit.fitting": "which other spread would do",
    "nesting.words.fit": "which other spread to write",
    "nesting.files.project.cloths": "which other spread to write",
    "nesting.cutting.verify.lines": "the fold that can be laid on a stripe, told apart from the planner",
    "nesting.estimate.overview.widths": "a chosen two are compared",
}
"""Modules that name a spread other than the open cloth and need no word of a new one, and why."""


@pytest.fixture(scope="module")
def outcome():
    done = subprocess.run(
        [sys.executable, new_spread.__file__], capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def whole(outcome):
    return outcome["all"]


def test_with_all_its_rows_it_is_laid_with_a_fold_on_either_side(whole):
    assert whole["sections"] == [
        [0.0, 150.0, ["back"]],
        [160.0, 880.0, ["apron"]],
        [1050.0, 150.0, ["front"]],
    ]
    assert whole["length"] == pytest.approx(600.0)
    assert whole["least"] <= whole["length"]


def test_the_verifier_passes_it_and_tells_a_fold_where_there_is_none(whole):
    assert whole["faults"] == []
    assert "leaves room from" in whole["faults with the far fold moved"][0]


def test_pieces_keep_off_the_flaws_of_all_its_layers(whole):
    assert whole["faults round flaws"] == []
    assert whole["length round flaws"] > whole["length"]


def test_it_is_drawn_with_its_folds_and_the_selvedges_on_the_cloth(whole):
    edges = {"fold-edge", "far-fold-edge", "near-inner-selvedge-edge", "far-inner-selvedge-edge"}
    assert {f"stretch-1-{edge}" for edge in edges} <= set(whole["drawn"])
    assert "Between the two selvedges, one layer. Across: from the near fold." in whole["on paper"]
    assert (
        "Between the far fold and its selvedge, two layers. Across: from the far fold." in whole["on paper"]
    )
    assert "apron (calico): cut in the single layer between the folds" in whole["on paper"]


def test_it_is_told_in_its_own_words(whole):
    assert whole["how to spread"].endswith("Fold either selvedge over by 16 cm.")
    assert whole["lies"] == NAME
    assert "On two part folds it takes 0.70 m, the least that was found: it has a fold" in whole["verdict"]
    assert whole["in stripes"] == "FOLDS_ON_A_STRIPE"
    assert whole["in the JSON"]


def test_it_is_tried_with_the_others_where_the_best_is_asked_for(whole):
    assert sorted(whole["tried with best"]) == sorted({*WAYS, NAME} - {Spread.TUBE})


@pytest.mark.parametrize("number", range(len(STEPS)), ids=[step.module for step in STEPS])
def test_a_step_left_out_is_told_at_once_and_where(outcome, number):
    left_out = outcome["without"][number]
    assert left_out["error"] in ("LookupError", "AssertionError")
    assert NAME in left_out["says"]
    assert STEPS[number].module in left_out["in"]


def test_the_guide_names_each_place_and_no_other():
    (guide,) = re.findall(r"^## How to add a spread\n(.*?)^## ", GUIDE.read_text("utf-8"), re.M | re.S)
    named = {
        f"nesting.{path.replace('/', '.')}" for path in re.findall(r"^\d\. .*?`([a-z_/]+)\.py`", guide, re.M)
    }
    assert named == {step.module for step in STEPS}


def test_every_table_has_a_row_for_every_spread_and_the_row_its_words():
    assert set(FACTS) == set(SPREAD_WORDS) == set(WAYS)
    for spread, words in SPREAD_WORDS.items():
        facts = spread.facts
        said = [words.label, words.name, words.title, words.make, words.better, *words.edges, *words.ends]
        assert all(said), spread
        assert bool(words.opened) is facts.doubled
        assert bool(words.then) is (facts.doubled and facts.lengths == 1)
        assert bool(words.beside) is (facts.doubled and facts.single)
        assert bool(words.no_flaws) is not facts.flaws


def test_a_table_that_lacks_a_spread_names_it():
    with pytest.raises(LookupError, match="a table says nothing of the spread 'open', 'tube': add"):
        row_for_each("a table", {spread: 1 for spread in WAYS if spread not in (Spread.OPEN, Spread.TUBE)})


def test_the_best_is_no_way_to_lie():
    with pytest.raises(ValueError, match="'best' asks for a spread and is none"):
        no_way_to_lie(Spread.BEST)


def spreads_named(tree):
    return {
        node.attr
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute)
        and isinstance(node.value, ast.Name)
        and node.value.id == "Spread"
        and node.attr in Spread.__members__
    }


MODULES = {
    ".".join(path.relative_to(new_spread.ROOT.parent).with_suffix("").parts): ast.parse(
        path.read_text("utf-8")
    )
    for path in sorted(new_spread.ROOT.rglob("*.py"))
}


def test_spreads_are_told_apart_nowhere_else():
    naming = {name for name, tree in MODULES.items() if spreads_named(tree) - {"BEST", "OPEN"}}
    assert naming == {step.module for step in STEPS} | set(NAMED_ELSEWHERE)


@pytest.mark.parametrize("module", sorted({step.module for step in STEPS}))
def test_no_match_lets_a_spread_fall_to_another(module):
    for node in ast.walk(MODULES[module]):
        if isinstance(node, ast.Match) and any(spreads_named(case.pattern) for case in node.cases):
            assert "assert_never(" in ast.unparse(node.cases[-1]), f"line {node.lineno}"
