"""Pattern × cloth × spread → what the engine is asked: one strip problem for each stretch of cloth.

Terms
-----
order
    One shape to be placed a number of times, and what cutting round it gives.
stretch
    A length of cloth that lies one way; a fold may be followed by a stretch that lies opened out.

Geometry
--------
A lengthwise fold lies at y = 0, the two selvedges together at y = half the usable width. Cutting
round a paper piece on it gives the piece and its mirror image, whichever face of the paper is up.
In one layer, right side up, paper face up gives the piece and paper face down its mirror image.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.lay import Yield
from nesting.packing.problem import EdgeRule, Item, StripProblem, Variant, variant_outline
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.piece import CutCount, CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from nesting.project import Project

__all__ = ["ANGLES_DEG", "Order", "Stretch", "allowed_turn", "plan", "spreads_of", "wanted"]

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


@dataclass(frozen=True, slots=True, eq=False)
class Order:
    """A shape to be placed once for every entry of `copies`.

    Attributes
    ----------
    piece : str
    shape : CutShape
        As given to the engine: cloth coordinates, paper face up.
    yields : Yield
    copies : tuple of tuple of int
        For each placement, the numbers of the cut pieces it gives, counted from 1.
    of : int
        How many of the piece the cloth gives altogether.
    item : Item
    """

    piece: str
    shape: CutShape
    yields: Yield
    copies: tuple[tuple[int, ...], ...]
    of: int
    item: Item


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """One stretch of cloth and all that is to be placed on it."""

    spread: Spread
    layers: int
    orders: tuple[Order, ...]
    problem: StripProblem


def wanted(project: Project, cloth: Cloth) -> tuple[Wanted, ...]:
    """What is to be cut from this cloth, in file order."""
    return tuple(
        Wanted(piece, cut_shape(piece), piece.cuts[cloth.key], allowed_turn(piece, cloth))
        for piece in project.pieces_in(cloth.key)
    )


def allowed_turn(piece: Piece, cloth: Cloth) -> Turn:
    """How far this piece may be turned on this cloth: its own word before the cloth's, nap above both."""
    if cloth.nap is Nap.ONE_WAY:
        return Turn.NONE
    return piece.turn or cloth.turn


def spreads_of(cloth: Cloth) -> tuple[Spread, ...]:
    """The spreads to try; the one easier to cut first, so that it wins a draw."""
    return tuple(_PLANS) if cloth.spread is Spread.BEST else (cloth.spread,)


def plan(wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread) -> tuple[Stretch, ...]:
    """The stretches of cloth, one strip problem each, that this spread makes of the demand."""
    return _PLANS[spread](wants, cloth)


def _plan_open(wants: tuple[Wanted, ...], cloth: Cloth) -> tuple[Stretch, ...]:
    orders = [order for want in wants for order in _open_orders(want, cloth, first_copy=1)]
    return (_stretch(Spread.OPEN, cloth, orders),)


def _plan_lengthwise_fold(wants: tuple[Wanted, ...], cloth: Cloth) -> tuple[Stretch, ...]:
    folded: list[Order] = []
    opened: list[Order] = []
    for want in wants:
        doubled, left_over = _folded_orders(want, cloth)
        folded += doubled
        opened += left_over
    stretches = []
    if folded:
        stretches.append(_stretch(Spread.LENGTHWISE_FOLD, cloth, folded))
    if opened:
        stretches.append(_stretch(Spread.OPEN, cloth, opened))
    return tuple(stretches)


_PLANS: Mapping[Spread, Callable[[tuple[Wanted, ...], Cloth], tuple[Stretch, ...]]] = {
    Spread.LENGTHWISE_FOLD: _plan_lengthwise_fold,
    Spread.OPEN: _plan_open,
}


def _stretch(spread: Spread, cloth: Cloth, orders: list[Order]) -> Stretch:
    layers = 1 if spread is Spread.OPEN else 2
    problem = StripProblem(
        width_mm=cloth.usable_width_mm / layers,
        items=tuple(order.item for order in orders),
        gap_mm=cloth.gap_mm,
    )
    return Stretch(spread, layers, tuple(orders), problem)


def _open_orders(want: Wanted, cloth: Cloth, *, first_copy: int) -> list[Order]:
    """In a single layer: each piece placed by itself, from copy number `first_copy` on."""
    numbers = range(first_copy, want.count.pieces + 1)
    if want.count.kind is CutKind.ON_FOLD:
        return _order(want, unfolded(want.shape), Yield.ONE, [(n,) for n in numbers], (False,))
    if want.shape.symmetric:
        return _order(want, want.shape, Yield.ONE, [(n,) for n in numbers], (False,))
    if cloth.right_side is RightSide.BOTH:
        return _order(want, want.shape, Yield.ONE, [(n,) for n in numbers], (False, True))
    if want.count.kind is CutKind.SINGLE:
        return _order(want, want.shape, Yield.ONE, [(n,) for n in numbers], (False,))
    lefts = [(n,) for n in numbers if n % 2 == 1]
    rights = [(n,) for n in numbers if n % 2 == 0]
    return _order(want, want.shape, Yield.ONE, lefts, (False,)) + _order(
        want, want.shape, Yield.ONE, rights, (True,)
    )


def _folded_orders(want: Wanted, cloth: Cloth) -> tuple[list[Order], list[Order]]:
    """On a lengthwise fold: (what is cut double, what is left for an opened-out length)."""
    if want.count.kind is CutKind.ON_FOLD:
        copies = [(n,) for n in range(1, want.count.number + 1)]
        return _order(want, want.shape, Yield.WHOLE_ON_FOLD, copies, (False, True)), []
    mirror_serves = want.shape.symmetric or cloth.right_side is RightSide.BOTH
    if want.count.kind is CutKind.PAIR or mirror_serves:
        twos = want.count.pieces // 2
    else:
        twos = 0
    copies_of_two = [(2 * k + 1, 2 * k + 2) for k in range(twos)]
    faces = (False,) if want.shape.symmetric else (False, True)
    return (
        _order(want, want.shape, Yield.PAIR, copies_of_two, faces),
        _open_orders(want, cloth, first_copy=2 * twos + 1),
    )


def _order(
    want: Wanted,
    shape: CutShape,
    yields: Yield,
    copies: Sequence[tuple[int, ...]],
    mirrored: tuple[bool, ...],
) -> list[Order]:
    """One order, or none where there is nothing to place."""
    if not copies:
        return []
    variants = [Variant(angle, flip) for flip in mirrored for angle in ANGLES_DEG[want.turn]]
    on_fold = yields is Yield.WHOLE_ON_FOLD
    if on_fold:
        variants = [variant for variant in variants if _fold_edge_is_low(shape, variant)]
    item = Item(
        name=want.piece.name,
        outline=shape.cut_line,
        demand=len(copies),
        variants=tuple(variants),
        edge=EdgeRule.LOW if on_fold else EdgeRule.FREE,
    )
    return [Order(want.piece.name, shape, yields, tuple(copies), want.count.pieces, item)]


def _fold_edge_is_low(shape: CutShape, variant: Variant) -> bool:
    """Whether this variant has the fold edge along the fold, the piece above it."""
    if shape.fold_edge is None:
        raise ValueError(f"piece '{shape.name}' has no fold edge")
    edge = shape.fold_edge @ variant.matrix().T
    lowest = float(variant_outline(shape.cut_line, variant)[:, 1].min())
    return bool(abs(edge[:, 1] - lowest).max() < 1e-6)
