"""A lay: every piece of a cloth, placed. Data only; made by `nesting.cutting.laying` after verification.

Lay coordinates are the table's: x along the cloth from the first cut end, y across it from the lower
usable side (the fold, where there is one). A section's own coordinates start at its ``start_mm``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.cloth.cloth import Cloth, Spread
from nesting.geometry import signed_area
from nesting.packing.problem import Placement, StripProblem
from nesting.pattern.cut_shape import CutShape

__all__ = ["Face", "Lay", "LaySection", "PlacedPiece", "TriedSpread", "Yield"]


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
    """

    piece: str
    copies: tuple[int, ...]
    of: int
    yields: Yield
    face: Face
    turned_deg: float
    shape: CutShape


@dataclass(frozen=True, slots=True, eq=False)
class LaySection:
    """A stretch of the cloth that lies one way.

    Attributes
    ----------
    spread : Spread
        `Spread.OPEN` or `Spread.LENGTHWISE_FOLD`, never `Spread.BEST`.
    start_mm, length_mm : float
        Along the cloth.
    width_mm : float
        Of the strip laid on: the usable width, or half of it on a fold.
    layers : int
    placed : tuple of PlacedPiece
    problem : StripProblem
        What the engine was asked; its answer is `placements`.
    placements : tuple of Placement
    bound_mm : float
        No lay of this section is shorter.
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
    why_not : str
        Why it cannot, or was not searched; else empty.
    """

    spread: Spread
    length_mm: float | None
    to_buy_mm: float | None
    least_to_buy_mm: float | None
    why_not: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Lay:
    """All of a cloth's pieces, placed and verified.

    Attributes
    ----------
    cloth : Cloth
    spread : Spread
        As a whole; on a fold, a second section may lie opened out for odd single pieces.
    sections : tuple of LaySection
        In order along the cloth, without gaps.
    seed, evaluations : int
        What the search was given and what it used.
    stopped_because : str
    tried : tuple of TriedSpread
        Every spread that was considered, this one included.
    """

    cloth: Cloth
    spread: Spread
    sections: tuple[LaySection, ...]
    seed: int
    evaluations: int
    stopped_because: str
    tried: tuple[TriedSpread, ...] = ()

    @property
    def lies(self) -> str:
        """How the cloth lies from end to end: ``lengthwise fold, then opened out``."""
        spreads = [section.spread for section in self.sections]
        if spreads == [Spread.OPEN]:
            return "open, one layer"
        return ", then ".join("opened out" if spread is Spread.OPEN else str(spread) for spread in spreads)

    @property
    def length_mm(self) -> float:
        """Length of cloth under the lay."""
        return sum(section.length_mm for section in self.sections)

    @property
    def bound_mm(self) -> float:
        """No lay of this cloth in this spread is shorter."""
        return sum(section.bound_mm for section in self.sections)

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
        return sum(section.layers * section.width_mm * section.length_mm for section in self.sections)
