"""Judges a lay by itself: what would really come off the table, against what was asked for.

Nothing here uses the search, its no-fit polygons or the plan it was given. From the placed outlines
alone it rebuilds every piece of cloth that cutting would give, both layers opened out flat, and
compares each with the paper piece: shape, hand (left or right), direction of the grain, number.
All geometry is shapely's.

Opened-out coordinates: the lower layer keeps its place; the upper one is turned over the fold, so a
piece at (x, y) on a fold at y = 0 has its twin at (x, -y). Seen so, every piece has the same face of
the cloth towards us, and a mirror image is really a mirror image.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.lay import Lay, LaySection, PlacedPiece, Yield
from nesting.errors import LayRefused
from nesting.geometry import FloatArray
from nesting.pattern.piece import CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from nesting.project import Project

__all__ = ["OVERLAP_TOLERANCE_MM", "SHAPE_TOLERANCE_MM", "faults", "require_sound"]

OVERLAP_TOLERANCE_MM = 0.01
"""Two pieces may run into each other by no more than this: a tenth of a chalk line's sharpness."""
SHAPE_TOLERANCE_MM = 0.05
"""A rebuilt piece may differ from the paper by no more than this anywhere."""
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
    polygon: shapely.Polygon


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
    found: list[str] = []
    end = 0.0
    cut: list[_CutPiece] = []
    for number, section in enumerate(lay.sections, start=1):
        if abs(section.start_mm - end) > OVERLAP_TOLERANCE_MM:
            found.append(f"section {number} starts at {section.start_mm:.2f} mm, not at {end:.2f} mm")
        end = section.start_mm + section.length_mm
        found += _section_faults(section, lay.cloth)
        for placed in section.placed:
            cut += _cut_pieces(placed)
    for piece in project.pieces_in(lay.cloth.key):
        found += _piece_faults(piece, lay.cloth, [one for one in cut if one.piece == piece.name])
    asked = {piece.name for piece in project.pieces_in(lay.cloth.key)}
    found += [f"'{name}' is laid but not asked for" for name in sorted({one.piece for one in cut} - asked)]
    return tuple(found)


def _section_faults(section: LaySection, cloth: Cloth) -> list[str]:
    """Pieces outside the cloth, in each other's way, or off the fold they belong on."""
    found = []
    layers = {Spread.OPEN: 1, Spread.LENGTHWISE_FOLD: 2}[section.spread]
    width = cloth.usable_width_mm / layers
    tolerance = OVERLAP_TOLERANCE_MM
    cloth_area = shapely.box(-tolerance, -tolerance, section.length_mm + tolerance, width + tolerance)
    polygons = [shapely.Polygon(placed.shape.cut_line) for placed in section.placed]
    for placed, polygon in zip(section.placed, polygons, strict=True):
        label = f"'{placed.piece}' {placed.copies}"
        if not cloth_area.covers(polygon):
            found.append(f"{label} reaches outside the cloth")
        expected = {1: {Yield.ONE}, 2: {Yield.PAIR, Yield.WHOLE_ON_FOLD}}[layers]
        if placed.yields not in expected:
            found.append(f"{label} cannot give {placed.yields} from {layers} layer(s)")
        if placed.yields is Yield.WHOLE_ON_FOLD and not _is_on_fold(placed):
            found.append(f"{label} does not lie on the fold")
    # Shrinking both by half the tolerance leaves an overlap only where they run in deeper than that.
    cores = [polygon.buffer(-tolerance / 2, join_style="mitre") for polygon in polygons]
    tree = shapely.STRtree(cores)
    for i, j in tree.query(cores, predicate="intersects").T:
        if i < j:
            first, second = section.placed[i], section.placed[j]
            found.append(f"'{first.piece}' {first.copies} and '{second.piece}' {second.copies} overlap")
    if cloth.gap_mm > 0:
        grown = [polygon.buffer(cloth.gap_mm - tolerance) for polygon in polygons]
        for i, j in shapely.STRtree(polygons).query(grown, predicate="intersects").T:
            if i < j:
                first, second = section.placed[i], section.placed[j]
                found.append(f"'{first.piece}' and '{second.piece}' are closer than {cloth.gap_mm:g} mm")
    return found


