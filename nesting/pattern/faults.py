"""What can be wrong with a piece as drawn, as values; `nesting.words.pieces` says it.

Lengths and places are in mm on the paper. `edge` is the edge on which a fault is found.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

__all__ = [
    "AllowanceBelowNothing",
    "AllowanceOverHalf",
    "AllowanceTooWide",
    "BesideFold",
    "Carried",
    "Crossing",
    "EdgeOfNoLength",
    "EdgeTwice",
    "FoldAtAPoint",
    "FoldBent",
    "FoldOffGrain",
    "Gap",
    "NoArea",
    "NoEdges",
    "NotSimple",
    "NotchOffEdge",
    "NotchWithoutEdge",
    "OverFold",
    "PieceFault",
    "Place",
    "PointOutside",
    "UnknownFoldEdge",
]

Place: TypeAlias = tuple[float, float]
"""x and y."""


@dataclass(frozen=True, slots=True)
class NoEdges:
    """There is no outline."""


@dataclass(frozen=True, slots=True)
class EdgeTwice:
    """So many edges have one name."""

    edge: str
    times: int


@dataclass(frozen=True, slots=True)
class EdgeOfNoLength:
    """An edge has no two points apart."""

    edge: str


@dataclass(frozen=True, slots=True)
class AllowanceBelowNothing:
    """A seam allowance is below 0, or no number."""

    edge: str
    allowance_mm: float


@dataclass(frozen=True, slots=True)
class AllowanceTooWide:
    """A seam allowance is wider than any seam or hem."""

    edge: str
    allowance_mm: float
    most_mm: float


@dataclass(frozen=True, slots=True)
class AllowanceOverHalf:
    """A seam allowance is more than half of the piece, which measures so much."""

    edge: str
    allowance_mm: float
    size_mm: float


@dataclass(frozen=True, slots=True)
class Gap:
    """An edge does not begin where the one before it ended.

    Attributes
    ----------
    edge : str
        The one before.
    end : Place
        Where it ends.
    following : str
    begin : Place
        Where that one begins.
    gap_mm : float
    closing : bool
        Whether `following` is the first edge: the outline does not come back.
    """

    edge: str
    end: Place
    following: str
    begin: Place
    gap_mm: float
    closing: bool


@dataclass(frozen=True, slots=True)
class NoArea:
    """All points of the outline lie on one line."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """Two edges cross or touch where they should not; an edge does so with itself where both are one."""

    edge: str
    other: str
    place: Place


@dataclass(frozen=True, slots=True)
class NotSimple:
    """The outline is not a simple one, for a reason of the geometry library's."""

    reason: str


@dataclass(frozen=True, slots=True)
class NotchWithoutEdge:
    """A notch is to be on an edge that there is not; these there are."""

    notch: str
    edge: str
    edges: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotchOffEdge:
    """A notch is so far off its edge.

    Attributes
    ----------
    notch, edge : str
    at : Place
    off_mm : float
    lies_on : str
        Another edge that it does lie on; empty where there is none.
    """

    notch: str
    edge: str
    at: Place
    off_mm: float
    lies_on: str


class Carried(Enum):
    """What is carried onto the cloth."""

    DART = "dart"
    MARK = "mark"


@dataclass(frozen=True, slots=True)
class PointOutside:
    """A point of a dart or mark lies so far outside the outline."""

    kind: Carried
    name: str
    point: Place
    off_mm: float


@dataclass(frozen=True, slots=True)
class UnknownFoldEdge:
    """The edge that is to lie on the fold is none of these."""

    edge: str
    edges: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FoldAtAPoint:
    """The fold edge ends where it begins."""

    edge: str


@dataclass(frozen=True, slots=True)
class FoldBent:
    """The fold edge leaves the straight line by so much, at that place."""

    edge: str
    off_mm: float
    place: Place


@dataclass(frozen=True, slots=True)
class FoldOffGrain:
    """The fold edge runs so many degrees off the grain, which is so much from end to end."""

    edge: str
    turn_deg: float
    end_mm: float


@dataclass(frozen=True, slots=True)
class OverFold:
    """The piece crosses its fold line: another edge lies beyond it.

    Attributes
    ----------
    edge : str
        On the fold.
    over : str
    beyond_mm : float
    place : Place
        Where it is farthest beyond.
    """

    edge: str
    over: str
    beyond_mm: float
    place: Place


@dataclass(frozen=True, slots=True)
class BesideFold:
    """An edge lies on the fold line too, beside the fold edge."""

    edge: str
    fold: str


PieceFault: TypeAlias = (
    NoEdges
    | EdgeTwice
    | EdgeOfNoLength
    | AllowanceBelowNothing
    | AllowanceTooWide
    | AllowanceOverHalf
    | Gap
    | NoArea
    | Crossing
    | NotSimple
    | NotchWithoutEdge
    | NotchOffEdge
    | PointOutside
    | UnknownFoldEdge
    | FoldAtAPoint
    | FoldBent
    | FoldOffGrain
    | OverFold
    | BesideFold
)
