"""Links between the documents lead somewhere, headings that they name too; the site has every page."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SITE = (ROOT / "docs" / "site" / "mkdocs.yml").read_text(encoding="utf-8")
PAGES = [
    *ROOT.glob("*.md"),
    *(ROOT / "docs").glob("*.md"),
    *(ROOT / "benchmarks").rglob("*.md"),
]
LINK = re.compile(r"\]\(([^)\s]*)\)")


def without_listings(page):
    return re.sub(r"^```.*?^```", "", page.read_text(encoding="utf-8"), flags=re.MULTILINE | re.DOTALL)


def anchors(page):
    """What a heading is called in a link: in lower case, hyphens for spaces, no other signs."""
    headings = re.findall(r"^#+ (.*)$", without_listings(page), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-") for heading in headings}


def leads_somewhere(page, link):
    if link.startswith(("https://", "http://")):
        return True
    name, _, anchor = link.partition("#")
    target = page.parent / name if name else page
    return target.exists() and (not anchor or anchor in anchors(target))


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_somewhere(page):
    links = LINK.findall(without_listings(page))
    assert [link for link in links if not leads_somewhere(page, link)] == []


def test_there_are_links_to_check():
    assert sum(len(LINK.findall(without_listings(page))) for page in PAGES) > 50


@pytest.mark.parametrize(("link", "is_there"), [("#set-up", True), ("#set-down", False), ("gone.md", False)])
def test_a_link_that_leads_nowhere_would_be_found(link, is_there):
    assert leads_somewhere(ROOT / "DEVELOPERS.md", link) is is_there


@pytest.mark.parametrize("listed", [SITE, (ROOT / "docs" / "README.md").read_text(encoding="utf-8")])
def test_every_document_is_listed_in_the_site_and_in_the_list_of_documents(listed):
    for page in (ROOT / "docs").glob("*.md"):
        assert page.name == "README.md" or re.search(rf"\b{page.name}\b", listed), page.name
