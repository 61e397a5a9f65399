"""What is said of a cloth in hand: whether all goes on, how much is lacking, what is left over.

What is lacking is told as the person measures the cloth now, what is left as it is on the table, washed.
"""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.left import LeftOver, Rectangle
from nesting.estimate.estimate import Estimate
from nesting.estimate.on_remnant import OnRemnant
from nesting.units import Unit, format_buy, format_length

__all__ = ["goes_on_words", "left_words", "length_words", "rounded_up", "size_words", "small_piece_words"]

_LIES = {Lie.ALONG: "", Lie.ACROSS: ", across", Lie.EITHER: "", Lie.BIAS: ", on the bias"}


def goes_on_words(on: OnRemnant, unit: Unit) -> str:
    """Whether all goes on.

    >>> goes_on_words(OnRemnant("wool", 0.0, 220.0), Unit.CM)
    'goes on, 22 cm left at the end'
    >>> goes_on_words(OnRemnant("wool", 133.2, 0.0), Unit.CM)
    '13.4 cm too short'
    """
    if on.lacking_mm:
        return f"{rounded_up(on.lacking_mm, unit)} too short"
    return f"goes on, {format_length(on.left_mm, unit)} left at the end"


def length_words(estimate: Estimate, unit: Unit) -> str:
    """``1.60 m`` to buy, or ``210 cm in hand``."""
    remnant = estimate.lay.cloth.in_hand
    if remnant is None:
        return format_buy(estimate.to_buy_mm, unit)
    return f"{format_length(remnant.length_mm, unit)} in hand"


def size_words(one: Rectangle, unit: Unit) -> str:
    """``40 × 62 cm``: along the cloth, then across it."""
    along, across = (format_length(side, unit) for side in (one.along_mm, one.across_mm))
    return f"{along.removesuffix(f' {unit}')} × {across}"


def left_words(left: LeftOver, unit: Unit) -> Iterator[str]:
    """What is left, and what comes out of it, in sentences."""
    if left.rectangles:
        sizes = ", ".join(size_words(one, unit) for one in left.rectangles)
        yield f"Left over in one piece each, along × across: {sizes}."
    else:
        yield "No rectangle worth keeping is left over."
    for small in left.asked:
        yield f"{left.letter(small)}: {small_piece_words(small, left.came_out(small), unit)}"


def small_piece_words(wish: SmallPiece, came_out: int, unit: Unit) -> str:
    """How many of a small piece come out of the waste."""
    size = (
        f"{format_length(wish.width_mm, unit)} across, round"
        if wish.round
        else f"{format_length(wish.width_mm, unit)} × {format_length(wish.length_mm, unit)}{_LIES[wish.lie]}"
    )
    if came_out == wish.count:
        many = {1: "comes", 2: "both come"}.get(wish.count, f"all {wish.count} come")
        return f"'{wish.name}' ({size}) {many} out of the waste."
    if not came_out:
        return f"'{wish.name}' ({size}) was not got out of the waste."
    return f"'{wish.name}' ({size}): {came_out} of {wish.count} come out of the waste."


def rounded_up(length_mm: float, unit: Unit) -> str:
    """A length that is lacking, rounded up so that it is really enough."""
    step = {Unit.MM: 1.0, Unit.CM: 1.0, Unit.IN: 25.4 / 8}[unit]
    return format_length(-(-(length_mm - 1e-6) // step) * step, unit)
