"""How many of a piece are cut: reading "cut 4", "2 pairs", "1 on the fold" as a `CutCount`.

A whole number of a piece with a fold edge counts whole pieces on the fold. Otherwise an even number of
a piece that is not symmetric means pairs, a left and a right; anything else means singles, all the same
way up. Words say it outright.
"""

from __future__ import annotations

import re
from types import MappingProxyType

from nesting.errors import EllwandError
from nesting.pattern.piece import CutCount, CutKind

__all__ = ["BadCount", "read_count", "with_fold", "with_seam"]

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


class BadCount(EllwandError, ValueError):
    """Something that cannot be read as a number of pieces to cut."""


def read_count(value: int | str, *, piece: str, on_fold: bool, symmetric: bool) -> CutCount:
    """Read how many to cut.

    Parameters
    ----------
    value : int or str
        A whole number, or "pair", "2 pairs", "1 single", "3 singles", "1 on the fold".
    piece : str
        Its name, for the sentences.
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
    >>> read_count(4, piece="collar", on_fold=False, symmetric=False).read_as
    "cut 4 of 'collar' read as 2 pairs, left and right, because the piece is not symmetric"
    """
    number, kind = _number_and_kind(value, piece)
    if not 1 <= number <= MOST:
        raise BadCount(
            f"cut {value!r} of {piece!r}: at least 1 must be cut, and at most {MOST}. "
            "Leave a cloth out where none is cut in it."
        )
    if kind is None:
        return _plain(number, piece, on_fold=on_fold, symmetric=symmetric)
    if kind is CutKind.ON_FOLD and not on_fold:
        raise BadCount(
            f"cut {value!r} of {piece!r}, but the piece has no edge on the fold. "
            'Name the edge with on_fold = "...", or count singles or pairs.'
        )
    if kind is not CutKind.ON_FOLD and on_fold:
        raise BadCount(
            f"cut {value!r} of {piece!r}, but the piece has an edge on the fold, so each is cut whole. "
            f'Write {number} or "{number} on the fold", or set on_fold = false to cut it with a seam there.'
        )
    return CutCount(kind, number)


def with_fold(count: CutCount) -> CutCount:
    """Count the same garment when the piece is cut on the fold after all: a pair becomes one whole.

    An even number of singles is joined two by two as well.

    Raises
    ------
    BadCount
        For an odd number of singles: what half a whole would be, only the maker can say.
    """
    if count.kind is CutKind.ON_FOLD:
        return count
    if count.kind is CutKind.SINGLE and count.number % 2:
        raise BadCount(
            f"an odd count ({_words(count.kind, count.number)}) does not make wholes on the fold. "
            "Say with cut = ... how many are cut on the fold."
        )
    number = count.pieces // 2
    was = _words(count.kind, count.number)
    read_as = f"{was} read as {number} on the fold, because the fold joins each two"
    return CutCount(CutKind.ON_FOLD, number, read_as)


def with_seam(count: CutCount) -> CutCount:
    """Count the same garment when the fold edge becomes a seam: each whole on the fold becomes a pair."""
    if count.kind is not CutKind.ON_FOLD:
        return count
    now = _words(CutKind.PAIR, count.number)
    read_as = f"{count.number} on the fold read as {now}, because a seam takes the fold's place"
    return CutCount(CutKind.PAIR, count.number, read_as)


def _number_and_kind(value: int | str, piece: str) -> tuple[int, CutKind | None]:
    if isinstance(value, int) and not isinstance(value, bool):
        return value, None
    if isinstance(value, str):
        found = _COUNT.fullmatch(" ".join(value.casefold().split()))
        if found is not None and (found["number"] or found["kind"]):
            return int(found["number"] or 1), _KINDS[found["kind"]] if found["kind"] else None
    raise BadCount(
        f"cut {value!r} of {piece!r} is not understood. "
        'Write a whole number, or "pair", "2 pairs", "1 single", "3 singles", "1 on the fold".'
    )


def _plain(number: int, piece: str, *, on_fold: bool, symmetric: bool) -> CutCount:
    if on_fold:
        return CutCount(CutKind.ON_FOLD, number)
    if symmetric or number == 1:
        return CutCount(CutKind.SINGLE, number)
    if number % 2 == 0:
        pairs = number // 2
        read_as = (
            f"cut {number} of {piece!r} read as {_words(CutKind.PAIR, pairs)}, left and right, "
            "because the piece is not symmetric"
        )
        return CutCount(CutKind.PAIR, pairs, read_as)
    read_as = (
        f"cut {number} of {piece!r} read as {_words(CutKind.SINGLE, number)}, all the same way up, "
        "because an odd number does not make pairs"
    )
    return CutCount(CutKind.SINGLE, number, read_as)


def _words(kind: CutKind, number: int) -> str:
    if kind is CutKind.ON_FOLD:
        return f"{number} on the fold"
    return f"{number} {kind.value}{'' if number == 1 else 's'}"
