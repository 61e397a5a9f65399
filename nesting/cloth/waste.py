"""Small things that a person would like to have out of what a lay leaves over."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Lie", "SmallPiece"]


class Lie(StrEnum):
    """How a small piece lies on the threads."""

    ALONG = "along"
    """Its length runs along the cloth."""
    ACROSS = "across"
    EITHER = "either"
    BIAS = "bias"
    """Its length runs at 45 degrees to the threads, either way."""


@dataclass(frozen=True, slots=True)
class SmallPiece:
    """So many of one small piece.

    Attributes
    ----------
    name : str
    cloth : str
        Key of the cloth.
    width_mm, length_mm : float
        As cut; of a round piece both are its diameter.
    round : bool
    count : int
    lie : Lie
    """

    name: str
    cloth: str
    width_mm: float
    length_mm: float
    round: bool = False
    count: int = 1
    lie: Lie = Lie.ALONG
