"""What is said of a cloth in hand: whether all goes on, how much is lacking, what is left over.

Lengths are told as the person measures the cloth now: what it has yet to shrink is added.
"""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.cloth import Cloth
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.in_hand.lay_in_hand import lacking_mm
from nesting.cutting.lay import Lay
from nesting.cutting.left import LeftOver, Rectangle
from nesting.estimate.estimate import Estimate
from nesting.estimate.spread_names import SPREAD_WORDS
from nesting.estimate.verdict import barred_words
from nesting.units import Unit, format_buy, format_length

__all__ = [
    "as_measured_mm",
    "goes_on_words",
    "in_hand_verdict",
    "left_words",
    "length_words",
    "size_words",
    "small_piece_words",
]

_LIES = {Lie.ALONG: "", Lie.ACROSS: ", across", Lie.EITHER: "", Lie.BIAS: ", on the bias"}


def as_measured_mm(length_mm: float, cloth: Cloth) -> float:
    """A washed length along the cloth, before washing."""
    return length_mm / cloth.kept_along


def goes_on_words(lay: Lay, unit: Unit) -> str:
    """``goes on, 22 cm left at the end`` or ``14 cm too short``."""
    lacking = lacking_mm(lay)
    if lacking:
        return f"{rounded_up(as_measured_mm(lacking, lay.cloth), unit)} too short"
    over = (lay.cloth.room_mm or 0.0) - lay.length_mm
    return f"goes on, {format_length(as_measured_mm(over, lay.cloth), unit)} left at the end"


def in_hand_verdict(lay: Lay, unit: Unit) -> str:
    """Whether it all goes on, in sentences, and what the other spreads would need."""
    room = lay.cloth.room_mm or 0.0
    lacking = lacking_mm(lay)
    words = SPREAD_WORDS[lay.spread]
    have, need = format_length(room, unit), format_length(lay.length_mm, unit)
    if not lacking:
        sentences = [f"It all goes on, {words}: the lay takes {need} of the {have} there are to lay on."]
    else:
        short = rounded_up(as_measured_mm(lacking, lay.cloth), unit)
        sentences = [
            f"It does not all go on: {words}, the shortest lay that was found takes {need}, and there are "
            f"{have} to lay on. The cloth is {short} too short for it."
        ]
        if lay.spread.lengths == 2 and lay.cloth.blocked:
            sentences.append("That is of a longer cloth, folded where its own middle is.")
        if lay.bound_mm > room:
            least = format_length(lay.bound_mm, unit)
            sentences.append(f"Proven: {words}, no lay does with less than {least}.")
    others = [one for one in lay.tried if one.spread is not lay.spread]
    for words, searched in (("The others", True), ("As first laid, not searched on", False)):
        needs = ", ".join(
            f"{SPREAD_WORDS[one.spread]} {format_length(one.length_mm, unit)}"
            for one in others
            if one.length_mm is not None and one.searched is searched
        )
        if needs:
            sentences.append(f"{words}: {needs}.")
    sentences += barred_words(lay)
    return " ".join(sentences)


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
