"""Pages along the cloth: what each shows, and that none of the cloth is lost between them."""

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.lay.view import View, pages_needed, views, visible

SQUARE = np.array([(0.0, 0), (100, 0), (100, 50), (0, 50)])


def test_a_lay_that_fits_takes_one_page_without_overlap():
    (only,) = views(-20.0, 980.0, 1000.0, 100.0)
    assert (only.x0, only.x1, only.starts, only.ends) == (-20.0, 980.0, True, True)


@given(length=st.floats(1, 30_000), page=st.floats(300, 3000), overlap=st.floats(0, 200))
def test_pages_cover_the_cloth_and_overlap_by_what_was_asked(length, page, overlap):
    pages = views(-20.0, length - 20.0, page, overlap)
    assert len(pages) == pages_needed(length, page, overlap)
    assert pages[0].x0 == -20.0
    assert pages[-1].x1 == pytest.approx(length - 20.0)
    for one, other in pairwise(pages):
        assert one.x1 - other.x0 == pytest.approx(overlap, abs=1e-6)
    assert all(one.x1 - one.x0 <= page + 1e-6 for one in pages)


def test_what_a_page_shows_of_a_piece():
    assert visible(SQUARE, View(-10, 200)) == (SQUARE, 1.0)
    assert visible(SQUARE, View(100, 200)) is None
    part, share = visible(SQUARE, View(75, 200))
    assert share == pytest.approx(0.25)
    assert shapely.Polygon(part).bounds == (75, 0, 100, 50)


def test_of_two_parts_the_larger_is_shown():
    fork = np.array([(0.0, 0), (100, 0), (100, 10), (20, 10), (20, 20), (80, 20), (80, 50), (0, 50)])
    part, _ = visible(fork, View(50, 200))
    assert shapely.Polygon(part).bounds == (50, 20, 80, 50)
