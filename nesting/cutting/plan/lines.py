"""Stripes and checks: what holds each matched piece to the repeat of its cloth, in each spread.

Terms
-----
line
    Along the cloth, x = 0: its end is straightened along a main line. Across it, the fold, which is laid
    along the middle of a stripe; on open cloth the line that the person has measured from the selvedge.
    Where nobody has measured it, phases across are counted from the lower side, and no matched piece may be
    turned.
held
    Bound to a lattice of positions, one repeat apart, because something on the piece is matched.

Geometry
--------
`nesting.pattern.phases` gives T, the phase of each piece's reference as the garment reads. A piece turned by
half reads backwards, so its reference lies at ``line + s T`` with s = -1, else s = 1. In the upper layer of a
lengthwise fold everything lies mirrored about the fold: there the phase across is -T, with the fold as line.
So the two hands of a pair that is cut double have opposite phases; where a match joins them (centre front),
the point lies on the middle of a stripe or midway between two. Along the cloth both layers are alike.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import assert_never

import numpy as np

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import Spread, no_way_to_lie
from nesting.cutting.lay import Yield
from nesting.cutting.reasons import Barred
from nesting.geometry import FloatArray
from nesting.packing.problem import Lattice, Variant, variant_outline
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.match import Axis, Hand, Match
from nesting.pattern.phases import Group, Node, groups, reference_mm
from nesting.pattern.piece import Piece
from nesting.project import Project

__all__ = [
    "Lines",
    "Matching",
    "across_line_mm",
    "kept_back_mm",
    "matches_on",
    "matching_of",
    "why_not_held",
]

SAME_PHASE_MM = 0.25
"""What paper leaves open where a fold holds the phases of several pieces at once."""


@dataclass(frozen=True, slots=True, eq=False)
class Matching:
    """All that is matched on one cloth.

    Attributes
    ----------
    cloth : Cloth
    pieces : Mapping[str, Piece]
        Those that any match names.
    along, across : tuple of Group
    """

    cloth: Cloth
    pieces: Mapping[str, Piece]
    along: tuple[Group, ...]
    across: tuple[Group, ...]

    def groups(self, axis: Axis) -> tuple[Group, ...]:
        """The groups in that direction."""
        return self.along if axis is Axis.ALONG else self.across

    def axes_of(self, piece: str) -> tuple[Axis, ...]:
        """In which directions a piece is held."""
        return tuple(
            axis
            for axis in Axis
            if any(piece == name for group in self.groups(axis) for name, _ in group.offsets)
        )


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """One choice of the phases that the matches leave open.

    Attributes
    ----------
    along_mm, across_mm : float or None
        The repeats in which anything is held.
    along, across : Mapping[Node, float]
        T of each piece that is held.
    line_mm : float or None
        Where the line of the zone that is laid first lies across it; None where nobody knows.
    kept_back_mm : float
        See `kept_back_mm`.
    """

    along_mm: float | None
    across_mm: float | None
    along: Mapping[Node, float]
    across: Mapping[Node, float]
    line_mm: float | None
    kept_back_mm: float = 0.0

    def hold(
        self, shape: CutShape, yields: Yield, variants: Sequence[Variant]
    ) -> tuple[tuple[Variant, ...], Lattice | None, Lattice | None]:
        """The variants in which the piece may lie, each with its phases, and the lattices they are on."""
        along = self.along.get((shape.name, Hand.DRAWN))
        across = yields is not Yield.WHOLE_ON_FOLD and any((shape.name, hand) in self.across for hand in Hand)
        held = []
        for variant in variants:
            sign = _sign(variant)
            if across and (_node(shape, variant) not in self.across or (sign < 0 and self.line_mm is None)):
                continue
            x = 0.0 if along is None else sign * along
            y = self._across_mm(shape, variant) if across else 0.0
            held.append(Variant(variant.angle_deg, variant.mirrored, x, y))
        return (
            tuple(held),
            None if along is None or self.along_mm is None else Lattice(self.along_mm),
            Lattice(self.across_mm) if across and self.across_mm is not None else None,
        )

    def has_place(self, shape: CutShape, yields: Yield, variants: Sequence[Variant], width_mm: float) -> bool:
        """Whether any variant has a position on a strip of that width."""
        held, _, lattice = self.hold(shape, yields, variants)
        return any(
            lattice is None or _on_lattice(variant_outline(shape.cut_line, one), one, lattice, width_mm)
            for one in held
        )

    def _across_mm(self, shape: CutShape, variant: Variant) -> float:
        """The y of the outline's own zero, modulo the repeat."""
        sign, flip = _sign(variant), -1.0 if variant.mirrored else 1.0
        phase = self.across[_node(shape, variant)]
        return (self.line_mm or 0.0) + sign * (phase - flip * reference_mm(shape))


