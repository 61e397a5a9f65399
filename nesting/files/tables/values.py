"""The single values of a project file: lengths, choices, names, points, each read and judged by itself.

A validator raises a `fault`: what was found, as the rest of a sentence that begins with the entry's
name (``is 1.5 cm, but ...``), and what to do. Lengths are read in the unit of the validation context
(``{"unit": Unit}``) and come out in mm; while the unit is unknown, sizes are not judged.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Annotated, TypeAlias

from pydantic import PlainValidator, ValidationInfo
from pydantic_core import PydanticCustomError

from nesting.files.tables.wording import choices, kind_of, quoted
from nesting.units import BadLength, Unit, format_length, parse_length

__all__ = [
    "At",
    "CountText",
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
    "garment_count",
    "length",
    "one_of",
    "per_cent",
]

LONGEST_NAME = 60
MOST_GARMENTS = 100
MOST_TILT_DEG = 10.0
LARGEST_COORDINATE_MM = 20_000.0

_MM_PER = {"mm": 1.0, "cm": 10.0, "in": 25.4, "m": 1000.0}


def fault(what: str, remedy: str) -> PydanticCustomError:
    """A fault of ours, to be raised by a validator."""
    return PydanticCustomError("ellwand", "{what} {remedy}", {"what": what, "remedy": remedy})


def length(least_mm: float, most_mm: float, *, zero_allowed: bool = True) -> PlainValidator:
    """A length between two bounds, number or text; with ``zero_allowed=False`` above the lower one."""

    def read(value: object, info: ValidationInfo) -> float:
        unit = _unit(info)
        mm = _length_mm(value, unit or Unit.CM)
        if unit is None or (least_mm <= mm <= most_mm and (zero_allowed or mm > least_mm)):
            return mm
        found = f"is {format_length(mm, unit)}"
        if mm < 0:
            raise fault(f"{found}, which is less than nothing.", "Leave the minus sign out.")
        if mm == 0:
            raise fault(f"{found}, which is nothing.", "Give a length above 0.")
        allowed = f"between {format_length(least_mm, unit)} and {format_length(most_mm, unit)}"
        if least_mm == 0:
            allowed = f"at most {format_length(most_mm, unit)}"
        raise fault(f"{found}, but should be {allowed}.", _unit_meant(value, unit, least_mm, most_mm))

    return PlainValidator(read)


def _unit_meant(value: object, unit: Unit, least_mm: float, most_mm: float) -> str:
    """Ask for another unit, where the bare number would make sense in it."""
    if isinstance(value, int | float):
        for name in ("cm", "in", "mm", "m"):
            if name != unit and least_mm <= value * _MM_PER[name] <= most_mm:
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
        return parse_length(value, unit)
    except BadLength as error:
        raise fault(f"cannot be read: {error.what}", error.remedy) from None


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise fault(
            f"is {kind_of(value)}, but should be a number.", "Write it without quotation marks or sign."
        )
    if not math.isfinite(value):
        raise fault(f"is {kind_of(value)}, which is no number to reckon with.", "Give a plain number.")
    return float(value)


def amount() -> PlainValidator:
    """A sum of money, 0 or more."""

    def read(value: object) -> float:
        number = _number(value)
        if number < 0:
            raise fault(f"is {value}, which is less than nothing.", "Leave the minus sign out.")
        return number

    return PlainValidator(read)


def per_cent() -> PlainValidator:
    """Shrinkage, in per cent, from 0 to below 50."""

    def read(value: object) -> float:
        number = _number(value)
        if not 0 <= number < 50:
            raise fault(
                f"is {value} per cent, but should be from 0 to below 50.",
                "Measure a piece before and after washing: what it lost, in per cent of what it was.",
            )
        return number

    return PlainValidator(read)


def degrees() -> PlainValidator:
    """How far a grain line may lie off the warp: so little that the cloth still hangs nearly as it should."""

    def read(value: object) -> float:
        number = _number(value)
        if not 0 <= number <= MOST_TILT_DEG:
            raise fault(
                f"is {value} degrees, but should be from 0 to {MOST_TILT_DEG:g}.",
                'What is to lie at another angle says so in its grain, or has turn = "quarter" or "any".',
            )
        return number

    return PlainValidator(read)


def garment_count() -> PlainValidator:
    """How many garments, from 0 on."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise fault(f"is {kind_of(value)}, but should be how many garments.", "Write a whole number.")
        if not 0 <= value <= MOST_GARMENTS:
            raise fault(
                f"is {value}, but should be how many garments.", f"Give a number from 0 to {MOST_GARMENTS}."
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
    if len(value) > LONGEST_NAME:
        raise fault(
            f"is {len(value)} characters long.",
            f"Shorten it to {LONGEST_NAME} so that it can be printed on a piece.",
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
    if isinstance(value, str):
        return tuple(_text(value).split())
    if isinstance(value, list):
        return tuple(_name(item) for item in value)
    raise fault(
        f"is {kind_of(value)}, but should name points.",
        'Write the names with spaces between: "A B", or ["A", "B"].',
    )


Names = Annotated[tuple[str, ...], PlainValidator(_names)]
"""Names of points: text with spaces between, or a list."""


def _point(value: object, info: ValidationInfo) -> tuple[float, float]:
    unit = _unit(info)
    if not isinstance(value, list) or len(value) != 2:
        found = f"has {len(value)} numbers" if isinstance(value, list) else f"is {kind_of(value)}"
        comma = (
            " Decimals are written with a point: 56.5." if isinstance(value, list) and len(value) > 2 else ""
        )
        raise fault(
            f"{found}, but should be two lengths: to the right, and up.",
            f"Write for example [8.2, 58.4].{comma}",
        )
    x, y = (_length_mm(item, unit or Unit.CM) for item in value)
    if unit is not None and max(abs(x), abs(y)) > LARGEST_COORDINATE_MM:
        far = format_length(max(abs(x), abs(y)), unit)
        raise fault(f"is {far} from the corner of the paper.", "Check the number and its unit.")
    return x, y


Point: TypeAlias = Annotated[tuple[float, float], PlainValidator(_point)]
"""Two lengths, to the right and up, in mm."""


def _span(value: object, info: ValidationInfo) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2:
        raise fault(
            f"is {kind_of(value)}, but should be two lengths: where it begins, and where it ends.",
            "Write for example [62, 66].",
        )
    unit = _unit(info)
    begin, end = (_length_mm(item, unit or Unit.CM) for item in value)
    if not begin < end:
        raise fault(
            f"begins at {value[0]} and ends at {value[1]}.", "Give the smaller of the two distances first."
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
        if abs(degrees) <= 360:
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


def _count(value: object) -> int | str:
    if isinstance(value, bool) or not isinstance(value, int | str):
        raise fault(
            f"is {kind_of(value)}, but should be a count.", 'Write a whole number, or "pair", "2 singles".'
        )
    return value


CountText: TypeAlias = Annotated[int | str, PlainValidator(_count)]
"""How many, as written; read by `nesting.pattern.counts`."""
