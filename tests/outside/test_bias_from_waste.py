"""Strips on the bias, as they are set out on the cloth, against a table in a dressmaking book.

L. I. Baldt, Clothing for Women: Selection, Design, Construction, ch. XXII: how far apart along the selvedge
the lines of a bias strip are for its width, in inches, to the eighth (seen as an excerpt).
"""

import numpy as np
import pytest
import shapely

from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.in_hand.leftover import left_over
from nesting.cutting.search.laying import Effort, lay_cloth
from tests.conftest import box, make_piece, make_project, singles

ALONG_THE_SELVEDGE_IN = {
    1.0: 1 + 3 / 8,
    1.5: 2 + 1 / 8,
    2.5: 3.5,
    3.0: 4.25,
    4.0: 5 + 5 / 8,
    5.0: 7 + 1 / 8,
    6.0: 8.5,
}


@pytest.mark.parametrize(("width_in", "along_in"), ALONG_THE_SELVEDGE_IN.items())
def test_a_strip_crosses_the_selvedge_line_as_far_as_the_book_says(width_in, along_in):
    wish = SmallPiece("binding", "main", 25.4 * width_in, 500.0, lie=Lie.BIAS)
    project = make_project(make_piece("box", box(200, 200), singles()))
    lay = lay_cloth(project, project.cloths["main"], effort=Effort(evaluations_per_placement=0, walks=1))
    (strip,) = left_over(lay, 900.0, (wish,)).placed
    polygon = shapely.Polygon(strip.outline)
    middle = polygon.centroid
    line = shapely.LineString([(middle.x - 2000, middle.y), (middle.x + 2000, middle.y)])
    assert line.intersection(polygon).length / 25.4 == pytest.approx(along_in, abs=1 / 8)
    assert np.isclose(polygon.area, 25.4 * width_in * 500.0)
