"""What is typed after an option, read as in the project file."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.errors import BadInput, Mistake
from nesting.files.tables.ranges import CLOTH_WIDTH
from nesting.lettering import shortened
from nesting.units import BadLength, Unit, format_length, parse_length

__all__ = ["lengths_of"]

LEAST_MM, GREATEST_MM = CLOTH_WIDTH.least, CLOTH_WIDTH.most


def lengths_of(
    texts: Sequence[str], unit: Unit, option: str, *, least_mm: float = LEAST_MM
) -> tuple[float, ...]:
    """Widths in mm, each once, the narrowest first.

    Raises
    ------
    BadInput
        With everything that is no width of a cloth.
    """
    found: set[float] = set()
    mistakes = []
    for text in texts:
        place = f"{option} {shortened(text)}"
        try:
            length = parse_length(text, unit)
        except BadLength as error:
            mistakes.append(Mistake(place, str(error), f"A bare number is in {unit.value}."))
            continue
        if not least_mm <= length <= GREATEST_MM:
            between = f"{format_length(least_mm, unit)} and {format_length(GREATEST_MM, unit)}"
            what = f"{format_length(length, unit)} is no width of a cloth."
            mistakes.append(Mistake(place, what, f"Give one between {between}."))
        found.add(length)
    if mistakes:
        raise BadInput(tuple(mistakes))
    return tuple(sorted(found))
