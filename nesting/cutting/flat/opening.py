"""How a spread cloth opens out flat: which part of the cloth lies where, told from the cloth's point of view.

Flat coordinates: the whole cloth in one layer, right side towards us. X runs along the warp from the first
cut end, u across it from the outer edge of one selvedge. Each layer of each section is a part of that, moved,
and turned over where a fold has turned it over.

Nothing here looks at how a lay was planned. Whether a section can lie so at all is judged from the cloth's
own measures: its full width F, its selvedges s, and the folds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import assert_never

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import Spread, no_way_to_lie, row_for_each
from nesting.cutting.lay import Fold, LaySection
from nesting.fault import Fault, FaultKind

__all__ = ["Layer", "StretchFault", "at_the_fold", "in_the_round", "layers_of", "stretch_faults", "taken_mm"]

_SECTIONS = row_for_each(
    "nesting.cutting.flat.opening._SECTIONS",
    {
        Spread.OPEN: [(1, Fold.NONE)],
        Spread.LENGTHWISE_FOLD: [(2, Fold.LOW)],
        Spread.PART_FOLD: [(2, Fold.LOW), (1, Fold.NONE)],
        Spread.DOUBLE_FOLD: [(2, Fold.LOW), (2, Fold.HIGH)],
        Spread.CROSSWISE_FOLD: [(2, Fold.NONE)],
        Spread.TWO_LENGTHS: [(2, Fold.NONE)],
        Spread.TUBE: [(2, Fold.BOTH)],
    },
)
"""Layers and folds of the sections that lie side by side, from the near side on."""
_OF_A_TUBE = {Spread.TUBE, Spread.OPEN}
"""How one that is knitted in the round can lie; all else can lie in every way but the first of these."""


class StretchFault(FaultKind):
    """What can be wrong with how a stretch of the cloth says it lies."""

    ONLY_A_TUBE = "a cloth that is not a tube cannot lie as '{spread}'"
    NOT_A_TUBE = "a cloth that is a tube cannot lie as '{spread}'"
    NOT_SIDE_BY_SIDE = "sections side by side do not lie the same way over the same length"
    OTHER_LAYERS = "{layers} is not what '{spread}' makes"
    NO_ROOM = (
        "{layers} layer(s) from {across_mm:.2f} mm, {width_mm:.2f} mm wide, but '{spread}' leaves room from "
        "{least_mm:.2f} to {most_mm:.2f} mm"
    )


@dataclass(frozen=True, slots=True)
class Layer:
    """Where on the flat cloth a layer comes from: ``X = along * x + x_mm``, ``u = across * y + u_mm``.

    A layer with one of the two signs turned lay with its right side away from us; opening it out makes the
    mirror image of what was cut.
    """

    along: int
    across: int
    x_mm: float
    u_mm: float


def layers_of(
    section: LaySection, stretch: Sequence[LaySection], flat_mm: float, cloth: Cloth
) -> list[Layer]:
    """The layers of a section, the lowest first, section coordinates to flat ones.

    Parameters
    ----------
    section : LaySection
    stretch : sequence of LaySection
        All sections over the same length.
    flat_mm : float
        Where on the flat cloth the stretch begins.
    cloth : Cloth
    """
    selvedge = cloth.washed_selvedge_mm
    full = cloth.usable_width_mm + 2 * selvedge
    low, table = section.across_mm, section.length_mm
    match section.spread:
        case Spread.CROSSWISE_FOLD:
            # The fold is at the far end: the upper layer comes back from there, towards the other cut end.
            return [
                Layer(1, 1, flat_mm, selvedge + low),
                Layer(-1, 1, flat_mm + 2 * table, selvedge + low),
            ]
        case Spread.TWO_LENGTHS:
            # The half cut off is turned end for end, then lies face down: only across is it turned over.
            return [
                Layer(1, 1, flat_mm, selvedge + low),
                Layer(1, -1, flat_mm + table, full - selvedge - low),
            ]
        case Spread.TUBE:
            # u = 0 is the near fold; the round goes on both ways from it and meets at the far fold.
            return [Layer(1, 1, flat_mm, low), Layer(1, -1, flat_mm, -low)]
        case Spread.LENGTHWISE_FOLD:
            return [Layer(1, 1, flat_mm, full / 2 + low), Layer(1, -1, flat_mm, full / 2 - low)]
        case Spread.PART_FOLD:
            # What is folded over: the doubled part and the selvedge at its end.
            folded = min(one.width_mm for one in stretch if one.layers == 2) + selvedge
            lower = Layer(1, 1, flat_mm, folded + low)
            return [lower, Layer(1, -1, flat_mm, folded - low)][: section.layers]
        case Spread.DOUBLE_FOLD:
            near, far = stretch[0], stretch[-1]
            # The selvedges meet halfway between the two zones: so much is folded over from the near side.
            folded = (near.width_mm + far.across_mm) / 2
            lower = Layer(1, 1, flat_mm, folded + low)
            if section.fold.low:
                return [lower, Layer(1, -1, flat_mm, folded - low)]
            far_fold = folded + far.across_mm + far.width_mm
            return [lower, Layer(1, -1, flat_mm, 2 * far_fold - folded - low)]
        case Spread.OPEN:
            return [Layer(1, 1, flat_mm, selvedge + low)]
        case Spread.BEST:
            no_way_to_lie(section.spread)
        case _:
            assert_never(section.spread)


def taken_mm(stretch: Sequence[LaySection], cloth: Cloth) -> float:
    """Length of the flat cloth that a stretch takes: as far as any of its layers reaches."""
    ends = [
        layer.x_mm + layer.along * end
        for section in stretch
        for layer in layers_of(section, stretch, 0.0, cloth)
        for end in (0.0, section.length_mm)
    ]
    return max(ends)


def in_the_round(stretch: Sequence[LaySection]) -> bool:
    """Whether the cloth goes on round the folds on both its sides, and so has no edge along it."""
    return len(stretch) == 1 and stretch[0].fold is Fold.BOTH


def at_the_fold(layers: Sequence[Layer], fold_mm: float, cloth: Cloth) -> tuple[Layer, ...]:
    """The layers as they open out at a fold at y = `fold_mm`: a tube goes on round its far fold as well."""
    lower, *others = layers
    if not cloth.tube or fold_mm < cloth.usable_width_mm / 4:
        return tuple(layers)
    return (lower, *(replace(one, u_mm=one.u_mm + cloth.usable_width_mm) for one in others))


def stretch_faults(stretch: Sequence[LaySection], cloth: Cloth, tolerance_mm: float) -> list[Fault]:
    """What is wrong with how a stretch says it lies, by the cloth's own measures."""
    spread = stretch[0].spread
    told = [(one.layers, one.fold) for one in stretch]
    allowed = _OF_A_TUBE if cloth.tube else set(_SECTIONS) - {Spread.TUBE}
    if spread not in allowed:
        wrong = StretchFault.NOT_A_TUBE if cloth.tube else StretchFault.ONLY_A_TUBE
        return [wrong.of(spread=spread)]
    found = []
    length = stretch[0].length_mm
    if any(one.spread is not spread or abs(one.length_mm - length) > tolerance_mm for one in stretch):
        found.append(StretchFault.NOT_SIDE_BY_SIDE.of())
    if told != _SECTIONS[spread]:
        layers = " and ".join(f"{number} layer(s), fold: {fold}" for number, fold in told)
        found.append(StretchFault.OTHER_LAYERS.of(layers=layers, spread=spread))
        return found
    return found + [
        StretchFault.NO_ROOM.of(
            layers=one.layers,
            across_mm=one.across_mm,
            width_mm=one.width_mm,
            spread=spread,
            least_mm=least,
            most_mm=most,
        )
        for one, (least, most) in zip(stretch, _room(stretch, cloth), strict=True)
        if one.across_mm < least - tolerance_mm
        or one.across_mm + one.width_mm > most + tolerance_mm
        # A fold is where it is: a section may end short of a selvedge, but not of its fold.
        or (one.fold.low and abs(one.across_mm - least) > tolerance_mm)
        or (one.fold.high and abs(one.across_mm + one.width_mm - most) > tolerance_mm)
    ]


def _room(stretch: Sequence[LaySection], cloth: Cloth) -> list[tuple[float, float]]:
    """From where to where across the table each section may reach."""
    usable, selvedge = cloth.usable_width_mm, cloth.washed_selvedge_mm
    match stretch[0].spread:
        case Spread.LENGTHWISE_FOLD | Spread.TUBE:
            return [(0.0, usable / 2)]
        case Spread.PART_FOLD:
            depth = stretch[0].width_mm
            return [(0.0, usable / 2), (depth + selvedge, usable - depth)]
        case Spread.DOUBLE_FOLD:
            far_fold = usable / 2 + selvedge
            near_end, far_end = stretch[0].width_mm, stretch[1].across_mm
            return [(0.0, far_end - 2 * selvedge), (near_end + 2 * selvedge, far_fold)]
        case Spread.OPEN | Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:
            return [(0.0, usable)]
        case Spread.BEST:
            no_way_to_lie(stretch[0].spread)
        case _:
            assert_never(stretch[0].spread)
