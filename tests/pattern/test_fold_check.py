from dataclasses import replace

import numpy as np
import pytest

from nesting.pattern.outline import piece_faults
from nesting.pattern.piece import Edge
from nesting.units import Unit
from nesting.words.pieces import piece_mistake


def mistakes(piece):
    here = f"coat.toml, piece {piece.name!r}"
    return [str(piece_mistake(fault, here, Unit.MM)) for fault in piece_faults(piece)]


def with_points(piece, name, points):
    points = np.array(points, dtype=float)
    return replace(
        piece, edges=tuple(replace(e, vertices=points) if e.name == name else e for e in piece.edges)
    )


def test_an_unknown_fold_edge_lists_the_edges(bodice_back):
    (told,) = mistakes(replace(bodice_back, on_fold="center back"))
    assert "There is no edge 'center back'. The edges are 'centre back', 'neck'," in told


def test_a_bent_fold_edge_tells_how_much_and_where(bodice_back):
    (told,) = mistakes(with_points(bodice_back, "centre back", [(0, 0), (-12, 250), (0, 565)]))
    assert "edge 'centre back': The fold edge is not straight: 12.0 mm off at (-12, 250) mm." in told


def test_half_a_millimetre_is_straight_enough(bodice_back):
    assert mistakes(with_points(bodice_back, "centre back", [(0, 0), (-0.4, 250), (0, 565)])) == []


@pytest.mark.parametrize(
    ("grain_deg", "off", "end_mm"),
    [(80.0, "10.0", 98.1), (0.0, "90.0", 565.0), (91.0, "1.0", 9.9), (267.0, "3.0", 29.6)],
)
def test_a_fold_edge_off_the_grain_tells_the_angle(bodice_back, grain_deg, off, end_mm):
    """Over a fold edge of 565 mm: 565 mm times the sine of the angle."""
    (told,) = mistakes(replace(bodice_back, grain_deg=grain_deg))
    assert f"The fold edge is {off} degrees off the grain line: {end_mm} mm from end to end." in told


def test_a_fold_edge_across_the_grain_may_have_its_numbers_swapped(bodice_back):
    for grain_deg, asked in ((0.0, True), (70.0, False)):
        (told,) = mistakes(replace(bodice_back, grain_deg=grain_deg))
        assert ("the wrong way round?" in told) is asked


@pytest.mark.parametrize("grain_deg", [90.0, 270.0, -90.0, 90.4])
def test_the_grain_may_run_either_way_along_the_fold(bodice_back, grain_deg):
    assert mistakes(replace(bodice_back, grain_deg=grain_deg)) == []


def test_a_piece_on_both_sides_of_its_fold(bodice_back):
    (told,) = mistakes(with_points(bodice_back, "hem", [(248, -4), (-30, -50), (0, 0)]))
    assert "The piece crosses its fold line: edge 'hem' lies 30.0 mm beyond it at (-30, -50) mm." in told


def test_another_edge_on_the_fold_line(bodice_back):
    low = Edge("vent", np.array([(0.0, 0.0), (0.0, 200.0)]), 10.0)
    piece = with_points(bodice_back, "centre back", [(0, 200), (0, 565)])
    (told,) = mistakes(replace(piece, edges=(low, *piece.edges)))
    assert "edge 'vent': The edge lies on the fold line too, beside 'centre back'." in told
