"""What may be a slip, as values. Nothing of it stops the program: it is shown, and the person judges.

Lengths and places are in mm on the paper. `point` is the name of a point of the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

from nesting.project import PLAIN

__all__ = [
    "Doubt",
    "DoubtKind",
    "FarCurve",
    "FarPoint",
    "HighAllowance",
    "LargePiece",
    "LowAllowance",
    "NearlyTouching",
    "OddCloth",
    "Place",
    "SharpBend",
    "SlightShrinkage",
    "Slip",
    "SmallPieces",
]

Place: TypeAlias = tuple[float, float]
"""x and y."""


class Slip(Enum):
    """What may have happened to a point while it was written down."""

    SWAPPED = "swapped"
    """Its two numbers stand in the wrong order."""
    DECIMAL = "decimal"
    """The decimal point of one of them has slipped by a place."""
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class NearlyTouching:
    """Two parts of the outline that do not follow one another nearly touch.

    Attributes
    ----------
    edge, point : str
        The edge, and the point of it nearest to the place.
    at : Place
        Where they are nearest.
    other : str
        The edge that they come near to; may be the same.
    gap_mm : float
    """

    edge: str
    point: str
    at: Place
    other: str
    gap_mm: float


@dataclass(frozen=True, slots=True)
class SharpBend:
    """A smooth curve turns at one of its points as only a corner does."""

    edge: str
    point: str
    at: Place
    bend_deg: float


@dataclass(frozen=True, slots=True)
class FarCurve:
    """Between two of its points a smooth curve goes far beyond the box about all of them.

    Attributes
    ----------
    edge : str
    point, following : str
        The points between which it does.
    at : Place
        Where on the curve it is farthest out.
    beyond_mm : float
    """

    edge: str
    point: str
    following: str
    at: Place
    beyond_mm: float


@dataclass(frozen=True, slots=True)
class FarPoint:
    """A point lies far from its neighbours, as the others do not.

    Attributes
    ----------
    edge, point : str
    at : Place
    detour_mm : float
        How much longer the way over it is than the way past it.
    slip : Slip
    meant : Place or None
        Where it may be meant to be, in the line of its neighbours.
    """

    edge: str
    point: str
    at: Place
    detour_mm: float
    slip: Slip
    meant: Place | None = None


@dataclass(frozen=True, slots=True)
class HighAllowance:
    """An allowance is wide for its edge.

    Attributes
    ----------
    edge : str
    allowance_mm : float
    depth_mm : float
        How far the piece reaches inwards from that edge.
    """

    edge: str
    allowance_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True)
class LowAllowance:
    """An allowance is narrower than any seam; without an `edge`, those of many pieces are."""

    edge: str
    allowance_mm: float


@dataclass(frozen=True, slots=True)
class LargePiece:
    """A piece is longer and wider than a garment's."""

    wide_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True)
class SmallPieces:
    """The largest piece of all is smaller than any garment's largest."""

    longest_mm: float


@dataclass(frozen=True, slots=True)
class OddCloth:
    """No cloth is sold in that width; `wide` tells too wide from too narrow."""

    width_mm: float
    wide: bool


@dataclass(frozen=True, slots=True)
class SlightShrinkage:
    """So little shrinkage that a share may be meant: 0.03 for 3 per cent."""

    pct: float


DoubtKind: TypeAlias = (
    NearlyTouching
    | SharpBend
    | FarCurve
    | FarPoint
    | HighAllowance
    | LowAllowance
    | LargePiece
    | SlightShrinkage
    | SmallPieces
    | OddCloth
)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing to look at.

    Attributes
    ----------
    kind : DoubtKind
    piece, cloth : str
        The piece's name, or the key of the cloth; both are empty where it is about them all.
    size, version : str
        The size and the alternative in which it is first so; empty and `PLAIN` for the file itself.
    """

    kind: DoubtKind
    piece: str = ""
    cloth: str = ""
    size: str = ""
    version: str = PLAIN
