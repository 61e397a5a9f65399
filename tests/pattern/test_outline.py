from dataclasses import replace

import numpy as np
import pytest

from nesting.pattern.outline import MOST_CROSSINGS, piece_faults
from nesting.pattern.piece import Dart, Edge, Mark, Notch, Piece
from nesting.units import Unit
from nesting.words.pieces import piece_mistake


def mistakes(piece):
    here = f"coat.toml, piece {piece.name!r}"
    return [str(piece_mistake(fault, here, Unit.CM)) for fault in piece_faults(piece)]


def with_edge(piece, name, points=None, **changes):
    if points is not None:
        changes["vertices"] = np.array(points, dtype=float)
    return replace(piece, edges=tuple(replace(e, **changes) if e.name == name else e for e in piece.edges))


def polygon(*corners, allowance_mm=1.0):
    corners = np.array(corners, dtype=float)
    ends = np.roll(corners, -1, axis=0)
    names = "abcdefgh"[: len(corners)]
    edges = (Edge(n, np.array([p, q]), allowance_mm) for n, p, q in zip(names, corners, ends, strict=True))
    return Piece("tab", tuple(edges), 90.0, {})


def test_a_good_piece_has_no_mistake(bodice_back, jacket_front):
    assert mistakes(bodice_back) == []
    assert mistakes(jacket_front) == []


def test_a_gap_tells_both_ends_and_how_wide_it_is(bodice_back):
    (told,) = mistakes(with_edge(bodice_back, "shoulder", [(82, 584), (200, 540)]))
    assert told.startswith(
        "coat.toml, piece 'back', edge 'shoulder': The edge ends at (20, 54) cm, the next, 'armhole', "
        "begins at (20.5, 54.6) cm, 7.8 mm away."
    )


def test_an_outline_that_does_not_come_back_is_not_closed(bodice_back):
    (told,) = mistakes(replace(bodice_back, edges=bodice_back.edges[:-1]))
    assert "edge 'side': The outline is not closed: this last edge ends at (24.8, -0.4) cm" in told
    assert "24.8 cm away" in told


def test_every_crossing_is_told_with_its_place_and_both_edges():
    """Two edges of a bow tie cross in its middle.

    ::

        d   b
        |\\ /|
        | X |
        |/ \\|
        a   c
    """
    (told,) = mistakes(polygon((0, 0), (100, 100), (100, 0), (0, 100)))
    assert "edge 'a': The edge crosses or touches edge 'c' at (5, 5) cm." in told


def test_an_edge_that_crosses_itself():
    loop = Edge("loop", np.array([(0, 0), (90, 0), (90, 50), (40, 50), (40, -20.0)]), 1.0)
    rest = Edge("rest", np.array([(40, -20), (-50, -20), (0, 0.0)]), 1.0)
    (told,) = mistakes(Piece("tie", (loop, rest), 90.0, {}))
    assert "edge 'loop': The edge crosses or touches itself at (4, 0) cm." in told


def test_an_outline_that_touches_itself_in_a_corner_is_not_simple():
    told = mistakes(polygon((0, 0), (100, 0), (50, 40), (100, 90), (0, 90), (50, 40)))
    assert any("at (5, 4) cm" in line for line in told)


@pytest.mark.parametrize("corners", [[(0, 0), (50, 50), (100, 100)], [(0, 0), (100, 0)]])
def test_an_outline_on_one_line_has_no_area(corners):
    (told,) = mistakes(polygon(*corners))
    assert "no area" in told


def test_an_edge_of_no_length(bodice_back):
    (told,) = mistakes(with_edge(bodice_back, "shoulder", [(82, 584), (82, 584)]))
    assert "edge 'shoulder': The edge has no length." in told


def test_a_point_written_twice_is_no_fault(bodice_back):
    assert mistakes(with_edge(bodice_back, "shoulder", [(82, 584), (82, 584), (205, 546), (205, 546)])) == []


def test_names_used_twice(bodice_back):
    edges = (*bodice_back.edges[:-1], replace(bodice_back.edges[-1], name="neck"))
    (told,) = mistakes(replace(bodice_back, edges=edges))
    assert "edge 'neck': 2 edges have this name." in told


def test_a_piece_without_edges():
    (told,) = mistakes(Piece("back", (), 90.0, {}))
    assert "There are no edges." in told


