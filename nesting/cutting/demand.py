"""What is to be cut from a cloth, in the units that a sharing-out cannot divide.

Terms
-----
unit
    One whole on the fold, one pair, or one single: what lies on the cloth together or not at all. A pair
    is one placement where the cloth lies double, and two (paper face up, paper face down) in one layer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from nesting.cloth.cloth import Cloth, RightSide
from nesting.cutting.lines import matching_of
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.match import Axis
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.project import Project

__all__ = ["ANGLES_DEG", "Unit", "Wanted", "allowed_turn", "units_of", "wanted"]

ANGLES_DEG: Mapping[Turn, tuple[float, ...]] = {
    Turn.NONE: (0.0,),
    Turn.HALF: (0.0, 180.0),
    Turn.QUARTER: (0.0, 90.0, 180.0, 270.0),
    # "Any" is searched in eighths of a turn: the engine takes a finite set of directions.
    Turn.ANY: tuple(45.0 * k for k in range(8)),
}


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """One piece's demand in one cloth, with its shape worked out (half of it, for a fold piece)."""

    piece: Piece
    shape: CutShape
    count: CutCount
    turn: Turn
    matched: tuple[Axis, ...] = ()
    """In which directions it is held to the repeat of the cloth."""

    @property
    def handed(self) -> bool:
        """Whether left and right differ even where the outline does not: by the stripes on them."""
        return Axis.ACROSS in self.matched


@dataclass(frozen=True, slots=True, eq=False)
class Unit:
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


def wanted(project: Project, cloth: Cloth) -> tuple[Wanted, ...]:
    """What is to be cut from this cloth, in file order."""
    matching = matching_of(project, cloth)
    found = []
    for piece in project.pieces_in(cloth.key):
        matched = () if matching is None else matching.axes_of(piece.name)
        turn = allowed_turn(piece, cloth)
        if matched and turn in (Turn.QUARTER, Turn.ANY):
            turn = Turn.HALF  # lines across would be matched to lines along
        found.append(Wanted(piece, cut_shape(piece), piece.cuts[cloth.key], turn, matched))
    return tuple(found)


def allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    """How far this piece may be turned on this cloth: its own word before the cloth's, one way above both."""
    if cloth.one_way:
        return Turn.NONE
    return piece.turn or cloth.turn


def units_of(wants: tuple[Wanted, ...], cloth: Cloth) -> tuple[Unit, ...]:
    """All that is wanted, unit by unit; singles that serve as each other's mirror image go two by two."""
    units: list[Unit] = []
    for want in wants:
        count = want.count
        mirror_serves = (want.shape.symmetric or cloth.right_side is RightSide.BOTH) and not want.handed
        twos = 0
        if count.kind is CutKind.PAIR or (count.kind is CutKind.SINGLE and mirror_serves):
            twos = count.pieces // 2
        units += [Unit(want, (2 * k + 1, 2 * k + 2)) for k in range(twos)]
        units += [Unit(want, (n,)) for n in range(2 * twos + 1, count.pieces + 1)]
    return tuple(units)
