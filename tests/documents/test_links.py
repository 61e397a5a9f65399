"""Links, pictures and modules that the documents name are there."""

import importlib.util
import re

import pytest

from tests.documents.pages import DOCS, PAGES, ROOT, in_code, page


def anchors(text):
    """What headings are called in a link: small letters, hyphens for spaces, no other signs."""
    plain = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    heads = re.findall(r"^#+ (.*)$", plain, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


@pytest.mark.parametrize("name", PAGES)
def test_links_lead_somewhere(name):
    links = re.findall(r"\]\(([^)\s]+)\)", page(name))
    here = ROOT / name
    wrong = []
    for link in links:
        file, _, anchor = link.partition("#")
        if file.startswith("https:"):
            continue
        target = here.parent / file if file else here
        if not target.exists() or (anchor and anchor not in anchors(target.read_text(encoding="utf-8"))):
            wrong.append(link)
    assert wrong == []


def test_every_page_is_in_the_list_of_pages():
    listed = set(re.findall(r"\]\((?:\.\./)?([^)#]+\.md)\)", page("docs/README.md")))
    assert {path.name for path in DOCS.glob("*.md")} - {"README.md"} <= listed


def test_every_page_is_in_the_site():
    """`docs/site/mkdocs.yml`; two pages from above the folder have names of their own there."""
    listed = set(re.findall(r": ([\w-]+\.md)$", page("docs/site/mkdocs.yml"), re.MULTILINE))
    assert listed == {path.name for path in DOCS.glob("*.md")} | {"begin.md", "developers.md"}


def test_every_picture_is_shown_somewhere():
    shown = {link for name in PAGES for link in re.findall(r"pictures/([^)\s]+)\)", page(name))}
    assert {path.name for path in (DOCS / "pictures").iterdir()} == shown


@pytest.mark.parametrize("name", PAGES)
def test_modules_that_are_named_exist(name):
    """Whole names, as ``nesting.files.project.reading``, and files, as ``tests/outside``."""
    codes = [code for code in in_code(page(name)) if " " not in code]
    modules = {code for code in codes if re.fullmatch(r"(nesting|benchmarks)(\.[a-z_]+)+", code)}
    assert [one for one in modules if not found(one)] == []
    paths = {code for code in codes if re.fullmatch(r"(nesting|cli|tests|docs|benchmarks)/[\w./-]*", code)}
    assert [one for one in paths if not (ROOT / one).exists()] == []


def found(module):
    """Whether there is such a module, or such a name in one."""
    try:
        return importlib.util.find_spec(module) is not None
    except ModuleNotFoundError:
        before, _, name = module.rpartition(".")
        return importlib.util.find_spec(before) is not None and hasattr(importlib.import_module(before), name)
