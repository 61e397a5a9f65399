"""Lays one plan: has the engine place the pieces zone by zone."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from typing import ClassVar

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth
from nesting.cutting.plan.flaws import halved_mm
from nesting.cutting.plan.sharing import Plan
from nesting.cutting.search.laid import Laid
from nesting.packing import pack
from nesting.packing.result import Packing, Progress, StopReason
from nesting.packing.stop import AnyOf, Evaluations, Seconds, StopRule

__all__ = ["Effort", "Searcher"]

_HELD_TOLERANCE_MM = 1e-3
"""Float noise where pieces end exactly at a fold."""
_LENGTHS_TRIED = 12
"""For a longer cloth, before one is taken that is long enough in any case."""


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look.

    Attributes
    ----------
    evaluations_per_placement : int
        The search budget of each spread that is searched grows with its placements. Counted, not timed, so
        that the answer does not depend on the machine.
    seconds : float or None
        When given, each cloth may take about this long instead, and the answer depends on the machine.
    walks : int
        Independent searches side by side.
    """

    evaluations_per_placement: int = 600_000
    seconds: float | None = None
    walks: int = 2

    def halved(self) -> Effort:
        """Half as hard: for each of two lays that are to take no longer than one."""
        seconds = None if self.seconds is None else self.seconds / 2
        return replace(self, evaluations_per_placement=self.evaluations_per_placement // 2, seconds=seconds)


@dataclass(frozen=True)
class _Settled:
    """A stop rule: no shorter packing of this zone could lessen the purchase.

    Attributes
    ----------
    laid : Laid
    index : int
        Which zone is being packed.
    enough_mm : float
        What the stretch takes anyway, for the zones beside this one.
    to_beat_mm : float or None
        What another plan buys already.
    goal_mm : float or None
        A length of cloth that is all that is asked for.
    """

    laid: Laid
    index: int
    enough_mm: float
    to_beat_mm: float | None
    goal_mm: float | None
    reason: ClassVar[StopReason] = StopReason.NO_USE

    def __call__(self, progress: Progress) -> bool:
        packings = self.laid.packings
        lengths = [0.0 if one is None else one.length_mm for one in packings]
        bounds = [0.0 if one is None else one.bound_mm for one in packings]
        lengths[self.index] = progress.best_length_mm
        bounds[self.index] = progress.bound_mm
        if self.goal_mm is not None and self.laid.taken_mm(lengths) <= self.goal_mm:
            return True
        # A first stretch is held only until it has been searched.
        free = self.laid if self.laid.plan.spread.facts.lengths == 2 else replace(self.laid, held_mm=None)
        if self.goal_mm is not None and free.taken_mm(bounds) > self.goal_mm:
            return True
        least = purchase(free.taken_mm(bounds), self.laid.cloth).to_buy_mm
        if self.to_beat_mm is not None and least >= self.to_beat_mm:
            return True
        if progress.best_length_mm <= self.enough_mm:
            return True
        return purchase(free.taken_mm(lengths), self.laid.cloth).to_buy_mm <= least


@dataclass(frozen=True, slots=True)
class Searcher:
    """Packs plans of one cloth.

    Attributes
    ----------
    cloth : Cloth
    effort : Effort
    seed : int
    executor : Executor or None
    until : StopRule or None
        The person's own wish to stop.
    tell : callable
        Told of each better packing of a plan.
    goal_mm : float or None
        A length of cloth that is all that is asked for: with it, or where it is out of reach, a search ends.
    """

    cloth: Cloth
    effort: Effort
    seed: int
    executor: Executor | None
    until: StopRule | None
    tell: Callable[[Laid], None]
    goal_mm: float | None = None

    def first(self, plan: Plan) -> Laid:
        """The plan as constructed, without any search."""
        laid = Laid(plan, self.cloth, (None,) * len(plan.zones))
        if self.cloth.blocked:
            laid = laid.held(halved_mm(self.cloth, plan.spread) or 0.0)
        for stretch in dict.fromkeys(one.zone.stretch for one in plan.zones):
            if stretch and self.cloth.blocked:
                laid = laid.held()
            laid = self._constructed(laid, stretch)
        if any(one is not None and one.stopped_because is StopReason.INTERRUPTED for one in laid.packings):
            laid = replace(laid, stopped_because=StopReason.INTERRUPTED)
        self._tell(laid)
        return laid

    def on_a_longer_cloth(self, laid: Laid) -> Laid:
        """As constructed on a cloth so long that all goes on, of one that is folded across and too short.

        A longer cloth is folded farther along, and its flaws lie elsewhere in the upper layer. Once half of
        it is as long as the pieces need, and reaches as far beyond the last flaw, no flaw of the upper layer
        is in their way; most often much less will do.
        """
        farthest = max(
            (float(x) + one.keep_off_mm for one in self.cloth.blocked for x, _ in one.outline), default=0.0
        )
        tries = 0
        while laid.over_mm > _HELD_TOLERANCE_MM:
            tries += 1
            needed = (laid.held_mm or 0.0) + laid.over_mm
            at = needed if tries < _LENGTHS_TRIED else max(needed, (farthest + needed) / 2)
            laid = self._constructed(laid.held(at), 0)
        return laid

    def _constructed(self, laid: Laid, stretch: int) -> Laid:
        """With first packings of every zone of that stretch."""
        stop = self._or_until(Evaluations(0))
        packings = tuple(
            pack(one.problem, stop=stop, seed=self.seed, walks=1)
            if one.batches and one.zone.stretch == stretch
            else packing
            for one, packing in zip(laid.plan.zones, laid.packings, strict=True)
        )
        return replace(laid, packings=packings)

    def _tell(self, laid: Laid) -> None:
        """A lay that reaches beyond the fold by which its flaws were mapped is none."""
        if laid.over_mm <= _HELD_TOLERANCE_MM:
            self.tell(laid)

    def search(self, laid: Laid, *, until_s: float | None, to_beat_mm: float | None) -> Laid:
        """Search zone after zone, in each stretch the longest first.

        Parameters
        ----------
        laid : Laid
            As constructed.
        until_s : float or None
            By the monotonic clock, when to end, instead of counting evaluations.
        to_beat_mm : float or None
            What another plan buys already: where the bounds show that it cannot be beaten, the search ends.
        """
        done: dict[int, float] = {}
        reason: StopReason | None = None
        for number, index in enumerate(_longest_first(laid)):
            stretch = laid.plan.zones[index].zone.stretch
            if stretch and stretch not in done and self.cloth.blocked:
                laid = self._held_anew(laid, stretch)
            packing = laid.packings[index]
            if packing is None:
                continue
            enough = self._enough(laid, index, done.get(stretch, 0.0))
            settled = _Settled(laid, index, enough, to_beat_mm, self.goal_mm)
            reason = settled.reason
            if not settled(Progress(0, 0.0, packing.length_mm, packing.bound_mm)):
                budget = self._budget(laid, index, number, until_s)
                laid = self._search_zone(laid, index, self._or_until(settled, budget))
                packing = laid.packings[index] or packing
                reason = packing.stopped_because
            done[stretch] = max(done.get(stretch, 0.0), packing.length_mm)
            if reason is StopReason.INTERRUPTED:
                break
        return replace(laid, stopped_because=reason)

    def _held_anew(self, laid: Laid, stretch: int) -> Laid:
        """With what follows the first stretch beginning where that ends now, if it takes less cloth so."""
        anew = self._constructed(laid.held(), stretch)
        if anew.length_mm >= laid.length_mm:
            return laid
        self._tell(anew)
        return anew

    def _search_zone(self, laid: Laid, index: int, stop: StopRule) -> Laid:
        best = laid

        def with_packing(packing: Packing) -> Laid:
            packings = (*laid.packings[:index], packing, *laid.packings[index + 1 :])
            return replace(laid, packings=packings, searched=True)

        def better(_: Progress, packing: Packing) -> None:
            nonlocal best
            before = best.packings[index]
            if before is None or packing.length_mm < before.length_mm:
                best = with_packing(packing)
                self._tell(best)

        found = pack(
            laid.plan.zones[index].problem,
            stop=stop,
            seed=self.seed,
            walks=self.effort.walks,
            executor=self.executor,
            on_progress=better,
        )
        return with_packing(found)

    def _enough(self, laid: Laid, index: int, done_mm: float) -> float:
        """What the stretch of this zone takes at least because of the zones beside it."""
        stretch = laid.plan.zones[index].zone.stretch
        beside = [
            packing.bound_mm
            for k, (one, packing) in enumerate(zip(laid.plan.zones, laid.packings, strict=True))
            if packing is not None and k != index and one.zone.stretch == stretch
        ]
        return max([done_mm, *beside])

    def _budget(self, laid: Laid, index: int, number: int, until_s: float | None) -> StopRule:
        if until_s is not None:
            left = sum(packing is not None for packing in laid.packings) - number
            return Seconds(max(0.0, until_s - time.monotonic()) / max(1, left))
        placements = sum(item.demand for item in laid.plan.zones[index].problem.items)
        return Evaluations(self.effort.evaluations_per_placement * placements)

    def _or_until(self, *rules: StopRule) -> StopRule:
        return AnyOf(*rules) if self.until is None else AnyOf(self.until, *rules)


def _longest_first(laid: Laid) -> list[int]:
    def key(index: int) -> tuple[int, float]:
        packing = laid.packings[index]
        return laid.plan.zones[index].zone.stretch, -(packing.length_mm if packing else 0.0)

    return sorted(range(len(laid.packings)), key=key)
