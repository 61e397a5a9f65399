"""Where words go, on shapes simple enough to see the answer."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.labels import InnerLines, Room, callouts, circle_pt, fit_label
from nesting.drawing.text import SMALLEST_PT

NO_LINES = InnerLines((), (), ())


def rectangle(width: float, height: float) -> np.ndarray:
    return np.array([(0.0, 0), (width, 0), (width, height), (0, height)])


def test_a_box_fits_in_a_room_just_larger_and_not_in_one_smaller():
    room = Room(shapely.box(0, 0, 100, 40))
    at = room.place(90, 30)
    assert at is not None
    assert shapely.box(0, 0, 100, 40).covers(shapely.box(at[0] - 45, at[1] - 15, at[0] + 45, at[1] + 15))
    assert room.place(101, 10) is None
    assert room.place(10, 41) is None
    assert Room(shapely.Polygon()).place(1, 1) is None


@given(
    st.lists(st.tuples(st.floats(0, 300), st.floats(0, 200)), min_size=3, max_size=9),
    st.floats(5, 80),
    st.floats(5, 80),
)
def test_what_a_room_gives_is_inside_it(corners: list[tuple[float, float]], width: float, height: float):
    area = shapely.MultiPoint(corners).convex_hull.difference(shapely.box(100, 50, 140, 90))
    area = area if area.area > 1 else shapely.Polygon()
    at = Room(area).place(width, height)
    if at is not None:
        x, y = at
        box = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        assert box.difference(area).area < 1e-6 * width * height


def test_a_roomy_piece_says_everything_in_large_type():
    label = fit_label(3, "sleeve", "1+2 of 2", "face down", rectangle(300, 200), NO_LINES, 1.0)
    assert label is not None
    assert " ".join(label.lines) == "sleeve 1+2 of 2 face down"
    assert label.size_pt == 11
    assert label.upright


def test_a_narrow_piece_is_lettered_along_its_length():
    label = fit_label(3, "belt", "1 of 1", "", rectangle(24, 200), NO_LINES, 1.0)
    assert label is not None
    assert not label.upright
    assert label.lines


def test_words_keep_off_the_grain_line():
    grain = np.array([(40.0, 50), (260, 50)])
    label = fit_label(
        3, "front", "1+2 of 2", "", rectangle(300, 100), InnerLines((grain,), (), ()), mm_per_pt=1.0
    )
    assert label is not None
    assert not shapely.box(*label.box).intersects(shapely.LineString(grain))


def test_what_does_not_fit_is_left_out_step_by_step():
    said = [
        fit_label(12, "breast pocket", "1+2 of 2", "", rectangle(width, 18), NO_LINES, 1.0)
        for width in (150, 80, 20, 12)
    ]
    full, name, number, nothing = said
    assert full is not None
    assert full.lines == ("breast pocket 1+2 of 2",)
    assert name is not None
    assert name.lines == ("breast pocket",)
    assert number is not None
    assert number.lines == ()
    assert nothing is None
    assert all(label.size_pt >= SMALLEST_PT for label in (full, name, number))


def test_callouts_stand_on_free_ground_side_by_side():
    tabs = [rectangle(6, 4) + np.array([20.0 * k, 0]) for k in range(4)]
    taken = [(0.0, 6.0, 80.0, 20.0)]
    labels = callouts(
        [(k + 1, (20.0 * k + 3, 2.0)) for k in range(4)], tabs, taken, (-40, -60, 120, 60), mm_per_pt=1.0
    )
    assert [label.number for label in labels] == [1, 2, 3, 4]
    boxes = [shapely.box(*label.box) for label in labels]
    blocked = shapely.union_all([shapely.Polygon(tab) for tab in tabs] + [shapely.box(*taken[0])])
    assert not any(box.intersects(blocked) for box in boxes)
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert all(label.points_to is not None for label in labels)


def test_no_free_ground_gives_no_callout_rather_than_a_collision():
    assert callouts([(1, (5.0, 5.0))], [rectangle(10, 10)], [], (0, 0, 10, 10), mm_per_pt=1.0) == ()


@pytest.mark.parametrize("number", [1, 27, 104])
def test_the_ring_holds_its_number(number: int):
    from nesting.drawing.text import text_width_pt

    assert circle_pt(number, 7) > text_width_pt(str(number), 7, bold=True)
