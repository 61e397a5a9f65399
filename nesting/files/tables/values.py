"""The single values of a project file: lengths, choices, names, points, each read and judged by itself.

A validator raises a `fault`: what was found, as the rest of a sentence that begins with the entry's
name (``is 1.5 cm, but ...``), and what to do. Lengths are read in the unit of the validation context
(``{"unit": Unit}``) and come out in mm; while the unit is unknown, sizes are not judged.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import Annotated, TypeAlias

from pydantic import BeforeValidator, PlainValidator, ValidationInfo
from pydantic_core import PydanticCustomError

from nesting.files.tables import ranges
from nesting.files.tables.ranges import Range
from nesting.files.tables.wording import choices, kind_of, number_shown, quoted
from nesting.units import BadLength, Unit, format_length, parse_length

__all__ = [
    "At",
    "CountText",
    "Counts",
    "FoldEdge",
    "Grain",
    "Key",
    "Name",
    "Names",
    "Point",
    "Span",
    "Text",
    "amount",
    "degrees",
    "fault",
    "length",
    "no_more_than",
    "one_of",
    "per_cent",
    "whole",
]

_MOST_RECKONED = 1e15
_MM_PER = {"mm": 1.0, "cm": 10.0, "in": 25.4, "m": 1000.0}


def fault(what: str, remedy: str) -> PydanticCustomError:
    """A fault of ours, to be raised by a validator."""
    return PydanticCustomError("ellwand", "{what} {remedy}", {"what": what, "remedy": remedy})


def length(allowed: Range) -> PlainValidator:
    """A length within a range, number or text."""

    def read(value: object, info: ValidationInfo) -> float:
        unit = _unit(info)
        mm = _length_mm(value, unit or Unit.CM)
        if unit is None or mm in allowed:
            return mm
        found = f"is {_measured(value, mm, unit)}"
        if mm < 0:
            raise fault(f"{found}, which is less than nothing.", "Leave the minus sign out.")
        if mm == 0:
            raise fault(f"{found}, which is nothing.", "Give a length above 0.")
        bounds = f"between {format_length(allowed.least, unit)} and {format_length(allowed.most, unit)}"
        if allowed.least == 0:
            bounds = f"at most {format_length(allowed.most, unit)}"
        raise fault(f"{found}, but should be {bounds}.", _unit_meant(value, unit, allowed))

    return PlainValidator(read)


def _measured(value: object, mm: float, unit: Unit) -> str:
    """A length in the person's unit, after what was written where that is in another."""
    told = format_length(mm, unit)
    return f"{quoted(value)}, {told}" if isinstance(value, str) and told != value.strip() else told


def _unit_meant(value: object, unit: Unit, allowed: Range) -> str:
    """Ask for another unit, where the bare number would make sense in it."""
    if isinstance(value, int | float):
        for name in ("cm", "in", "mm", "m"):
            if name != unit and value * _MM_PER[name] in allowed:
                return f'Did you mean {name}? Then write "{value} {name}".'
    return "Check the number and its unit."


def _unit(info: ValidationInfo) -> Unit | None:
    unit = (info.context or {}).get("unit")
    return unit if isinstance(unit, Unit) else None


def _length_mm(value: object, unit: Unit) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise fault(
            f"is {kind_of(value)}, but should be a length.", 'Write for example 15, "1.4 m" or "5/8 in".'
        )
    try:
        mm = parse_length(value, unit)
        return mm if abs(mm) >= ranges.NOTHING_MM else 0.0
    except BadLength as error:
        raise fault(f"cannot be read: {error.what}", error.remedy) from None


