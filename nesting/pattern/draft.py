"""A piece as it was measured and written down: its points by name, and which of them each edge goes through.

Paper coordinates, millimetres. What is cut follows from `nesting.pattern.piece.Piece`; this is for telling
the person about a point by the name that it was given.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Curve", "Draft", "Walk"]


class Curve(StrEnum):
    """How an edge runs through its points."""

    STRAIGHT = "straight"
    SMOOTH = "smooth"
    ARC = "arc"


@dataclass(frozen=True, slots=True)
class Walk:
    """One edge as written: the names of its points in order, two or more."""

    edge: str
    through: tuple[str, ...]
    curve: Curve


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """What was written down of a piece.

    Attributes
    ----------
    points : Mapping[str, (float, float)]
        All of them, those of darts and marks too, in the order of the file; mm.
    walks : tuple of Walk
        One for each edge, in the same order.
    large : bool
        Whether it is said to be as large as it is.
    """

    points: Mapping[str, tuple[float, float]]
    walks: tuple[Walk, ...]
    large: bool = False
