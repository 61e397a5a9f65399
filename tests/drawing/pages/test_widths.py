"""The plot of metres against width: what is on it, read off matplotlib's own artists."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth
from nesting.drawing.pages.widths import draw_widths, widths_pdf, widths_png
from nesting.estimate.overview.widths import FOLDED, OPEN, WidthCurve
from nesting.project import Project
from nesting.units import Unit

CLOTH = Cloth(key="main", name="calico", width_mm=1000.0)
CURVE = WidthCurve(
    Project("cape", Unit.CM, "", {"main": CLOTH}, ()),
    CLOTH,
    (900.0, 1000.0, 1100.0),
    {OPEN: (1500.0, 1300.0, 1300.0), FOLDED: (None, 1500.0, 1300.0)},
)


def test_both_ways_to_lie_are_drawn_in_the_persons_units():
    (ax,) = draw_widths(CURVE).axes
    lines = {line.get_label(): line for line in ax.lines}
    assert lines["open, one layer"].get_xydata().tolist() == [[90, 1.5], [100, 1.3], [110, 1.3]]
    assert lines["lengthwise fold"].get_xydata().tolist() == [[100, 1.5], [110, 1.3]]
    assert {"the file's cloth, 100 cm", "from 110 cm on a fold pays"} <= set(lines)
    assert [text.get_text() for text in ax.texts] == ["100 cm: 1.30 m"]
    assert ax.get_xlabel() == "width of the cloth, cm"


def test_yards_for_a_person_who_uses_inches():
    inches = replace(CURVE, project=replace(CURVE.project, unit=Unit.IN))
    (ax,) = draw_widths(inches).axes
    assert ax.get_ylabel() == "to buy, yards"
    assert ax.lines[0].get_ydata()[0] == pytest.approx(1500 / 914.4)


@pytest.mark.parametrize("title", ["cape", "a very long name " * 20, "$x_1$ מעיל 🧵", "x" * 300])
def test_no_name_breaks_the_plot_and_the_same_curve_gives_the_same_bytes(title):
    curve = replace(CURVE, project=replace(CURVE.project, title=title))
    assert widths_pdf(curve) == widths_pdf(curve)
    assert widths_png(curve, dpi=40).startswith(b"\x89PNG")
