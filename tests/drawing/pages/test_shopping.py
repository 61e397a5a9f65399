"""The shopping list on paper: one page, whatever the names."""

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from nesting.drawing.ink.sheet import A4, LETTER
from nesting.drawing.pages.shopping import shopping_pdf
from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList, Use
from nesting.units import Unit

FACTS = ("150 cm wide with selvedges of 1 cm", "shrinks 3 % along, 1 % across", "laid: open, one layer")
LINE = ShoppingLine(
    "calico", "150 cm wide", Unit.CM, 1200.0, 4.8, "€", 30.0, 100.0, (Use("cape", "main", 1200.0, FACTS),)
)


def pages(shopping, **options):
    return PdfReader(BytesIO(shopping_pdf(shopping, **options))).pages


def words(page):
    return " ".join(page.extract_text().split())


def test_the_list_is_on_the_page():
    (page,) = pages(ShoppingList(("cape",), (LINE, replace(LINE, name="voile", cost=None))))
    text = words(page)
    assert "calico, 150 cm wide 1.20 m €4.80" in text
    assert "Without a price: voile" in text
    assert text.count("shrinks 3 % along") == 2


@pytest.mark.parametrize("page", [A4, LETTER])
def test_sixteen_cloths_go_on_one_page(page):
    lines = tuple(replace(LINE, name=f"cloth number {n}") for n in range(16))
    (only,) = pages(ShoppingList(("all the costumes of a pantomime",), lines), page=page)
    assert "cloth number 15" in words(only)


@pytest.mark.parametrize("name", ["a very long name " * 20, "x" * 300, "מעיל קצר", "معطف", "🧵🪡", "外套"])
def test_no_name_breaks_the_page(name):
    (page,) = pages(ShoppingList((name,), (replace(LINE, name=name),)))
    assert "1.20 m" in words(page)
