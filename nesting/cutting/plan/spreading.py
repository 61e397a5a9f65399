"""How a cloth lies in each spread: the zones that the table is divided into.

A zone has the same number of layers all over, and no piece may reach out of it. Zones of one stretch lie
side by side over the same length; a stretch is as long as the longest of them needs.

Geometry
--------
Let W be the usable width, s the breadth of a selvedge on the table. y runs across the table from the fold,
or from the near selvedge's inner side. What a fold brings over is cloth with its selvedge at the end, and
pieces lie on no selvedge, neither the upper layer's nor the lower's:

*Lengthwise fold.* Fold at y = 0, both selvedges together beyond y = W / 2.

*Part fold to depth d.* Fold at y = 0; two layers up to d; the upper layer's selvedge from d to d + s, which
is how far the cloth's edge is folded over; one layer from there to W - d.

*Double fold.* Folds at y = 0 and at y = W / 2 + s; the two selvedges of the upper layer meet in between, so
the zones' widths together are W / 2 - s.

*Crosswise fold, two lengths.* The full width, double, over half the length.

*Tube.* Half the round, double, a fold on either side.

A gap wider than the selvedges between two zones takes their place.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import assert_never

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import FACTS, Spread, no_way_to_lie
from nesting.cutting.lay import Fold

__all__ = ["Zone", "layouts", "opened_out", "spreads_of"]

_NEAR_MM = 2.0
"""Two depths closer than this are not both tried."""
_MOST_DEPTHS = 64
"""So many depths of a fold are tried at most: an order of many sizes has hundreds that would just do."""
_LEAST_ZONE_MM = 30.0
"""Hardly a belt goes on less."""
_TAPE_MM = 5.0
"""What is folded over is a whole number of these, so that it can be measured with a tape."""


@dataclass(frozen=True, slots=True)
class Zone:
    """Part of a stretch with the same number of layers all over.

    Attributes
    ----------
    spread : Spread
        How its stretch lies.
    layers : int
    width_mm : float
    across_mm : float
        Where its side of least y lies across the table.
    fold : Fold
        Which of its long sides are folds.
    stretch : int
        0, or 1 for the opened-out length that may follow.
    """

    spread: Spread
    layers: int
    width_mm: float
    across_mm: float = 0.0
    fold: Fold = Fold.NONE
    stretch: int = 0


def spreads_of(cloth: Cloth) -> tuple[Spread, ...]:
    """The spreads to try; the one easier to cut first, so that it wins a draw."""
    if cloth.spread is not Spread.BEST:
        return (cloth.spread,)
    return tuple(
        spread
        for spread, facts in FACTS.items()
        if (facts.tube if cloth.tube else facts.flat) and (facts.flaws or not cloth.blocked)
    )


def opened_out(cloth: Cloth, stretch: int = 0) -> Zone:
    """The cloth in one layer."""
    return Zone(Spread.OPEN, 1, cloth.usable_width_mm, stretch=stretch)


def layouts(
    cloth: Cloth,
    spread: Spread,
    doubled_mm: Sequence[float],
    single_mm: Sequence[float],
    kept_back_mm: float = 0.0,
) -> tuple[tuple[Zone, ...], ...]:
    """The ways in which a spread can divide the table; several where the depth of a fold can be chosen.

    Parameters
    ----------
    cloth : Cloth
    spread : Spread
        Not `Spread.BEST`.
    doubled_mm, single_mm : sequence of float
        What the pieces measure across where they lie double, and in one layer: depths that just take
        one of them, or two side by side, are worth trying.
    kept_back_mm : float
        What a lengthwise fold loses of its width because it has to lie on a stripe, not in the middle.

    Returns
    -------
    tuple of tuple of Zone
        Without the opened-out length that may follow.
    """
    width = cloth.usable_width_mm
    match spread:
        case Spread.OPEN:
            return ((opened_out(cloth),),)
        case Spread.LENGTHWISE_FOLD:
            return ((Zone(spread, 2, width / 2 - kept_back_mm, fold=Fold.LOW),),)
        case Spread.PART_FOLD:
            return _part_folds(cloth, doubled_mm, single_mm)
        case Spread.DOUBLE_FOLD:
            return _double_folds(cloth, doubled_mm)
        case Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:
            return ((Zone(spread, 2, width),),)
        case Spread.TUBE:
            return ((Zone(spread, 2, width / 2, fold=Fold.BOTH),),)
        case Spread.BEST:
            no_way_to_lie(spread)
        case _:
            assert_never(spread)


def _part_folds(
    cloth: Cloth, doubled_mm: Sequence[float], single_mm: Sequence[float]
) -> tuple[tuple[Zone, ...], ...]:
    width = cloth.usable_width_mm
    between = max(cloth.washed_selvedge_mm, cloth.gap_mm)
    deepest = (width - between - _LEAST_ZONE_MM) / 2
    depths = [*_one_or_two(doubled_mm), *((width - between - wide) / 2 for wide in _one_or_two(single_mm))]
    depths += [share * width for share in (1 / 6, 1 / 4, 1 / 3)]
    depths = [_on_the_tape(depth, cloth.washed_selvedge_mm) for depth in depths]
    return tuple(
        (
            Zone(Spread.PART_FOLD, 2, depth, fold=Fold.LOW),
            Zone(Spread.PART_FOLD, 1, width - 2 * depth - between, across_mm=depth + between),
        )
        for depth in _apart(depths, _LEAST_ZONE_MM, deepest)
    )


def _double_folds(cloth: Cloth, doubled_mm: Sequence[float]) -> tuple[tuple[Zone, ...], ...]:
    selvedge = cloth.washed_selvedge_mm
    table = cloth.usable_width_mm / 2 + selvedge
    between = max(2 * selvedge, cloth.gap_mm)
    both = table - between
    depths = [both / 2]
    for wide in _one_or_two(doubled_mm):
        depths += [wide, both - wide]
    # Where the selvedges meet is halfway between the zones. Two equal folds need no measuring.
    depths = [both / 2, *(_on_the_tape(depth, between / 2) for depth in depths[1:])]
    return tuple(
        (
            Zone(Spread.DOUBLE_FOLD, 2, depth, fold=Fold.LOW),
            Zone(Spread.DOUBLE_FOLD, 2, both - depth, across_mm=depth + between, fold=Fold.HIGH),
        )
        for depth in _apart(depths, both / 2, both - _LEAST_ZONE_MM)  # the deeper fold on the near side
    )


def _on_the_tape(depth_mm: float, more_mm: float) -> float:
    """A depth no less, such that with the selvedge that belongs to it the fold is easily measured."""
    steps = math.ceil((depth_mm + more_mm) / _TAPE_MM - 1e-9)
    return steps * _TAPE_MM - more_mm


def _one_or_two(widths_mm: Sequence[float]) -> list[float]:
    """Each width, and each two side by side."""
    return [*widths_mm, *(a + b for k, a in enumerate(widths_mm) for b in widths_mm[k:])]


def _apart(depths_mm: Sequence[float], least_mm: float, most_mm: float) -> tuple[float, ...]:
    """Those within limits, rising; of several close together the greatest, which takes what the others do."""
    kept: list[float] = []
    for depth in sorted(depth for depth in depths_mm if least_mm <= depth <= most_mm):
        if not kept or depth - kept[-1] > _NEAR_MM:
            kept.append(depth)
        else:
            kept[-1] = depth
    step = max(1.0, len(kept) / _MOST_DEPTHS)
    return tuple(kept[int(k * step)] for k in range(min(len(kept), _MOST_DEPTHS)))