def _is_on_fold(placed: PlacedPiece) -> bool:
    """The fold edge, and nothing of the piece below it, lies on y = 0."""
    edge = placed.shape.fold_edge
    return edge is not None and bool(np.abs(edge[:, 1]).max() <= 1e-6)


def _cut_pieces(placed: PlacedPiece) -> list[_CutPiece]:
    """What cutting round one placement gives, opened out."""
    upper = shapely.Polygon(placed.shape.cut_line)
    if placed.yields is Yield.ONE:
        polygons = [upper]
    else:
        lower = affinity.scale(upper, yfact=-1.0, origin=(0.0, 0.0))
        polygons = [upper, lower] if placed.yields is Yield.PAIR else [_joined_at_fold(upper, lower)]
    if len(polygons) != len(placed.copies):
        return []
    return [_CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, polygons, strict=True)]


def _joined_at_fold(upper: shapely.Polygon, lower: shapely.Polygon) -> shapely.Polygon:
    """One polygon of the two halves; halves that do not meet stay apart and are found out later."""
    joined = shapely.union_all([upper, lower], grid_size=1e-6)
    return joined if isinstance(joined, shapely.Polygon) else upper


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
    asked = shapely.Polygon(shape.cut_line)
    mirrored = affinity.scale(asked, yfact=-1.0, origin=(0.0, 0.0))
    turn = Turn.NONE if cloth.nap is Nap.ONE_WAY else (piece.turn or cloth.turn)
    as_asked = as_mirrored = either = 0
    for one in cut:
        fits = _matches(one.polygon, asked, turn)
        fits_mirrored = _matches(one.polygon, mirrored, turn)
        if not (fits or fits_mirrored):
            found.append(f"'{piece.name}' {one.copy} is not the piece asked for, or lies off its grain")
        elif fits and fits_mirrored:
            either += 1
        elif fits:
            as_asked += 1
        else:
            as_mirrored += 1
    if cloth.right_side is RightSide.ONE:
        if count.kind is CutKind.PAIR and max(as_asked, as_mirrored) > count.number:
            found.append(f"'{piece.name}': {as_asked} lefts and {as_mirrored} rights do not make pairs")
        if count.kind is CutKind.SINGLE and as_mirrored and not _is_symmetric(asked, mirrored):
            found.append(f"'{piece.name}': {as_mirrored} of the singles are cut the wrong way round")
    return found


def _is_symmetric(asked: shapely.Polygon, mirrored: shapely.Polygon) -> bool:
    return _same_but_for_place(asked, mirrored, tolerance_mm=1.0)


def _matches(polygon: shapely.Polygon, asked: shapely.Polygon, turn: Turn) -> bool:
    """Whether the polygon is the asked one, turned as allowed and moved."""
    angles = _TURNS_DEG.get(turn) or tuple(float(a) for a in _turns_that_fit(polygon, asked))
    return any(
        _same_but_for_place(polygon, affinity.rotate(asked, angle, origin=(0.0, 0.0)), SHAPE_TOLERANCE_MM)
        for angle in angles
    )


def _turns_that_fit(polygon: shapely.Polygon, asked: shapely.Polygon) -> FloatArray:
    """Turns, in degrees, that bring the longest side of `asked` onto a side of the polygon as long."""
    sides = _sides(polygon)
    longest = max(_sides(asked), key=lambda side: side[0])
    return np.array([(angle - longest[1]) % 360 for length, angle in sides if abs(length - longest[0]) < 0.1])


def _sides(polygon: shapely.Polygon) -> list[tuple[float, float]]:
    """(length, direction in degrees) of each side, counter-clockwise round."""
    ring = np.asarray(shapely.geometry.polygon.orient(polygon).exterior.coords)
    steps = np.diff(ring, axis=0)
    return [(float(np.hypot(dx, dy)), float(np.degrees(np.arctan2(dy, dx)))) for dx, dy in steps]


def _same_but_for_place(one: shapely.Polygon, other: shapely.Polygon, tolerance_mm: float) -> bool:
    """Whether two polygons coincide when their boxes are brought together."""
    (ax, ay, aX, aY), (bx, by, bX, bY) = one.bounds, other.bounds
    if max(abs((aX - ax) - (bX - bx)), abs((aY - ay) - (bY - by))) > 2 * tolerance_mm:
        return False
    moved = affinity.translate(other, ax - bx, ay - by)
    return bool(one.boundary.hausdorff_distance(moved.boundary) <= tolerance_mm)
