"""A lay: every piece of a cloth, placed. Data only; made by `nesting.cutting.search.laying`, then verified.

Lay coordinates are the table's: x along the cloth from the first cut end, y across it from the lower
usable side (the fold, where there is one). A section's own coordinates start at its ``start_mm`` and its
``across_mm``.

Terms
-----
section
    A part of the cloth with the same number of layers all over, that pieces may not reach out of.
stretch
    The sections that lie side by side, over the same length.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import groupby

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.reasons import SpreadReason
from nesting.geometry import signed_area
from nesting.packing.problem import Placement, StripProblem
from nesting.packing.result import StopReason
from nesting.pattern.cut_shape import CutShape

__all__ = ["Face", "Fold", "Lay", "LaySection", "PlacedPiece", "Run", "TriedSpread", "Yield"]


class Face(StrEnum):
    """Which side of the paper is seen when it lies on the cloth."""

    UP = "face up"
    DOWN = "face down"


class Yield(StrEnum):
    """What cutting round one placement gives."""

    ONE = "one"
    """A single layer: one piece."""
    PAIR = "a pair"
    """Two layers: the piece and its mirror image."""
    WHOLE_ON_FOLD = "one whole, on the fold"
    """Two layers joined at the fold: one piece, opened out."""


class Fold(StrEnum):
    """Which long sides of a section are folds."""

    NONE = "none"
    LOW = "low"
    """The side of least y."""
    HIGH = "high"
    BOTH = "both"

    @property
    def low(self) -> bool:
        """Whether the side of least y is one."""
        return self in (Fold.LOW, Fold.BOTH)

    @property
    def high(self) -> bool:
        """Whether the side of greatest y is one."""
        return self in (Fold.HIGH, Fold.BOTH)


@dataclass(frozen=True, slots=True, eq=False)
class PlacedPiece:
    """One paper piece lying on the cloth.

    Attributes
    ----------
    piece : str
    copies : tuple of int
        Which of the pieces asked for this gives, counted from 1: ``(3, 4)`` for the second pair.
    of : int
        How many of the piece are asked for in this cloth altogether.
    yields : Yield
    face : Face
    turned_deg : float
        How far it is turned from "top towards the far end", counter-clockwise.
    shape : CutShape
        Already placed: section coordinates.
    size : str
        What the person calls the garment it is for, where several are ordered; may be empty.
    garments : tuple of int
        The numbers of the garments that these copies are for, each once; empty for a single garment.
    tilt_deg : float
        How much of that turn is a grain line off the warp, counter-clockwise; else 0.
    """

    piece: str
    copies: tuple[int, ...]
    of: int
    yields: Yield
    face: Face
    turned_deg: float
    shape: CutShape
    size: str = ""
    garments: tuple[int, ...] = ()
    tilt_deg: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class LaySection:
    """A part of the cloth with the same number of layers all over.

    Attributes
    ----------
    spread : Spread
        How its stretch lies, never `Spread.BEST`. A stretch that follows a fold is `Spread.OPEN`.
    start_mm, length_mm : float
        Along the table; the same for all sections of a stretch.
    width_mm : float
        Of the strip laid on: the usable width, or half of it on a lengthwise fold.
    layers : int
    placed : tuple of PlacedPiece
    problem : StripProblem
        What the engine was asked; its answer is `placements`.
    placements : tuple of Placement
    bound_mm : float
        No lay of these pieces on this section is shorter.
    across_mm : float
        Where its side of least y lies across the table.
    fold : Fold
    """

    spread: Spread
    start_mm: float
    length_mm: float
    width_mm: float
    layers: int
    placed: tuple[PlacedPiece, ...]
    problem: StripProblem
    placements: tuple[Placement, ...]
    bound_mm: float
    across_mm: float = 0.0
    fold: Fold = Fold.NONE


@dataclass(frozen=True, slots=True)
class Run:
    """Stretches that follow one another and lie alike.

    Attributes
    ----------
    spread : Spread
        What follows a fold opened out is `Spread.OPEN`.
    lengths : int
        How many stretches.
    cut_open : bool
        Whether it is a tube cut open.
    """

    spread: Spread
    lengths: int
    cut_open: bool = False


@dataclass(frozen=True, slots=True)
class TriedSpread:
    """What one way of spreading the cloth would need, for comparison.

    Attributes
    ----------
    spread : Spread
    length_mm : float or None
        None where the spread cannot take the pieces.
    to_buy_mm : float or None
    least_to_buy_mm : float or None
        What its lower bound alone would need.
    why_not : SpreadReason or None
        Why it cannot, or was not tried.
    searched : bool
        Whether more than its first lay was made.
    """

    spread: Spread
    length_mm: float | None
    to_buy_mm: float | None
    least_to_buy_mm: float | None
    why_not: SpreadReason | None = None
    searched: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class Lay:
    """All of a cloth's pieces, placed and verified.

    Attributes
    ----------
    cloth : Cloth
    spread : Spread
        As a whole; after a fold, a last stretch may lie opened out for what cannot be cut double.
    sections : tuple of LaySection
        In order along the cloth, without gaps, then across it.
    seed, evaluations : int
        What the search was given and what it used.
    stopped_because : StopReason
    tried : tuple of TriedSpread
        Every spread that was considered, this one included.
    least_mm : float or None
        No lay in this spread needs less cloth, however its pieces are shared out among the sections; None
        where they can be shared out in one way only, and the sections' own bounds say it.
    straight_mm : float or None
        Length of the lay with every grain line straight; None where none may lie otherwise.
    """

    cloth: Cloth
    spread: Spread
    sections: tuple[LaySection, ...]
    seed: int
    evaluations: int
    stopped_because: StopReason
    tried: tuple[TriedSpread, ...] = ()
    least_mm: float | None = None
    straight_mm: float | None = None

    @property
    def stretches(self) -> tuple[tuple[LaySection, ...], ...]:
        """The sections, those that lie side by side together."""
        return tuple(tuple(group) for _, group in groupby(self.sections, key=lambda one: one.start_mm))

    @property
    def runs(self) -> tuple[Run, ...]:
        """How the cloth lies from end to end."""
        return tuple(
            Run(spread, len(list(run)), self.cloth.tube and spread is Spread.OPEN)
            for spread, run in groupby(self.stretches, lambda one: one[0].spread)
        )

    @property
    def table_mm(self) -> float:
        """Length of the table under the lay."""
        return sum(stretch[0].length_mm for stretch in self.stretches)

    @property
    def length_mm(self) -> float:
        """Length of cloth under the lay: of a crosswise fold, twice the table."""
        return sum(stretch[0].spread.facts.lengths * stretch[0].length_mm for stretch in self.stretches)

    @property
    def bound_mm(self) -> float:
        """No lay of this cloth in this spread is shorter."""
        if self.least_mm is not None:
            return self.least_mm
        return sum(
            stretch[0].spread.facts.lengths * max(section.bound_mm for section in stretch)
            for stretch in self.stretches
        )

    @property
    def pieces_area_mm2(self) -> float:
        """Area of all that is cut, every layer counted."""
        return sum(
            section.layers * abs(signed_area(piece.shape.cut_line))
            for section in self.sections
            for piece in section.placed
        )

    @property
    def lay_area_mm2(self) -> float:
        """Area of the usable cloth under the lay, every layer counted."""
        return self.cloth.usable_width_mm * self.length_mm
