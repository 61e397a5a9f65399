"""Judges the pieces that come off the table: each against the paper, and what is said of it.

Shape, marks, hand (left or right), direction of the grain and number are those asked for
(`nesting.cutting.verify.paper`); a placement's face, turn, copies and garments are what its outline shows.
Like `nesting.cutting.verify.faults`, this looks at no plan.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from nesting.cloth.cloth import Cloth, Nap, RightSide
from nesting.cutting.flat.rebuilding import Cut, CutPiece, cut_of
from nesting.cutting.lay import Face, PlacedPiece, Yield
from nesting.cutting.verify.paper import ANGLE_TOLERANCE_DEG, SheetOn, paper_of
from nesting.fault import Fault, FaultKind
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn

__all__ = ["SYMMETRY_TOLERANCE_MM", "PieceFault", "label", "one_way_faults", "piece_faults", "word_faults"]

SYMMETRY_TOLERANCE_MM = 1.0
"""Left and right that differ by no more than this are taken for the same."""
_MARKED = {FeatureKind.NOTCH, FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH}
"""What makes a left differ from a right although the outline does not."""
_TURNS_DEG = {
    Turn.NONE: (0.0,),
    Turn.HALF: (0.0, 180.0),
    Turn.QUARTER: (0.0, 90.0, 180.0, 270.0),
}


class PieceFault(FaultKind):
    """What can be wrong with a piece of cloth, or with what is said of it."""

    OTHER_TOTAL = "{called} is called one of {of}, but {asked} are asked for"
    OTHER_GARMENT = (
        "{called} is said to be for garments {said} in size '{said_size}', but is for {garments} in size "
        "'{size}'"
    )
    SAID_OFF_GRAIN = "{called} is said to lie {tilt_deg:g} degrees off the grain"
    NOT_AS_SAID = "{called} does not lie {face}, turned by {turned_deg:g} degrees"
    OTHER_NUMBER = "'{piece}': {asked} asked, copies {copies} placed"
    NOT_THE_PIECE = "'{piece}' {copy} is not the piece asked for"
    OFF_GRAIN = "'{piece}' {copy} lies off its grain, turned by {turned_deg:.2f} degrees"
    NO_PAIRS = "'{piece}': {lefts} lefts and {rights} rights do not make pairs"
    OTHER_HAND = "'{piece}': {number} of the singles are cut the wrong way round"
    NOT_ONE_WAY = "the pieces of garment {garment} do not all lie the same way up"


def label(placed: PlacedPiece) -> str:
    """What a placement is called in a fault."""
    return f"'{placed.piece}' {placed.copies}"


def word_faults(placed: PlacedPiece, piece: Piece, cloth: Cloth) -> list[Fault]:
    """What the person is told of a placement, against where its outline, notches and marks really lie."""
    found: list[Fault] = []
    called = label(placed)
    asked = piece.cuts[cloth.key].pieces
    if placed.of != asked:
        found.append(PieceFault.OTHER_TOTAL.of(called=called, of=placed.of, asked=asked))
    garments = {_garment(piece.cuts[cloth.key], copy) for copy in placed.copies} - {0}
    if placed.size != piece.size or set(placed.garments) != garments:
        found.append(
            PieceFault.OTHER_GARMENT.of(
                called=called,
                said=placed.garments,
                said_size=placed.size,
                garments=tuple(sorted(garments)),
                size=piece.size,
            )
        )
    free = _allowed_turn(piece, cloth) is Turn.ANY
    straight = free or _off(placed.turned_deg - placed.tilt_deg, _TURNS_DEG[Turn.QUARTER]) <= 0
    if abs(placed.tilt_deg) > _allowed_tilt_deg(piece, cloth) or not straight:
        found.append(PieceFault.SAID_OFF_GRAIN.of(called=called, tilt_deg=placed.tilt_deg))
    paper = paper_of(piece, whole=piece.on_fold is not None and placed.yields is Yield.ONE)
    sheet = paper.lies(cut_of(placed.shape), mirrored=placed.face is Face.DOWN)
    if sheet is None or _off(sheet.turned_deg(paper.top_deg), (placed.turned_deg,)) > 0:
        found.append(PieceFault.NOT_AS_SAID.of(called=called, face=placed.face, turned_deg=placed.turned_deg))
    return found


def piece_faults(piece: Piece, cloth: Cloth, cut: list[CutPiece]) -> list[Fault]:
    """The cut pieces of one name against the paper: numbers; for each garment shape, hand and direction."""
    count = piece.cuts[cloth.key]
    copies = sorted(one.copy for one in cut)
    if copies != list(range(1, count.pieces + 1)):
        return [PieceFault.OTHER_NUMBER.of(piece=piece.name, asked=count.pieces, copies=copies)]
    garments = [[one for one in cut if _garment(count, one.copy) == g] for g in count.garments or (0,)]
    number = count.number // len(garments)
    return [fault for mine in garments for fault in _garment_faults(piece, cloth, mine, count, number)]


def one_way_faults(cut: list[CutPiece], pieces: Mapping[str, Piece], cloth: Cloth) -> list[Fault]:
    """Garments whose pieces do not all lie the same way up, where they must."""
    if cloth.nap is not Nap.EACH_GARMENT:
        return []
    common: dict[int, set[float]] = {}
    for one in cut:
        if one.piece not in pieces:
            continue
        piece = pieces[one.piece]
        tilt = _allowed_tilt_deg(piece, cloth)
        top = paper_of(piece, whole=_is_whole(piece, cloth)).top_deg
        turned = [sheet.turned_deg(top) for sheet in _sheets(piece, cloth, one.cut)]
        ways = {way for way in (0.0, 180.0) if any(_off(angle, (way,)) <= tilt for angle in turned)}
        garment = _garment(piece.cuts[cloth.key], one.copy)
        common[garment] = common.get(garment, {0.0, 180.0}) & ways
    return [
        PieceFault.NOT_ONE_WAY.of(garment=garment or 1)
        for garment, ways in sorted(common.items())
        if not ways
    ]


def _garment(count: CutCount, copy: int) -> int:
    """For which garment of an order that copy is cut: each takes as many as the others, one after another."""
    each = count.pieces / max(1, len(count.garments))
    return count.garments[math.ceil(copy / each) - 1] if count.garments else 0


def _is_whole(piece: Piece, cloth: Cloth) -> bool:
    """Whether what is asked for is the paper opened out."""
    return piece.cuts[cloth.key].kind is CutKind.ON_FOLD


def _sheets(piece: Piece, cloth: Cloth, cut: Cut) -> list[SheetOn]:
    """How the paper lies on what is cut, as drawn or as its mirror image; empty if it is not the piece."""
    paper = paper_of(piece, whole=_is_whole(piece, cloth))
    both = (paper.lies(cut, mirrored=mirrored) for mirrored in (False, True))
    return [sheet for sheet in both if sheet is not None]


def _allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    turn = piece.turn or cloth.turn
    if turn is Turn.NONE or cloth.one_way:
        return Turn.NONE
    # That a garment's pieces agree with each other is judged over all of them.
    return Turn.HALF if cloth.nap is Nap.EACH_GARMENT else turn


def _garment_faults(
    piece: Piece, cloth: Cloth, cut: list[CutPiece], count: CutCount, number: int
) -> list[Fault]:
    found: list[Fault] = []
    top = paper_of(piece, whole=_is_whole(piece, cloth)).top_deg
    allowed = _TURNS_DEG.get(_allowed_turn(piece, cloth))
    tilt = _allowed_tilt_deg(piece, cloth)
    hands: list[set[bool]] = []
    for one in cut:
        sheets = _sheets(piece, cloth, one.cut)
        hands.append({sheet.mirrored for sheet in sheets})
        turned = [sheet.turned_deg(top) for sheet in sheets]
        if not sheets:
            found.append(PieceFault.NOT_THE_PIECE.of(piece=piece.name, copy=one.copy))
        elif allowed is not None and all(_off(angle, allowed) > tilt for angle in turned):
            found.append(PieceFault.OFF_GRAIN.of(piece=piece.name, copy=one.copy, turned_deg=turned[0]))
    # One that fits both ways serves as either hand.
    lefts, rights = hands.count({False}), hands.count({True})
    if cloth.right_side is RightSide.ONE:
        wrong = lefts if count.mirrored else rights
        if count.kind is CutKind.PAIR and max(lefts, rights) > number and not _is_symmetric(cut[0].cut):
            found.append(PieceFault.NO_PAIRS.of(piece=piece.name, lefts=lefts, rights=rights))
        if count.kind is CutKind.SINGLE and wrong and not _is_symmetric(cut[0].cut):
            found.append(PieceFault.OTHER_HAND.of(piece=piece.name, number=wrong))
    return found


def _off(angle_deg: float, angles_deg: Sequence[float]) -> float:
    """How far an angle is from the nearest of the others, less what is rounding."""
    return min(abs((angle_deg - one + 180) % 360 - 180) for one in angles_deg) - ANGLE_TOLERANCE_DEG


def _allowed_tilt_deg(piece: Piece, cloth: Cloth) -> float:
    own = piece.grain_tolerance_deg
    return cloth.grain_tolerance_deg if own is None else own


def _is_symmetric(cut: Cut) -> bool:
    """Whether what is cut and marked is as good as its own mirror image across its grain line."""
    (grain,) = (one.vertices for one in cut.features if one.kind is FeatureKind.GRAIN)
    along = (grain[1] - grain[0]) / np.linalg.norm(grain[1] - grain[0])
    turn = np.array([along, [-along[1], along[0]]]).T

    def over(points: FloatArray) -> FloatArray:
        return np.asarray(points * [1.0, -1.0] + [0.0, middle])

    ring = np.asarray(cut.polygon.exterior.coords) @ turn
    middle = float(ring[:, 1].min() + ring[:, 1].max())
    if shapely.LinearRing(ring).hausdorff_distance(shapely.LinearRing(over(ring))) > SYMMETRY_TOLERANCE_MM:
        return False
    marks = [one.vertices @ turn for one in cut.features if one.kind in _MARKED]
    points = np.concatenate([np.empty((0, 2)), *marks])
    apart = np.linalg.norm(points[:, None] - over(points), axis=2)
    return not len(points) or bool(apart.min(axis=1).max() <= SYMMETRY_TOLERANCE_MM)
