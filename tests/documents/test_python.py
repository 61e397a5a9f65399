"""The Python that the documents print runs as it is printed, with less time for the search."""

import inspect
import re

import pytest

import nesting
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.files.project.reading import read_project
from nesting.files.results.lay_json import estimate_json
from tests.cli.running import SMALL
from tests.documents.pages import in_code, listings, page, rows

FIRST = Effort(evaluations_per_placement=0, walks=1)


@pytest.fixture(scope="module")
def quick():
    """`lay_project`, over at once; what it is asked again it knows."""
    laid = {}

    def lay(project):
        if project.version not in laid:
            laid[project.version] = lay_project(project, effort=FIRST)
        return laid[project.version]

    return lay


@pytest.fixture
def folder(tmp_path, monkeypatch, quick):
    """Where a pattern that is quickly laid and drawn is in ``jacket.toml``."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(nesting, "lay_project", quick)
    monkeypatch.setattr(nesting, "example_text", lambda: SMALL)
    (tmp_path / "jacket.toml").write_text(SMALL, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("name", ["README.md", "docs/python.md"])
def test_a_pattern_is_laid_and_its_sheets_are_written(name, folder, capsys):
    (code,) = listings(page(name), "python")
    exec(compile(code, name, "exec"), {})
    printed = capsys.readouterr().out
    assert "canvas" in printed
    assert (folder / "jacket.pdf").read_bytes().startswith(b"%PDF")


def test_the_outlines_are_read_from_the_json(folder, quick, capsys):
    (code,) = listings(page("docs/json.md"), "python")
    (folder / "jacket-lay").mkdir()
    result = quick(read_project("jacket.toml"))
    (folder / "jacket-lay" / "jacket-lay.json").write_text(estimate_json(result), encoding="utf-8")
    exec(compile(code, "docs/json.md", "exec"), {})
    lines = capsys.readouterr().out.splitlines()
    laid = [one for e in result.estimates for section in e.lay.sections for one in section.placed]
    assert len(lines) == len(laid)


def test_every_public_name_is_in_the_table_with_what_it_is_given():
    told = [code for cells in rows(page("docs/python.md")) for code in in_code(cells[0])]
    assert {code.split("(")[0] for code in told} == set(nesting.__all__)
    for code in told:
        name, _, given = code.partition("(")
        arguments = re.findall(r"(\w+)=", given)
        if arguments:
            assert set(arguments) <= set(inspect.signature(getattr(nesting, name)).parameters), name
