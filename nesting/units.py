"""How people write lengths ("1.4 m", "45 in", "5/8 in", "1 1/4 yd"); inside, all is millimetres.

Terms
-----
bare number
    A length without a unit of its own; it is in the unit the project declares.

Source of the two constants: the international yard and pound agreement, in force since 1 July 1959
(United States: National Bureau of Standards, Addendum to Circular 572): 1 yd = 0.9144 m exactly,
hence 1 in = 25.4 mm exactly.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Iterable
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType

from nesting.errors import EllwandError
from nesting.lettering import quoted

__all__ = [
    "MM_PER_INCH",
    "MM_PER_YARD",
    "BadLength",
    "Unit",
    "format_area",
    "format_buy",
    "format_length",
    "format_money",
    "format_off",
    "format_point",
    "format_step",
    "mm_per",
    "parse_length",
]

MM_PER_INCH = 25.4
MM_PER_YARD = 914.4
"""Exact since 1 July 1959 (international yard)."""

LONGEST_MM = 1e7
"""Ten kilometres: no length in a pattern or a cloth is longer, so a greater one is a slip."""

LONGEST_TEXT = 80
"""Signs; nothing longer is a length."""


class Unit(StrEnum):
    """What the person measures in."""

    MM = "mm"
    CM = "cm"
    IN = "in"


class BadLength(EllwandError, ValueError):
    """Something that cannot be read as a length.

    Attributes
    ----------
    what, remedy : str
        What is wrong with it, and what to write instead; in sentences.
    """

    def __init__(self, what: str, remedy: str) -> None:
        self.what, self.remedy = what, remedy
        super().__init__(what, remedy)

    def __str__(self) -> str:
        return f"{self.what} {self.remedy}"


_MOST_BITS = 60
"""A whole number of more is not spelled out in a message."""
_SMALL_MM = 10.0
"""What is less is told in mm to those who measure in cm."""
_INCH = Fraction("25.4")
_YARD = Fraction("914.4")
_MM_PER_WORD = MappingProxyType(
    {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "in": _INCH,
        "inch": _INCH,
        "inches": _INCH,
        '"': _INCH,
        "″": _INCH,
        "yd": _YARD,
        "yard": _YARD,
        "yards": _YARD,
    }
)
_GOOD_FORMS = 'Write for example 57.3, "1.4 m", "15 mm", "45 in", "5/8 in" or "1 1/4 yd".'

_LENGTH = re.compile(
    r"""(?P<sign>[-+−]?)\s*
        (?: (?:(?P<whole>\d+)(?:\s+|-))? (?P<over>\d+)\s*/\s*(?P<under>\d+)   # 5/8   1 1/4   1-1/4
          | (?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+) )                            # 57    57.3    1,4   .5
        \s* (?P<unit>[^\W\d_]+\.?|["″])?""",
    re.VERBOSE,
)
_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}(?!\d)")


def mm_per(unit: Unit) -> float:
    """How many millimetres one of `unit` is.

    >>> mm_per(Unit.IN)
    25.4
    """
    return float(_MM_PER_WORD[unit.value])


def parse_length(value: str | int | float, default: Unit) -> float:
    """Read a length as a person writes it.

    Parameters
    ----------
    value : str, int or float
        A number, whole or decimal (point or comma) or with a fraction, and perhaps a unit: mm, cm, m,
        in, inch, inches, yd, yard, yards. A minus sign is kept: a place may lie left of the corner.
    default : Unit
        What a bare number is in.

    Returns
    -------
    float
        Millimetres; worked out in exact fractions and rounded once, at the end.

    Raises
    ------
    BadLength
        For anything else, and for a comma that could also part thousands ("1,400 mm").

    Examples
    --------
    >>> parse_length("1½ in", Unit.CM)
    38.1
    >>> parse_length("1,4 m", Unit.CM)
    1400.0
    >>> parse_length("1 1/4", Unit.IN)
    31.75
    """
    length = _exact(value) * _MM_PER_WORD[default.value] if _is_number(value) else _from_text(value, default)
    if abs(length) > LONGEST_MM:
        raise BadLength(f"{_as_written(value)} is more than {LONGEST_MM / 1e6:g} km long.", _GOOD_FORMS)
    return float(length)


def _as_written(value: str | int | float) -> str:
    """As it stands in the file, unless it is a number too long for Python to spell."""
    if isinstance(value, str):
        return quoted(value)
    endless = isinstance(value, int) and value.bit_length() > _MOST_BITS
    return "an endless number" if endless else repr(value)


def format_length(mm: float, unit: Unit) -> str:
    """Write a length for people: whole mm, cm to one decimal, inches to the nearest eighth.

    >>> format_length(573.2, Unit.CM), format_length(571.5, Unit.IN), format_length(30.0, Unit.CM)
    ('57.3 cm', '22 1/2 in', '3 cm')
    """
    if unit is Unit.MM:
        return f"{_nearest(mm)} mm"
    if unit is Unit.CM:
        return f"{_nearest(mm) / 10:.10g} cm"
    return f"{_eighths(_nearest(mm * 8 / MM_PER_INCH))} in"


def format_point(point_mm: Iterable[float], unit: Unit) -> str:
    """Write a place on the paper in the person's unit.

    >>> format_point((82.0, 584.04), Unit.CM)
    '(8.2, 58.4) cm'
    """
    decimals = {Unit.MM: 1, Unit.CM: 2, Unit.IN: 3}[unit]
    x, y = (round(float(v) / mm_per(unit), decimals) + 0.0 for v in point_mm)
    return f"({x:g}, {y:g}) {unit.value}"


