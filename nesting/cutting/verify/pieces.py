"""Judges the pieces that come off the table: each against the paper, and what is said of it.

Shape, marks, hand (left or right), direction of the grain and number are those asked for; a placement's face,
turn, copies and garments are what its outline shows. Like `nesting.cutting.verify.faults`, this looks at no
plan.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from nesting.cloth.cloth import Cloth, Nap, RightSide
from nesting.cutting.flat.rebuilding import Cut, CutPiece, cut_of
from nesting.cutting.lay import Face, PlacedPiece, Yield
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded

__all__ = ["SHAPE_TOLERANCE_MM", "label", "one_way_faults", "piece_faults", "word_faults"]

SHAPE_TOLERANCE_MM = 0.05
"""A rebuilt piece may differ from the paper by no more than this anywhere."""
ANGLE_TOLERANCE_DEG = 0.02
"""Rounding allowed where the angle of a piece is worked out from two of its corners."""
SYMMETRY_TOLERANCE_MM = 1.0
"""Left and right that differ by no more than this are taken for the same."""
_TURNS_DEG = {
    Turn.NONE: (0.0,),
    Turn.HALF: (0.0, 180.0),
    Turn.QUARTER: (0.0, 90.0, 180.0, 270.0),
}


def label(placed: PlacedPiece) -> str:
    """What a placement is called in a fault."""
    return f"'{placed.piece}' {placed.copies}"


def word_faults(placed: PlacedPiece, piece: Piece, cloth: Cloth) -> list[str]:
    """What the person is told of a placement, against where its outline, notches and marks really lie."""
    found = []
    asked = piece.cuts[cloth.key].pieces
    if placed.of != asked:
        found.append(f"{label(placed)} is called one of {placed.of}, but {asked} are asked for")
    garments = {_garment(piece.cuts[cloth.key], copy) for copy in placed.copies} - {0}
    if placed.size != piece.size or set(placed.garments) != garments:
        found.append(
            f"{label(placed)} is said to be for garments {placed.garments} in size '{placed.size}', "
            f"but is for {tuple(sorted(garments))} in size '{piece.size}'"
        )
    free = _allowed_turn(piece, cloth) is Turn.ANY
    straight = free or _off(placed.turned_deg - placed.tilt_deg, _TURNS_DEG[Turn.QUARTER]) <= 0
    if abs(placed.tilt_deg) > _allowed_tilt_deg(piece, cloth) or not straight:
        found.append(f"{label(placed)} is said to lie {placed.tilt_deg:g} degrees off the grain")
    paper = cut_shape(piece)
    if piece.on_fold is not None and placed.yields is Yield.ONE:
        paper = unfolded(paper)
    told = cut_of(paper)
    if placed.face is Face.DOWN:
        told = told.mirrored()
    if not cut_of(placed.shape).is_at_its_place(told.turned(placed.turned_deg), SHAPE_TOLERANCE_MM):
        found.append(f"{label(placed)} does not lie {placed.face}, turned by {placed.turned_deg:g} degrees")
    return found


def piece_faults(piece: Piece, cloth: Cloth, cut: list[CutPiece]) -> list[str]:
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


def _asked(piece: Piece, cloth: Cloth) -> Cut:
    """The whole piece as the paper has it, its top towards the far end."""
    on_fold = piece.cuts[cloth.key].kind is CutKind.ON_FOLD
    return cut_of(unfolded(cut_shape(piece)) if on_fold else cut_shape(piece))


def _allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    turn = piece.turn or cloth.turn
    if turn is Turn.NONE or cloth.one_way:
        return Turn.NONE
    # That a garment's pieces agree with each other is judged over all of them.
    return Turn.HALF if cloth.nap is Nap.EACH_GARMENT else turn


def one_way_faults(cut: list[CutPiece], pieces: Mapping[str, Piece], cloth: Cloth) -> list[str]:
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
    piece: Piece, cloth: Cloth, cut: list[CutPiece], count: CutCount, number: int
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


def _matches(one: Cut, asked: Cut, turn: Turn, tilt_deg: float) -> bool:
    """Whether the one is the asked one, turned and tilted as allowed, and moved."""
    angles = _TURNS_DEG.get(turn)
    if angles is None or tilt_deg:
        fitting = _turns_that_fit(one.polygon, asked.polygon)
        angles = tuple(angle for angle in fitting if angles is None or _off(angle, angles) <= tilt_deg)
    return any(one.is_at_its_place(asked.turned(angle), SHAPE_TOLERANCE_MM) for angle in angles)


def _lies_at(one: Cut, asked: Cut, angle_deg: float, tilt_deg: float) -> bool:
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
