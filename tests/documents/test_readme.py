"""The lesson in the README is a project that can be read, and its links lead somewhere."""

import re
from pathlib import Path

import pytest

from nesting.files.project.reading import parse_project
from nesting.pattern.piece import CutKind

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_parts_of_the_lesson_make_one_project():
    parts = re.findall(r"^```toml\n(.*?)^```", README, re.MULTILINE | re.DOTALL)
    tunic = parse_project("\n".join(parts), source="tunic.toml")
    (back,) = tunic.pieces
    assert back.cuts["main"].kind is CutKind.ON_FOLD
    assert [notch.name for notch in back.notches] == ["top of the slit"]
    (seamed,) = tunic.alternatives
    assert seamed.pieces[0].cuts["main"].kind is CutKind.PAIR


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md", "docs/README.md", "docs/table.md"])
def test_links_between_documents_lead_somewhere(document):
    path = ROOT / document
    links = re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8"))
    assert links
    assert [link for link in links if not (path.parent / link).exists()] == []
