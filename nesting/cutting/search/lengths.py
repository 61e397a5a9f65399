"""A lay longer than the table, in lengths that go on it one after another.

Every length lies in the spread of the whole lay, a fold in all of them as deep. Garments stay together as
long as they can: they are shared out by area, the largest first, each to the length that holds least. Where
that takes too many lengths, the largest garment is shared out in two parts, and so on. What cannot be cut
double is left for lengths that lie opened out, at the end.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import measures, seats
from nesting.cutting.plan.demand import Lot, lots_of
from nesting.cutting.plan.sharing import plan_on
from nesting.cutting.plan.spreading import Zone, opened_out
from nesting.cutting.search.laid import Laid
from nesting.cutting.search.searching import Searcher

__all__ = ["divided", "fits", "longest_mm", "may_fit"]

TABLE_TOLERANCE_MM = 1e-6
"""Float noise where a length is exactly as long as the table."""
_WORTH_A_SEARCH = 1.08
"""A first lay longer than the table by no more than this is searched for one that is not."""


def longest_mm(laid: Laid) -> float:
    """Table that the longest stretch takes."""
    lengths: dict[int, float] = {}
    for one, packing in zip(laid.plan.zones, laid.packings, strict=True):
        taken = 0.0 if packing is None else packing.length_mm
        lengths[one.zone.stretch] = max(lengths.get(one.zone.stretch, 0.0), taken)
    return max(lengths.values())


def fits(laid: Laid, table_mm: float | None) -> bool:
    """Whether every stretch goes on the table."""
    return table_mm is None or longest_mm(laid) <= table_mm + TABLE_TOLERANCE_MM


def may_fit(laid: Laid, table_mm: float | None) -> bool:
    """Whether no bound shows that a search of this plan could not bring it onto the table."""
    bounds = [0.0 if packing is None else packing.bound_mm for packing in laid.packings]
    return table_mm is None or max(bounds) <= table_mm + TABLE_TOLERANCE_MM


def divided(laid: Laid, table_mm: float, searcher: Searcher, *, until_s: float | None) -> Laid | None:
    """The same demand in lengths no longer than the table.

    Parameters
    ----------
    laid : Laid
        In a spread of one length, with its fold, if any, where it is to be.
    table_mm : float
    searcher : Searcher
    until_s : float or None
        By the monotonic clock, when to end, instead of counting evaluations.

    Returns
    -------
    Laid or None
        None where the pieces do not go on the table even one by one.
    """
    work = _Work(laid, table_mm, replace(searcher, tell=lambda _: None, goal_mm=table_mm), until_s)
    layout = tuple(one.zone for one in laid.plan.zones if one.zone.stretch == 0)
    lots = lots_of(laid.plan.wants, laid.cloth)
    on_fold = [lot for lot in lots if seats(lot, layout, laid.cloth, laid.plan.lines)]
    opened = [lot for lot in lots if lot not in on_fold]
    parts: list[Laid] = []
    for mine, lying in ((on_fold, layout), (opened, (opened_out(laid.cloth),))):
        found = work.lengths(mine, lying)
        if found is None:
            return None
        parts += found
    zones = tuple(
        replace(one, zone=replace(one.zone, stretch=number))
        for number, part in enumerate(parts)
        for one in part.plan.zones
    )
    packings = tuple(packing for part in parts for packing in part.packings)
    plan = replace(laid.plan, zones=zones, shared=True)
    whole = Laid(plan, laid.cloth, packings)
    searcher.tell(whole)
    return searcher.search(whole, until_s=until_s, to_beat_mm=None)


@dataclass(frozen=True, slots=True)
class _Work:
    """Sharing out over lengths, and laying each."""

    laid: Laid
    table_mm: float
    searcher: Searcher
    until_s: float | None

    def lengths(self, lots: Sequence[Lot], layout: tuple[Zone, ...]) -> list[Laid] | None:
        """As few lengths as are found to do, each on the table."""
        if not lots:
            return []
        width = sum(zone.width_mm for zone in layout)
        area = sum(_area_mm2(lot, layout[0].layers) for lot in lots)
        for number in range(max(1, math.ceil(area / width / self.table_mm)), len(lots) + 1):
            found = self._in_so_many(lots, layout, number)
            if found is not None:
                return found
        return None

    def _in_so_many(self, lots: Sequence[Lot], layout: tuple[Zone, ...], number: int) -> list[Laid] | None:
        done = []
        for mine in _shared_out(lots, number, layout[0].layers):
            plan = plan_on(mine, layout, self.laid.cloth, layout[0].spread, self.laid.plan.lines)
            if plan is None:
                return None
            laid = self.searcher.first(plan)
            if self.table_mm < longest_mm(laid) <= _WORTH_A_SEARCH * self.table_mm:
                laid = self.searcher.search(laid, until_s=self.until_s, to_beat_mm=None)
            if not fits(laid, self.table_mm):
                return None
            done.append(laid)
        return done


def _shared_out(lots: Sequence[Lot], number: int, layers: int) -> list[list[Lot]]:
    """Over so many lengths, garments whole if there are enough of them; in the order of their garments."""

    def area(block: Sequence[Lot]) -> float:
        return sum(_area_mm2(lot, layers) for lot in block)

    blocks: dict[int, list[Lot]] = {}
    for lot in lots:
        blocks.setdefault(_garment(lot), []).append(lot)
    parts = list(blocks.values())
    while len(parts) < number:
        largest = max((part for part in parts if len(part) > 1), key=area)
        by_area = sorted(largest, key=lambda lot: -_area_mm2(lot, layers))
        parts.remove(largest)
        parts += [by_area[::2], by_area[1::2]]
    lengths: list[list[Lot]] = [[] for _ in range(number)]
    for part in sorted(parts, key=area, reverse=True):
        min(lengths, key=area).extend(part)
    return sorted((one for one in lengths if one), key=lambda one: min(map(_garment, one)))


def _garment(lot: Lot) -> int:
    return min(lot.want.garments_of(lot.copies), default=0)


def _area_mm2(lot: Lot, layers: int) -> float:
    """What a lot takes of a length: one placement where it lies double, one for each copy in one layer."""
    if layers == 1:
        return len(lot.copies) * measures(lot.want, Yield.ONE)[2]
    return measures(lot.want, Yield.WHOLE_ON_FOLD if lot.on_fold else Yield.PAIR)[2]
