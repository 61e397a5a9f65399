"""Do the wishes of where pieces lie go together, and with the cloth? Said before any search, all at once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import shapely

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.findings import (
    LongerThanWithin,
    PinnedAndMatched,
    PinnedApart,
    PinnedBeyond,
    PinnedNearEnd,
    PinnedOffFold,
    PinnedOnEachOther,
    PinnedTurned,
    PinnedWithoutSpread,
    WishesOnRemnants,
    WishHindrance,
)
from nesting.cutting.plan.batches import least_along_mm, pinned_outline
from nesting.cutting.plan.demand import Wanted, allowed_turn, wanted
from nesting.cutting.plan.holds import holds, wishes_on
from nesting.geometry import FloatArray
from nesting.pattern.piece import CutKind, Turn
from nesting.pattern.wish import FromEnd, Pin, Together
from nesting.project import Project

__all__ = ["wish_hindrances"]

_TOUCHING_MM2 = 1.0
"""Pinned pieces may share no more than a pencil line."""
_ON_FOLD_MM = 1.0
"""A fold edge pinned no farther than this from the fold is meant to lie on it."""


def wish_hindrances(project: Project, cloth: Cloth) -> list[WishHindrance]:
    """Wishes that cannot be had on that cloth, or not together."""
    wishes = wishes_on(project, cloth)
    if not wishes:
        return []
    if len(cloth.remnants) > 1:
        return [WishesOnRemnants()]
    wants = wanted(project, cloth, (), holds(project, cloth)[0])
    hindrances: list[WishHindrance] = list(dict.fromkeys(_too_close(project, cloth, wants)))
    if any(isinstance(wish, Pin) for wish in wishes):
        found = list(_pin_hindrances(cloth, wants))
        hindrances += found or _pinned_against(project, cloth, wants)
    return hindrances


def _too_close(project: Project, cloth: Cloth, wants: tuple[Wanted, ...]) -> Iterator[WishHindrance]:
    """Pieces longer than the part of the cloth that they are to share with others."""
    for wish in wishes_on(project, cloth):
        for want in wants:
            if not isinstance(wish, Together) or want.piece.name not in wish.pieces:
                continue
            least = least_along_mm(want, cloth.usable_width_mm)
            if least is not None and least > wish.within_mm:
                yield LongerThanWithin(want.piece.name, least, wish.within_mm)


def _pin_hindrances(cloth: Cloth, wants: tuple[Wanted, ...]) -> Iterator[WishHindrance]:
    """Pins that say too little, or forbid themselves."""
    if cloth.spread is Spread.BEST or not cloth.spread.facts.plain:
        yield PinnedWithoutSpread()
        return
    for want in wants:
        pin = want.hold.pin
        if pin is None:
            continue
        if want.matched:
            yield PinnedAndMatched(want.piece.name)
        if pin.turned and allowed_turn(want.piece, cloth) is Turn.NONE:
            yield PinnedTurned(want.piece.name)


def _pinned_against(project: Project, cloth: Cloth, wants: tuple[Wanted, ...]) -> Iterator[WishHindrance]:
    """Pinned pieces against the cloth, each other, and the other wishes."""
    rings = [(want, ring) for want in wants if (ring := pinned_outline(want, cloth)) is not None]
    folded = cloth.asked_double
    width = cloth.usable_width_mm / (2 if folded else 1)
    for want, ring in rings:
        name = want.piece.name
        on_fold = folded and want.count.kind is CutKind.ON_FOLD
        off = float(ring[:, 1].min()) if on_fold else 0.0
        if abs(off) > _ON_FOLD_MM:
            yield PinnedOffFold(name, abs(off))
            continue
        beyond = _beyond_mm(ring, 0.0 if not on_fold else -_ON_FOLD_MM, width)
        if beyond > 1e-6:
            yield PinnedBeyond(name, beyond)
        for wish in wishes_on(project, cloth):
            if isinstance(wish, FromEnd) and name in wish.pieces:
                begins = float(ring[:, 0].min())
                if -1e-6 <= begins < wish.distance_mm - 1e-6:  # beyond the cut end it is told already
                    yield PinnedNearEnd(name, wish.distance_mm, begins)
    for (one, ring), (other, beside) in combinations(rings, 2):
        shared = shapely.intersection(shapely.Polygon(ring), shapely.Polygon(beside)).area
        both = one.piece.name, other.piece.name
        if shared > _TOUCHING_MM2:
            yield PinnedOnEachOther(both)
        apart = float(max(ring[:, 0].max(), beside[:, 0].max()) - min(ring[:, 0].min(), beside[:, 0].min()))
        for wish in wishes_on(project, cloth):
            if isinstance(wish, Together) and set(both) <= set(wish.pieces) and apart > wish.within_mm + 1e-6:
                yield PinnedApart(both, wish.within_mm, apart)


def _beyond_mm(ring: FloatArray, low: float, width_mm: float) -> float:
    """How far an outline reaches beyond the beginning of a strip, or its sides."""
    beyond = np.max([-ring[:, 0].min(), low - ring[:, 1].min(), ring[:, 1].max() - width_mm])
    return float(beyond)