def _number(value: object) -> float:
    """A number that can be reckoned with."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise fault(f"is {kind_of(value)}, but should be a number.", _as_number(value))
    if not abs(value) < _MOST_RECKONED:  # neither is what is infinite, or no number
        raise fault(f"is {kind_of(value)}, which is no number to reckon with.", "Give a plain number.")
    return float(value)


def _as_number(value: object) -> str:
    """How a number is written that stands in a text: ``"12,50 €"``."""
    found = re.findall(r"(?<!\d)[-+]?\d{1,9}(?:[.,]\d{1,9})?(?!\d)", value) if isinstance(value, str) else []
    written = f"Write {found[0].replace(',', '.')}" if len(found) == 1 else "Write a number alone"
    return f"{written}, without quotation marks or sign."


def _within(allowed: Range, unit: str, remedy: str) -> PlainValidator:
    """A number within a range; the unit is said after it."""

    def read(value: object) -> float:
        number = _number(value)
        if number not in allowed:
            most = f"{'below ' if allowed.below else ''}{allowed.most:,.10g}"
            raise fault(f"is {value}{unit}, but should be from {allowed.least:g} to {most}.", remedy)
        return number

    return PlainValidator(read)


def amount() -> PlainValidator:
    """A sum of money."""
    remedy = "It is the price of one metre, or one yard: check the number, and write it without a minus sign."
    return _within(ranges.PRICE, "", remedy)


def per_cent() -> PlainValidator:
    """Shrinkage, in per cent."""
    remedy = "Measure a piece before and after washing: what it lost, in per cent of what it was."
    return _within(ranges.SHRINKAGE, " per cent", remedy)


def degrees() -> PlainValidator:
    """How far a grain line may lie off the warp."""
    remedy = 'What is to lie at another angle says so in its grain, or has turn = "quarter" or "any".'
    return _within(ranges.TILT, " degrees", remedy)


def whole(allowed: Range, what: str) -> PlainValidator:
    """A whole number of something."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise fault(f"is {kind_of(value)}, but should be {what}.", "Write a whole number.")
        if value not in allowed:
            raise fault(
                f"is {number_shown(value)}, but should be {what}.",
                f"Give a number from {allowed.least:g} to {allowed.most:g}.",
            )
        return value

    return PlainValidator(read)


def one_of(enum: type[StrEnum]) -> PlainValidator:
    """One of the texts of an enumeration."""
    known = [member.value for member in enum]

    def read(value: object) -> StrEnum:
        if isinstance(value, str) and value in known:
            return enum(value)
        remedy = choices(str(value), known, "choice")
        raise fault(f"is {kind_of(value)}, which is none of the choices.", remedy)

    return PlainValidator(read)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise fault(f"is {kind_of(value)}, but should be text.", "Put it in quotation marks.")
    if not value.isprintable():
        raise fault(
            f"is {quoted(value)}, which has a character in it that cannot be printed.",
            "Delete it and type it again.",
        )
    if len(value) > ranges.LONGEST_NAME:
        raise fault(
            f"is {len(value)} characters long.",
            f"Shorten it to {ranges.LONGEST_NAME} so that it can be printed on a piece.",
        )
    return value


def _name(value: object) -> str:
    text = _text(value)
    if not text.strip():
        raise fault("is empty.", "Give it a name.")
    if text != text.strip():
        raise fault(f"is {quoted(text)}, which begins or ends with a space.", "Take the space away.")
    return text


def _key(value: object) -> str:
    name = _name(value)
    if not all(character.isalnum() or character in " -_" for character in name):
        raise fault(
            f"is {quoted(name)}, which cannot be part of a file's name.",
            "Use letters, numbers, spaces and hyphens; what the shop calls it goes into name.",
        )
    return name


Text = Annotated[str, PlainValidator(_text)]
"""Printable text of one line, may be empty."""

Name = Annotated[str, PlainValidator(_name)]
"""Printable text of one line, not empty."""


Key = Annotated[str, PlainValidator(_key)]
"""A short name that can be part of a file's name."""


def _names(value: object) -> tuple[str, ...]:
    if isinstance(value, str | list):
        names = value.split() if isinstance(value, str) else value
        if len(names) > ranges.MOST_POINTS_OF_EDGE:
            raise fault(f"names {len(names):,} points.", f"Name {ranges.MOST_POINTS_OF_EDGE:,} at most.")
        return tuple(_text(name) if isinstance(value, str) else _name(name) for name in names)
    raise fault(
        f"is {kind_of(value)}, but should name points.",
        'Write the names with spaces between: "A B", or ["A", "B"].',
    )


Names = Annotated[tuple[str, ...], PlainValidator(_names)]
"""Names of points: text with spaces between, or a list."""


def no_more_than(most: int, things: str) -> BeforeValidator:
    """So many entries at most, told before any of them is read."""

    def read(value: object) -> object:
        if isinstance(value, list | dict) and len(value) > most:
            raise fault(
                f"has {len(value):,} {things} in it, more than the program takes ({most:,}).",
                f"Leave {things} out: those that show the shape are enough.",
            )
        return value

    return BeforeValidator(read)


def _point(value: object, info: ValidationInfo) -> tuple[float, float]:
    unit = _unit(info)
    if not isinstance(value, list) or len(value) != 2:
        if isinstance(value, list) and len(value) in (3, 4) and all(isinstance(x, int) for x in value):
            meant = _with_points(value)
            raise fault(
                f"has {len(value)} numbers instead of two: commas part them, also where decimals are meant.",
                f"Decimals are written with a point: {meant}.",
            )
        found = f"is {kind_of(value)}"
        if isinstance(value, list):
            found = f"has {len(value)} number{'' if len(value) == 1 else 's'}"
        raise fault(
            f"{found}, but should be two lengths: to the right, and up.", "Write for example [8.2, 58.4]."
        )
    x, y = (_length_mm(item, unit or Unit.CM) for item in value)
    if unit is not None and not (x in ranges.FROM_CORNER and y in ranges.FROM_CORNER):
        far = format_length(max(abs(x), abs(y)), unit)
        raise fault(f"is {far} from the corner of the paper.", "Check the number and its unit.")
    return x, y


