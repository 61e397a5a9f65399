"""Words beside places cover no line and no other words."""

from itertools import combinations

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting.drawing.ink.tags import Spot, Tag, place_tags

SQUARE = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0], [0.0, 0.0]])
SHAPE = shapely.Polygon(SQUARE)
places = st.tuples(st.floats(0, 100), st.floats(0, 100))
names = st.text("abcxyzBC12", min_size=1, max_size=12)


def placed(*tags, lines=(SQUARE,)):
    return place_tags(tags, lines, SHAPE, 0.3528)


def test_a_corner_is_named_inside_close_by():
    (one,) = placed(Tag(("A",), (Spot((0.0, 0.0)),), inside=True))
    assert one.leader is None
    assert SHAPE.covers(shapely.box(*one.box))
    assert np.hypot(*one.middle) < 6


def test_an_edge_is_named_outside_by_its_middle():
    (one,) = placed(Tag(("hem", "10 cm"), (Spot((50.0, 0.0), (0.0, -1.0)),), inside=False))
    assert one.middle[0] == 50.0
    assert one.box[3] < 0


def test_where_the_best_place_is_taken_the_next_spot_serves():
    along = (Spot((50.0, 0.0), (0.0, -1.0)), Spot((20.0, 0.0), (0.0, -1.0)))
    first, second = placed(*[Tag(("side seam",), along, inside=False)] * 2)
    assert first.middle[0] == 50.0
    assert second.middle[0] == 20.0


def test_a_tag_farther_off_has_a_line_to_its_place():
    crowd = [Tag((f"name {k}",), (Spot((50.0, 50.0)),), inside=True) for k in range(20)]
    found = placed(*crowd)
    led = [one for one in found if one is not None and one.leader is not None]
    assert led
    for one in led:
        assert one.leader[1] == (50.0, 50.0)


def test_where_there_is_no_room_at_all_it_says_so():
    hatching = [np.array([[-100.0, y], [200.0, y]]) for y in np.arange(-150.0, 250.0, 2.0)]
    assert placed(Tag(("A",), (Spot((50.0, 50.0)),), inside=True), lines=hatching) == (None,)


@settings(max_examples=25)
@given(st.lists(st.tuples(names, places, st.booleans()), min_size=1, max_size=25))
def test_nothing_covers_anything(wanted):
    tags = [Tag((name,), (Spot(at),), inside=inside) for name, at, inside in wanted]
    found = [one for one in placed(*tags) if one is not None]
    boxes = [shapely.box(*one.box) for one in found]
    leaders = [shapely.LineString(one.leader) for one in found if one.leader is not None]
    for box in boxes:
        assert not box.intersects(shapely.LineString(SQUARE))
    for box, other in combinations(boxes, 2):
        assert not box.intersects(other)
    for leader in leaders:
        assert sum(leader.intersects(box) for box in boxes) == 1  # its own
