"""What can be changed so that a pattern goes on a cloth in hand: values only.

`nesting.words.changes` says them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from nesting.cloth.cloth import Spread

__all__ = [
    "Change",
    "LeaveOff",
    "PartPairs",
    "PieceFromHalves",
    "SeamForFold",
    "SmallerAllowances",
    "SpreadOtherwise",
    "TurnAcross",
]


@dataclass(frozen=True, slots=True)
class SpreadOtherwise:
    """Lay the cloth of that key in another spread."""

    cloth: str
    spread: Spread


@dataclass(frozen=True, slots=True)
class PartPairs:
    """Take left and right of a pair from different remnants of the cloth."""

    cloth: str


@dataclass(frozen=True, slots=True)
class TurnAcross:
    """Let a small piece lie across the grain."""

    piece: str


@dataclass(frozen=True, slots=True)
class PieceFromHalves:
    """Cut a small piece in two, with a seam across its middle."""

    piece: str


@dataclass(frozen=True, slots=True)
class SeamForFold:
    """Cut a pair with a seam at an edge that lies on the fold."""

    piece: str
    edge: str


@dataclass(frozen=True, slots=True)
class SmallerAllowances:
    """Make every seam and hem allowance smaller.

    Attributes
    ----------
    kept : float
        The share that is left of each.
    least_mm : float
        None is made smaller than this.
    """

    kept: float
    least_mm: float


@dataclass(frozen=True, slots=True)
class LeaveOff:
    """Cut that piece from something else."""

    piece: str


Change: TypeAlias = (
    SpreadOtherwise | PartPairs | TurnAcross | PieceFromHalves | SeamForFold | SmallerAllowances | LeaveOff
)
