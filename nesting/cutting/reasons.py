"""Why a cloth does not lie in some spread, as a value: another room asks for its type, never for its words.

`nesting.words.reasons` says each in words. Names of pieces stand in the order of the demand, each once.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

__all__ = [
    "Barred",
    "NeverDouble",
    "OffTheFold",
    "OffTheWish",
    "SpreadReason",
    "TooNarrow",
    "TooNarrowOnLines",
]


class Barred(Enum):
    """A reason that needs nothing more to be said."""

    INTERRUPTED = "interrupted"
    """Not tried, as the person ended the search."""
    NOTHING_DOUBLE = "nothing double"
    """Nothing can be cut double."""
    RUNS_THE_OTHER_WAY = "runs the other way"
    """The cloth has one way, and its upper layer would run the other."""
    AS_CROSSWISE_FOLD = "as crosswise fold"
    """Two lengths of a cloth without a way take what a crosswise fold does, with a cut more."""
    LONGER_THAN_TABLE = "longer than table"
    """It was laid, and is longer than the table."""
    NO_ROOM_AS_WISHED = "no room as wished"
    """What is to lie together or at a place does not go into one part of the length."""
    FROM_BOTH_HALVES = "from both halves"
    """What is to lie together or at a place would come from both halves of the cloth."""
    STRIPE_REVERSED = "stripe reversed"
    """An uneven stripe lies the other way round in the upper layer."""
    LINES_TURNED = "lines turned"
    """The upper layer lies turned, so what is matched in one layer is not in the other."""
    LINES_APART = "lines apart"
    """Two lengths begin at different places of the repeat."""
    LINE_UNKNOWN = "line unknown"
    """Pieces are to lie on a main line, and nobody has measured where that lies across the open cloth."""
    FOLD_ON_A_STRIPE = "fold on a stripe"
    """Its fold has to lie on the middle of a stripe, so its depth cannot be chosen."""
    FOLDS_ON_A_STRIPE = "folds on a stripe"
    """Both its folds would have to lie on the middle of a stripe."""


@dataclass(frozen=True, slots=True)
class TooNarrow:
    """These pieces have no place, because of how wide they are."""

    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TooNarrowOnLines:
    """These pieces have none where they meet on the lines that they are matched to."""

    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NeverDouble:
    """A flawed cloth lies double as a whole, and these pieces cannot be cut double so."""

    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OffTheFold:
    """These pieces are matched across and would lie opened out, where no fold holds the lines."""

    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OffTheWish:
    """These pieces are to lie together or at a place and would lie opened out, away from it."""

    pieces: tuple[str, ...]


SpreadReason: TypeAlias = Barred | TooNarrow | TooNarrowOnLines | NeverDouble | OffTheFold | OffTheWish
"""Why a spread is not used; None stands for a spread that can be."""
