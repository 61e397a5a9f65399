"""Strips against handbooks: slanted ends, joins, and the cloth that a length of bias binding takes."""

import math

import pytest

from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.files.project.reading import parse_project
from nesting.pattern.edges import outline_ring
from nesting.pattern.strips import Join, StripGrain, cut_strips, join_mm, strip_piece

EIGHTH_IN = 25.4 / 8

ALONG_THE_SELVEDGE = {
    1.0: 1 + 3 / 8,
    1.5: 2 + 1 / 8,
    2.5: 3 + 1 / 2,
    3: 4 + 1 / 4,
    4: 5 + 5 / 8,
    5: 7 + 1 / 8,
    6: 8 + 1 / 2,
    7: 9 + 7 / 8,
    9: 12 + 3 / 4,
    10: 14 + 1 / 8,
    11: 15 + 1 / 2,
}
"""Width of a bias strip and its end along a thread, inches: L. I. Baldt, *Clothing for Women*, ch. XXII."""


@pytest.mark.parametrize(("width_in", "along_in"), ALONG_THE_SELVEDGE.items())
def test_the_slanted_end_of_a_bias_strip(width_in, along_in):
    piece = strip_piece("strip", width_in * 25.4, cut_strips(1000, 1000, 0), StripGrain.BIAS)
    (x0, y0), (x1, y1) = piece.edge("end").vertices.tolist()
    assert math.hypot(x1 - x0, y1 - y0) == pytest.approx(along_in * 25.4, abs=EIGHTH_IN)


def test_strips_of_a_waistband():
    """560 cm out of a cloth 108 cm wide, allowances of 1 cm: five give 532 cm and are short, six are needed.

    Arithmetic of a school exercise on joined strips: n strips of width W give n W - 2 a (n - 1).
    """
    taken = join_mm(60.0, StripGrain.ACROSS, Join.STRAIGHT, 10.0)
    assert cut_strips(5600, 1080, taken).number == 6
    assert 5 * 1080 - 4 * taken == pytest.approx(5320)
    assert 6 * 1080 - 5 * taken == pytest.approx(6380)


def lay_of(longest_cm):
    project = parse_project(
        'units = "cm"\n[cloth.main]\nwidth = 86\nselvedge = 0\nstep = 0.1\n[[strip]]\nname = "binding"\n'
        'cloth = "main"\n'
        f"width = 2.5\nlength = 500\nseam = 0\nlongest = {longest_cm}\n"
    )
    (piece,) = project.pieces
    lay = lay_cloth(project, project.cloths["main"], effort=Effort(evaluations_per_placement=20_000, walks=1))
    return piece, lay


def test_cloth_for_five_metres_of_bias_binding():
    """2.5 cm wide, seams left out, from cloth 86 cm wide: the handbook takes 15.5 cm.

    National Instructional Media Institute (India), CITS Dress Making, Trade Practical, p. 220: area of the
    the corners; ours are all equally long, and need a fifth more.
    the corners; ours are all equally long, so they need a fifth more.
    """
    piece, lay = lay_of(longest_cm=26.4)
    number = piece.cuts["main"].number
    long_edge = piece.edge("long edge").vertices
    assert number * (long_edge[1, 1] - long_edge[0, 1]) >= 5000
    assert lay.pieces_area_mm2 == pytest.approx(125_000, rel=0.01)
    assert 155.0 <= lay.length_mm <= 1.25 * 155.0


def test_bias_strips_slant_all_the_same_way():
    """Two whose ends slant otherwise would not join: the cut pieces are turned, never turned over."""
    piece, lay = lay_of(longest_cm=26.4)
    assert len(outline_ring(piece.edges)) == 4
    assert len({placed.face for section in lay.sections for placed in section.placed}) == 1
    assert {placed.turned_deg % 90 for section in lay.sections for placed in section.placed} == {0.0}
