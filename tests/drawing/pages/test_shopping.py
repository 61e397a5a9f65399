"""The shopping list on paper: one page, whatever the names."""

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Run
from nesting.drawing.ink.sheet import A4, LETTER
from nesting.drawing.pages.shopping import shopping_pdf
from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList, Use
from nesting.units import Unit

FACTS = ("150 cm wide with selvedges of 1 cm", "shrinks 3 % along, 1 % across", "laid: open, one layer")
CALICO = Cloth("main", "calico", 1500.0, shrinkage_along_pct=3.0, shrinkage_across_pct=1.0, price_per_m=4.0)
USE = Use("cape", CALICO, Unit.CM, 1200.0, ((Run(Spread.OPEN, 1),),))
LINE = ShoppingLine(CALICO, Unit.CM, 1200.0, 4.8, "€", 30.0, (USE,))


def named(name, **changes):
    """The line of a cloth of that name."""
    return replace(LINE, cloth=replace(CALICO, name=name), **changes)


def pages(shopping, **options):
    return PdfReader(BytesIO(shopping_pdf(shopping, **options))).pages


def words(page):
    return " ".join(page.extract_text().split())


def test_the_list_is_on_the_page():
    (page,) = pages(ShoppingList(("cape",), (LINE, named("voile", cost=None))))
    text = words(page)
    assert "calico, 150 cm wide 1.20 m €4.80" in text
    assert "Without a price: voile" in text
    assert text.count("shrinks 3 % along") == 2


@pytest.mark.parametrize("page", [A4, LETTER])
def test_sixteen_cloths_go_on_one_page(page):
    lines = tuple(named(f"cloth number {n}") for n in range(16))
    (only,) = pages(ShoppingList(("all the costumes of a pantomime",), lines), page=page)
    assert "cloth number 15" in words(only)


@pytest.mark.parametrize("name", ["a very long name " * 20, "x" * 300, "מעיל קצר", "معطف", "🧵🪡", "外套"])
def test_no_name_breaks_the_page(name):
    (page,) = pages(ShoppingList((name,), (named(name),)))
    assert "1.20 m" in words(page)
