"""The documents, read as a person reads them: tables, listings, and what stands in code."""

import re
import tomllib
from pathlib import Path

from benchmarks.documents import looks_the_same
from nesting.files.project.reading import project_from_table
from nesting.files.tables.overlay import overlaid

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PICTURES = DOCS / "pictures"
ANEW = "it is older than what it shows: run python -m benchmarks.documents"
PAGES = sorted(("README.md", "DEVELOPERS.md", *(f"docs/{path.name}" for path in DOCS.glob("*.md"))))


def page(name):
    return (ROOT / name).read_text(encoding="utf-8")


def is_as_drawn(name, made):
    """Whether a picture of the documents shows what was drawn now."""
    return looks_the_same(made, (PICTURES / name).read_bytes())


def listings(text, language=""):
    """What stands between fences of that language, in order."""
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.DOTALL)


def in_code(text):
    """What stands between single backticks; a line break in it is a space."""
    prose = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    return [" ".join(code.split()) for code in re.findall(r"(?<!`)`([^`]+)`(?!`)", prose)]


def rows(text):
    """Rows of every table, cells stripped; heads and rules left out."""
    lines = [line for line in text.splitlines() if line.startswith("|")]
    found = [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]
    rules = {k for k, cells in enumerate(found) if all(set(cell) <= set("-:") for cell in cells)}
    return [cells for k, cells in enumerate(found) if k not in rules and k + 1 not in rules]


def section(text, heading):
    """From that heading to the next of its level or above."""
    (found,) = re.finditer(rf"^(#+) {re.escape(heading)}\n", text, re.MULTILINE)
    rest = text[found.end() :]
    end = re.search(rf"^#{{1,{len(found[1])}}} ", rest, re.MULTILINE)
    return rest[: end.start()] if end else rest


def marked(name, part):
    """What a page holds between ``<!-- part -->`` and ``<!-- end -->``."""
    _, _, rest = page(name).partition(f"<!-- {part} -->\n")
    told, end, _ = rest.partition("<!-- end -->")
    assert end, f"{name} has no part {part}"
    return told


def apron(more=""):
    """The whole file of the reference, an apron with a pocket, with more lines laid over it."""
    whole = tomllib.loads(listings(page("docs/project-file.md"), "toml")[0])
    return project_from_table(overlaid(whole, tomllib.loads(more)))
