"""Do the wishes of where pieces lie go together, and with the cloth? Said before any search, all at once."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import shapely

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.plan.batches import least_along_mm, pinned_outline
from nesting.cutting.plan.demand import Wanted, allowed_turn, wanted
from nesting.cutting.plan.holds import holds, wishes_on
from nesting.errors import Mistake
from nesting.geometry import FloatArray
from nesting.pattern.piece import CutKind, Turn
from nesting.pattern.wish import FromEnd, Pin, Together
from nesting.project import Project
from nesting.units import format_length

__all__ = ["wish_mistakes"]

_TOUCHING_MM2 = 1.0
"""Pinned pieces may share no more than a pencil line."""
_ON_FOLD_MM = 1.0
"""A fold edge pinned no farther than this from the fold is meant to lie on it."""


def wish_mistakes(project: Project, cloth: Cloth, source: str) -> list[Mistake]:
    """Wishes that cannot be had, or not together.

    Parameters
    ----------
    project : Project
    cloth : Cloth
    source : str
        Begins every place.
    """
    wishes = wishes_on(project, cloth)
    if not wishes:
        return []
    where = f"{source}wishes on cloth '{cloth.key}'"
    if len(cloth.remnants) > 1:
        what = "The cloth is in several pieces, and nobody has said which of them is meant."
        return [Mistake(where, what, "Leave the wishes out, or lay one of the pieces of cloth by itself.")]
    wants = wanted(project, cloth, (), holds(project, cloth)[0])
    mistakes = _too_close(project, cloth, wants, where)
    if any(isinstance(wish, Pin) for wish in wishes):
        found = _pin_mistakes(project, cloth, wants, where)
        mistakes += found or _pinned_against(project, cloth, wants, where)
    return mistakes


def _too_close(project: Project, cloth: Cloth, wants: tuple[Wanted, ...], where: str) -> list[Mistake]:
    """Pieces longer than the part of the cloth that they are to share with others."""
    mistakes = []
    for wish in wishes_on(project, cloth):
        for want in wants:
            if not isinstance(wish, Together) or want.piece.name not in wish.pieces:
                continue
            least = least_along_mm(want, cloth.usable_width_mm)
            if least is not None and least > wish.within_mm:
                longest, within = (format_length(mm, project.unit) for mm in (least, wish.within_mm))
                what = f"'{want.piece.name}' is {longest} long and is to lie within {within}, with others."
                mistakes.append(Mistake(where, what, f"Let them lie within {longest} or more."))
    return list(dict.fromkeys(mistakes))


def _pin_mistakes(project: Project, cloth: Cloth, wants: tuple[Wanted, ...], where: str) -> list[Mistake]:
    """Pins that say too little, or forbid themselves."""
    if cloth.spread not in (Spread.OPEN, Spread.LENGTHWISE_FOLD):
        what = "A pinned piece lies at one place of the cloth, and that depends on how the cloth lies."
        return [Mistake(where, what, 'Write spread = "open" or spread = "lengthwise fold" for the cloth.')]
    mistakes = []
    for want in wants:
        pin = want.hold.pin
        if pin is None:
            continue
        name = want.piece.name
        if want.matched:
            what = f"'{name}' is pinned, and matched to the repeat of the cloth as well."
            mistakes.append(Mistake(where, what, "Leave out one of the two."))
        if pin.turned and allowed_turn(want.piece, cloth) is Turn.NONE:
            what = f"'{name}' is pinned turned, on a cloth on which it may not be turned."
            mistakes.append(Mistake(where, what, "Leave turned out, or let it turn."))
    return mistakes


def _pinned_against(project: Project, cloth: Cloth, wants: tuple[Wanted, ...], where: str) -> list[Mistake]:
    """Pinned pieces against the cloth, each other, and the other wishes."""
    rings = [(want, ring) for want in wants if (ring := pinned_outline(want, cloth)) is not None]
    folded = cloth.spread is Spread.LENGTHWISE_FOLD
    width = cloth.usable_width_mm / (2 if folded else 1)
    mistakes = []
    for want, ring in rings:
        on_fold = folded and want.count.kind is CutKind.ON_FOLD
        off = float(ring[:, 1].min()) if on_fold else 0.0
        if abs(off) > _ON_FOLD_MM:
            gap = _told(abs(off), project)
            what = f"'{want.piece.name}' lies on the fold; pinned so, it would be {gap} off it."
            mistakes.append(Mistake(where, what, "Measure from the fold on the paper, or pin another point."))
            continue
        beyond = _beyond_mm(ring, 0.0 if not on_fold else -_ON_FOLD_MM, width)
        if beyond > 1e-6:
            what = f"'{want.piece.name}' pinned so reaches {_told(beyond, project)} beyond the usable cloth."
            mistakes.append(Mistake(where, what, "Pin it farther in."))
        for wish in wishes_on(project, cloth):
            if isinstance(wish, FromEnd) and want.piece.name in wish.pieces:
                begins = float(ring[:, 0].min())
                if -1e-6 <= begins < wish.distance_mm - 1e-6:  # beyond the cut end it is told already
                    what = (
                        f"'{want.piece.name}' is to lie {_told(wish.distance_mm, project)} from the cut end, "
                        f"and is pinned where it begins {_told(begins, project)} from it."
                    )
                    mistakes.append(Mistake(where, what, "Leave out one of the two."))
    for (one, ring), (other, beside) in combinations(rings, 2):
        shared = shapely.intersection(shapely.Polygon(ring), shapely.Polygon(beside)).area
        names = f"'{one.piece.name}' and '{other.piece.name}'"
        if shared > _TOUCHING_MM2:
            mistakes.append(Mistake(where, f"{names} are pinned onto each other.", "Pin them apart."))
        apart = float(max(ring[:, 0].max(), beside[:, 0].max()) - min(ring[:, 0].min(), beside[:, 0].min()))
        for wish in wishes_on(project, cloth):
            both = {one.piece.name, other.piece.name} <= set(wish.pieces)
            if isinstance(wish, Together) and both and apart > wish.within_mm + 1e-6:
                what = (
                    f"{names} are to lie within {_told(wish.within_mm, project)} and are pinned over "
                    f"{_told(apart, project)}."
                )
                mistakes.append(Mistake(where, what, "Pin them nearer to each other, or let within be more."))
    return mistakes


def _beyond_mm(ring: FloatArray, low: float, width_mm: float) -> float:
    """How far an outline reaches beyond the beginning of a strip, or its sides."""
    beyond = np.max([-ring[:, 0].min(), low - ring[:, 1].min(), ring[:, 1].max() - width_mm])
    return float(beyond)


def _told(mm: float, project: Project) -> str:
    return format_length(mm, project.unit)
