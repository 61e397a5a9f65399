"""What would really come off the table: every piece of cloth that a lay cuts, both layers opened out flat.

From the placed outlines alone, in the flat coordinates of `nesting.cutting.flat.opening`. Seen so, every
piece has the same face of the cloth towards us and the warp runs the way it was woven, so a mirror image is
really a mirror image, and a top that points the wrong way does so. All geometry is shapely's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth
from nesting.cutting.flat.opening import Layer, at_the_fold, layers_of, taken_mm
from nesting.cutting.lay import Lay, PlacedPiece, Yield
from nesting.pattern.cut_shape import CutShape, FeatureKind

_Geometry = TypeVar("_Geometry", shapely.Polygon, shapely.MultiPoint)

__all__ = ["Cut", "CutPiece", "blocked_areas", "cut_of", "cut_pieces", "cut_polygons"]

JOIN_GRID_MM = 1e-4
"""Halves are joined at the fold on a grid so much coarser that no rounding keeps them apart."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A shape as cut and marked: its outline, and the points of all that is marked on it, (N, 2)."""

    polygon: shapely.Polygon
    marked: shapely.MultiPoint

    def mirrored(self) -> Cut:
        """Turned over the fold at y = 0."""
        return Cut(_over_the_fold(self.polygon), _over_the_fold(self.marked))

    def turned(self, angle_deg: float) -> Cut:
        """Turned counter-clockwise about the origin."""
        return Cut(
            affinity.rotate(self.polygon, angle_deg, origin=(0.0, 0.0)),
            affinity.rotate(self.marked, angle_deg, origin=(0.0, 0.0)),
        )

    def is_at_its_place(self, other: Cut, tolerance_mm: float) -> bool:
        """Whether the two are the same when their boxes are brought together."""
        (ax, ay, aX, aY), (bx, by, bX, bY) = self.polygon.bounds, other.polygon.bounds
        if max(abs((aX - ax) - (bX - bx)), abs((aY - ay) - (bY - by))) > 2 * tolerance_mm:
            return False
        outline = affinity.translate(other.polygon.boundary, ax - bx, ay - by)
        if self.polygon.boundary.hausdorff_distance(outline) > tolerance_mm:
            return False
        marked = affinity.translate(other.marked, ax - bx, ay - by)
        if self.marked.is_empty or marked.is_empty:
            return bool(self.marked.is_empty and marked.is_empty)
        return bool(self.marked.hausdorff_distance(marked) <= tolerance_mm)


@dataclass(frozen=True, slots=True)
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
    """The outline that is cut and all that is marked, as the shape lies."""
    kinds = {
        FeatureKind.NOTCH,
        FeatureKind.DART,
        FeatureKind.MARK,
        FeatureKind.MATCH,
        FeatureKind.FOLD,
    }
    points = [point for feature in shape.features if feature.kind in kinds for point in feature.vertices]
    return Cut(shapely.Polygon(shape.cut_line), shapely.MultiPoint(points))


def _over_the_fold(geometry: _Geometry) -> _Geometry:
    return affinity.scale(geometry, yfact=-1.0, origin=(0.0, 0.0))


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
    matrix = [layer.along, 0, 0, layer.across, layer.x_mm, layer.u_mm]
    return Cut(affinity.affine_transform(cut.polygon, matrix), affinity.affine_transform(cut.marked, matrix))


def _joined_at_fold(halves: Sequence[Cut], fold_mm: float) -> Cut:
    """One shape of the two halves; halves that do not meet stay apart and are found out later."""
    # Seen from the fold, so that the grid to which the halves are joined has a line there.
    seen = [affinity.translate(half.polygon, 0.0, -fold_mm) for half in halves]
    joined = shapely.union_all(seen, grid_size=JOIN_GRID_MM)
    if not isinstance(joined, shapely.Polygon):
        return halves[0]
    marked = shapely.MultiPoint([point for half in halves for point in half.marked.geoms])
    return Cut(affinity.translate(joined, 0.0, fold_mm), marked)
