"""How it is said what to mind of a piece in the cut list."""

from __future__ import annotations

from typing import assert_never

from nesting.estimate.estimate import Tally
from nesting.estimate.remarks import CutBesideFold, CutRemark, InOneLayer, Remark
from nesting.pattern.cut_count import JoinedByFold, PartedBySeam, ReadAsPairs, ReadAsSingles
from nesting.words.counts import reading_words
from nesting.words.spreads import SPREAD_WORDS

__all__ = ["remark_words", "tally_remark"]


def tally_remark(tally: Tally) -> str:
    """All that is to mind of a piece; empty where there is nothing."""
    return "; ".join(map(remark_words, tally.remarks))


def remark_words(remark: Remark) -> str:
    """One thing to mind.

    >>> from nesting.cloth.spread import Spread
    >>> remark_words(InOneLayer(Spread.LENGTHWISE_FOLD))
    'cut in a single layer, on the opened-out length after the fold'
    """
    match remark:
        case InOneLayer(spread):
            return f"cut in a single layer, on the {SPREAD_WORDS[spread].opened}"
        case CutBesideFold(spread):
            return SPREAD_WORDS[spread].beside
        case CutRemark():
            return _cut_words(remark)
        case ReadAsPairs() | ReadAsSingles() | JoinedByFold() | PartedBySeam():
            return reading_words(remark)
    assert_never(remark)


def _cut_words(remark: CutRemark) -> str:
    match remark:
        case CutRemark.HALF_PAPER:
            return "the paper is half: draw round it, turn it over along its fold edge, draw round it again"
        case CutRemark.EITHER_FACE:
            return (
                "as both faces of the cloth are alike, what is cut as a left may be turned over into a right"
            )
    assert_never(remark)
