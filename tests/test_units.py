import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.errors import EllwandError
from nesting.units import (
    BadLength,
    Unit,
    format_area,
    format_buy,
    format_length,
    format_money,
    format_point,
    mm_per,
    parse_length,
)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("1.4 m", 1400.0),
        ("1,4 m", 1400.0),
        ("45 in", 1143.0),
        ("45 inches", 1143.0),
        ("1 inch", 25.4),
        ('45"', 1143.0),
        ("5/8 in", 15.875),
        ("1 1/4 yd", 1143.0),
        ("1-1/4 yards", 1143.0),
        ("1¼ yard", 1143.0),
        ("1½ in", 38.1),
        ("½ in", 12.7),
        ("15 mm", 15.0),
        ("15mm", 15.0),
        ("1.5 CM", 15.0),
        ("2 in.", 50.8),
        (".5 cm", 5.0),
        ("  7  ", 70.0),
        ("-3 mm", -3.0),
        (57.3, 573.0),
        (4, 40.0),
        (0.1, 1.0),
        (1e-7, 1e-6),
    ],
)
def test_lengths_are_read_as_people_write_them(written, mm):
    assert parse_length(written, Unit.CM) == mm


@pytest.mark.parametrize(("unit", "mm"), [(Unit.MM, 2.5), (Unit.CM, 25.0), (Unit.IN, 63.5)])
def test_a_bare_number_is_in_the_declared_unit(unit, mm):
    assert parse_length(2.5, unit) == parse_length("2.5", unit) == parse_length("2 1/2", unit) == mm
    assert mm_per(unit) == pytest.approx(mm / 2.5)


@pytest.mark.parametrize(
    "written",
    [
        *("", " ", "wide", "1 2 cm", "5/0 in", "1.2.3 cm", "1/2/3 in", "--1 cm", "1e3 mm", "nan", "cm"),
        *("4 cm 2 mm", "9" * 99, "² cm"),
        *(math.nan, math.inf, -math.inf, True, None, [4]),
    ],
)
def test_what_is_no_length_is_refused_with_good_forms(written):
    with pytest.raises(BadLength, match=r"1 1/4 yd") as caught:
        parse_length(written, Unit.CM)
    assert repr(written)[:40] in str(caught.value)
    assert isinstance(caught.value, ValueError)
    assert isinstance(caught.value, EllwandError)


def test_an_unknown_unit_is_named_beside_the_known_ones():
    with pytest.raises(BadLength, match=r"'4 ells' has the unit 'ells'.*mm, cm, m, in .* yd"):
        parse_length("4 ells", Unit.CM)


def test_a_comma_that_could_part_thousands_is_refused():
    with pytest.raises(BadLength, match=r"Write 1\.400 or 1400\."):
        parse_length("1,400 mm", Unit.CM)
    assert parse_length("0,125 m", Unit.CM) == 125.0


@pytest.mark.parametrize("written", [10**400, 10_000_000.5, "-1000000.1 cm"])
def test_more_than_ten_kilometres_is_refused(written):
    with pytest.raises(BadLength, match="more than 10 km long"):
        parse_length(written, Unit.MM)


def test_ten_kilometres_and_eighty_signs_are_still_read():
    assert parse_length("10000 m", Unit.MM) == 1e7
    assert parse_length("0" * 79 + "7", Unit.MM) == 7.0
    with pytest.raises(BadLength):
        parse_length("0" * 80 + "7", Unit.MM)


@given(st.integers(-4000, 4000), st.integers(1, 64))
def test_fractions_of_an_inch_are_exact(over, under):
    assert parse_length(f"{over}/{under} in", Unit.CM) == over * 127 / (5 * under)


