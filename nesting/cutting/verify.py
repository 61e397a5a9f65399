"""Judges a lay by itself: what would really come off the table, against what was asked for.

Nothing here uses the search, its no-fit polygons or the plan it was given. From the placed outlines
alone it rebuilds every piece of cloth that cutting would give, both layers opened out flat, and
compares each with the paper piece: shape, hand (left or right), direction of the grain, number. What the
lay says in words and numbers (face, turn, copies, layers, bound) must be true of its outlines.
All geometry is shapely's.

Every spread is told here once more, from the cloth's point of view (see `nesting.cutting.opening`): where
on the flat cloth, right side up, each layer of each section comes from. Seen so, every piece has the same
face of the cloth towards us and the warp runs the way it was woven, so a mirror image is really a mirror
image, and a top that points the wrong way does so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, Yield
from nesting.cutting.opening import Layer, at_the_fold, layers_of, stretch_faults
from nesting.cutting.verify_lines import CutPoint, line_faults, points_cut, section_line_faults
from nesting.cutting.verify_wishes import wish_faults
from nesting.errors import LayRefused
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from nesting.project import Project

_Geometry = TypeVar("_Geometry", shapely.Polygon, shapely.MultiPoint)

__all__ = [
    "OVERLAP_TOLERANCE_MM",
    "SHAPE_TOLERANCE_MM",
    "blocked_areas",
    "cut_polygons",
    "faults",
    "require_sound",
]

OVERLAP_TOLERANCE_MM = 0.01
"""Two pieces may run into each other by no more than this: a tenth of a chalk line's sharpness."""
SHAPE_TOLERANCE_MM = 0.05
"""A rebuilt piece may differ from the paper by no more than this anywhere."""
ANGLE_TOLERANCE_DEG = 0.02
"""Rounding allowed where the angle of a piece is worked out from two of its corners."""
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
    """One piece of cloth as it comes off the table, flat coordinates."""

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
    found = _spread_faults(lay, project.table_mm)
    pieces = {piece.name: piece for piece in project.pieces_in(lay.cloth.key)}
    end = flat_end = 0.0
    cut: list[_CutPiece] = []
    points: list[CutPoint] = []
    for number, stretch in enumerate(lay.stretches, start=1):
        start, length = stretch[0].start_mm, stretch[0].length_mm
        if abs(start - end) > OVERLAP_TOLERANCE_MM:
            found.append(f"stretch {number} starts at {start:.2f} mm, not at {end:.2f} mm")
        end = start + length
        wrong = stretch_faults(stretch, lay.cloth, OVERLAP_TOLERANCE_MM)
        found += wrong
        for section in () if wrong else stretch:
            found += _section_faults(section, lay.cloth)
            found += section_line_faults(section, project, lay.cloth)
            layers = layers_of(section, stretch, flat_end, lay.cloth)
            for placed in section.placed:
                cut += _cut_pieces(placed, layers, lay.cloth)
                if placed.piece in pieces:
                    points += points_cut(placed, section, layers, pieces[placed.piece], lay.cloth)
                    found += _word_faults(placed, pieces[placed.piece], lay.cloth)
        flat_end += stretch[0].spread.lengths * length
    found += _flat_faults(cut, flat_end, lay.cloth)
    found += _blocked_faults(lay, cut)
    found += _gap_faults(lay)
    found += line_faults(points, project, lay.cloth)
    for piece in pieces.values():
        found += _piece_faults(piece, lay.cloth, [one for one in cut if one.piece == piece.name])
    found += _one_way_faults(cut, pieces, lay.cloth)
    found += wish_faults([(one.piece, one.copy, one.cut.polygon) for one in cut], lay, project)
    found += [
        f"'{name}' is laid but not asked for" for name in sorted({one.piece for one in cut} - pieces.keys())
    ]
    return tuple(found)


