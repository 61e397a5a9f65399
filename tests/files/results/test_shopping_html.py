"""The shopping list as text and for a phone: well formed, self-contained, and true to the list."""

from html.parser import HTMLParser

import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Run
from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList, Use
from nesting.files.results.shopping_html import shopping_html
from nesting.files.results.shopping_text import shopping_text
from nesting.units import Unit

VOID = {"meta", "input", "br", "link", "img"}


def line(name="calico", cost=4.8, uses=("cape",)):
    cloth = Cloth("main", name, 1500.0, selvedge_mm=0.0)
    each = tuple(Use(title, cloth, Unit.CM, 1200.0, ((Run(Spread.OPEN, 1),),)) for title in uses)
    return ShoppingLine(cloth, Unit.CM, 1200.0, cost, "€", 30.0, each)


class Tags(HTMLParser):
    """Checks that what is opened is closed in turn; keeps text, tags and attributes."""

    def __init__(self, page):
        super().__init__()
        self.open, self.tags, self.text, self.attributes = [], [], [], []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        self.text.append(data)


def test_the_page_is_whole_and_loads_nothing():
    page = shopping_html(ShoppingList(("cape",), (line(), line("wool", None, ("cape", "hood")))))
    tags = Tags(page)
    assert page.startswith("<!DOCTYPE html>")
    assert not {"script", "link", "img", "iframe"} & set(tags.tags)
    assert not {"src", "href", "onclick", "onload"} & {name for name, _ in tags.attributes}
    assert "http" not in page
    assert "url(" not in page
    assert ("name", "viewport") in tags.attributes
    assert tags.tags.count("input") == 2
    text = "".join(tags.text).replace("\N{NO-BREAK SPACE}", " ")
    for words in (
        "1.20 m",
        "calico",
        "€4.80",
        "no price",
        "150 cm wide; no shrinkage",
        "Without a price: wool",
    ):
        assert words in text
    assert "in one length; each bought by itself: cape 1.20 m, hood 1.20 m" in text


@pytest.mark.parametrize("name", ['<b>"bold" & co</b>', "</style><script>", "מעיל", "🧵 thread", "x" * 400])
def test_names_are_shown_as_they_are_written(name):
    page = shopping_html(ShoppingList((name,), (line(name),)))
    tags = Tags(page)
    assert "script" not in tags.tags
    assert tags.text.count(name) >= 2
    assert name in shopping_text(ShoppingList((name,), (line(name),)))


def test_the_text_can_be_read_in_a_message():
    text = shopping_text(ShoppingList(("cape", "hood"), (line(uses=("cape", "hood")), line("wool", None))))
    assert text.splitlines()[:5] == [
        "To buy for: cape, hood",
        "",
        "[ ] 1.20 m of calico, 150 cm wide: €4.80",
        "    cape: rests on 150 cm wide; no shrinkage; without nap, either way up; laid: open, one layer",
        "    hood: rests on 150 cm wide; no shrinkage; without nap, either way up; laid: open, one layer",
    ]
    assert "Together, as far as prices are known: €4.80\nWithout a price: wool\n" in text


def test_an_early_end_is_told_in_both():
    shopping = ShoppingList(("cape",), (line(),), early=True)
    assert "ended early" in shopping_text(shopping)
    assert "ended early" in shopping_html(shopping)
