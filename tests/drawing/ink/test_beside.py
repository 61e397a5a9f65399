"""Small words beside lines: inside the piece, clear of its lines and of each other."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.ink.beside import Beside, along_line, around

BOX = np.array([(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)])
SEAM = np.array([(10.0, 10.0), (190.0, 10.0)])


def test_a_figure_stands_inside_beside_the_middle_of_its_edge():
    at = Beside(BOX, [SEAM], [], 1.0).put("1.5", 7.0, along_line(SEAM))
    assert at is not None
    assert at[0] == pytest.approx(100.0)
    assert 10 < at[1] < 20


def test_a_line_has_its_inside_on_the_left():
    assert all(spot.way == (0.0, 1.0) for spot in along_line(SEAM))
    assert all(spot.way == (0.0, -1.0) for spot in along_line(SEAM[::-1]))


@given(words=st.lists(st.sampled_from(["waist", "0.6", "front of the sleeve"]), min_size=2, max_size=12))
def test_words_keep_off_lines_and_each_other(words):
    taken = (80.0, 40.0, 120.0, 60.0)
    beside = Beside(BOX, [SEAM], [taken], 1.0)
    spots = [*along_line(SEAM), *around(np.array([(30.0, 70.0), (150.0, 70.0)]), np.array([1.0, 0.0]))]
    found = [beside.put(one, 7.0, spots) for one in words]
    heights = [shapely.box(at[0] - 3, at[1] - 3, at[0] + 3, at[1] + 3) for at in found if at is not None]
    assert heights
    for k, one in enumerate(heights):
        assert shapely.Polygon(BOX).contains(one)
        assert not one.intersects(shapely.LineString(SEAM))
        assert not one.intersects(shapely.box(*taken))
        assert all(one.disjoint(other) for other in heights[k + 1 :])


def test_where_there_is_no_room_nothing_is_put():
    narrow = BOX * [1.0, 0.05]
    assert (
        Beside(narrow, [], [], 1.0).put("waist", 7.0, around(np.array([(100.0, 2.0)]), np.array([1.0, 0])))
        is None
    )
    spots = around(np.array([(100.0, 50.0)]), np.array([1.0, 0.0]))
    assert Beside(BOX, [], [], 1.0, within=(0.0, 0.0, 50.0, 100.0)).put("waist", 7.0, spots) is None
