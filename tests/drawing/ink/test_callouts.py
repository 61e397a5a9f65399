import numpy as np
import shapely

from nesting.drawing.ink.callouts import callouts


def rectangle(width: float, height: float) -> np.ndarray:
    return np.array([(0.0, 0), (width, 0), (width, height), (0, height)])


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