@pytest.mark.parametrize(
    ("allowance_mm", "message"),
    [
        (-3.0, "is -0.3 cm. Write 0 or more"),
        (float("nan"), "is nan. Write 0 or more"),
        (250.0, "is 25 cm, more than 20 cm."),
    ],
)
def test_allowances_no_one_sews(bodice_back, allowance_mm, message):
    (told,) = mistakes(with_edge(bodice_back, "side", allowance_mm=allowance_mm))
    assert "edge 'side': The seam allowance " + message in told


@pytest.mark.parametrize(("allowance_mm", "wrong"), [(0.0, 0), (-1e-6, 1), (200.0, 0), (200.001, 1)])
def test_an_allowance_has_room_up_to_both_limits(bodice_back, allowance_mm, wrong):
    """None is less than nothing, none more than 20 cm."""
    assert len(mistakes(with_edge(bodice_back, "side", allowance_mm=allowance_mm))) == wrong


@pytest.mark.parametrize(("allowance_mm", "wrong"), [(25.0, 0), (25.001, 4)])
def test_an_allowance_has_room_up_to_half_of_the_longer_side(allowance_mm, wrong):
    told = mistakes(polygon((0, 0), (50, 0), (50, 30), (0, 30), allowance_mm=allowance_mm))
    assert len(told) == wrong


@pytest.mark.parametrize(("off_mm", "wrong"), [(1.99, 0), (2.01, 1)])
def test_a_notch_and_a_mark_may_be_two_millimetres_off(off_mm, wrong):
    piece = polygon((0, 0), (300, 0), (300, 200), (0, 200))
    at = (150.0, -off_mm)
    assert len(mistakes(replace(piece, notches=(Notch("n", "a", at),)))) == wrong
    assert len(mistakes(replace(piece, marks=(Mark("m", (at,)),)))) == wrong


def test_an_allowance_wider_than_half_the_piece():
    told = mistakes(polygon((0, 0), (50, 0), (50, 30), (0, 30), allowance_mm=30.0))
    assert len(told) == 4
    assert "3 cm, is more than half the piece, 5 cm." in told[0]


def test_a_narrow_strap_may_have_wide_allowances():
    assert mistakes(polygon((0, 0), (300, 0), (300, 10), (0, 10), allowance_mm=10.0)) == []


def test_the_fold_edge_s_own_allowance_is_not_looked_at(bodice_back):
    assert mistakes(with_edge(bodice_back, "centre back", allowance_mm=-1.0)) == []


def test_a_notch_off_its_edge(bodice_back):
    (told,) = mistakes(replace(bodice_back, notches=(Notch("sleeve", "armhole", (100.0, 420.0)),)))
    assert "edge 'armhole', notch 'sleeve': The notch at (10, 42) cm is 8.7 cm off the edge." in told


def test_a_notch_on_another_edge_than_it_names(bodice_back):
    (told,) = mistakes(replace(bodice_back, notches=(Notch("waist", "armhole", (228.0, 180.0)),)))
    assert "It lies on edge 'side': name that one." in told


def test_a_notch_on_an_edge_there_is_not(bodice_back):
    (told,) = mistakes(replace(bodice_back, notches=(Notch("waist", "sidee", (228.0, 180.0)),)))
    assert "There is no edge 'sidee'. The edges are 'centre back', 'neck'," in told


def test_darts_and_marks_outside(bodice_back):
    piece = replace(
        bodice_back,
        darts=(Dart("waist", ((-50.0, 10.0), (10.0, 100.0), (20.0, 10.0))),),
        marks=(Mark("pocket", ((100.0, 100.0), (400.0, 100.0))),),
    )
    dart, mark = mistakes(piece)
    assert "dart 'waist': Its point (-5, 1) cm lies 5 cm outside the outline." in dart
    assert "mark 'pocket': Its point (40, 10) cm lies" in mark


def test_all_faults_are_told_at_once(bodice_back):
    piece = with_edge(bodice_back, "shoulder", [(82, 584), (200, 540)])
    piece = with_edge(piece, "side", allowance_mm=-1.0)
    piece = replace(piece, grain_deg=80.0, notches=(Notch("waist", "sidee", (228.0, 180.0)),))
    assert len(mistakes(piece)) == 4


def test_of_a_tangle_some_crossings_are_told():
    """A zigzag back and forth over itself crosses thousands of times; told are a few."""
    corners = [(float(k * 37 % 101), float(k * 53 % 89)) for k in range(400)]
    ring = np.array([*corners, corners[0]])
    tangle = Piece("tangle", (Edge("round", ring, 0.0),), 90.0, {})
    assert len(piece_faults(tangle)) == MOST_CROSSINGS
