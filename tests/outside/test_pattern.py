"""Units and pattern geometry against what others wrote: standards, general libraries, trade figures."""

import math

import numpy as np
import pint
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.geometry import signed_area
from nesting.pattern.allowance import MITRE_LIMIT, cut_outline
from nesting.pattern.curves import arc
from nesting.pattern.edges import counter_clockwise_edges
from nesting.pattern.piece import Edge, Piece
from nesting.pattern.shaping import cut_shape
from nesting.units import MM_PER_INCH, MM_PER_YARD, Unit, format_buy, format_length, parse_length


@st.composite
def simple_polygons(draw):
    """Corners on whole millimetres round a middle: convex, hollow, with blunt and very sharp corners."""
    count = draw(st.integers(3, 12))
    angles = sorted(draw(st.lists(st.integers(0, 719), min_size=count, max_size=count, unique=True)))
    away = draw(st.lists(st.integers(20, 400), min_size=count, max_size=count))
    corners = np.array(
        [
            (round(r * math.cos(math.radians(a / 2))), round(r * math.sin(math.radians(a / 2))))
            for a, r in zip(angles, away, strict=True)
        ],
        dtype=float,
    )
    assume(len(np.unique(corners, axis=0)) == count)
    polygon = shapely.Polygon(corners)
    assume(polygon.is_valid and polygon.area > 400)
    return corners


def edges_of(corners, allowance_mm):
    ends = np.roll(corners, -1, axis=0)
    return counter_clockwise_edges(
        [
            Edge(f"edge {k}", np.array([p, q]), allowance_mm)
            for k, (p, q) in enumerate(zip(corners, ends, strict=True))
        ]
    )


@given(simple_polygons(), st.floats(0.5, 80.0))
def test_a_uniform_allowance_is_shapely_s_mitred_buffer(corners, allowance_mm):
    """shapely (GEOS): `buffer` with mitred joins and the same limit; its holes are cut over."""
    cut = shapely.Polygon(cut_outline(edges_of(corners, allowance_mm)))
    buffered = shapely.Polygon(corners).buffer(allowance_mm, join_style="mitre", mitre_limit=MITRE_LIMIT)
    reference = shapely.Polygon(buffered.exterior)
    # GEOS thins the line it offsets by up to a hundredth of the allowance before it sets out.
    tolerance_mm = 0.02 + 0.011 * allowance_mm
    assert shapely.hausdorff_distance(cut.exterior, reference.exterior, densify=0.1) <= tolerance_mm
    assert cut.symmetric_difference(reference).area <= 0.02 * reference.length


@given(simple_polygons(), st.floats(0.0, 360.0))
def test_area_is_shapely_s_area_however_the_grain_lies(corners, grain_deg):
    reference = shapely.Polygon(corners).area
    assert abs(signed_area(corners)) == pytest.approx(reference)
    shape = cut_shape(Piece("piece", edges_of(corners, 0.0), grain_deg, {}, allowance_included=True))
    # Vertices within a hundredth of a millimetre of a line are left out.
    assert signed_area(shape.cut_line) == pytest.approx(reference, abs=0.01 * shapely.Polygon(corners).length)


def test_an_arc_has_the_length_of_its_circle():
    """Circumference 2πr (geometry); a chord of 0.25 mm rise is shorter by less than 0.2 per cent here."""
    half = arc(np.array([100.0, 0.0]), np.array([0.0, 100.0]), np.array([-100.0, 0.0]))
    assert np.linalg.norm(np.diff(half, axis=0), axis=1).sum() == pytest.approx(100 * math.pi, rel=2e-3)


def test_yard_and_inch_are_those_of_1959():
    """International yard and pound agreement: 1 yd = 0.9144 m exactly (NBS Addendum to Circular 572)."""
    assert MM_PER_YARD == 914.4
    assert MM_PER_INCH == 25.4
    assert parse_length("1 yd", Unit.CM) == 914.4
    assert parse_length("1 in", Unit.CM) == 25.4
    assert parse_length("36 in", Unit.CM) == parse_length("1 yard", Unit.CM)


@pytest.mark.parametrize("word", ["mm", "cm", "m", "in", "inch", "inches", "yd", "yard", "yards"])
@given(hundredths=st.integers(0, 500_000))
def test_lengths_are_those_of_pint(word, hundredths):
    """The `pint` library's registry of units."""
    value = hundredths / 100
    reference = pint.application_registry.get().Quantity(value, word).to("mm").magnitude
    assert parse_length(f"{value} {word}", Unit.CM) == pytest.approx(reference, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(
    ("written", "cm"), [("1/8 yd", 11.43), ("1/4 yd", 22.86), ("4 1/2 in", 11.43), ("5/8 in", 1.5875)]
)
def test_eighths_of_a_yard_in_centimetres(written, cm):
    """Arithmetic on the 1959 yard: 1/8 yd = 4 1/2 in = 11.43 cm; 1/4 yd = 22.86 cm."""
    assert parse_length(written, Unit.CM) == pytest.approx(10 * cm, abs=1e-9)


@pytest.mark.parametrize(
    ("inches", "cm"),
    [(32, 81.3), (36, 91.4), (39, 99.1), (41, 104.1), (45, 114.3), (50, 127.0), (54, 137.2), (60, 152.4)],
)
def test_cloth_widths_in_inches_and_centimetres(inches, cm):
    """Cloth widths as shops name them, arithmetic on the 1959 inch."""
    assert format_length(parse_length(f"{inches} in", Unit.CM), Unit.CM) == f"{cm:g} cm"
    assert format_length(10 * cm, Unit.IN) == f"{inches} in"


@pytest.mark.parametrize("eighths", range(1, 33))
def test_a_shop_s_eighths_of_a_yard_are_told_as_such(eighths):
    """Shops that sell by the yard cut to 1/8 yd (US household-arithmetic school text, p. 100)."""
    told = format_buy(eighths * 914.4 / 8, Unit.IN)
    assert "." not in told
    assert parse_length(told, Unit.IN) == pytest.approx(eighths * 914.4 / 8)
