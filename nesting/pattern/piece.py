"""What is cut: one paper pattern piece, as measured off the paper.

Paper coordinates: millimetres from a corner of the sheet, x to the right, y up, paper face up.
An outline is a closed walk of named edges, counter-clockwise or clockwise as the person
happened to go round.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from nesting.geometry import FloatArray
from nesting.pattern.cut_count import CutCount as CutCount
from nesting.pattern.cut_count import CutKind as CutKind
from nesting.pattern.draft import Draft

__all__ = ["CutCount", "CutKind", "Dart", "Edge", "GrainLine", "Mark", "Notch", "Piece", "Side", "Turn"]


Point = tuple[float, float]
GrainLine = tuple[Point, Point]


class Turn(StrEnum):
    """How far a piece may be turned from its grain line before it is laid."""

    NONE = "none"
    """Its top always towards the same end of the cloth."""
    HALF = "half"
    """Either way up."""
    QUARTER = "quarter"
    """Also across the grain."""
    ANY = "any"
    """At any angle (interfacing without a grain)."""


class Side(StrEnum):
    """Of the body, as the garment is worn."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> Side:
        """The mirror image's."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT


@dataclass(frozen=True, slots=True, eq=False)
class Edge:
    """A named run of the outline.

    Attributes
    ----------
    name : str
    vertices : (M, 2) float64 array, mm, paper coordinates, M >= 2, both ends included
        Curves are already flattened (see `nesting.pattern.curves`).
    allowance_mm : float
        Seam allowance to add outside this edge; 0 where the outline already is the cutting line
        (but a former fold edge that becomes a seam needs one even there). On an edge that is on
        the fold it is not used.
    """

    name: str
    vertices: FloatArray
    allowance_mm: float


@dataclass(frozen=True, slots=True)
class Notch:
    """A balance mark on the outline: `at` is on the outline as drawn, paper mm."""

    name: str
    edge: str
    at: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Dart:
    """Two legs and a tip, paper mm: (first leg, tip, second leg)."""

    name: str
    legs_and_tip: tuple[tuple[float, float], tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Mark:
    """An inner line or point carried onto the drawing (pocket place, button, roll line), paper mm."""

    name: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One paper piece.

    Attributes
    ----------
    name : str
    edges : tuple of Edge
        In order round the outline; each begins where the one before ends, the last ends where
        the first begins.
    grain_deg : float
        Direction from the foot to the top of the grain line, degrees counter-clockwise from
        paper x; 90 is straight up the paper.
    cuts : Mapping[str, CutCount]
        By key of the cloth.
    on_fold : str or None
        Name of the edge that lies on the fold; the paper is then half of the piece.
    allowance_included : bool
        True where the outline as drawn is the cutting line.
    notches, darts, marks : tuples
    turn : Turn or None
        A limit of this piece's own; None leaves it to the cloth.
    matching : tuple of Mark
        The points of the seam line that `nesting.pattern.match.Match` names, each a mark of one point.
    grain_line : two points or None
        Foot and top of the grain line drawn on the paper, where it says; its direction is `grain_deg`.
    grain_tolerance_deg : float or None
        How far its grain line may lie off the warp; None leaves it to the cloth.
    size : str
        The size it is drawn in, or what else tells the garments of an order apart; may be empty.
    may_be_left_off : bool
        Whether the garment is only less without it (a facing, a patch, a loop), as the person says.
    draft : Draft or None
        The points as written, for telling the person about them; None where nothing was (a strip).
    drawn : Side or None
        For which side the paper is, face up; None where nobody says.
    """

    name: str
    edges: tuple[Edge, ...]
    grain_deg: float
    cuts: Mapping[str, CutCount]
    on_fold: str | None = None
    allowance_included: bool = False
    notches: tuple[Notch, ...] = ()
    darts: tuple[Dart, ...] = ()
    marks: tuple[Mark, ...] = ()
    turn: Turn | None = None
    grain_line: GrainLine | None = None
    matching: tuple[Mark, ...] = ()
    grain_tolerance_deg: float | None = None
    size: str = ""
    may_be_left_off: bool = False
    draft: Draft | None = None
    drawn: Side | None = None

    def edge(self, name: str) -> Edge:
        """The edge of that name; KeyError when there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(name)
