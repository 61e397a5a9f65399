"""The shopping list as plain text, to paste into a message."""

from __future__ import annotations

from nesting.estimate.overview.shopping import ShoppingList
from nesting.lettering import left_to_right
from nesting.words.cloth import width_words
from nesting.words.shopping import (
    CAUTION,
    ask_words,
    margin_words,
    price_words,
    remarks,
    rests_on,
    shares_words,
    totals,
)

__all__ = ["shopping_text"]


def shopping_text(shopping: ShoppingList) -> str:
    """Lines that stay readable however a phone breaks them; ending with a line feed."""
    lines = [f"To buy for: {', '.join(shopping.titles)}", ""]
    for line in shopping.lines:
        width = width_words(line.cloth, line.unit)
        lines.append(f"[ ] {ask_words(line)} of {line.cloth.name}, {width}: {price_words(line)}")
        for use in line.uses:
            whose = f"{use.title}: " if len(line.uses) > 1 else ""
            lines.append(f"    {whose}rests on {rests_on(use)}")
        if shares := shares_words(line):
            lines.append(f"    {shares}")
        lines.append(f"    {margin_words(line)}")
    lines += ["", *totals(shopping), *remarks(shopping)]
    lines += ["", CAUTION]
    return "\n".join(map(left_to_right, lines)) + "\n"
