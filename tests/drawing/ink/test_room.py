import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.ink.room import Room


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
