"""How a change is said that might make a pattern go on a cloth in hand, and how to make it."""

from __future__ import annotations

from typing import assert_never

from nesting.cutting.in_hand.asking import NotTried, TriedChange
from nesting.cutting.in_hand.change import (
    Change,
    LeaveOff,
    PartPairs,
    PieceFromHalves,
    SeamForFold,
    SmallerAllowances,
    SpreadOtherwise,
    TurnAcross,
)
from nesting.words.mistakes import mistake_of

__all__ = ["change_words", "how_to", "why_no_figure"]


def change_words(change: Change) -> str:
    """What is changed.

    >>> change_words(TurnAcross("facing"))
    "turn 'facing' across the grain"
    """
    match change:
        case SpreadOtherwise(_, spread):
            return f"spread it otherwise: {spread}"
        case PartPairs():
            return "take left and right of a pair from different remnants, if their shades agree in daylight"
        case TurnAcross(piece):
            return f"turn '{piece}' across the grain"
        case PieceFromHalves(piece):
            return f"piece '{piece}' from two halves, with a seam across its middle"
        case SeamForFold(piece, edge):
            return f"a seam at '{edge}' of '{piece}' instead of the fold"
        case SmallerAllowances():
            return "make every seam and hem allowance a third smaller, none below 6 mm"
        case LeaveOff(piece):
            return f"leave off '{piece}'"
    assert_never(change)


def how_to(change: Change) -> str:
    """The line to write into the project file, or what to do to the paper; empty of a piece left off.

    >>> how_to(SeamForFold("back", "centre back"))
    'piece.back.on_fold = false'
    """
    match change:
        case SpreadOtherwise(cloth, spread):
            return f'cloth.{_name(cloth)}.spread = "{spread}"'
        case PartPairs(cloth):
            return f"cloth.{_name(cloth)}.part_pairs = true"
        case TurnAcross(piece):
            return f'piece.{_name(piece)}.turn = "quarter"'
        case PieceFromHalves(piece):
            return (
                f"cut the paper of '{piece}' through its middle, and write two pieces with an allowance "
                "where they are joined"
            )
        case SeamForFold(piece, _):
            return f"piece.{_name(piece)}.on_fold = false"
        case SmallerAllowances():
            return "write the smaller allowances into the file (seam_allowance, and allowance of each edge)"
        case LeaveOff():
            return ""
    assert_never(change)


def why_no_figure(tried: TriedChange) -> str:
    """Why nothing is known of a change; empty where something is."""
    match tried.why_not:
        case None:
            return ""
        case NotTried.ENDED:
            return "not tried, as you ended it"
        case NotTried.TIME_UP:
            return "not tried, as the time was up"
        case finding:
            return mistake_of(finding).what


def _name(key: str) -> str:
    """A name as it stands in the file."""
    plain = all(c.isascii() and (c.isalnum() or c in "-_") for c in key)
    return key if plain else f'"{key}"'
