"""Why what is asked for cannot be laid, as values: found before a search where it can be, else by it.

`nesting.words.mistakes` makes a message with its remedy of each. Lengths are in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

from nesting.cloth.cloth import Spread
from nesting.cutting.reasons import SpreadReason
from nesting.errors import EllwandError
from nesting.units import Unit

__all__ = [
    "CannotBeLaid",
    "Finding",
    "FitHindrance",
    "Hindrance",
    "LongerThanTable",
    "LongerThanWithin",
    "NoLayOnTable",
    "NoRoomForWishes",
    "NotEvenOpen",
    "PinnedAndMatched",
    "PinnedApart",
    "PinnedBeyond",
    "PinnedNearEnd",
    "PinnedOffFold",
    "PinnedOnEachOther",
    "PinnedTurned",
    "PinnedWithoutSpread",
    "SpreadBarred",
    "TooLargeForRemnants",
    "TooWide",
    "Undivided",
    "WishHindrance",
    "WishesOnRemnants",
]


@dataclass(frozen=True, slots=True)
class TooWide:
    """A piece is wider than the cloth, however that may lie.

    Attributes
    ----------
    piece : str
    across_mm, usable_mm : float
        Of the piece, in the allowed turn in which it is least; of the cloth as it lies.
    on_fold : bool
        Whether it is cut on the fold.
    doubled : bool
        Whether it is meant to lie on the folded cloth; else the cloth is open, and a piece on the fold
        opened out.
    on_stripe : bool
        Whether the fold has to lie on a stripe, which takes some of the width.
    open_does : bool
        Whether it goes on the same cloth laid open.
    least_width_mm : float
        As sold: the narrowest cloth on which it would go.
    """

    piece: str
    across_mm: float
    usable_mm: float
    on_fold: bool
    doubled: bool
    on_stripe: bool
    open_does: bool
    least_width_mm: float


@dataclass(frozen=True, slots=True)
class LongerThanTable:
    """A piece is longer than the table, however it is turned."""

    piece: str
    length_mm: float
    table_mm: float


@dataclass(frozen=True, slots=True)
class TooLargeForRemnants:
    """A piece is too large for each piece of cloth in hand by itself.

    Attributes
    ----------
    piece : str
    along_mm, across_mm : float
        Opened out.
    on_fold : bool
    remnant : str
        Name of the largest piece of cloth; empty where there is but one.
    room_mm, width_mm : float
        Of it, to lay on.
    """

    piece: str
    along_mm: float
    across_mm: float
    on_fold: bool
    remnant: str
    room_mm: float
    width_mm: float


@dataclass(frozen=True, slots=True)
class NotEvenOpen:
    """Even laid open the cloth cannot take its pieces."""

    reason: SpreadReason


@dataclass(frozen=True, slots=True)
class SpreadBarred:
    """The spread that is asked for cannot take the pieces.

    Attributes
    ----------
    spread : Spread
    reason : SpreadReason
    two_lengths_do : bool
        Whether two lengths would, of a crosswise fold.
    """

    spread: Spread
    reason: SpreadReason
    two_lengths_do: bool


class Undivided(Enum):
    """Why a lay longer than the table is not laid in several lengths."""

    FLAWS = "flaws"
    """The cloth has flaws."""
    WISHES = "wishes"
    """There are wishes of where pieces lie."""


@dataclass(frozen=True, slots=True)
class NoLayOnTable:
    """No lay was found that goes on the table, in one length or in several.

    Attributes
    ----------
    length_mm : float
        Cloth that the shortest takes.
    table_mm : float
    undivided : Undivided or None
        Why it was not laid in several lengths, where it was not.
    """

    length_mm: float
    table_mm: float
    undivided: Undivided | None


@dataclass(frozen=True, slots=True)
class NoRoomForWishes:
    """The search found no room for these pieces where they are wished."""

    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WishesOnRemnants:
    """The cloth is in several pieces, and nobody has said on which of them the wishes are to be met."""


@dataclass(frozen=True, slots=True)
class LongerThanWithin:
    """A piece is longer than the part of the cloth that it is to share with others."""

    piece: str
    length_mm: float
    within_mm: float


@dataclass(frozen=True, slots=True)
class PinnedWithoutSpread:
    """A piece is pinned to a place of the cloth, and nobody has said how the cloth is to lie."""


@dataclass(frozen=True, slots=True)
class PinnedAndMatched:
    """A piece is pinned, and matched to the repeat as well."""

    piece: str


@dataclass(frozen=True, slots=True)
class PinnedTurned:
    """A piece is pinned turned where it may not be turned."""

    piece: str


@dataclass(frozen=True, slots=True)
class PinnedOffFold:
    """A piece on the fold is pinned so that its fold edge lies off the fold."""

    piece: str
    off_mm: float


@dataclass(frozen=True, slots=True)
class PinnedBeyond:
    """A piece is pinned so that it reaches beyond the usable cloth."""

    piece: str
    beyond_mm: float


@dataclass(frozen=True, slots=True)
class PinnedNearEnd:
    """A piece is to lie so far from the cut end, and is pinned where it begins nearer to it."""

    piece: str
    wished_mm: float
    begins_mm: float


@dataclass(frozen=True, slots=True)
class PinnedOnEachOther:
    """Two pieces are pinned onto each other."""

    pieces: tuple[str, str]


@dataclass(frozen=True, slots=True)
class PinnedApart:
    """Two pieces are to lie within a part of the cloth, and are pinned over a longer one."""

    pieces: tuple[str, str]
    within_mm: float
    apart_mm: float


FitHindrance: TypeAlias = (
    TooWide | LongerThanTable | TooLargeForRemnants | NotEvenOpen | SpreadBarred | NoLayOnTable
)
"""What is wrong between pieces, cloth and table."""

WishHindrance: TypeAlias = (
    NoRoomForWishes
    | WishesOnRemnants
    | LongerThanWithin
    | PinnedWithoutSpread
    | PinnedAndMatched
    | PinnedTurned
    | PinnedOffFold
    | PinnedBeyond
    | PinnedNearEnd
    | PinnedOnEachOther
    | PinnedApart
)
"""What is wrong with the wishes of where pieces lie."""

Hindrance: TypeAlias = FitHindrance | WishHindrance


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that keeps a cloth from being laid, and where it was found.

    Attributes
    ----------
    source : str
        Name of the project's file; may be empty.
    version : str
        The alternative, or `nesting.project.PLAIN`.
    cloth : str
        Key of the cloth.
    unit : Unit
        What the person measures in.
    hindrance : Hindrance
    """

    source: str
    version: str
    cloth: str
    unit: Unit
    hindrance: Hindrance


class CannotBeLaid(EllwandError, ValueError):
    """What is asked for cannot be laid; carries all that was found, as values.

    `nesting.words.mistakes.in_words` makes a `nesting.errors.BadInput` of it.
    """

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        self.findings = findings
        super().__init__(findings)

    def __str__(self) -> str:
        return "\n".join(map(repr, self.findings))
