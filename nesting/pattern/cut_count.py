"""How many of a piece are cut, and how that was read where it could have meant several things.

Values only; `nesting.words.counts` says them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

__all__ = [
    "CountReading",
    "CutCount",
    "CutKind",
    "JoinedByFold",
    "PartedBySeam",
    "ReadAsPairs",
    "ReadAsSingles",
]


class CutKind(StrEnum):
    """What one of "how many" is."""

    PAIR = "pair"
    """A left and a right: the second is the mirror image of the first."""
    SINGLE = "single"
    """All the same way up."""
    ON_FOLD = "on the fold"
    """The paper is half of the piece; its fold edge lies on the fold."""


@dataclass(frozen=True, slots=True)
class ReadAsPairs:
    """An even number of a piece that is not symmetric: half of them are lefts, half rights.

    Attributes
    ----------
    piece : str
    asked : int
        As written.
    """

    piece: str
    asked: int


@dataclass(frozen=True, slots=True)
class ReadAsSingles:
    """An odd number of a piece that is not symmetric: all the same way up."""

    piece: str
    asked: int


@dataclass(frozen=True, slots=True)
class JoinedByFold:
    """Counted in pairs or singles, and the fold joins each two of them into one.

    Attributes
    ----------
    piece : str
    kind : CutKind
        What was counted.
    number : int
        How many.
    """

    piece: str
    kind: CutKind
    number: int


@dataclass(frozen=True, slots=True)
class PartedBySeam:
    """Counted on the fold, and a seam takes the fold's place: so many pairs."""

    piece: str
    number: int


CountReading: TypeAlias = ReadAsPairs | ReadAsSingles | JoinedByFold | PartedBySeam


@dataclass(frozen=True, slots=True)
class CutCount:
    """How many of a piece are cut in one cloth.

    Attributes
    ----------
    kind : CutKind
    number : int
        Pairs, singles, or pieces on the fold, by `kind`; at least 1.
    reading : CountReading or None
        How the count was understood, where it could have meant something else.
    mirrored : bool
        Of singles: each is the mirror image of the piece, the right of a pair whose left is cut elsewhere.
    garments : tuple of int
        The numbers of the garments it is cut for, where several are ordered at once: `number` counts them
        all. Empty for a single garment.
    """

    kind: CutKind
    number: int
    reading: CountReading | None = None
    mirrored: bool = False
    garments: tuple[int, ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces of cloth this makes."""
        return self.number * (2 if self.kind is CutKind.PAIR else 1)

    @property
    def copies(self) -> tuple[int, ...]:
        """The numbers of its pieces of cloth: from 1 on, those of a garment one after another."""
        return tuple(range(1, self.pieces + 1))

    def garment_of(self, copy: int) -> int | None:
        """For which garment one of its `copies` is cut; None where it is the only one."""
        if not self.garments:
            return None
        return self.garments[(copy - 1) // (self.pieces // len(self.garments))]
