"""Which piece goes into which zone, and how deep a fold should be: settled by estimate, before any packing.

For each layout of a spread, `nesting.cutting.plan.seating` gives every lot of the demand its seat. Only what
has no other seat goes onto the opened-out length after a fold.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import Spread
from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import Seat, ZoneBatches, fill, measures, seats
from nesting.cutting.plan.demand import Lot, Wanted, lots_of
from nesting.cutting.plan.flaws import halved_mm
from nesting.cutting.plan.lines import Lines, Matching, kept_back_mm, why_not_held
from nesting.cutting.plan.phasing import choices
from nesting.cutting.plan.seating import Seating
from nesting.cutting.plan.spreading import Zone, layouts, opened_out
from nesting.cutting.reasons import (
    Barred,
    NeverDouble,
    OffTheFold,
    OffTheWish,
    SpreadReason,
    TooNarrow,
    TooNarrowOnLines,
)
from nesting.pattern.piece import Turn

__all__ = ["Plan", "plans", "too_wide", "unlike", "why_not"]

_UNLIKE = 0.05
"""Of the usable width: folds whose depths differ by less make much the same lay."""


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A spread with every lot on its seat, and the cloth it is estimated to take.

    Attributes
    ----------
    spread : Spread
    zones : tuple of ZoneBatches
    estimate_mm : float
    shared : bool
        Whether any lot could have lain in another zone, or a fold been made at another depth, or matched
        pieces been laid on other lines.
    lines : Lines or None
        What holds the matched pieces.
    wants : tuple of Wanted
        The demand that lies so.
    """

    spread: Spread
    zones: tuple[ZoneBatches, ...]
    estimate_mm: float
    shared: bool
    lines: Lines | None = None
    wants: tuple[Wanted, ...] = ()

    @property
    def begin_every_mm(self) -> float | None:
        """Stretches begin a multiple of this from the end of the cloth, where lines must run on in them."""
        later = any(
            batch.item.x_lattice for one in self.zones if one.zone.stretch > 0 for batch in one.batches
        )
        return self.lines.along_mm if self.lines is not None and later else None


def plans(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, lines: Lines | None = None
) -> tuple[Plan, ...]:
    """All ways to lay the demand in this spread, one for each layout, the most promising first.

    Parameters
    ----------
    wants : tuple of Wanted
    cloth : Cloth
    spread : Spread
    lines : Lines, optional
        One of `nesting.cutting.plan.phasing.choices`, where anything is matched.

    Returns
    -------
    tuple of Plan
        Empty where `why_not` gives a reason.
    """
    lots = lots_of(wants, cloth)
    found = []
    tried = _layouts(wants, lots, cloth, spread, 0.0 if lines is None else lines.kept_back_mm)
    for layout in tried:
        plan = plan_on(lots, layout, cloth, spread, lines)
        if plan is not None:
            found.append(replace(plan, shared=plan.shared or len(tried) > 1, wants=wants))
    return tuple(sorted(found, key=lambda plan: plan.estimate_mm))


def plan_on(
    lots: Sequence[Lot], layout: Sequence[Zone], cloth: Cloth, spread: Spread, lines: Lines | None
) -> Plan | None:
    """The lots shared out among these zones; None where one has no place, or nothing would lie double."""
    choices = _choices(lots, layout, cloth, spread, lines)
    if not all(choices) or not _worth(spread, cloth, layout, choices):
        return None
    seating = Seating(lots, layout, choices)
    seated = seating.best()
    if not _worth(spread, cloth, layout, [(seat,) for seat in seated]):
        return None
    shared = any(len(choice) > 1 for choice in choices) or lines is not None
    zones = fill(lots, seated, layout, cloth, lines)
    return Plan(spread, zones, seating.estimate(seated), shared, lines)


def unlike(found: Sequence[Plan], number: int, cloth: Cloth) -> tuple[Plan, ...]:
    """So many of the plans, the most promising first, their folds not all but equally deep."""
    apart = _UNLIKE * cloth.usable_width_mm
    kept: list[Plan] = []
    for plan in found:
        depth = plan.zones[0].zone.width_mm
        if len(kept) < number and all(abs(depth - one.zones[0].zone.width_mm) > apart for one in kept):
            kept.append(plan)
    return tuple(kept)


def too_wide(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None = None
) -> tuple[Wanted, ...]:
    """The pieces for which this spread has no place because of how wide they are."""
    never = _never_double(wants, cloth, spread)
    lots = [lot for lot in lots_of(wants, cloth) if lot.want not in never]
    barred: dict[int, Wanted] = {}
    for layout in _layouts(wants, lots, cloth, spread, kept_back_mm(matching, spread))[-1:]:
        for lot, choice in zip(lots, _choices(lots, layout, cloth, spread), strict=True):
            if not choice:
                barred[id(lot.want)] = lot.want
    return tuple(barred.values())


