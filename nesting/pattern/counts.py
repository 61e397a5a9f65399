"""Reading how many of a piece are cut: "cut 4", "2 pairs", "1 on the fold" become a `CutCount`.

A whole number of a piece with a fold edge counts whole pieces on the fold. Otherwise an even number of
a piece that is not symmetric means pairs, a left and a right; anything else means singles, all the same
way up. Words say it outright.
"""

from __future__ import annotations

import re
from enum import Enum
from types import MappingProxyType

from nesting.errors import EllwandError
from nesting.pattern.cut_count import (
    CutCount,
    CutKind,
    JoinedByFold,
    PartedBySeam,
    ReadAsPairs,
    ReadAsSingles,
)

__all__ = ["MOST", "BadCount", "CountFault", "read_count", "with_fold", "with_seam"]

MOST = 500
"""More than a wardrobe room cuts of one piece at once, so a greater count is a slip."""

_KINDS = MappingProxyType(
    {
        "pair": CutKind.PAIR,
        "pairs": CutKind.PAIR,
        "single": CutKind.SINGLE,
        "singles": CutKind.SINGLE,
        "on the fold": CutKind.ON_FOLD,
        "on fold": CutKind.ON_FOLD,
    }
)
_COUNT = re.compile(rf"(?P<number>[-+]?\d+)?\s*(?P<kind>{'|'.join(_KINDS)})?")


class CountFault(Enum):
    """What is wrong with a count."""

    NOT_UNDERSTOOD = "not understood"
    """It is no number of pieces, and none of the words for them."""
    OUT_OF_BOUNDS = "out of bounds"
    """It is less than one, or more than `MOST`."""
    NO_FOLD_EDGE = "no fold edge"
    """It counts wholes on the fold of a piece that has no edge on the fold."""
    FOLD_EDGE = "fold edge"
    """It counts pairs or singles of a piece that is cut whole, on the fold."""
    HALF_A_WHOLE = "half a whole"
    """An odd number of singles would have to be joined two by two."""


class BadCount(EllwandError, ValueError):
    """Something that cannot be read as a number of pieces to cut; `nesting.words.counts` says why.

    Attributes
    ----------
    fault : CountFault
    piece : str
    value : int or str
        As written.
    number : int
        As far as it could be read; else 0.
    """

    def __init__(self, fault: CountFault, piece: str, value: int | str, number: int = 0) -> None:
        self.fault, self.piece, self.value, self.number = fault, piece, value, number
        super().__init__(fault, piece, value, number)


def read_count(value: int | str, *, piece: str, on_fold: bool, symmetric: bool) -> CutCount:
    """Read how many to cut.

    Parameters
    ----------
    value : int or str
        A whole number, or "pair", "2 pairs", "1 single", "3 singles", "1 on the fold".
    piece : str
        Its name, for what is told.
    on_fold : bool
        Whether it has an edge on the fold.
    symmetric : bool
        Whether it is its own mirror image across the grain.

    Raises
    ------
    BadCount
        When it cannot be read, is not above zero, or does not go with the fold edge.

    Examples
    --------
    >>> read_count(4, piece="collar", on_fold=False, symmetric=False).reading
    ReadAsPairs(piece='collar', asked=4)
    """
    number, kind = _number_and_kind(value, piece)
    if not 1 <= number <= MOST:
        raise BadCount(CountFault.OUT_OF_BOUNDS, piece, value, number)
    if kind is None:
        return _plain(number, piece, on_fold=on_fold, symmetric=symmetric)
    if kind is CutKind.ON_FOLD and not on_fold:
        raise BadCount(CountFault.NO_FOLD_EDGE, piece, value, number)
    if kind is not CutKind.ON_FOLD and on_fold:
        raise BadCount(CountFault.FOLD_EDGE, piece, value, number)
    return CutCount(kind, number)


def with_fold(count: CutCount, piece: str) -> CutCount:
    """Count the same garment when the piece, named, is cut on the fold after all: a pair becomes one whole.

    An even number of singles is joined two by two as well.

    Raises
    ------
    BadCount
        For an odd number of singles: what half a whole would be, only the maker can say.
    """
    if count.kind is CutKind.ON_FOLD:
        return count
    if count.kind is CutKind.SINGLE and count.number % 2:
        raise BadCount(CountFault.HALF_A_WHOLE, piece, count.number, count.number)
    return CutCount(CutKind.ON_FOLD, count.pieces // 2, JoinedByFold(piece, count.kind, count.number))


def with_seam(count: CutCount, piece: str) -> CutCount:
    """Count the same garment when the fold edge becomes a seam: each whole on the fold becomes a pair."""
    if count.kind is not CutKind.ON_FOLD:
        return count
    return CutCount(CutKind.PAIR, count.number, PartedBySeam(piece, count.number))


def _number_and_kind(value: int | str, piece: str) -> tuple[int, CutKind | None]:
    if isinstance(value, int) and not isinstance(value, bool):
        return value, None
    if isinstance(value, str):
        found = _COUNT.fullmatch(" ".join(value.casefold().split()))
        if found is not None and (found["number"] or found["kind"]):
            return int(found["number"] or 1), _KINDS[found["kind"]] if found["kind"] else None
    raise BadCount(CountFault.NOT_UNDERSTOOD, piece, value)


def _plain(number: int, piece: str, *, on_fold: bool, symmetric: bool) -> CutCount:
    if on_fold:
        return CutCount(CutKind.ON_FOLD, number)
    if symmetric or number == 1:
        return CutCount(CutKind.SINGLE, number)
    if number % 2 == 0:
        return CutCount(CutKind.PAIR, number // 2, ReadAsPairs(piece, number))
    return CutCount(CutKind.SINGLE, number, ReadAsSingles(piece, number))
