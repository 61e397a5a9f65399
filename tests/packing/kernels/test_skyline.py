import numpy as np
import pytest

from nesting.packing.kernels.skyline import ANYWHERE, skyline_length


def length(*boxes, cells=10):
    along, wide, at = zip(*boxes, strict=True)
    return skyline_length(np.array(along, dtype=float), np.array(wide), np.array(at), np.zeros(cells))


def test_boxes_side_by_side_take_the_longest_of_them():
    assert length((30.0, 4, ANYWHERE), (20.0, 6, ANYWHERE)) == 30.0


def test_what_finds_no_room_beside_goes_behind_where_it_reaches_least_far():
    assert length((30.0, 4, ANYWHERE), (20.0, 6, ANYWHERE), (5.0, 6, ANYWHERE)) == 30.0
    assert length((30.0, 4, ANYWHERE), (20.0, 6, ANYWHERE), (5.0, 7, ANYWHERE)) == 35.0


@pytest.mark.parametrize("at", [0, 6])
def test_boxes_that_must_begin_at_a_cell_lie_one_after_another(at):
    assert length((30.0, 4, at), (20.0, 4, at)) == 50.0
