"""Judges a lay by itself: what would really come off the table, against what was asked for.

Nothing here uses the search, its no-fit polygons or the plan it was given. From the placed outlines
alone it rebuilds every piece of cloth that cutting would give, both layers opened out flat, and
compares each with the paper piece: shape, hand (left or right), direction of the grain, number. What the
lay says in words and numbers (face, turn, copies, layers, bound) must be true of its outlines.
All geometry is shapely's.

Opened-out coordinates: the lower layer keeps its place; the upper one is turned over the fold, so a
piece at (x, y) on a fold at y = 0 has its twin at (x, -y). Seen so, every piece has the same face of
the cloth towards us, and a mirror image is really a mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, Yield
from nesting.errors import LayRefused
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.piece import CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from nesting.project import Project

_Geometry = TypeVar("_Geometry", shapely.Polygon, shapely.MultiPoint)

__all__ = ["OVERLAP_TOLERANCE_MM", "SHAPE_TOLERANCE_MM", "faults", "require_sound"]

OVERLAP_TOLERANCE_MM = 0.01
"""Two pieces may run into each other by no more than this: a tenth of a chalk line's sharpness."""
SHAPE_TOLERANCE_MM = 0.05
"""A rebuilt piece may differ from the paper by no more than this anywhere."""
ON_FOLD_MM = 1e-6
"""Rounding allowed where an edge lies on the fold."""
JOIN_GRID_MM = 1e-4
"""Halves are joined at the fold on a grid so much coarser that no rounding keeps them apart."""
SYMMETRY_TOLERANCE_MM = 1.0
"""Left and right that differ by no more than this are taken for the same."""
_TURNS_DEG = {
    Turn.NONE: (0.0,),
    Turn.HALF: (0.0, 180.0),
    Turn.QUARTER: (0.0, 90.0, 180.0, 270.0),
}


@dataclass(frozen=True, slots=True)
class _CutPiece:
    """One piece of cloth as it comes off the table, opened-out section coordinates."""

    piece: str
    copy: int
    cut: _Cut


@dataclass(frozen=True, slots=True)
class _Cut:
    """A shape as cut and marked: its outline, and the points of all that is marked on it, (N, 2)."""

    polygon: shapely.Polygon
    marked: shapely.MultiPoint

    def mirrored(self) -> _Cut:
        """Turned over the fold at y = 0."""
        return _Cut(_over_the_fold(self.polygon), _over_the_fold(self.marked))

    def turned(self, angle_deg: float) -> _Cut:
        return _Cut(
            affinity.rotate(self.polygon, angle_deg, origin=(0.0, 0.0)),
            affinity.rotate(self.marked, angle_deg, origin=(0.0, 0.0)),
        )

    def is_at_its_place(self, other: _Cut, tolerance_mm: float) -> bool:
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


def require_sound(lay: Lay, project: Project) -> None:
    """Raise `LayRefused`, listing every fault, unless the lay is sound."""
    found = faults(lay, project)
    if found:
        raise LayRefused(
            f"The lay of '{lay.cloth.name}' did not pass verification and is not shown: " + "; ".join(found)
        )


def faults(lay: Lay, project: Project) -> tuple[str, ...]:
    """Everything wrong with a lay, in words; empty when it is sound.

    Parameters
    ----------
    lay : Lay
    project : Project
        What was asked for.
    """
    if lay.cloth != project.cloths.get(lay.cloth.key):
        return (f"the lay is on another cloth than the project's '{lay.cloth.key}'",)
    found = _spread_faults(lay)
    pieces = {piece.name: piece for piece in project.pieces_in(lay.cloth.key)}
    end = 0.0
    cut: list[_CutPiece] = []
    for number, section in enumerate(lay.sections, start=1):
        if abs(section.start_mm - end) > OVERLAP_TOLERANCE_MM:
            found.append(f"section {number} starts at {section.start_mm:.2f} mm, not at {end:.2f} mm")
        end = section.start_mm + section.length_mm
        found += _section_faults(section, lay.cloth)
        for placed in section.placed:
            cut += _cut_pieces(placed)
            if placed.piece in pieces:
                found += _word_faults(placed, pieces[placed.piece], lay.cloth)
    found += _neighbour_faults(lay)
    for piece in pieces.values():
        found += _piece_faults(piece, lay.cloth, [one for one in cut if one.piece == piece.name])
    found += [
        f"'{name}' is laid but not asked for" for name in sorted({one.piece for one in cut} - pieces.keys())
    ]
    return tuple(found)