def matches_on(project: Project, cloth: Cloth, axis: Axis) -> tuple[Match, ...]:
    """The matches that hold in that direction of the cloth, without pieces that are not cut at all."""
    if cloth.repeat_mm(axis) is None:
        return ()
    cut = {piece.name for piece in project.pieces_in(cloth.key)}
    found = (match.among(cut) for match in project.matches if match.holds(axis, cloth.key))
    return tuple(match for match in found if match is not None)


def matching_of(project: Project, cloth: Cloth) -> Matching | None:
    """What is matched on the cloth, or None."""
    pieces = {piece.name: piece for piece in project.pieces_in(cloth.key)}
    found = {axis: _groups(project, cloth, axis, pieces) for axis in Axis}
    if not any(found.values()):
        return None
    named = {name for every in found.values() for group in every for name, _ in group.offsets}
    return Matching(
        cloth,
        {name: piece for name, piece in pieces.items() if name in named},
        found[Axis.ALONG],
        found[Axis.ACROSS],
    )


def _groups(project: Project, cloth: Cloth, axis: Axis, pieces: Mapping[str, Piece]) -> tuple[Group, ...]:
    repeat = cloth.repeat_mm(axis)
    if repeat is None:
        return ()
    return groups(axis, repeat, matches_on(project, cloth, axis), pieces, cloth.key)[0]


def why_not_held(matching: Matching | None, cloth: Cloth, spread: Spread) -> Barred | None:
    """Why lines cannot be kept in that spread; None where they can."""
    uneven = cloth.repeat is not None and Axis.ACROSS in cloth.repeat.uneven
    if uneven and spread.facts.doubled:
        return Barred.STRIPE_REVERSED
    if matching is None:
        return None
    across = bool(matching.across)
    match spread:
        case Spread.OPEN:
            on_line = any(group.on_line for group in matching.across)
            known = cloth.repeat is not None and cloth.repeat.line_mm is not None
            return Barred.LINE_UNKNOWN if on_line and not known else None
        case Spread.LENGTHWISE_FOLD:
            return None
        case Spread.PART_FOLD:
            return Barred.FOLD_ON_A_STRIPE if across else None
        case Spread.DOUBLE_FOLD | Spread.TUBE:
            return Barred.FOLDS_ON_A_STRIPE if across else None
        case Spread.CROSSWISE_FOLD:
            return Barred.LINES_TURNED
        case Spread.TWO_LENGTHS:
            return Barred.LINES_APART
        case Spread.BEST:
            no_way_to_lie(spread)
        case _:
            assert_never(spread)


def kept_back_mm(matching: Matching | None, spread: Spread) -> float:
    """What a fold on a stripe loses of its width on each layer, as it may not lie in the middle of the cloth.

    Lines of symmetry are half a repeat apart, so one of them is within a quarter of the cloth's middle; main
    lines, where pieces have to lie on one, within half.
    """
    if matching is None or not matching.across or not spread.facts.fold_on_stripe:
        return 0.0
    repeat = matching.cloth.repeat_mm(Axis.ACROSS) or 0.0
    return repeat / 2 if any(group.on_line for group in matching.across) else repeat / 4


def across_line_mm(cloth: Cloth, spread: Spread) -> float | None:
    """Where the line lies across the zone of least y, in that zone's coordinates."""
    if spread.facts.doubled:
        return 0.0
    line = None if cloth.repeat is None else cloth.repeat.line_mm
    return None if line is None else line * cloth.kept_across - cloth.washed_selvedge_mm


def _sign(variant: Variant) -> float:
    return -1.0 if variant.angle_deg % 360 == 180 else 1.0


def _node(shape: CutShape, variant: Variant) -> Node:
    """Which hand of the piece the variant is, in one layer or in the lower of two."""
    return shape.name, Hand.MIRRORED if variant.mirrored else Hand.DRAWN


def _on_lattice(ring: FloatArray, variant: Variant, lattice: Lattice, width_mm: float) -> bool:
    low, high = float(ring[:, 1].min()), float(ring[:, 1].max())
    phase, repeat = variant.y_phase_mm, lattice.repeat_mm
    first = np.ceil((-low - phase) / repeat - 1e-9)
    return bool(phase + first * repeat + high <= width_mm + 1e-6)