def _spread_faults(lay: Lay, table_mm: float | None) -> list[str]:
    """A cloth spread as it may not be, or beyond the table, and lengths that cannot be true."""
    found = []
    if lay.spread is Spread.BEST or lay.cloth.spread not in {Spread.BEST, lay.spread}:
        found.append(f"the cloth lies '{lay.spread}', but '{lay.cloth.spread}' is asked for")
    # What follows a fold lies opened out; a fold on which nothing can be cut may be left out altogether.
    spreads = [stretch[0].spread for stretch in lay.stretches]
    folded = sum(spread is lay.spread for spread in spreads)
    for number, spread in enumerate(spreads):
        if spread is not (lay.spread if number < folded else Spread.OPEN):
            found.append(f"a stretch of the cloth lies '{spread}', not '{lay.spread}'")
    if table_mm is None and (folded > 1 or len(spreads) - folded > 1):
        found.append(f"the cloth lies in {len(spreads)} lengths, with no table to go on")
    for number, stretch in enumerate(lay.stretches if table_mm is not None else (), start=1):
        ends = [float(one.shape.cut_line[:, 0].max()) for section in stretch for one in section.placed]
        if table_mm is not None and max(ends, default=0.0) > table_mm + OVERLAP_TOLERANCE_MM:
            found.append(f"stretch {number}, {max(ends):.2f} mm, is longer than the table, {table_mm:.2f} mm")
    if lay.bound_mm > lay.length_mm + OVERLAP_TOLERANCE_MM:
        found.append(f"the lay, {lay.length_mm:.2f} mm, is shorter than its bound, {lay.bound_mm:.2f} mm")
    return found


def _section_faults(section: LaySection, cloth: Cloth) -> list[str]:
    """Pieces that cross a line where the layers change, or off the fold they belong on."""
    found = []
    tolerance = OVERLAP_TOLERANCE_MM
    ground = shapely.box(-tolerance, -tolerance, section.length_mm + tolerance, section.width_mm + tolerance)
    for placed in section.placed:
        label = _label(placed)
        if not ground.covers(shapely.Polygon(placed.shape.cut_line)):
            found.append(f"{label} reaches outside the cloth")
        expected = {1: {Yield.ONE}, 2: {Yield.PAIR, Yield.WHOLE_ON_FOLD}}[section.layers]
        if placed.yields not in expected:
            found.append(f"{label} cannot give {placed.yields} from {section.layers} layer(s)")
        if placed.yields is Yield.WHOLE_ON_FOLD and _fold_mm(placed, section) is None:
            found.append(f"{label} does not lie on the fold")
    return found


def _flat_faults(cut: list[_CutPiece], flat_mm: float, cloth: Cloth) -> list[str]:
    """Pieces of cloth that would be cut out of each other, out of a selvedge, or beyond an end."""
    tolerance = OVERLAP_TOLERANCE_MM
    selvedge = cloth.washed_selvedge_mm
    low, high = selvedge, selvedge + cloth.usable_width_mm
    if cloth.tube:
        low, high = -high, high  # round and round: half of it, opened either way from the fold
    whole = shapely.box(-tolerance, low - tolerance, flat_mm + tolerance, high + tolerance)
    found = [
        f"'{one.piece}' {one.copy} is not all on the cloth, opened out"
        for one in cut
        if not whole.covers(one.cut.polygon)
    ]
    if not cut:
        return found
    # Shrinking both by half the tolerance leaves an overlap only where they run in deeper than that.
    cores = [one.cut.polygon.buffer(-tolerance / 2, join_style="mitre") for one in cut]
    for i, j in shapely.STRtree(cores).query(cores, predicate="intersects").T:
        if i < j:
            found.append(f"'{cut[i].piece}' {cut[i].copy} and '{cut[j].piece}' {cut[j].copy} overlap")
    return found


