"""What would really come off the table: every piece of cloth that a lay cuts, both layers opened out flat.

From the placed outlines alone, in the flat coordinates of `nesting.cutting.flat.opening`. Seen so, every
piece has the same face of the cloth towards us and the warp runs the way it was woven, so a mirror image is
really a mirror image, and a top that points the wrong way does so. All geometry is shapely's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth
from nesting.cutting.flat.opening import Layer, at_the_fold, layers_of, taken_mm
from nesting.cutting.lay import Lay, PlacedPiece, Yield
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind

__all__ = ["Cut", "CutPiece", "blocked_areas", "cut_of", "cut_pieces", "cut_polygons"]

JOIN_GRID_MM = 1e-4
"""Halves are joined at the fold on a grid so much coarser that no rounding keeps them apart."""
_LAID_BY = (FeatureKind.GRAIN, FeatureKind.CORNER)
"""What the paper is laid by, on one side of a fold only."""


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """A shape as cut and marked.

    Attributes
    ----------
    polygon : Polygon
        The outline that is cut.
    features : tuple of Feature
        All that is marked or drawn on it.
    grain_on_paper : (2, 2) float64 array or None
        Foot and top of its grain line in paper coordinates, as the shape itself tells.
    """

    polygon: shapely.Polygon
    features: tuple[Feature, ...]
    grain_on_paper: FloatArray | None


@dataclass(frozen=True, slots=True, eq=False)
class CutPiece:
    """One piece of cloth as it comes off the table, flat coordinates."""

    piece: str
    copy: int
    cut: Cut


def cut_polygons(lay: Lay) -> list[tuple[str, int, shapely.Polygon]]:
    """Name, number and flat outline of every piece of cloth that the lay cuts.

    All as it lies, nothing judged: for a lay that has passed.
    """
    found = []
    flat_end = 0.0
    for stretch in lay.stretches:
        for section in stretch:
            layers = layers_of(section, stretch, flat_end, lay.cloth)
            for placed in section.placed:
                found += cut_pieces(placed, layers, lay.cloth)
        flat_end += taken_mm(stretch, lay.cloth)
    return [(one.piece, one.copy, one.cut.polygon) for one in found]


def blocked_areas(cloth: Cloth) -> list[tuple[str, shapely.Polygon]]:
    """Flaws and missing parts of a cloth in hand, in flat coordinates, with what they are called."""
    found = []
    for one in cloth.blocked:
        corners = [
            (
                along * cloth.kept_along - cloth.end_allowance_mm,
                across * cloth.kept_across,
            )
            for along, across in one.outline
        ]
        found.append((one.words, shapely.Polygon(corners)))
    return found


def cut_of(shape: CutShape) -> Cut:
    """A shape as it lies."""
    return Cut(shapely.Polygon(shape.cut_line), shape.features, shape.grain_on_paper)


def cut_pieces(placed: PlacedPiece, layers: Sequence[Layer], cloth: Cloth) -> list[CutPiece]:
    """What cutting round one placement gives, opened out flat."""
    cut = cut_of(placed.shape)
    if placed.yields is Yield.WHOLE_ON_FOLD and placed.shape.fold_edge is not None:
        fold = float(placed.shape.fold_edge[0, 1])
        halves = [_opened(cut, layer) for layer in at_the_fold(layers, fold, cloth)]
        cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]
    else:
        cuts = [_opened(cut, layer) for layer in layers]
    if len(cuts) != len(placed.copies):
        return []
    return [CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, cuts, strict=True)]


def _opened(cut: Cut, layer: Layer) -> Cut:
    def move(points: FloatArray) -> FloatArray:
        return np.asarray(points * [layer.along, layer.across] + [layer.x_mm, layer.u_mm])

    features = tuple(Feature(one.kind, one.name, move(one.vertices)) for one in cut.features)
    return Cut(shapely.transform(cut.polygon, move), features, cut.grain_on_paper)


def _joined_at_fold(halves: Sequence[Cut], fold_mm: float) -> Cut:
    """One shape of the two halves; halves that do not meet stay apart and are found out later.

    The grain line is that of the first half, on which the paper lies.
    """
    # Seen from the fold, so that the grid to which the halves are joined has a line there.
    seen = [affinity.translate(half.polygon, 0.0, -fold_mm) for half in halves]
    joined = shapely.union_all(seen, grid_size=JOIN_GRID_MM)
    first, *others = halves
    if not isinstance(joined, shapely.Polygon):
        return first
    marked = (one for half in others for one in half.features if one.kind not in _LAID_BY)
    return Cut(affinity.translate(joined, 0.0, fold_mm), (*first.features, *marked), first.grain_on_paper)
