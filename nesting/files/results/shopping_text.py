"""The shopping list as plain text, to paste into a message."""

from __future__ import annotations

from nesting.estimate.overview.shopping import CAUTION, ShoppingList
from nesting.lettering import left_to_right

__all__ = ["shopping_text"]


def shopping_text(shopping: ShoppingList) -> str:
    """Lines that stay readable however a phone breaks them; ending with a line feed."""
    lines = [f"To buy for: {', '.join(shopping.titles)}", ""]
    for line in shopping.lines:
        lines.append(f"[ ] {line.amount} of {line.name}, {line.width}: {line.price}")
        for use in line.uses:
            whose = f"{use.title}: " if len(line.uses) > 1 else ""
            lines.append(f"    {whose}rests on {'; '.join(use.rests_on)}")
        if line.shares:
            lines.append(f"    {line.shares}")
        lines.append(f"    {line.margin}")
    lines += ["", *shopping.totals]
    lines += shopping.remarks
    lines += ["", CAUTION]
    return "\n".join(map(left_to_right, lines)) + "\n"