Point: TypeAlias = Annotated[tuple[float, float], PlainValidator(_point)]
"""Two lengths, to the right and up, in mm."""


def _with_points(numbers: list[int]) -> str:
    """Three or four whole numbers as the two they may have been: ``[4, 2, 63, 5]`` as ``[4.2, 63.5]``.

    >>> _with_points([4, 2, 63])
    '[4.2, 63] or [4, 2.63]'
    """
    shown = [number_shown(number) for number in numbers]
    if len(shown) == 4:
        return f"[{shown[0]}.{shown[1]}, {shown[2]}.{shown[3]}]"
    return f"[{shown[0]}.{shown[1]}, {shown[2]}] or [{shown[0]}, {shown[1]}.{shown[2]}]"


def _span(value: object, info: ValidationInfo) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2:
        raise fault(
            f"is {kind_of(value)}, but should be two lengths: where it begins, and where it ends.",
            "Write for example [62, 66].",
        )
    unit = _unit(info)
    begin, end = (_length_mm(item, unit or Unit.CM) for item in value)
    if unit is not None and not (begin in ranges.PLACE_ON_CLOTH and end in ranges.PLACE_ON_CLOTH):
        told = (format_length(mm, unit) for mm in (begin, end))
        raise fault(
            f"is {' to '.join(told)}, which lies on no cloth.", "Measure it from the cloth's end or side."
        )
    if not begin < end:
        raise fault(
            f"begins at {number_shown(value[0])} and ends at {number_shown(value[1])}.",
            "Give the smaller of the two distances first.",
        )
    return begin, end


Span: TypeAlias = Annotated[tuple[float, float], PlainValidator(_span)]
"""Two lengths, where something begins and where it ends, in mm."""


def _at(value: object, info: ValidationInfo) -> str | tuple[float, float]:
    return _name(value) if isinstance(value, str) else _point(value, info)


At: TypeAlias = Annotated[str | tuple[float, float], PlainValidator(_at)]
"""A point by name or by its two lengths."""


def _grain(value: object) -> str | float | tuple[str, ...]:
    if value == "up":
        return "up"
    if isinstance(value, str | list):
        names = _names(value)
        if len(names) == 2:
            return names
    elif isinstance(value, int | float) and not isinstance(value, bool):
        degrees = _number(value)
        if degrees in ranges.GRAIN:
            return degrees
    raise fault(
        f"is {kind_of(value)}, but should say where the grain line runs.",
        'Write "up", or how many degrees it is turned from up (45 is the bias), or its foot and top: "A B".',
    )


Grain: TypeAlias = Annotated[str | float | tuple[str, ...], PlainValidator(_grain)]
"""``"up"``, degrees clockwise from up, or two points, foot and top."""


def _fold_edge(value: object) -> str | None:
    if value is False:
        return None
    if value is True:
        raise fault("is true, but should name an edge.", 'Write for example on_fold = "centre back".')
    if value in ("false", "no", "none"):
        raise fault(f"is {kind_of(value)}.", "Write on_fold = false, without quotation marks.")
    return _name(value)


FoldEdge: TypeAlias = Annotated[str | None, PlainValidator(_fold_edge)]
"""Name of an edge, or ``false``."""


def _counts(value: object) -> object:
    if isinstance(value, dict):
        return value
    written = value if isinstance(value, int) else '"pair"'
    raise fault(
        f"is {kind_of(value)}, but should say from which cloth as well.",
        f"Write in braces, for each cloth by its short name: cut = {{ main = {written} }}.",
    )


Counts = BeforeValidator(_counts)
"""What counts stand in: a table by cloth."""


def _count(value: object) -> int | str:
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise fault(
            f"is {kind_of(value)}, but should be a count.", 'Write a whole number, or "pair", "2 singles".'
        )
    if isinstance(value, str):
        return _text(value)
    if abs(value) > _MOST_RECKONED:
        raise fault(
            f"is {kind_of(value)}, but should be a count.", f"Give a number from 0 to {ranges.CUT.most:g}."
        )
    return value


CountText: TypeAlias = Annotated[int | str, PlainValidator(_count)]
"""How many, as written; read by `nesting.pattern.counts`."""