def _spread_faults(lay: Lay) -> list[str]:
    """A cloth spread as it may not be, and lengths that cannot be true."""
    found = []
    if lay.spread is Spread.BEST or lay.cloth.spread not in {Spread.BEST, lay.spread}:
        found.append(f"the cloth lies '{lay.spread}', but '{lay.cloth.spread}' is asked for")
    if lay.spread is Spread.OPEN and any(section.spread is not Spread.OPEN for section in lay.sections):
        found.append("a stretch of the open cloth is folded")
    if lay.bound_mm > lay.length_mm + OVERLAP_TOLERANCE_MM:
        found.append(f"the lay, {lay.length_mm:.2f} mm, is shorter than its bound, {lay.bound_mm:.2f} mm")
    return found


def _section_faults(section: LaySection, cloth: Cloth) -> list[str]:
    """Pieces outside the cloth, or off the fold they belong on."""
    found = []
    layers = {Spread.OPEN: 1, Spread.LENGTHWISE_FOLD: 2}[section.spread]
    width = cloth.usable_width_mm / layers
    tolerance = OVERLAP_TOLERANCE_MM
    if section.layers != layers or abs(section.width_mm - width) > tolerance:
        found.append(
            f"{section.layers} layer(s) {section.width_mm:.2f} mm wide, but '{section.spread}' makes "
            f"{layers}, {width:.2f} mm wide"
        )
    cloth_area = shapely.box(-tolerance, -tolerance, section.length_mm + tolerance, width + tolerance)
    for placed in section.placed:
        label = _label(placed)
        if not cloth_area.covers(shapely.Polygon(placed.shape.cut_line)):
            found.append(f"{label} reaches outside the cloth")
        expected = {1: {Yield.ONE}, 2: {Yield.PAIR, Yield.WHOLE_ON_FOLD}}[layers]
        if placed.yields not in expected:
            found.append(f"{label} cannot give {placed.yields} from {layers} layer(s)")
        if placed.yields is Yield.WHOLE_ON_FOLD and not _is_on_fold(placed):
            found.append(f"{label} does not lie on the fold")
    return found


def _neighbour_faults(lay: Lay) -> list[str]:
    """Pieces in each other's way, over the whole length of the cloth."""
    found = []
    gap, tolerance = lay.cloth.gap_mm, OVERLAP_TOLERANCE_MM
    labels = [_label(placed) for section in lay.sections for placed in section.placed]
    polygons = [
        affinity.translate(shapely.Polygon(placed.shape.cut_line), section.start_mm)
        for section in lay.sections
        for placed in section.placed
    ]
    # Shrinking both by half the tolerance leaves an overlap only where they run in deeper than that.
    cores = [polygon.buffer(-tolerance / 2, join_style="mitre") for polygon in polygons]
    for i, j in shapely.STRtree(cores).query(cores, predicate="intersects").T:
        if i < j:
            found.append(f"{labels[i]} and {labels[j]} overlap")
    if gap > 0:
        tree = shapely.STRtree(polygons)
        for i, j in tree.query(polygons, predicate="dwithin", distance=max(0.0, gap - tolerance)).T:
            if i < j:
                found.append(f"{labels[i]} and {labels[j]} are closer than {gap:g} mm")
    return found


def _label(placed: PlacedPiece) -> str:
    return f"'{placed.piece}' {placed.copies}"


def _word_faults(placed: PlacedPiece, piece: Piece, cloth: Cloth) -> list[str]:
    """What the person is told of a placement, against where its outline, notches and marks really lie."""
    found = []
    asked = piece.cuts[cloth.key].pieces
    if placed.of != asked:
        found.append(f"{_label(placed)} is called one of {placed.of}, but {asked} are asked for")
    paper = cut_shape(piece)
    if piece.on_fold is not None and placed.yields is Yield.ONE:
        paper = unfolded(paper)
    told = _cut_of(paper)
    if placed.face is Face.DOWN:
        told = told.mirrored()
    if not _cut_of(placed.shape).is_at_its_place(told.turned(placed.turned_deg), SHAPE_TOLERANCE_MM):
        found.append(f"{_label(placed)} does not lie {placed.face}, turned by {placed.turned_deg:g} degrees")
    return found


def _is_on_fold(placed: PlacedPiece) -> bool:
    """The fold edge, and nothing of the piece below it, lies on y = 0."""
    edge = placed.shape.fold_edge
    return edge is not None and bool(np.abs(edge[:, 1]).max() <= ON_FOLD_MM)


