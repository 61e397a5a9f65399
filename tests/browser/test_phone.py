"""The shopping list in a real browser at the size of a phone, light and dark, without scripts or network.

Sizes are CSS pixels. Checked against what the browser itself measures and paints, and against WCAG 2.2.
"""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Run
from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList, Use
from nesting.files.results.shopping_html import shopping_html
from nesting.units import Unit
from tests.outside.test_drawing import contrast

CLOTH = Cloth(
    "main", "grey wool hopsack", 1500.0, shrinkage_along_pct=3.0, shrinkage_across_pct=1.0, price_per_m=26.0
)
USE = Use("Short lined jacket", CLOTH, Unit.CM, 1300.0, ((Run(Spread.OPEN, 1),),))
LINE = ShoppingLine(CLOTH, Unit.CM, 1300.0, 33.8, "€", 43.0, (USE,))
NAMES = ("wool", "Donaudampfschifffahrtsgesellschaftskapitänsuniform" * 4, "מעיל צמר אפור", "🧵 " * 60)
SHOPPING = ShoppingList(NAMES, tuple(replace(LINE, cloth=replace(CLOTH, name=name)) for name in NAMES))


def opened(browser, tmp_path, width=360, scheme="light"):
    file = tmp_path / "list.html"
    file.write_text(shopping_html(SHOPPING), encoding="utf-8")
    context = browser.new_context(
        viewport={"width": width, "height": 640},
        is_mobile=True,
        has_touch=True,
        color_scheme=scheme,
        offline=True,
    )
    page = context.new_page()
    page.goto(file.as_uri())
    return page


@pytest.mark.parametrize("width", [320, 360, 430])
def test_nothing_runs_off_the_side_of_a_phone(browser, tmp_path, width):
    """320 px: WCAG 2.2, success criterion 1.4.10, reflow."""
    page = opened(browser, tmp_path, width)
    assert page.evaluate("document.documentElement.scrollWidth") == width
    rights = page.eval_on_selector_all("body *", "all => all.map(e => e.getBoundingClientRect().right)")
    assert max(rights) <= width


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_is_painted_has_the_contrast_that_wcag_asks_for(browser, tmp_path, scheme):
    """WCAG 2.2, success criterion 1.4.6: 7 : 1, between the colours the browser computes."""
    page = opened(browser, tmp_path, scheme=scheme)
    pairs = page.evaluate(
        """() => {
          const ground = e => {
            for (; e; e = e.parentElement) {
              const c = getComputedStyle(e).backgroundColor;
              if (c !== 'rgba(0, 0, 0, 0)') return c;
            }
          };
          return [...document.querySelectorAll('h1, p, span, bdi, dt, dd')]
            .map(e => [getComputedStyle(e).color, ground(e)]);
        }"""
    )
    grounds = {ground for _, ground in pairs}
    assert len(grounds) == 2
    for ink, ground in pairs:
        assert contrast(as_hex(ink), as_hex(ground)) >= 7
    dark = min(sum(channels(ground)) for ground in grounds) < 3 * 128
    assert dark is (scheme == "dark")


def test_a_cloth_is_ticked_off_with_a_thumb(browser, tmp_path):
    """WCAG 2.2, success criterion 2.5.5: a target of at least 44 by 44."""
    page = opened(browser, tmp_path)
    for label in page.locator("label").all():
        assert label.bounding_box()["height"] >= 44
    page.locator("label").first.tap()
    assert page.locator("input").first.is_checked()


def channels(colour):
    return [int(number) for number in colour.removeprefix("rgb(").removesuffix(")").split(",")]


def as_hex(colour):
    return "#" + "".join(f"{number:02x}" for number in channels(colour))
