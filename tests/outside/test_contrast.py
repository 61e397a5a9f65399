"""Colours of the page for the phone against WCAG 2.2, where no browser can be had to look for itself."""

import pytest

from nesting.files.shopping_html import DARK, LIGHT
from tests.outside.test_drawing import contrast


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ink", ["ink", "quiet"])
@pytest.mark.parametrize("ground", ["ground", "card"])
def test_words_pass_level_aaa(colours, ink, ground):
    """Success criterion 1.4.6: at least 7 : 1."""
    assert contrast(colours[ink], colours[ground]) >= 7


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["ground", "card"])
def test_lines_and_boxes_pass(colours, ground):
    """Success criterion 1.4.11: at least 3 : 1."""
    assert contrast(colours["line"], colours[ground]) >= 3