def format_off(mm: float, unit: Unit) -> str:
    """Write how far something is off: finer than a length, for it may be little.

    >>> format_off(187.0, Unit.CM), format_off(0.62, Unit.CM), format_off(0.62, Unit.IN)
    ('18.7 cm', '0.6 mm', '0.02 in')
    """
    if unit is Unit.IN:
        return f"{mm / MM_PER_INCH:.2f} in"
    return f"{mm:.1f} mm" if unit is Unit.MM or mm < _SMALL_MM else f"{round(mm / 10, 1):g} cm"


def format_buy(mm: float, unit: Unit) -> str:
    """Write a length to ask for in the shop: metres, or yards in eighths.

    Never less than `mm`: what does not come out even (in centimetres, or in eighths of a yard) is
    written to two decimals, rounded up.

    >>> format_buy(1600.0, Unit.CM), format_buy(1485.9, Unit.IN), format_buy(1500.0, Unit.IN)
    ('1.60 m', '1 5/8 yd', '1.65 yd')
    """
    if unit is not Unit.IN:
        return f"{_hundredths_up(mm / 1000):.2f} m"
    eighths = mm * 8 / MM_PER_YARD
    if math.isclose(eighths, round(eighths), abs_tol=1e-6):
        return f"{_eighths(round(eighths))} yd"
    return f"{_hundredths_up(mm / MM_PER_YARD):.2f} yd"


def format_step(mm: float, unit: Unit) -> str:
    """Write a difference between lengths to buy: yards for people who buy by the yard, else their unit.

    >>> format_step(100.0, Unit.CM), format_step(114.3, Unit.IN)
    ('10 cm', '1/8 yd')
    """
    return format_buy(mm, unit) if unit is Unit.IN else format_length(mm, unit)


def format_area(mm2: float, unit: Unit) -> str:
    """Write an area of cloth: square metres, or square yards.

    >>> format_area(1_234_000.0, Unit.MM), format_area(914.4**2, Unit.IN)
    ('1.23 m²', '1.00 sq yd')
    """
    if unit is Unit.IN:
        return f"{mm2 / MM_PER_YARD**2:.2f} sq yd"
    return f"{mm2 / 1e6:.2f} m²"


def format_money(amount: float, currency: str) -> str:
    """Write an amount after its sign, or after a word and a space.

    >>> format_money(24.5, "£"), format_money(24.5, "EUR"), format_money(24.5, "")
    ('£24.50', 'EUR 24.50', '24.50')
    """
    return f"{currency}{' ' if currency[-1:].isalpha() else ''}{amount:.2f}"


def _is_number(value: str | int | float) -> bool:
    return not isinstance(value, str)


def _exact(value: str | int | float) -> Fraction:
    endless = isinstance(value, float) and not math.isfinite(value)
    if isinstance(value, bool) or not isinstance(value, int | float) or endless:
        raise BadLength(f"{_as_written(value)} is no length.", _GOOD_FORMS)
    # Through its shortest decimal, so that 0.1 is the tenth that was written.
    return Fraction(repr(value)) if isinstance(value, float) else Fraction(value)


def _from_text(value: str | int | float, default: Unit) -> Fraction:
    text = _plain_fractions(str(value)).strip()
    found = _LENGTH.fullmatch(text) if len(text) <= LONGEST_TEXT else None
    if found is None or (found["under"] is not None and int(found["under"]) == 0):
        raise BadLength(f"{_as_written(value)} is no length.", _GOOD_FORMS)
    word = (found["unit"] or default.value).removesuffix(".").casefold()
    if word not in _MM_PER_WORD:
        raise BadLength(
            f"{_as_written(value)} has the unit {quoted(found['unit'])}, which is not known here; "
            "known are mm, cm, m, in (inch, inches) and yd (yard, yards).",
            _GOOD_FORMS,
        )
    if found["decimal"] is not None:
        if _THOUSANDS.fullmatch(found["decimal"]):
            raise BadLength(
                f"{_as_written(value)} could be read in two ways: the comma may part decimals or thousands.",
                f"Write {found['decimal'].replace(',', '.')} or {found['decimal'].replace(',', '')}.",
            )
        number = Fraction(found["decimal"].replace(",", "."))
    else:
        number = int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))
    return (-number if found["sign"] in ("-", "−") else number) * _MM_PER_WORD[word]


def _plain_fractions(text: str) -> str:
    """Write ½ as 1/2, with a space before it: "1½" becomes "1 1/2"."""
    return "".join(
        f" {unicodedata.normalize('NFKC', sign).replace('⁄', '/')} "
        if unicodedata.category(sign) == "No" and "VULGAR FRACTION" in unicodedata.name(sign, "")
        else sign
        for sign in text
    )


def _nearest(value: float) -> int:
    """Nearest whole number, halves away from zero, as people round."""
    # The nudge keeps a half a half after the division that made it: 142.5 may arrive as 142.4999...
    whole = math.floor(abs(value) + 0.5 + 1e-9)
    return whole if value >= 0 else -whole


def _hundredths_up(value: float) -> float:
    return math.ceil(value * 100 - 1e-6) / 100


def _eighths(count: int) -> str:
    whole, rest = divmod(abs(count), 8)
    sign = "-" if count < 0 else ""
    if rest == 0:
        return f"{sign}{whole}"
    part = Fraction(rest, 8)
    return f"{sign}{whole or ''}{' ' if whole else ''}{part.numerator}/{part.denominator}"
