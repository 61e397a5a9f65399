"""How it is said what is wrong with wishes of where pieces lie, and what to do about it."""

from __future__ import annotations

from typing import assert_never

from nesting.cutting.findings import (
    LongerThanWithin,
    NoRoomForWishes,
    PinnedAndMatched,
    PinnedApart,
    PinnedBeyond,
    PinnedNearEnd,
    PinnedOffFold,
    PinnedOnEachOther,
    PinnedTurned,
    PinnedWithoutSpread,
    WishesOnRemnants,
    WishHindrance,
)
from nesting.units import Unit, format_length
from nesting.words.names import names_text

__all__ = ["wish_words"]


def wish_words(hindrance: WishHindrance, unit: Unit) -> tuple[str, str]:
    """What is wrong, and what to do about it, each in sentences."""

    def told(mm: float) -> str:
        return format_length(mm, unit)

    match hindrance:
        case NoRoomForWishes(pieces):
            return (
                f"What is wished of {names_text(pieces)} cannot all be had: they were found no room so.",
                "Let them lie farther apart (within), nearer to the end (from_end), or pin them elsewhere.",
            )
        case WishesOnRemnants():
            return (
                "The cloth is in several pieces, and nobody has said which of them is meant.",
                "Leave the wishes out, or lay one of the pieces of cloth by itself.",
            )
        case LongerThanWithin(piece, length, within):
            return (
                f"'{piece}' is {told(length)} long and is to lie within {told(within)}, with others.",
                f"Let them lie within {told(length)} or more.",
            )
        case PinnedWithoutSpread():
            return (
                "A pinned piece lies at one place of the cloth, and that depends on how the cloth lies.",
                'Write spread = "open" or spread = "lengthwise fold" for the cloth.',
            )
        case PinnedAndMatched(piece):
            return (
                f"'{piece}' is pinned, and matched to the repeat of the cloth as well.",
                "Leave out one of the two.",
            )
        case PinnedTurned(piece):
            return (
                f"'{piece}' is pinned turned, on a cloth on which it may not be turned.",
                "Leave turned out, or let it turn.",
            )
        case PinnedOffFold(piece, off):
            return (
                f"'{piece}' lies on the fold; pinned so, it would be {told(off)} off it.",
                "Measure from the fold on the paper, or pin another point.",
            )
        case PinnedBeyond(piece, beyond):
            return (
                f"'{piece}' pinned so reaches {told(beyond)} beyond the usable cloth.",
                "Pin it farther in.",
            )
        case PinnedNearEnd(piece, wished, begins):
            return (
                f"'{piece}' is to lie {told(wished)} from the cut end, and is pinned where it begins "
                f"{told(begins)} from it.",
                "Leave out one of the two.",
            )
        case PinnedOnEachOther((one, other)):
            return f"'{one}' and '{other}' are pinned onto each other.", "Pin them apart."
        case PinnedApart((one, other), within, apart):
            return (
                f"'{one}' and '{other}' are to lie within {told(within)} and are pinned over {told(apart)}.",
                "Pin them nearer to each other, or let within be more.",
            )
    assert_never(hindrance)
