"""Single changes that might make a pattern go on a cloth in hand, the cheapest for the person first.

The order is our judgement (common practice, no source): another spread is only another way to fold; pairs
from two remnants only want their shades compared; a small piece turned across the grain is no work either,
but hangs otherwise; a small piece pieced from two is a short seam, mostly out of sight; a seam instead of a
fold is a long one, in sight; smaller allowances leave less to let out everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.in_hand.change import (
    Change,
    LeaveOff,
    PartPairs,
    PieceFromHalves,
    SeamForFold,
    SmallerAllowances,
    SpreadOtherwise,
    TurnAcross,
)
from nesting.cutting.plan.demand import Wanted, wanted
from nesting.cutting.plan.lines import matching_of
from nesting.cutting.plan.remnants import boxes
from nesting.cutting.plan.sharing import why_not
from nesting.cutting.plan.spreading import spreads_of
from nesting.errors import InvalidShape
from nesting.geometry import signed_area
from nesting.pattern.piece import CutKind, Piece, Turn
from nesting.pattern.piecing import pieced
from nesting.pattern.shaping import cut_shape
from nesting.project import Project, only_cloths

__all__ = ["Changed", "changes", "left_off"]

SMALL = 0.25
"""Of the largest piece's area: no larger one is turned across the grain, or pieced."""
_MOST_TURNED = 4
_MOST_PIECED = 3
_SLENDER = 1.5
"""A piece at least so many times as long as wide is worth cutting in two."""
LESS_ALLOWANCE = 2 / 3
LEAST_ALLOWANCE_MM = 6.0
"""A quarter of an inch, as on enclosed edges (common practice, no source)."""
JOIN_MM = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class Changed:
    """A change, and the project with it made and with this one cloth."""

    change: Change
    project: Project


def changes(project: Project, cloth: Cloth) -> tuple[Changed, ...]:
    """All that is worth trying for this cloth, in the order in which a person would rather do it."""
    alone = _alone(project, cloth)
    wants = wanted(project, cloth)
    found = [
        *_spreads(alone, cloth, wants),
        *_parted(alone, cloth),
        *_turned(alone, cloth, wants),
        *_pieced(alone, cloth, wants),
        *_seams(alone, cloth),
        *_smaller(alone, cloth),
    ]
    return tuple(found)


def left_off(project: Project, cloth: Cloth) -> tuple[Changed, ...]:
    """Each piece left off of which the person says that it may be; the one that takes least cloth first."""
    alone = _alone(project, cloth)
    if len(alone.pieces) < 2:
        return ()
    areas = {
        want.piece.name: _area(want) * want.count.pieces
        for want in wanted(project, cloth)
        if want.piece.may_be_left_off
    }
    return tuple(
        Changed(
            LeaveOff(name),
            replace(alone, pieces=tuple(piece for piece in alone.pieces if piece.name != name)),
        )
        for name in sorted(areas, key=lambda name: areas[name])
    )


def _alone(project: Project, cloth: Cloth) -> Project:
    """What is cut from this cloth and nothing else."""
    alone = only_cloths(project, {cloth.key})
    return replace(alone, cloths={cloth.key: cloth}, alternatives=(), sizes=())


def _with(project: Project, changed: Piece, *by: Piece) -> Project:
    """The project with one piece replaced, by its name."""
    pieces = [one for piece in project.pieces for one in (by if piece.name == changed.name else (piece,))]
    return replace(project, pieces=tuple(pieces))


def _spreads(project: Project, cloth: Cloth, wants: tuple[Wanted, ...]) -> Iterator[Changed]:
    if cloth.spread is Spread.BEST:
        return
    for spread in spreads_of(replace(cloth, spread=Spread.BEST)):
        other = replace(cloth, spread=spread)
        if spread is not cloth.spread and why_not(wants, other, spread, matching_of(project, other)) is None:
            if len(cloth.remnants) > 1 and not spread.facts.plain:
                continue
            yield Changed(SpreadOtherwise(cloth.key, spread), replace(project, cloths={cloth.key: other}))


def _parted(project: Project, cloth: Cloth) -> Iterator[Changed]:
    if len(cloth.remnants) > 1 and not cloth.part_pairs:
        yield Changed(
            PartPairs(cloth.key), replace(project, cloths={cloth.key: replace(cloth, part_pairs=True)})
        )


def _turned(project: Project, cloth: Cloth, wants: Sequence[Wanted]) -> Iterator[Changed]:
    if cloth.one_way:
        return
    may = [want for want in _small(wants) if not want.matched and want.turn not in (Turn.QUARTER, Turn.ANY)]
    for want in may[:_MOST_TURNED]:
        piece = want.piece
        yield Changed(TurnAcross(piece.name), _with(project, piece, replace(piece, turn=Turn.QUARTER)))


def _pieced(project: Project, cloth: Cloth, wants: Sequence[Wanted]) -> Iterator[Changed]:
    slender = [want for want in _small(wants) if _slender(want) and want.count.kind is not CutKind.ON_FOLD]
    for want in slender[:_MOST_PIECED]:
        halves = pieced(want.piece, JOIN_MM)
        if halves is None or not all(map(_can_be_cut, halves)):
            continue
        yield Changed(PieceFromHalves(want.piece.name), _with(project, want.piece, *halves))


def _seams(project: Project, cloth: Cloth) -> Iterator[Changed]:
    for piece in project.pieces:
        count, fold = piece.cuts[cloth.key], piece.on_fold
        if count.kind is not CutKind.ON_FOLD or fold is None or piece.edge(fold).allowance_mm <= 0:
            continue
        cuts = {cloth.key: replace(count, kind=CutKind.PAIR)}
        opened = replace(piece, on_fold=None, cuts=cuts)
        if _can_be_cut(opened):
            yield Changed(SeamForFold(piece.name, fold), _with(project, piece, opened))


def _smaller(project: Project, cloth: Cloth) -> Iterator[Changed]:
    def less(mm: float) -> float:
        return mm if mm <= LEAST_ALLOWANCE_MM else max(LEAST_ALLOWANCE_MM, mm * LESS_ALLOWANCE)

    made = tuple(
        replace(
            piece, edges=tuple(replace(edge, allowance_mm=less(edge.allowance_mm)) for edge in piece.edges)
        )
        for piece in project.pieces
    )
    before, after = (
        [edge.allowance_mm for piece in pieces for edge in piece.edges if edge.name != piece.on_fold]
        for pieces in (project.pieces, made)
    )
    if before != after and all(map(_can_be_cut, made)):
        yield Changed(SmallerAllowances(LESS_ALLOWANCE, LEAST_ALLOWANCE_MM), replace(project, pieces=made))


def _small(wants: Sequence[Wanted]) -> list[Wanted]:
    """Those small enough that nobody would mind, the largest first."""
    most = max(map(_area, wants))
    return sorted((want for want in wants if _area(want) <= SMALL * most), key=_area, reverse=True)


def _area(want: Wanted) -> float:
    whole = 2.0 if want.count.kind is CutKind.ON_FOLD else 1.0
    return whole * abs(signed_area(want.shape.cut_line))


def _slender(want: Wanted) -> bool:
    along, across = boxes(want)[0]
    return max(along, across) >= _SLENDER * min(along, across)


def _can_be_cut(piece: Piece) -> bool:
    try:
        cut_shape(piece)
    except InvalidShape:
        return False
    return True
