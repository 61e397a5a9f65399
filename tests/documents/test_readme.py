"""The lesson in the README is a project that can be read, and it quotes what the program says."""

import json
import re

from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.files.project.reading import parse_project
from nesting.files.results.lay_json import estimate_json
from nesting.pattern.piece import CutKind
from tests.documents.pages import apron, listings, page, section


def test_the_parts_of_the_lesson_make_one_project():
    tunic = parse_project("\n".join(listings(page("README.md"), "toml")), source="tunic.toml")
    (back,) = tunic.pieces
    assert back.cuts["main"].kind is CutKind.ON_FOLD
    assert [notch.name for notch in back.notches] == ["top of the slit"]
    (seamed,) = tunic.alternatives
    assert seamed.pieces[0].cuts["main"].kind is CutKind.PAIR


def test_what_it_quotes_of_verdicts_is_said():
    """An apron whose lay is proven the shortest, and one on narrower cloth whose lay is not."""
    quotes = re.findall(r"\*\*\"(.*?)\"\*\*", section(page("README.md"), "What the numbers mean"))
    assert len(quotes) == 3
    first = Effort(evaluations_per_placement=0, walks=1)
    laid = [lay_project(apron(more), effort=first) for more in ("", "cloth.main.width = 75")]
    said = " ".join(json.loads(estimate_json(one))["cloths"][0]["verdict"] for one in laid)
    for quote in quotes:
        assert re.search(re.escape(quote).replace(r"\.\.\.", ".*"), said), quote
