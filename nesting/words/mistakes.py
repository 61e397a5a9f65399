"""How what was found wrong becomes a mistake that the person is told: where, what, and what to do.

What cuts and lays raises `CannotBeLaid`, which holds values; who speaks to a person has it `told`, as the
commands do and the public `lay_project`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec, TypeVar, assert_never

from nesting.cutting.findings import (
    CannotBeLaid,
    Finding,
    Hindrance,
    LongerThanTable,
    LongerThanWithin,
    NoLayOnTable,
    NoRoomForWishes,
    NotEvenOpen,
    PinnedAndMatched,
    PinnedApart,
    PinnedBeyond,
    PinnedNearEnd,
    PinnedOffFold,
    PinnedOnEachOther,
    PinnedTurned,
    PinnedWithoutSpread,
    SpreadBarred,
    TooLargeForRemnants,
    TooWide,
    WishesOnRemnants,
)
from nesting.errors import BadInput, EllwandError, Mistake
from nesting.project import PLAIN
from nesting.words.fit import fit_words
from nesting.words.wishes import wish_words

__all__ = ["in_words", "mistake_of", "told"]

_P = ParamSpec("_P")
_T = TypeVar("_T")


def mistake_of(finding: Finding) -> Mistake:
    """One finding in words."""
    places = [finding.source] if finding.source else []
    places += [] if finding.version == PLAIN else [f"alternative '{finding.version}'"]
    subject, (what, remedy) = _said(finding)
    return Mistake(", ".join([*places, f"{subject}cloth '{finding.cloth}'"]), what, remedy)


def told(error: EllwandError) -> EllwandError:
    """The same error in words: `BadInput` for `CannotBeLaid`, any other as it is."""
    if isinstance(error, CannotBeLaid):
        return BadInput(tuple(map(mistake_of, error.findings)))
    return error


def in_words(function: Callable[_P, _T]) -> Callable[_P, _T]:
    """The same function, whose errors are `told`."""

    @wraps(function)
    def speaking(*args: _P.args, **named: _P.kwargs) -> _T:
        try:
            return function(*args, **named)
        except CannotBeLaid as error:
            raise told(error) from error

    return speaking


def _said(finding: Finding) -> tuple[str, tuple[str, str]]:
    """What of the cloth a finding is about, and what is said of it."""
    hindrance: Hindrance = finding.hindrance
    match hindrance:
        case TooWide() | LongerThanTable() | TooLargeForRemnants():
            return f"piece '{hindrance.piece}' in ", fit_words(hindrance, finding.unit)
        case NotEvenOpen() | SpreadBarred() | NoLayOnTable():
            return "", fit_words(hindrance, finding.unit)
        case NoRoomForWishes():
            return "", wish_words(hindrance, finding.unit)
        case (
            WishesOnRemnants()
            | LongerThanWithin()
            | PinnedWithoutSpread()
            | PinnedAndMatched()
            | PinnedTurned()
            | PinnedOffFold()
            | PinnedBeyond()
            | PinnedNearEnd()
            | PinnedOnEachOther()
            | PinnedApart()
        ):
            return "wishes on ", wish_words(hindrance, finding.unit)
    assert_never(hindrance)
