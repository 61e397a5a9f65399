"""The distances that place each piece: what the person measures with a tape before cutting.

Along the cloth they run from the straightened cut end; across it from the fold where there is one,
else from the outer edge of the near selvedge (the one along y = 0). Placements are numbered within
a cloth section by section, then by x, then by y.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, Yield
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, FeatureKind

__all__ = [
    "Distances",
    "Numbered",
    "copies_text",
    "grain_line",
    "how_text",
    "measured_from",
    "numbered",
    "selvedge_mm",
]

_TIE_MM = 0.01
"""Placements whose left ends differ by less than this count as level when they are numbered."""


@dataclass(frozen=True, slots=True)
class Distances:
    """From the straightened cut end (along) and `measured_from` (across) to both ends of a grain line."""

    foot_along_mm: float
    foot_across_mm: float
    top_along_mm: float
    top_across_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Numbered:
    """One placement with its number on the drawing.

    Attributes
    ----------
    number : int
        Counted from 1 within the cloth.
    section : LaySection
    placed : PlacedPiece
    shape : CutShape
        In lay coordinates.
    either_way : bool
        Whether the piece might also lie turned by half.
    distances : Distances or None
        None for a shape that carries no grain line.
    """

    number: int
    section: LaySection
    placed: PlacedPiece
    shape: CutShape
    either_way: bool
    distances: Distances | None


def numbered(lay: Lay) -> tuple[Numbered, ...]:
    """Every placement of the lay, in the order of its numbers."""
    found: list[Numbered] = []
    for section in lay.sections:
        in_order = sorted(section.placed, key=_left_then_low)
        for placed in in_order:
            shape = placed.shape.transformed(np.eye(2), np.array([section.start_mm, 0.0]))
            found.append(
                Numbered(
                    number=len(found) + 1,
                    section=section,
                    placed=placed,
                    shape=shape,
                    either_way=_either_way(section, placed.piece),
                    distances=_distances(shape, section.spread, lay.cloth),
                )
            )
    return tuple(found)


def selvedge_mm(cloth: Cloth) -> float:
    """Breadth of one selvedge as it lies on the table, washed."""
    return cloth.selvedge_mm * (1 - cloth.shrinkage_across_pct / 100)


def measured_from(spread: Spread) -> str:
    """What the distances across are measured from."""
    return "fold" if spread is Spread.LENGTHWISE_FOLD else "near selvedge"


def grain_line(shape: CutShape) -> FloatArray | None:
    """Foot and top of the grain line, (2, 2), or None where the shape carries none."""
    for feature in shape.features:
        if feature.kind is FeatureKind.GRAIN and len(feature.vertices) >= 2:
            return feature.vertices[[0, -1]]
    return None


def copies_text(placed: PlacedPiece) -> str:
    """Which of the pieces asked for this placement gives: ``3+4 of 4``."""
    return f"{'+'.join(map(str, placed.copies))} of {placed.of}"


def how_text(placed: PlacedPiece) -> str:
    """How the paper lies, in words."""
    if placed.yields is Yield.WHOLE_ON_FOLD:
        return f"on the fold, {placed.face}" if placed.face is Face.DOWN else "on the fold"
    return f"pair, {placed.face}" if placed.yields is Yield.PAIR else str(placed.face)


def _left_then_low(placed: PlacedPiece) -> tuple[int, float]:
    left, low = placed.shape.cut_line.min(axis=0).tolist()
    return round(left / _TIE_MM), low


def _either_way(section: LaySection, piece: str) -> bool:
    """Whether the engine was free to lay this piece both ways up."""
    angles = {
        variant.angle_deg % 360
        for item in section.problem.items
        if item.name == piece
        for variant in item.variants
    }
    return any((angle + 180) % 360 in angles for angle in angles)


def _distances(shape: CutShape, spread: Spread, cloth: Cloth) -> Distances | None:
    line = grain_line(shape)
    if line is None:
        return None
    edge = 0.0 if spread is Spread.LENGTHWISE_FOLD else selvedge_mm(cloth)
    (foot_x, foot_y), (top_x, top_y) = line.tolist()
    return Distances(foot_x, foot_y + edge, top_x, top_y + edge)
