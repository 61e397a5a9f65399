"""How it is said why a spread is not used."""

from __future__ import annotations

from typing import assert_never

from nesting.cutting.reasons import (
    Barred,
    NeverDouble,
    OffTheFold,
    OffTheWish,
    SpreadReason,
    TooNarrow,
    TooNarrowOnLines,
)
from nesting.words.names import names_text

__all__ = ["reason_words"]


def reason_words(reason: SpreadReason) -> str:
    """Why a spread is not used, as what follows a colon or "but".

    >>> reason_words(TooNarrow(("cape", "collar")))
    "too narrow for 'cape', 'collar'"
    """
    match reason:
        case TooNarrow(pieces):
            return f"too narrow for {names_text(pieces)}"
        case TooNarrowOnLines(pieces):
            return f"too narrow for {names_text(pieces)} on the lines they meet on"
        case NeverDouble(pieces):
            return (
                "with a flaw in it the cloth lies double across as a whole, and there "
                f"{names_text(pieces)} cannot be cut double"
            )
        case OffTheFold(pieces):
            return f"{names_text(pieces)} would lie opened out, where no fold holds the lines across"
        case OffTheWish(pieces):
            return f"{names_text(pieces)} would lie opened out, away from where wished"
        case Barred():
            return _barred_words(reason)
    assert_never(reason)


def _barred_words(reason: Barred) -> str:
    match reason:
        case Barred.INTERRUPTED:
            return "not tried, as the search was interrupted"
        case Barred.NOTHING_DOUBLE:
            return "nothing can be cut double"
        case Barred.RUNS_THE_OTHER_WAY:
            return "the upper layer would run the other way"
        case Barred.AS_CROSSWISE_FOLD:
            return "as a crosswise fold, with a cut more"
        case Barred.LONGER_THAN_TABLE:
            return "longer than the table"
        case Barred.NO_ROOM_AS_WISHED:
            return "no room for what is to lie together or at a place"
        case Barred.FROM_BOTH_HALVES:
            return "what is to lie together or at a place would come from both halves of the cloth"
        case Barred.STRIPE_REVERSED:
            return (
                "an uneven stripe lies the other way round in the upper layer, so the two cannot be pinned "
                "line on line"
            )
        case Barred.LINES_TURNED:
            return "the upper layer lies turned round, so what is matched in one layer is not in the other"
        case Barred.LINES_APART:
            return (
                "its two lengths begin at different places of the repeat, so their lines do not lie together"
            )
        case Barred.LINE_UNKNOWN:
            return "nobody has measured where the main line lies across it"
        case Barred.FOLD_ON_A_STRIPE:
            return "its fold has to lie on the middle of a stripe, wherever that falls"
        case Barred.FOLDS_ON_A_STRIPE:
            return "both its folds would have to lie on the middle of a stripe"
    assert_never(reason)
