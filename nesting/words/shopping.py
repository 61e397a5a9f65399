"""How a shopping list speaks, the same on paper, in a message and on a phone."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList, Use
from nesting.units import Unit, format_buy, format_length, format_money, format_step
from nesting.words.cloth import direction_words, repeat_words, shrinkage_words, width_words
from nesting.words.in_hand import goes_on_words
from nesting.words.lying import ways_words
from nesting.words.spare import more_words, no_room_words

__all__ = [
    "CAUTION",
    "amount_text",
    "ask_words",
    "margin_words",
    "price_words",
    "remarks",
    "rests_on",
    "shares_words",
    "totals",
]

CAUTION = (
    "Measure the width of the real cloth before it is cut. If it is narrower than here, or has a direction "
    "that is not reckoned with, this amount does not hold."
)


def amount_text(mm: float, unit: Unit) -> str:
    """A length to ask for: metres, or yards with the metres in brackets.

    >>> amount_text(1600.0, Unit.CM), amount_text(1485.9, Unit.IN)
    ('1.60 m', '1 5/8 yd (1.49 m)')
    """
    return f"{format_buy(mm, unit)} ({format_buy(mm, Unit.CM)})" if unit is Unit.IN else format_buy(mm, unit)


def ask_words(line: ShoppingLine) -> str:
    """What to ask for."""
    return amount_text(line.ask_mm, line.unit)


def price_words(line: ShoppingLine) -> str:
    """What it costs, or that it is not known."""
    return "no price" if line.cost is None else format_money(line.cost, line.currency)


def margin_words(line: ShoppingLine) -> str:
    """How much the rounding leaves over; where that is no room to spare, what to do."""
    steps = f"as the shop cuts in steps of {format_step(line.cloth.step_mm, line.unit)}"
    if tight := no_room_words(line.margin_mm, line.unit):
        return f"{tight} after washing, {steps}. {more_words(line.cloth, line.unit)}"
    return f"{format_length(line.margin_mm, line.unit)} over after washing, {steps}"


def shares_words(line: ShoppingLine) -> str:
    """How the length is divided among several uses; empty for one."""
    if len(line.uses) == 1:
        return ""
    each = ", ".join(f"{use.title} {amount_text(use.to_buy_mm, line.unit)}" for use in line.uses)
    return f"in one length; each bought by itself: {each}"


def rests_on(use: Use) -> str:
    """What an amount rests on, in short phrases: width, shrinkage, nap, how it lies."""
    cloth, unit = use.cloth, use.unit
    width = width_words(cloth, unit)
    if cloth.selvedge_mm:
        width += f" with selvedges of {format_length(cloth.selvedge_mm, unit)}"
    facts = (width, shrinkage_words(cloth), direction_words(cloth), *repeat_words(cloth, unit))
    return "; ".join((*facts, f"laid: {ways_words(use.runs)}"))


def remarks(shopping: ShoppingList) -> Iterator[str]:
    """What is in hand, and what an early end means."""
    for on, unit in shopping.in_hand:
        yield f"In hand: {on.name}: {goes_on_words(on, unit)}"
    if shopping.early:
        yield "The search was ended early: with more time less cloth might do."


def totals(shopping: ShoppingList) -> tuple[str, ...]:
    """What all with a price cost together, and what has none."""
    sums: dict[str, float] = {}
    for line in shopping.lines:
        if line.cost is not None:
            sums[line.currency] = sums.get(line.currency, 0.0) + line.cost
    missing = [line.cloth.name for line in shopping.lines if line.cost is None]
    known = " and ".join(format_money(amount, currency) for currency, amount in sums.items())
    if not shopping.lines:
        return ("Nothing has to be bought.",)
    if not known:
        return ("No prices are written down.",)
    if not missing:
        return (f"All together: {known}",)
    return (f"Together, as far as prices are known: {known}", f"Without a price: {', '.join(missing)}")
