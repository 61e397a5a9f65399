"""What is to be cut from a cloth, in the lots that a sharing-out cannot divide.

Terms
-----
lot
    One whole on the fold, one pair, or one single: what lies on the cloth together or not at all. A pair
    is one placement where the cloth lies double, and two (paper face up, paper face down) in one layer.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nesting.cloth.cloth import Cloth, Nap, RightSide
from nesting.cutting.plan.holds import FREE, Hold
from nesting.cutting.plan.lines import matching_of
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.match import Axis
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.project import Project

__all__ = [
    "ANGLES_DEG",
    "Lot",
    "Wanted",
    "allowed_tilt_deg",
    "allowed_turn",
    "directions",
    "either_way",
    "lots_of",
    "wanted",
]

ANGLES_DEG: Mapping[Turn, tuple[float, ...]] = {
    Turn.NONE: (0.0,),
    Turn.HALF: (0.0, 180.0),
    Turn.QUARTER: (0.0, 90.0, 180.0, 270.0),
    Turn.ANY: tuple(45.0 * k for k in range(8)),
}
"""Of "any", only those that are tried in any case: see `Wanted.any_turn`."""


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """One piece's demand in one cloth, with its shape worked out (half of it, for a fold piece).

    Attributes
    ----------
    piece : Piece
    shape : CutShape
    count : CutCount
    turn : Turn
    angles_deg : tuple of float
        How it may lie, counter-clockwise from "top towards the far end".
    copies : tuple of int
        Which of all the copies, counted from 1, are wanted so.
    """

    piece: Piece
    shape: CutShape
    count: CutCount
    turn: Turn
    angles_deg: tuple[float, ...]
    copies: tuple[int, ...]
    tilt_deg: float = 0.0
    """How far its grain line may lie off the warp, where that shortens the lay."""
    hold: Hold = FREE
    """Where the person wishes it to lie."""
    matched: tuple[Axis, ...] = ()
    """In which directions it is held to the repeat of the cloth."""

    @property
    def any_turn(self) -> bool:
        """Whether it may lie at any angle, beside those named."""
        return self.turn is Turn.ANY

    @property
    def handed(self) -> bool:
        """Whether left and right differ even where the outline does not: by the stripes on them."""
        return Axis.ACROSS in self.matched

    def garments_of(self, copies: Sequence[int]) -> tuple[int, ...]:
        """The numbers of the garments that these copies are for, each once; none of a single garment."""
        numbers = (self.count.garment_of(copy) for copy in copies)
        return tuple(dict.fromkeys(number for number in numbers if number is not None))


@dataclass(frozen=True, slots=True, eq=False)
class Lot:
    """One whole on the fold, one pair or one single.

    Attributes
    ----------
    want : Wanted
    copies : tuple of int
        The numbers of the cut pieces it gives, counted from 1: two for a pair.
    """

    want: Wanted
    copies: tuple[int, ...]

    @property
    def on_fold(self) -> bool:
        """Whether it is a whole piece whose paper is half of it."""
        return self.want.count.kind is CutKind.ON_FOLD

    @property
    def pair(self) -> bool:
        """Whether two layers can give it in one cutting."""
        return len(self.copies) == 2


def wanted(
    project: Project,
    cloth: Cloth,
    directions_deg: Sequence[float] = (),
    held: Mapping[tuple[str, int], Hold] | None = None,
) -> tuple[Wanted, ...]:
    """What is to be cut from this cloth, in file order.

    Parameters
    ----------
    project : Project
    cloth : Cloth
    directions_deg : sequence of float, optional
        For each garment of an order, which way up all of it lies, 0 or 180: one of `directions`.
    held : Mapping, optional
        What the person wishes of pieces and copies: one of `nesting.cutting.plan.holds.holds`.
    """
    matching = matching_of(project, cloth)
    found = []
    for piece in project.pieces_in(cloth.key):
        matched = () if matching is None else matching.axes_of(piece.name)
        turn = allowed_turn(piece, cloth)
        if matched and turn in (Turn.QUARTER, Turn.ANY):
            turn = Turn.HALF  # lines across would be matched to lines along
        count, shape = piece.cuts[cloth.key], cut_shape(piece)
        ways: dict[tuple[tuple[float, ...], Hold], list[int]] = {}
        for copy in count.copies:
            garment = count.garment_of(copy)
            one_way = directions_deg and garment is not None
            way = (directions_deg[garment - 1],) if one_way and garment else ANGLES_DEG[turn]
            ways.setdefault((way, (held or {}).get((piece.name, copy), FREE)), []).append(copy)
        tilt = 0.0 if matched or turn is Turn.ANY else allowed_tilt_deg(piece, cloth)
        found += [
            Wanted(piece, shape, count, turn, way, tuple(copies), tilt, hold, matched)
            for (way, hold), copies in ways.items()
        ]
    return tuple(found)


def directions(project: Project, cloth: Cloth) -> tuple[tuple[float, ...], ...]:
    """For each garment of an order which way up it lies, in the few ways that are tried.

    All one way; every other garment the other way; the second half of them the other way. One empty way
    where the cloth does not ask for this.
    """
    number = len(project.garments)
    if cloth.nap is not Nap.EACH_GARMENT or not number:
        return ((),)
    same = (0.0,) * number
    fixed = any((piece.turn or cloth.turn) is Turn.NONE for piece in project.pieces_in(cloth.key))
    if fixed or cloth.one_way:
        return (same,)
    every_other = tuple(180.0 * (k % 2) for k in range(number))
    halves = tuple(180.0 * (2 * k >= number) for k in range(number))
    return tuple(dict.fromkeys((same, every_other, halves)))


def either_way(ways: Sequence[tuple[Wanted, ...]]) -> tuple[Wanted, ...]:
    """What is wanted, each piece by itself free to lie as it does in any of the ways: the kindest rule.

    Parameters
    ----------
    ways : sequence of tuple of Wanted
        Of the first, in which all garments lie alike, only the angles are changed.
    """
    angles = {want.piece.name: want.angles_deg for want in ways[0]}
    for want in (want for way in ways[1:] for want in way):
        angles[want.piece.name] = tuple(dict.fromkeys((*angles[want.piece.name], *want.angles_deg)))
    return tuple(replace(want, angles_deg=angles[want.piece.name], hold=FREE) for want in ways[0])


def allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    """How far this piece may be turned on this cloth: its own word before the cloth's, one way above both."""
    if cloth.one_way or cloth.nap is Nap.EACH_GARMENT:
        return Turn.NONE
    return piece.turn or cloth.turn


def allowed_tilt_deg(piece: Piece, cloth: Cloth) -> float:
    """How far the grain line may lie off the warp: the piece's own word before the cloth's."""
    if piece.grain_tolerance_deg is None:
        return cloth.grain_tolerance_deg
    return piece.grain_tolerance_deg


def lots_of(wants: tuple[Wanted, ...], cloth: Cloth) -> tuple[Lot, ...]:
    """All that is wanted, lot by lot; singles that serve as each other's mirror image go two by two."""
    lots: list[Lot] = []
    for want in wants:
        mirror_serves = (want.shape.symmetric or cloth.right_side is RightSide.BOTH) and not want.handed
        kind, copies = want.count.kind, want.copies
        by_two = kind is CutKind.PAIR or (kind is CutKind.SINGLE and mirror_serves)
        twos = len(copies) // 2 if by_two else 0
        lots += [Lot(want, copies[2 * k : 2 * k + 2]) for k in range(twos)]
        lots += [Lot(want, (copy,)) for copy in copies[2 * twos :]]
    return tuple(lots)