def blocked_areas(cloth: Cloth) -> list[tuple[str, shapely.Polygon]]:
    """Flaws and missing parts of a cloth in hand, in flat coordinates, with what they are called."""
    found = []
    for one in cloth.blocked:
        corners = [
            (
                along * (100 - cloth.shrinkage_along_pct) / 100 - cloth.end_allowance_mm,
                across * (100 - cloth.shrinkage_across_pct) / 100,
            )
            for along, across in one.outline
        ]
        found.append((one.words, shapely.Polygon(corners)))
    return found


def _blocked_faults(lay: Lay, cut: list[_CutPiece]) -> list[str]:
    """Pieces of cloth with a flaw in them, or where there is no cloth."""
    areas = blocked_areas(lay.cloth)
    if areas and any(section.spread is Spread.TUBE for section in lay.sections):
        return ["a tube with flaws, which are measured with it cut open, is not laid open"]
    return [
        f"'{one.piece}' {one.copy} lies over '{name}'"
        for name, area in areas
        for one in cut
        if one.cut.polygon.buffer(-OVERLAP_TOLERANCE_MM, join_style="mitre").intersects(area)
    ]


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
                found += _cut_pieces(placed, layers, lay.cloth)
        flat_end += stretch[0].spread.lengths * stretch[0].length_mm
    return [(one.piece, one.copy, one.cut.polygon) for one in found]


def _gap_faults(lay: Lay) -> list[str]:
    """Papers that lie too near each other, over the whole table."""
    gap = lay.cloth.gap_mm
    if gap <= 0:
        return []
    placed = [(section, one) for section in lay.sections for one in section.placed]
    polygons = [
        affinity.translate(shapely.Polygon(one.shape.cut_line), section.start_mm, section.across_mm)
        for section, one in placed
    ]
    near = shapely.STRtree(polygons).query(
        polygons, predicate="dwithin", distance=max(0.0, gap - OVERLAP_TOLERANCE_MM)
    )
    return [
        f"{_label(placed[i][1])} and {_label(placed[j][1])} are closer than {gap:g} mm"
        for i, j in near.T
        if i < j
    ]


def _label(placed: PlacedPiece) -> str:
    return f"'{placed.piece}' {placed.copies}"


def _word_faults(placed: PlacedPiece, piece: Piece, cloth: Cloth) -> list[str]:
    """What the person is told of a placement, against where its outline, notches and marks really lie."""
    found = []
    asked = piece.cuts[cloth.key].pieces
    if placed.of != asked:
        found.append(f"{_label(placed)} is called one of {placed.of}, but {asked} are asked for")
    garments = {_garment(piece.cuts[cloth.key], copy) for copy in placed.copies} - {0}
    if placed.size != piece.size or set(placed.garments) != garments:
        found.append(
            f"{_label(placed)} is said to be for garments {placed.garments} in size '{placed.size}', "
            f"but is for {tuple(sorted(garments))} in size '{piece.size}'"
        )
    free = _allowed_turn(piece, cloth) is Turn.ANY
    straight = free or _off(placed.turned_deg - placed.tilt_deg, _TURNS_DEG[Turn.QUARTER]) <= 0
    if abs(placed.tilt_deg) > _allowed_tilt_deg(piece, cloth) or not straight:
        found.append(f"{_label(placed)} is said to lie {placed.tilt_deg:g} degrees off the grain")
    paper = cut_shape(piece)
    if piece.on_fold is not None and placed.yields is Yield.ONE:
        paper = unfolded(paper)
    told = _cut_of(paper)
    if placed.face is Face.DOWN:
        told = told.mirrored()
    if not _cut_of(placed.shape).is_at_its_place(told.turned(placed.turned_deg), SHAPE_TOLERANCE_MM):
        found.append(f"{_label(placed)} does not lie {placed.face}, turned by {placed.turned_deg:g} degrees")
    return found


def _fold_mm(placed: PlacedPiece, section: LaySection) -> float | None:
    """The fold that the piece's fold edge lies on, nothing of the piece beyond it: its y, or None."""
    edge = placed.shape.fold_edge
    if edge is None:
        return None
    folds = [0.0] * section.fold.low + [section.width_mm] * section.fold.high
    return next((fold for fold in folds if np.abs(edge[:, 1] - fold).max() <= ON_FOLD_MM), None)


