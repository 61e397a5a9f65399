"""How a number of pieces is said: ``2 pairs``; how it was read, and what is wrong with it."""

from __future__ import annotations

from typing import assert_never

from nesting.lettering import quoted
from nesting.pattern.counts import MOST, BadCount, CountFault
from nesting.pattern.cut_count import (
    CountReading,
    CutCount,
    CutKind,
    JoinedByFold,
    PartedBySeam,
    ReadAsPairs,
    ReadAsSingles,
)

__all__ = ["bad_count_words", "count_note", "count_words", "number_words", "reading_words"]


def number_words(kind: CutKind, number: int) -> str:
    """So many of a kind.

    >>> number_words(CutKind.PAIR, 2), number_words(CutKind.ON_FOLD, 2)
    ('2 pairs', '2 on the fold')
    """
    if kind is CutKind.ON_FOLD:
        return f"{number} on the fold"
    return f"{number} {kind}{'' if number == 1 else 's'}"


def count_words(count: CutCount) -> str:
    """How many of a piece are cut: ``1 single``."""
    return number_words(count.kind, count.number)


def reading_words(reading: CountReading) -> str:
    """How a count was read, and why so.

    >>> reading_words(ReadAsPairs("collar", 4))
    "cut 4 of 'collar' read as 2 pairs, left and right, because the piece is not symmetric"
    """
    match reading:
        case ReadAsPairs(piece, asked):
            pairs = number_words(CutKind.PAIR, asked // 2)
            return (
                f"cut {asked} of {piece!r} read as {pairs}, left and right, because the piece is not "
                "symmetric"
            )
        case ReadAsSingles(piece, asked):
            singles = number_words(CutKind.SINGLE, asked)
            return (
                f"cut {asked} of {piece!r} read as {singles}, all the same way up, because an odd number "
                "does not make pairs"
            )
        case JoinedByFold(_, kind, number):
            wholes = number if kind is CutKind.PAIR else number // 2
            return (
                f"{number_words(kind, number)} read as {number_words(CutKind.ON_FOLD, wholes)}, because the "
                "fold joins each two"
            )
        case PartedBySeam(_, number):
            return (
                f"{number_words(CutKind.ON_FOLD, number)} read as {number_words(CutKind.PAIR, number)}, "
                "because a seam takes the fold's place"
            )
    assert_never(reading)


def count_note(reading: CountReading) -> str:
    """How the count of a piece was read, the piece named.

    >>> count_note(PartedBySeam("back", 1))
    "'back': 1 on the fold read as 1 pair, because a seam takes the fold's place"
    """
    match reading:
        case ReadAsPairs() | ReadAsSingles():
            return reading_words(reading)
        case JoinedByFold(piece) | PartedBySeam(piece):
            return f"'{piece}': {reading_words(reading)}"
    assert_never(reading)


def bad_count_words(bad: BadCount) -> tuple[str, str]:
    """What is wrong with a count, and what to do about it; a sentence or two each.

    >>> bad_count_words(BadCount(CountFault.NO_FOLD_EDGE, "collar", "1 on the fold", 1))[0]
    "cut '1 on the fold' of 'collar', but the piece has no edge on the fold."
    """
    value = quoted(bad.value) if isinstance(bad.value, str) else bad.value
    cut = f"cut {value} of {bad.piece!r}"
    match bad.fault:
        case CountFault.NOT_UNDERSTOOD:
            return (
                f"{cut} is not understood.",
                'Write a whole number, or "pair", "2 pairs", "1 single", "3 singles", "1 on the fold".',
            )
        case CountFault.OUT_OF_BOUNDS:
            return (
                f"{cut}: at least 1 must be cut, and at most {MOST}.",
                "Leave a cloth out where none is cut in it.",
            )
        case CountFault.NO_FOLD_EDGE:
            return (
                f"{cut}, but the piece has no edge on the fold.",
                'Name the edge with on_fold = "...", or count singles or pairs.',
            )
        case CountFault.FOLD_EDGE:
            return (
                f"{cut}, but the piece has an edge on the fold, so each is cut whole.",
                f'Write {bad.number} or "{bad.number} on the fold", or set on_fold = false to cut it with a '
                "seam there.",
            )
        case CountFault.HALF_A_WHOLE:
            singles = number_words(CutKind.SINGLE, bad.number)
            return (
                f"an odd count ({singles}) does not make wholes on the fold.",
                "Say with cut = ... how many are cut on the fold.",
            )
    assert_never(bad.fault)
