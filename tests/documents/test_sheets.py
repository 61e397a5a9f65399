"""The page on the sheets calls things what the sheets call them."""

import re
from dataclasses import replace

import matplotlib.pyplot as plt
import pytest
from matplotlib.text import Text

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.search.laying import Effort
from nesting.drawing.lay.figure import draw_lay
from nesting.estimate.estimating import lay_project
from nesting.units import Unit
from tests.conftest import hook, make_piece, make_project, pairs
from tests.documents.pages import page

CLOTH = Cloth(key="main", name="calico", width_mm=1020, selvedge_mm=10)
SPREADS = [spread for spread in Spread if spread is not Spread.BEST]


@pytest.mark.parametrize("spread", SPREADS)
def test_how_a_cloth_lies_is_told_as_the_drawing_says_it(spread):
    told = re.findall(r"^   - \*(.*?)\*", page("docs/table.md"), re.MULTILINE)
    assert len(told) == len(SPREADS)
    cloth = replace(CLOTH, spread=spread)
    if spread is Spread.TUBE:
        cloth = replace(cloth, tube=True, selvedge_mm=0.0)
    project = make_project(make_piece("front", hook(200, 300), pairs(2)), cloth=cloth)
    result = lay_project(project, effort=Effort(evaluations_per_placement=0, walks=1))
    artists = draw_lay(result.estimates[0], Unit.CM)
    drawn = " ".join(" ".join(one.get_text().split()) for one in artists if isinstance(one, Text))
    plt.close("all")
    assert [words for words in told if words in drawn] == [told[SPREADS.index(spread)]]