def _cut_of(shape: CutShape) -> _Cut:
    kinds = {
        FeatureKind.NOTCH,
        FeatureKind.DART,
        FeatureKind.MARK,
        FeatureKind.MATCH,
        FeatureKind.FOLD,
    }
    points = [point for feature in shape.features if feature.kind in kinds for point in feature.vertices]
    return _Cut(shapely.Polygon(shape.cut_line), shapely.MultiPoint(points))


def _over_the_fold(geometry: _Geometry) -> _Geometry:
    return affinity.scale(geometry, yfact=-1.0, origin=(0.0, 0.0))


def _cut_pieces(placed: PlacedPiece, layers: Sequence[Layer], cloth: Cloth) -> list[_CutPiece]:
    """What cutting round one placement gives, opened out flat."""
    cut = _cut_of(placed.shape)
    if placed.yields is Yield.WHOLE_ON_FOLD and placed.shape.fold_edge is not None:
        fold = float(placed.shape.fold_edge[0, 1])
        halves = [_opened(cut, layer) for layer in at_the_fold(layers, fold, cloth)]
        cuts = [_joined_at_fold(halves, layers[0].across * fold + layers[0].u_mm)]
    else:
        cuts = [_opened(cut, layer) for layer in layers]
    if len(cuts) != len(placed.copies):
        return []
    return [_CutPiece(placed.piece, copy, one) for copy, one in zip(placed.copies, cuts, strict=True)]


def _opened(cut: _Cut, layer: Layer) -> _Cut:
    matrix = [layer.along, 0, 0, layer.across, layer.x_mm, layer.u_mm]
    return _Cut(affinity.affine_transform(cut.polygon, matrix), affinity.affine_transform(cut.marked, matrix))


def _joined_at_fold(halves: Sequence[_Cut], fold_mm: float) -> _Cut:
    """One shape of the two halves; halves that do not meet stay apart and are found out later."""
    # Seen from the fold, so that the grid to which the halves are joined has a line there.
    seen = [affinity.translate(half.polygon, 0.0, -fold_mm) for half in halves]
    joined = shapely.union_all(seen, grid_size=JOIN_GRID_MM)
    if not isinstance(joined, shapely.Polygon):
        return halves[0]
    marked = shapely.MultiPoint([point for half in halves for point in half.marked.geoms])
    return _Cut(affinity.translate(joined, 0.0, fold_mm), marked)


def _piece_faults(piece: Piece, cloth: Cloth, cut: list[_CutPiece]) -> list[str]:
    """The cut pieces of one name against the paper: numbers; for each garment shape, hand and direction."""
    count = piece.cuts[cloth.key]
    copies = sorted(one.copy for one in cut)
    if copies != list(range(1, count.pieces + 1)):
        return [f"'{piece.name}': {count.pieces} asked, copies {copies} placed"]
    garments = [[one for one in cut if _garment(count, one.copy) == g] for g in count.garments or (0,)]
    number = count.number // len(garments)
    return [fault for mine in garments for fault in _garment_faults(piece, cloth, mine, count, number)]


def _garment(count: CutCount, copy: int) -> int:
    """For which garment of an order that copy is cut: each takes as many as the others, one after another."""
    each = count.pieces / max(1, len(count.garments))
    return count.garments[math.ceil(copy / each) - 1] if count.garments else 0


def _asked(piece: Piece, cloth: Cloth) -> _Cut:
    """The whole piece as the paper has it, its top towards the far end."""
    on_fold = piece.cuts[cloth.key].kind is CutKind.ON_FOLD
    return _cut_of(unfolded(cut_shape(piece)) if on_fold else cut_shape(piece))