@pytest.mark.parametrize(
    ("mm", "unit", "told"),
    [
        (573.2, Unit.CM, "57.3 cm"),
        (142.5, Unit.CM, "14.3 cm"),
        (30.0, Unit.CM, "3 cm"),
        (0.2, Unit.CM, "0 cm"),
        (-0.2, Unit.CM, "0 cm"),
        (-30.0, Unit.CM, "-3 cm"),
        (12345.6, Unit.CM, "1234.6 cm"),
        (14.5, Unit.MM, "15 mm"),
        (-0.6, Unit.MM, "-1 mm"),
        (0.6, Unit.MM, "1 mm"),
        (571.5, Unit.IN, "22 1/2 in"),
        (573.0, Unit.IN, "22 1/2 in"),
        (15.875, Unit.IN, "5/8 in"),
        (-15.875, Unit.IN, "-5/8 in"),
        (-3.175, Unit.IN, "-1/8 in"),
        (25.4, Unit.IN, "1 in"),
        (25.3, Unit.IN, "1 in"),
        (0.0, Unit.IN, "0 in"),
    ],
)
def test_lengths_are_told_in_the_person_s_unit(mm, unit, told):
    assert format_length(mm, unit) == told


@given(st.floats(-5000, 5000), st.sampled_from(Unit))
def test_a_length_told_and_read_again_is_nearly_the_same(mm, unit):
    coarse = {Unit.MM: 0.5, Unit.CM: 0.5, Unit.IN: 25.4 / 16}[unit]
    assert abs(parse_length(format_length(mm, unit), Unit.MM) - mm) <= coarse + 1e-6


@pytest.mark.parametrize(
    ("mm", "unit", "told"),
    [
        (1600.0, Unit.CM, "1.60 m"),
        (1500.0, Unit.MM, "1.50 m"),
        (1485.9, Unit.CM, "1.49 m"),
        (1 / 3 * 3000, Unit.CM, "1.00 m"),
        (20_000.0, Unit.CM, "20.00 m"),
        (1485.9, Unit.IN, "1 5/8 yd"),
        (914.4 * 7 / 8, Unit.IN, "7/8 yd"),
        (914.4 * 2, Unit.IN, "2 yd"),
        (1500.0, Unit.IN, "1.65 yd"),
    ],
)
def test_a_length_to_buy_is_never_told_too_short(mm, unit, told):
    assert format_buy(mm, unit) == told
    assert parse_length(told, unit) >= mm - 1e-3


def test_area_is_told_in_square_metres_or_yards():
    assert format_area(2_345_678.0, Unit.CM) == "2.35 m²"
    assert format_area(2_345_678.0, Unit.IN) == "2.81 sq yd"
    assert format_area(1e10, Unit.CM) == "10000.00 m²"


def test_a_place_is_told_in_the_person_s_unit():
    assert format_point((-0.0, 584.04), Unit.CM) == "(0, 58.4) cm"
    assert format_point((25.4, 3.175), Unit.IN) == "(1, 0.125) in"


@pytest.mark.parametrize(
    ("unit", "told"),
    [(Unit.MM, "(12.3, -3.6) mm"), (Unit.CM, "(1.23, -0.36) cm"), (Unit.IN, "(0.486, -0.143) in")],
)
def test_a_place_is_told_to_a_tenth_of_a_millimetre_or_a_thousandth_of_an_inch(unit, told):
    assert format_point((12.3456, -25.4 / 7), unit) == told


@given(st.integers(0, 10**6).map(lambda n: n / 1000), st.sampled_from(Unit))
def test_a_number_is_read_as_the_decimal_it_was_written_as(value, unit):
    assert parse_length(value, unit) == parse_length(repr(value), unit)


@pytest.mark.parametrize(
    ("currency", "told"),
    [
        ("£", "£24.50"),
        ("EUR", "EUR 24.50"),
        ("US$", "US$24.50"),
        ("£E", "£E 24.50"),
        ("P", "P 24.50"),
        ("", "24.50"),
    ],
)
def test_money_stands_after_its_sign_or_after_a_word_and_a_space(currency, told):
    assert format_money(24.5, currency) == told


@pytest.mark.parametrize(
    ("value", "called"), [(2**60 - 1, "1152921504606846975 is"), (2**60, "an endless number is more")]
)
def test_a_number_too_long_to_read_is_not_spelled_out(value, called):
    with pytest.raises(BadLength) as caught:
        parse_length(value, Unit.MM)
    assert str(caught.value).startswith(called)
    assert caught.value.what.startswith(called)
    assert "1 1/4 yd" in caught.value.remedy