def why_not(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None = None
) -> SpreadReason | None:
    """Why this spread cannot be used; None where it can."""
    never = _never_double(wants, cloth, spread)
    if never and spread.facts.fold_across and cloth.one_way:
        return Barred.RUNS_THE_OTHER_WAY
    if never:
        return NeverDouble(_names(never))
    held = _held_apart(wants, cloth, spread)
    if held:
        return held
    barred = too_wide(wants, cloth, spread, matching)
    if barred:
        return TooNarrow(_names(barred))
    reason = _why_not_double(wants, cloth, spread, matching) or why_not_held(matching, cloth, spread)
    if reason or matching is None:
        return reason
    apart = _off_the_fold(wants, cloth, spread, matching)
    if apart:
        return OffTheFold(_names(apart))
    if not choices(matching, wants, spread):
        return TooNarrowOnLines(_names([want for want in wants if want.matched]))
    return None


def _held_apart(wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread) -> SpreadReason | None:
    """Why what the person wishes of where pieces lie rules out a spread; None where it does not."""
    held = [want for want in wants if want.hold.at_first]
    if spread.facts.lengths == 2 and held:
        return Barred.FROM_BOTH_HALVES
    if spread.facts.single:
        return None
    single = [lot.want for lot in lots_of(tuple(held), cloth) if not (lot.pair or lot.on_fold)]
    return OffTheWish(_names(single)) if single else None


def _never_double(wants: Sequence[Wanted], cloth: Cloth, spread: Spread) -> list[Wanted]:
    """What cannot be cut double where a flawed cloth lies double as a whole; nothing on other cloths."""
    if halved_mm(cloth, spread) is None:
        return []
    turned = spread.facts.fold_across
    return [
        lot.want
        for lot in lots_of(tuple(wants), cloth)
        if lot.on_fold or not lot.pair or (turned and lot.want.turn is Turn.NONE)
    ]


def _off_the_fold(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching
) -> list[Wanted]:
    """What is matched across but could only lie beside or after the fold."""
    if not spread.facts.doubled:
        return []
    every = lots_of(wants, cloth)
    lots = [lot for lot in every if lot.want.handed]
    (layout, *_) = _layouts(wants, every, cloth, spread, kept_back_mm(matching, spread))
    chosen = _choices(lots, layout, cloth, spread)
    return [
        lot.want
        for lot, choice in zip(lots, chosen, strict=True)
        if all(layout[seat.zone].layers == 1 for seat in choice)
    ]


def _why_not_double(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None
) -> SpreadReason | None:
    if not spread.facts.doubled or _meant(spread, cloth):
        return None
    lots = lots_of(wants, cloth)
    tried = _layouts(wants, lots, cloth, spread, kept_back_mm(matching, spread))
    if any(_worth(spread, cloth, one, _choices(lots, one, cloth, spread)) for one in tried):
        return None
    double = [lot for lot in lots if lot.pair or (lot.on_fold and spread.facts.lengths == 1)]
    if not double:
        return Barred.NOTHING_DOUBLE
    if spread.facts.fold_across:
        return Barred.RUNS_THE_OTHER_WAY
    return TooNarrow(_names([lot.want for lot in double]))


def _names(wants: Sequence[Wanted]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(want.piece.name for want in wants))


def _layouts(
    wants: Sequence[Wanted], lots: Sequence[Lot], cloth: Cloth, spread: Spread, kept_back_mm: float
) -> tuple[tuple[Zone, ...], ...]:
    """The spread's zones, with the opened-out length after them."""
    doubled = {id(u.want): measures(u.want, _double(u))[1] for u in lots if u.pair or u.on_fold}
    single = [measures(want, Yield.ONE)[1] for want in wants]
    found = layouts(cloth, spread, sorted(set(doubled.values())), sorted(set(single)), kept_back_mm)
    if not spread.facts.doubled or halved_mm(cloth, spread) is not None:
        return found
    return tuple((*layout, opened_out(cloth, stretch=1)) for layout in found)


def _double(lot: Lot) -> Yield:
    return Yield.WHOLE_ON_FOLD if lot.on_fold else Yield.PAIR


def _choices(
    lots: Sequence[Lot],
    layout: Sequence[Zone],
    cloth: Cloth,
    spread: Spread,
    lines: Lines | None = None,
) -> list[tuple[Seat, ...]]:
    """The seats each lot may choose from.

    The opened-out length is for what has no other, but not for what could be cut double and is only too wide
    for a fold that is meant.
    """
    forced = _meant(spread, cloth)
    found = []
    for lot in lots:
        every = seats(lot, layout, cloth, lines)
        first = tuple(seat for seat in every if layout[seat.zone].stretch == 0)
        may_open = not (forced and (lot.pair or lot.on_fold))
        found.append(first or (every if may_open else ()))
    return found


def _meant(spread: Spread, cloth: Cloth) -> bool:
    """Whether the person asks for this very spread, and for one that is then laid as asked."""
    return spread is cloth.spread and spread.facts.strict


def _worth(spread: Spread, cloth: Cloth, layout: Sequence[Zone], choices: Sequence[tuple[Seat, ...]]) -> bool:
    """Whether anything is cut double; of a fold that is meant, this is not required."""
    if not spread.facts.doubled or _meant(spread, cloth):
        return True
    return any(layout[seat.zone].layers == 2 for choice in choices for seat in choice)