def _allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    turn = piece.turn or cloth.turn
    if turn is Turn.NONE or cloth.one_way:
        return Turn.NONE
    # That a garment's pieces agree with each other is judged over all of them.
    return Turn.HALF if cloth.nap is Nap.EACH_GARMENT else turn


def _one_way_faults(cut: list[_CutPiece], pieces: Mapping[str, Piece], cloth: Cloth) -> list[str]:
    """Garments whose pieces do not all lie the same way up, where they must."""
    if cloth.nap is not Nap.EACH_GARMENT:
        return []
    asked = {name: _asked(piece, cloth) for name, piece in pieces.items()}
    common: dict[int, set[float]] = {}
    for one in cut:
        if one.piece in pieces:
            hands = (asked[one.piece], asked[one.piece].mirrored())
            tilt = _allowed_tilt_deg(pieces[one.piece], cloth)
            fits = {
                angle for angle in (0.0, 180.0) if any(_lies_at(one.cut, hand, angle, tilt) for hand in hands)
            }
            garment = _garment(pieces[one.piece].cuts[cloth.key], one.copy)
            common[garment] = common.get(garment, {0.0, 180.0}) & fits
    return [
        f"the pieces of garment {garment or 1} do not all lie the same way up"
        for garment, ways in sorted(common.items())
        if not ways
    ]


def _garment_faults(
    piece: Piece, cloth: Cloth, cut: list[_CutPiece], count: CutCount, number: int
) -> list[str]:
    found = []
    asked = _asked(piece, cloth)
    mirrored = asked.mirrored()
    turn, tilt = _allowed_turn(piece, cloth), _allowed_tilt_deg(piece, cloth)
    as_asked = as_mirrored = 0
    for one in cut:
        fits = _matches(one.cut, asked, turn, tilt)
        fits_mirrored = _matches(one.cut, mirrored, turn, tilt)
        if not (fits or fits_mirrored):
            found.append(f"'{piece.name}' {one.copy} is not the piece asked for, or lies off its grain")
        # One that fits both ways serves as either hand.
        as_asked += fits and not fits_mirrored
        as_mirrored += fits_mirrored and not fits
    if cloth.right_side is RightSide.ONE and not asked.is_at_its_place(mirrored, SYMMETRY_TOLERANCE_MM):
        if count.kind is CutKind.PAIR and max(as_asked, as_mirrored) > number:
            found.append(f"'{piece.name}': {as_asked} lefts and {as_mirrored} rights do not make pairs")
        wrong = as_asked if count.mirrored else as_mirrored
        if count.kind is CutKind.SINGLE and wrong:
            found.append(f"'{piece.name}': {wrong} of the singles are cut the wrong way round")
    return found


def _matches(one: _Cut, asked: _Cut, turn: Turn, tilt_deg: float) -> bool:
    """Whether the one is the asked one, turned and tilted as allowed, and moved."""
    angles = _TURNS_DEG.get(turn)
    if angles is None or tilt_deg:
        fitting = _turns_that_fit(one.polygon, asked.polygon)
        angles = tuple(angle for angle in fitting if angles is None or _off(angle, angles) <= tilt_deg)
    return any(one.is_at_its_place(asked.turned(angle), SHAPE_TOLERANCE_MM) for angle in angles)


def _lies_at(one: _Cut, asked: _Cut, angle_deg: float, tilt_deg: float) -> bool:
    """Whether the one is the asked one, turned by that angle but for an allowed tilt."""
    return _matches(one, asked.turned(angle_deg), Turn.NONE, tilt_deg)


def _off(angle_deg: float, angles_deg: Sequence[float]) -> float:
    """How far an angle is from the nearest of the others, less what is rounding."""
    return min(abs((angle_deg - one + 180) % 360 - 180) for one in angles_deg) - ANGLE_TOLERANCE_DEG


def _allowed_tilt_deg(piece: Piece, cloth: Cloth) -> float:
    own = piece.grain_tolerance_deg
    return cloth.grain_tolerance_deg if own is None else own


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
