from dataclasses import replace

import numpy as np
import pytest

from nesting.geometry import signed_area
from nesting.pattern.edges import (
    counter_clockwise_edges,
    distinct_points,
    edge_length_mm,
    extent_mm,
    outline_ring,
    size_mm,
)
from nesting.pattern.piece import Edge


def edge(name, *points):
    return Edge(name, np.array(points, dtype=float), 10.0)


UP_LEFT_SIDE = (
    edge("left", (0, 0), (0, 30)),
    edge("top", (0, 30), (20, 30), (40, 30)),
    edge("slant", (40, 30), (0, 0)),
)


def test_the_ring_has_each_corner_once():
    assert outline_ring(UP_LEFT_SIDE).tolist() == [[0, 0], [0, 30], [20, 30], [40, 30]]


def test_a_clockwise_walk_is_turned_round_edge_by_edge():
    turned = counter_clockwise_edges(UP_LEFT_SIDE)
    assert [e.name for e in turned] == ["slant", "top", "left"]
    assert turned[1].vertices.tolist() == [[40, 30], [20, 30], [0, 30]]
    assert signed_area(outline_ring(turned)) == -signed_area(outline_ring(UP_LEFT_SIDE)) > 0
    again = counter_clockwise_edges(turned)
    assert [e.name for e in again] == [e.name for e in turned]


def test_points_written_twice_are_kept_once():
    twice = edge("hem", (0, 0), (0, 0), (5, 0), (5, 0), (9, 0), (9, 0))
    assert distinct_points([twice])[0].vertices.tolist() == [[0, 0], [5, 0], [9, 0]]
    nowhere = edge("hem", (1, 1), (1, 1), (1, 1))
    assert distinct_points([nowhere])[0].vertices.tolist() == [[1, 1], [1, 1]]


def test_measures():
    assert edge_length_mm(UP_LEFT_SIDE[1].vertices) == 40.0
    assert edge_length_mm(UP_LEFT_SIDE[2].vertices) == pytest.approx(50.0)


def test_size_is_that_of_the_box_about_the_drawn_outline(bodice_back):
    corners = [corner for edge in bodice_back.edges for corner in edge.vertices.tolist()]
    across, up = zip(*corners, strict=True)
    assert size_mm(bodice_back) == (max(across) - min(across), max(up) - min(up))


def test_extent_is_the_longer_side_on_the_paper(bodice_back):
    assert extent_mm(bodice_back) == pytest.approx(588.0)
    moved = tuple(replace(e, vertices=e.vertices[:, ::-1] + 70) for e in bodice_back.edges)
    assert extent_mm(replace(bodice_back, edges=moved)) == pytest.approx(588.0)
