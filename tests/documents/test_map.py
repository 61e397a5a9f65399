"""The map for those who change the program names folders and files that there are."""

import re

import pytest

from tests.documents.pages import ROOT, page

MAP = page("DEVELOPERS.md")
RULES = MAP.partition("### Where a rule is decided")[2].partition("\n### ")[0]
ROWS = [row for row in RULES.splitlines() if row.startswith("| ") and not row.startswith("| to change")]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.split("|")[1].strip())
def test_every_rule_has_its_file(row):
    """A name without a folder is in the folder named before it."""
    folder = ""
    files = re.findall(r"`([\w/]+(?:\.py|/))`", row)
    assert files
    for name in files:
        path = name if "/" in name or not folder else f"{folder}/{name}"
        root = ROOT if path.startswith(("cli/", "tests/", "benchmarks/")) else ROOT / "nesting"
        assert (root / path).exists(), path
        folder = path.rstrip("/").rpartition("/")[0] if path.endswith(".py") else path.rstrip("/")


def test_every_room_stands_in_the_map():
    rooms = {
        path.parent.relative_to(ROOT / "nesting").parts[-1]
        for path in (ROOT / "nesting").rglob("__init__.py")
        if path.parent != ROOT / "nesting"
    }
    told = set(re.findall(r"(\w+)/", MAP.partition("### Where a rule")[0]))
    assert rooms <= told
