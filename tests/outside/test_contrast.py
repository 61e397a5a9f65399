"""Colours of the page for the phone and of the plot against WCAG 2.2, without a browser to look."""

import pytest
from matplotlib.colors import to_hex

from nesting.drawing.pages.widths import draw_widths
from nesting.files.results.shopping_html import DARK, LIGHT
from tests.drawing.pages.test_widths import CURVE
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


def test_every_stroke_of_the_plot_passes_and_none_is_told_apart_by_colour_alone():
    """Success criteria 1.4.11 (3 : 1) and 1.4.1 (use of colour)."""
    (ax,) = draw_widths(CURVE).axes
    assert len(ax.lines) == 4
    for line in ax.lines:
        assert contrast(to_hex(line.get_color()), "#ffffff") >= 3
    strokes = {(str(line._unscaled_dash_pattern), line.get_marker()) for line in ax.lines}
    assert len(strokes) == 4
