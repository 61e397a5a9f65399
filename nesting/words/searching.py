"""How it is said why a search ended."""

from __future__ import annotations

from typing import assert_never

from nesting.packing.result import StopReason

__all__ = ["stop_words"]


def stop_words(reason: StopReason) -> str:
    """Why a search ended, as what follows "because".

    >>> stop_words(StopReason.TIME)
    'the time was up'
    """
    match reason:
        case StopReason.INTERRUPTED:
            return "interrupted"
        case StopReason.EVALUATIONS:
            return "the evaluation budget was used"
        case StopReason.TIME:
            return "the time was up"
        case StopReason.LENGTH:
            return "the wanted length was reached"
        case StopReason.BOUND:
            return "no shorter lay exists"
        case StopReason.FLOOR:
            return "no walk could shorten its lay any further"
        case StopReason.NOT_YET:
            return "still searching"
        case StopReason.NO_USE:
            return "no shorter lay would lessen the purchase"
    assert_never(reason)
