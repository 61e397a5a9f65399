"""How it is said that hardly anything is left over: alike on screen, on paper and in a shopping list."""

from __future__ import annotations

from nesting.cloth.buying import has_no_room
from nesting.cloth.cloth import Cloth
from nesting.estimate.estimate import Estimate
from nesting.units import Unit, format_length, format_step

__all__ = ["more_words", "no_room_words", "tight_words"]

_WISH = {Unit.MM: "20", Unit.CM: "2", Unit.IN: "1"}
_SMALLEST = {Unit.MM: "1 mm", Unit.CM: "1 mm", Unit.IN: "1/8 in"}


def no_room_words(spare_mm: float, unit: Unit) -> str:
    """That there is no room to spare, where there is none; else nothing.

    >>> no_room_words(4.0, Unit.CM), no_room_words(0.4, Unit.CM), no_room_words(10.0, Unit.CM)
    ('No room to spare: only 0.4 cm left over', 'No room to spare: less than 1 mm left over', '')
    """
    if not has_no_room(spare_mm):
        return ""
    told = format_length(spare_mm, unit)
    if told == format_length(0.0, unit):
        return f"No room to spare: less than {_SMALLEST[unit]} left over"
    return f"No room to spare: only {told} left over"


def tight_words(estimate: Estimate, unit: Unit) -> str:
    """The same of a lay, with its cloth's name, and of a cloth to be bought with what to do; or nothing."""
    if not estimate.no_room:
        return ""
    cloth = estimate.lay.cloth
    said = f"{cloth.name}: {no_room_words(estimate.spare_mm, unit)}."
    return said if estimate.in_hand else f"{said} {more_words(cloth, unit)}."


def more_words(cloth: Cloth, unit: Unit) -> str:
    """What to do about it in the shop."""
    return (
        f"To be safe, ask for {format_step(cloth.step_mm, unit)} more; or write spare_at_least = "
        f"{_WISH[unit]} in the file and lay again"
    )