def _cut_of(shape: CutShape) -> _Cut:
    kinds = {FeatureKind.NOTCH, FeatureKind.DART, FeatureKind.MARK, FeatureKind.FOLD}
    points = [point for feature in shape.features if feature.kind in kinds for point in feature.vertices]
    return _Cut(shapely.Polygon(shape.cut_line), shapely.MultiPoint(points))


def _over_the_fold(geometry: _Geometry) -> _Geometry:
    return affinity.scale(geometry, yfact=-1.0, origin=(0.0, 0.0))


def _cut_pieces(placed: PlacedPiece) -> list[_CutPiece]:
    """What cutting round one placement gives, opened out."""
    upper = _cut_of(placed.shape)
    if placed.yields is Yield.ONE:
        cuts = [upper]
    else:
        lower = upper.mirrored()
        cuts = [upper, lower] if placed.yields is Yield.PAIR else [_joined_at_fold(upper, lower)]
    if len(cuts) != len(placed.copies):
        return []
    return [_CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, cuts, strict=True)]


def _joined_at_fold(upper: _Cut, lower: _Cut) -> _Cut:
    """One shape of the two halves; halves that do not meet stay apart and are found out later."""
    joined = shapely.union_all([upper.polygon, lower.polygon], grid_size=JOIN_GRID_MM)
    if not isinstance(joined, shapely.Polygon):
        return upper
    return _Cut(joined, shapely.MultiPoint([*upper.marked.geoms, *lower.marked.geoms]))


def _piece_faults(piece: Piece, cloth: Cloth, cut: list[_CutPiece]) -> list[str]:
    """The cut pieces of one name against the paper: numbers, shape, hand, direction."""
    found = []
    count = piece.cuts[cloth.key]
    copies = sorted(one.copy for one in cut)
    if copies != list(range(1, count.pieces + 1)):
        found.append(f"'{piece.name}': {count.pieces} asked, copies {copies} placed")
    shape = cut_shape(piece)
    if count.kind is CutKind.ON_FOLD:
        shape = unfolded(shape)
    asked = _cut_of(shape)
    mirrored = asked.mirrored()
    turn = Turn.NONE if cloth.nap is Nap.ONE_WAY else (piece.turn or cloth.turn)
    as_asked = as_mirrored = 0
    for one in cut:
        fits = _matches(one.cut, asked, turn)
        fits_mirrored = _matches(one.cut, mirrored, turn)
        if not (fits or fits_mirrored):
            found.append(f"'{piece.name}' {one.copy} is not the piece asked for, or lies off its grain")
        # One that fits both ways serves as either hand.
        as_asked += fits and not fits_mirrored
        as_mirrored += fits_mirrored and not fits
    if cloth.right_side is RightSide.ONE and not asked.is_at_its_place(mirrored, SYMMETRY_TOLERANCE_MM):
        if count.kind is CutKind.PAIR and max(as_asked, as_mirrored) > count.number:
            found.append(f"'{piece.name}': {as_asked} lefts and {as_mirrored} rights do not make pairs")
        if count.kind is CutKind.SINGLE and as_mirrored:
            found.append(f"'{piece.name}': {as_mirrored} of the singles are cut the wrong way round")
    return found


def _matches(one: _Cut, asked: _Cut, turn: Turn) -> bool:
    """Whether the one is the asked one, turned as allowed and moved."""
    angles = _TURNS_DEG.get(turn) or _turns_that_fit(one.polygon, asked.polygon)
    return any(one.is_at_its_place(asked.turned(angle), SHAPE_TOLERANCE_MM) for angle in angles)


def _turns_that_fit(polygon: shapely.Polygon, asked: shapely.Polygon) -> tuple[float, ...]:
    """Turns, in degrees, that bring the corner of `asked` farthest from its middle onto one as far."""
    distance, direction = max(_corners(asked))
    return tuple(
        (angle - direction) % 360
        for away, angle in _corners(polygon)
        if abs(away - distance) < 2 * SHAPE_TOLERANCE_MM
    )


def _corners(polygon: shapely.Polygon) -> list[tuple[float, float]]:
    """(distance, direction in degrees) of each corner from the centre of area."""
    away = np.asarray(polygon.exterior.coords[:-1]) - np.asarray(polygon.centroid.coords[0])
    return [(float(np.hypot(dx, dy)), float(np.degrees(np.arctan2(dy, dx)))) for dx, dy in away]
