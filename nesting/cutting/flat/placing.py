"""The distances that place each piece: what the person measures with a tape before cutting.

Along the cloth they run from the straightened cut end; across it from the fold of the section where it has
one. Beside a part fold they run from the edge that is folded over, which lies there to be measured from;
elsewhere from the outer edge of the near selvedge (the one along y = 0). Placements are numbered within
a cloth in the order in which they are laid (`nesting.cutting.flat.sequence`).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import assert_never

import numpy as np

from nesting.cloth.cloth import Cloth, RightSide
from nesting.cloth.spread import Spread, no_way_to_lie
from nesting.cutting.flat.sequence import laying_order, stretches_as_laid
from nesting.cutting.lay import Face, Fold, Lay, LaySection, PlacedPiece, Yield
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.piece import Side

__all__ = [
    "Distances",
    "MeasuredFrom",
    "Numbered",
    "Ruler",
    "folded_over_mm",
    "grain_line",
    "numbered",
    "ruler",
]


@dataclass(frozen=True, slots=True)
class Distances:
    """Of the points that a piece is laid by, from the straightened cut end (along) and the `ruler` (across).

    Attributes
    ----------
    foot_along_mm, foot_across_mm, top_along_mm, top_across_mm : float
        Both ends of the grain line.
    corners : tuple of (name, along, across)
        Corners that are measured too, where the grain line alone does not hold the piece; mostly none.
    """

    foot_along_mm: float
    foot_across_mm: float
    top_along_mm: float
    top_across_mm: float
    corners: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Numbered:
    """One placement with its number on the drawing.

    Attributes
    ----------
    number : int
        Counted from 1 within the cloth, in the order of laying.
    large : bool
        Whether it is laid among the first, before those that fit between.
    section : LaySection
    placed : PlacedPiece
    shape : CutShape
        In lay coordinates.
    side : Side or None
        Of the body, where one piece comes off that is of one side and it is known which.
    either_way : bool
        Whether the piece might also lie turned by half.
    distances : Distances or None
        None for a shape that carries no grain line.
    """

    number: int
    large: bool
    section: LaySection
    placed: PlacedPiece
    shape: CutShape
    side: Side | None
    either_way: bool
    distances: Distances | None


def numbered(lay: Lay) -> tuple[Numbered, ...]:
    """Every placement of the lay, in the order of its numbers."""
    found: list[Numbered] = []
    for stretch in stretches_as_laid(lay):
        order = laying_order(stretch)
        for large, laid in ((True, order.large), (False, order.between)):
            for section, placed in laid:
                found.append(_numbered(len(found) + 1, section, placed, lay.cloth, large=large))
    return tuple(found)


def _numbered(
    number: int, section: LaySection, placed: PlacedPiece, cloth: Cloth, *, large: bool
) -> Numbered:
    shape = placed.shape.transformed(np.eye(2), np.array([section.start_mm, section.across_mm]))
    if cloth.repeat is None:  # on a plain cloth there is nothing to match
        shape = shape.without(FeatureKind.MATCH)
    if placed.yields is Yield.WHOLE_ON_FOLD:  # the fold holds it: no reading can turn it
        shape = shape.without(FeatureKind.CORNER)
    return Numbered(
        number=number,
        large=large,
        section=section,
        placed=placed,
        shape=shape,
        side=_side(placed, cloth),
        either_way=_either_way(section, placed.piece),
        distances=_distances(shape, ruler(section, cloth)),
    )


class MeasuredFrom(StrEnum):
    """An edge along the cloth that distances across are measured from."""

    FOLD = "fold"
    NEAR_FOLD = "near fold"
    FAR_FOLD = "far fold"
    NEAR_SELVEDGE = "near selvedge"
    """The outer edge of it."""
    NEAR_CUT_EDGE = "near cut edge"


@dataclass(frozen=True, slots=True)
class Ruler:
    """From where distances across are measured.

    Attributes
    ----------
    from_what : MeasuredFrom
    at_mm : float
        Where that lies across the table.
    inwards : int
        1 where distances grow with y, -1 from a fold on the far side.
    """

    from_what: MeasuredFrom
    at_mm: float
    inwards: int = 1


def ruler(section: LaySection, cloth: Cloth) -> Ruler:
    """What distances across this section are measured from: an edge that lies on the table to be found."""
    match section.spread:
        case Spread.DOUBLE_FOLD if section.fold is Fold.HIGH:
            return Ruler(MeasuredFrom.FAR_FOLD, section.across_mm + section.width_mm, -1)
        case Spread.DOUBLE_FOLD | Spread.TUBE:
            return Ruler(MeasuredFrom.NEAR_FOLD, 0.0)
        case Spread.LENGTHWISE_FOLD | Spread.PART_FOLD:
            return Ruler(MeasuredFrom.FOLD, 0.0)
        case Spread.OPEN | Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:
            if cloth.tube:
                return Ruler(MeasuredFrom.NEAR_CUT_EDGE, 0.0)
            return Ruler(MeasuredFrom.NEAR_SELVEDGE, -cloth.washed_selvedge_mm)
        case Spread.BEST:
            no_way_to_lie(section.spread)
        case _:
            assert_never(section.spread)


def folded_over_mm(lay: Lay) -> float | None:
    """How much of the cloth is folded over from the near side, its selvedge included.

    Of a part fold and a double fold, what is measured all along from the fold to the edge turned over; None
    for other spreads.
    """
    stretch = lay.stretches[0]
    selvedge = lay.cloth.washed_selvedge_mm
    match stretch[0].spread:
        case Spread.PART_FOLD:
            return stretch[0].width_mm + selvedge
        case Spread.DOUBLE_FOLD:
            return (stretch[0].width_mm + stretch[-1].across_mm) / 2
        case Spread.OPEN | Spread.LENGTHWISE_FOLD | Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS | Spread.TUBE:
            return None
        case Spread.BEST:
            no_way_to_lie(stretch[0].spread)
        case _:
            assert_never(stretch[0].spread)


def grain_line(shape: CutShape) -> FloatArray | None:
    """Foot and top of the grain line, (2, 2), or None where the shape carries none."""
    for feature in shape.features:
        if feature.kind is FeatureKind.GRAIN and len(feature.vertices) >= 2:
            return feature.vertices[[0, -1]]
    return None


def _side(placed: PlacedPiece, cloth: Cloth) -> Side | None:
    """What the paper is drawn for, or the other side where it lies face down."""
    drawn = placed.shape.drawn
    if drawn is None or placed.yields is not Yield.ONE or cloth.right_side is RightSide.BOTH:
        return None  # of a pair both; and what has no wrong side may be turned over
    return drawn if placed.face is Face.UP else drawn.other


def _either_way(section: LaySection, piece: str) -> bool:
    """Whether the engine was free to lay this piece both ways up."""
    free = [
        {variant.angle_deg % 360 for variant in item.variants}
        for item in section.problem.items
        if item.name == piece
    ]
    return any((angle + 180) % 360 in angles for angles in free for angle in angles)


def _distances(shape: CutShape, across: Ruler) -> Distances | None:
    line = grain_line(shape)
    if line is None:
        return None
    foot, top = (_measured(point, across) for point in line)
    corners = (one for one in shape.features if one.kind is FeatureKind.CORNER)
    return Distances(*foot, *top, tuple((one.name, *_measured(one.vertices[0], across)) for one in corners))


def _measured(point: FloatArray, across: Ruler) -> tuple[float, float]:
    """How far along the cloth and how far across it a point is measured."""
    return float(point[0]), across.inwards * (float(point[1]) - across.at_mm)
