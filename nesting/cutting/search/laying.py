"""Lays a cloth: tries its spreads, has the engine place the pieces, and lets only verified lays out.

Every spread the cloth allows is planned and laid once, without search. The few that then need least are
searched, the most promising first; one whose bound shows that it cannot need less than what is already found
is searched no further.
"""

from __future__ import annotations

import logging
import math
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field, replace

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.findings import CannotBeLaid, NoLayOnTable, NoRoomForWishes, Undivided
from nesting.cutting.fit.fitting import finding, require_fit
from nesting.cutting.lay import Lay, TriedSpread
from nesting.cutting.plan.batches import opened_problem
from nesting.cutting.plan.demand import Wanted, directions, either_way, wanted
from nesting.cutting.plan.holds import FREE, holds, wishes_on
from nesting.cutting.plan.lines import Matching, matching_of
from nesting.cutting.plan.phasing import choices
from nesting.cutting.plan.sharing import Plan, plans, unlike, why_not
from nesting.cutting.plan.spreading import spreads_of
from nesting.cutting.reasons import Barred, SpreadReason
from nesting.cutting.search.laid import Laid
from nesting.cutting.search.lengths import divided, fits, may_fit
from nesting.cutting.search.searching import Effort, Searcher
from nesting.cutting.search.tilting import area_bound_mm, may_tilt, tilted
from nesting.cutting.verify.faults import faults, require_sound
from nesting.errors import DoesNotFit
from nesting.packing import pack
from nesting.packing.result import StopReason
from nesting.packing.stop import Evaluations, StopRule
from nesting.pattern.piece import Turn
from nesting.project import Project

__all__ = ["Effort", "LayEvent", "lay_cloth"]

_log = logging.getLogger(__name__)

_CONTENDERS = 3
"""So many first lays are searched on, each in another spread;"""
_DEPTHS = 2
"""or so many in the one spread that is asked for."""
_IN_HAND_STEP_MM = 100.0
"""Of cloth in hand, spreads that take about as much are told apart by how easy they are to cut."""
_FIRST_LAYS = (2, 4)
"""So many depths of a fold are laid once, among others and where only this spread is asked for."""


@dataclass(frozen=True, slots=True)
class LayEvent:
    """A better verified lay of one cloth, told while the search goes on.

    Attributes
    ----------
    cloth : Cloth
    lay : Lay
        The best so far, of all spreads.
    """

    cloth: Cloth
    lay: Lay


def lay_cloth(
    project: Project,
    cloth: Cloth,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    executor: Executor | None = None,
    on_lay: Callable[[LayEvent], None] | None = None,
    until: StopRule | None = None,
    goal_mm: float | None = None,
) -> Lay:
    """The best verified lay of everything the project cuts from this cloth.

    Parameters
    ----------
    project : Project
    cloth : Cloth
        One of the project's.
    effort : Effort, optional
        Where anything is matched on a cloth to be bought, half of it is used.
    seed : int
    executor : concurrent.futures.Executor, optional
        Where the walks run.
    on_lay : callable, optional
        Told of every better lay.
    until : StopRule, optional
        Ends each search early; the best lay so far is kept.
    goal_mm : float, optional
        A lay that takes no more cloth than this is all that is asked for.

    Raises
    ------
    CannotBeLaid
        When a piece is wider than the cloth in every spread, or the spread asked for cuts nothing.
    LayRefused
        When the verifier finds a fault in every lay that was made: a defect of the program.
    """
    begun = time.monotonic()
    require_fit(replace(project, cloths={cloth.key: cloth}))
    matching = matching_of(project, cloth)
    effort = effort or Effort()
    if matching is not None and not cloth.remnants:
        # The other half is for the same cloth plain, with which it is compared.
        effort = effort.halved()
    ways = [
        wanted(project, cloth, way, held)
        for way in directions(project, cloth)
        for held in holds(project, cloth)
    ]
    wants = ways[0]
    if project.table_mm is not None:
        effort = effort.halved()  # the other half is for dividing what is longer than the table
    if may_tilt(wants):
        effort = effort.halved()  # the other half is for the lay with pieces tilted
    teller = _Teller(project, cloth, seed, on_lay)
    searcher = Searcher(cloth, effort, seed, executor, until, teller.tell, goal_mm)
    spreads = spreads_of(cloth)
    reasons: dict[Spread, SpreadReason] = {}
    first: list[Laid] = []
    for spread in spreads:
        reason = _reason(wants, cloth, spread, matching, interrupted=any(map(_interrupted, first)))
        if reason is not None:
            reasons[spread] = reason
            continue
        for plan in _plans(ways, cloth, spread, matching, alone=len(spreads) == 1):
            try:
                first.append(searcher.first(plan))
            except DoesNotFit:  # what is to lie in one part of the length does not all go into it
                reasons[spread] = Barred.NO_ROOM_AS_WISHED
                continue
            if _interrupted(first[-1]):
                break
    if not first:
        _refuse(wants, cloth, project)
    searched = first
    if any(may_fit(one, project.table_mm) for one in first):
        searched = _search(searcher, first, begun)
    laid = [searcher.on_a_longer_cloth(one) for one in searched]
    least = _least_mm(ways, cloth, laid)
    if not all(fits(one, project.table_mm) for one in laid):
        least = _least_opened_mm(ways, cloth)
        laid = _on_the_table(searcher, laid, project)
    # Of equals the spread that is easier to cut, which comes first; in one spread the shorter lay.
    ranked = sorted(laid, key=lambda one: (*_needs(one), spreads.index(one.plan.spread), one.length_mm))
    best = teller.first_sound(ranked, least)
    straight_mm = best.length_mm if may_tilt(wants) else None
    if may_tilt(wants) and not _interrupted(best):
        leaning = tilted(best, searcher, until_s=_from_now(effort.seconds))
        if fits(leaning, project.table_mm) and teller.first_sound((leaning, best), least) is leaning:
            laid, best = [leaning if one is best else one for one in laid], leaning
    lay = replace(best.lay(seed, least), straight_mm=straight_mm)
    if any(map(_interrupted, laid)):  # another spread might have come out better than this one
        lay = replace(lay, stopped_because=StopReason.INTERRUPTED)
    tried = [
        _tried(spread, reasons.get(spread, Barred.LONGER_THAN_TABLE), laid, seed, least) for spread in spreads
    ]
    return replace(lay, tried=tuple(tried))


def _held(wants: Sequence[Wanted]) -> bool:
    """Whether the person wishes anything of where pieces lie."""
    return any(want.hold is not FREE for want in wants)


def _refuse(wants: Sequence[Wanted], cloth: Cloth, project: Project) -> None:
    """Tell that the wishes leave no lay."""
    names = dict.fromkeys(want.piece.name for want in wants if want.hold is not FREE)
    raise CannotBeLaid((finding(project, cloth, NoRoomForWishes(tuple(names))),))


def _from_now(seconds: float | None) -> float | None:
    """When so much time will have passed, by the monotonic clock."""
    return None if seconds is None else time.monotonic() + seconds


def _on_the_table(searcher: Searcher, laid: Sequence[Laid], project: Project) -> list[Laid]:
    """What goes on the table as it is; and the shortest of all in lengths, if it is longer than the table.

    Raises
    ------
    CannotBeLaid
        Where nothing goes on it.
    """
    cloth, table_mm = searcher.cloth, project.table_mm or 0.0
    until_s = _from_now(searcher.effort.seconds)
    found, wishes = [], wishes_on(project, cloth)
    for one in sorted(laid, key=lambda one: (one.to_buy_mm, one.length_mm)):
        if fits(one, table_mm):
            found.append(one)
        elif not found and one.plan.spread.facts.lengths == 1 and not cloth.blocked and not wishes:
            whole = divided(one, table_mm, searcher, until_s=until_s)
            found += [] if whole is None else [whole]
    if found:
        return found
    undivided = Undivided.WISHES if wishes else Undivided.FLAWS if cloth.blocked else None
    shortest = min(one.length_mm for one in laid)
    raise CannotBeLaid((finding(project, cloth, NoLayOnTable(shortest, table_mm, undivided)),))


def _needs(laid: Laid) -> tuple[bool, float]:
    """Whether a cloth in hand is too short for it; what it takes, in steps that are worth a difference."""
    room = laid.cloth.room_mm
    if room is None:
        return False, laid.to_buy_mm
    return laid.length_mm > room, math.ceil(laid.length_mm / _IN_HAND_STEP_MM)


def _plans(
    ways: Sequence[tuple[Wanted, ...]],
    cloth: Cloth,
    spread: Spread,
    matching: Matching | None,
    *,
    alone: bool,
) -> Iterator[Plan]:
    """The plans of a spread to lay once: some depths of a fold, or each way to turn the garments."""
    number = _FIRST_LAYS[alone] if len(ways) == 1 else 1
    for wants in ways:
        for lines in choices(matching, wants, spread):
            for plan in unlike(plans(wants, cloth, spread, lines), number, cloth):
                yield replace(plan, shared=plan.shared or len(ways) > 1 or may_tilt(wants) or _held(wants))


def _reason(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None, *, interrupted: bool
) -> SpreadReason | None:
    """Why a spread is not tried."""
    reason = why_not(wants, cloth, spread, matching)
    if reason is not None:
        return reason
    if interrupted:
        return Barred.INTERRUPTED
    if (
        spread.facts.simpler is not None
        and cloth.spread is Spread.BEST
        and not cloth.blocked
        and all(want.turn is not Turn.NONE for want in wants)
    ):
        return Barred.AS_CROSSWISE_FOLD
    return None


def _search(searcher: Searcher, first: Sequence[Laid], begun_s: float) -> list[Laid]:
    """Search the most promising; give all, in the order given."""
    laid = list(first)
    ranked, number = _promising(first)
    if searcher.cloth.remnants:
        # Whether all goes on is the question: what goes on in any spread goes, opened out, on the open cloth.
        ranked.sort(key=lambda k: first[k].plan.spread.facts.doubled)
    for k in ranked:
        left = number - sum(one.searched for one in laid)
        if not left or any(map(_interrupted, laid)):
            break
        if searcher.goal_mm is not None and min(one.length_mm for one in laid) <= searcher.goal_mm:
            break
        until_s = None
        if searcher.effort.seconds is not None:
            now, end = time.monotonic(), begun_s + searcher.effort.seconds
            until_s = now + max(0.0, end - now) / left
        others = [one.to_buy_mm for j, one in enumerate(laid) if j != k]
        # Where its bound shows that it cannot beat the others, this takes no search and no one's place.
        laid[k] = searcher.search(laid[k], until_s=until_s, to_beat_mm=min(others, default=None))
    return laid


def _promising(first: Sequence[Laid]) -> tuple[list[int], int]:
    """In which order to search on: the shortest of each spread, the shortest of all first; and how many."""
    ranked = sorted(range(len(first)), key=lambda k: first[k].length_mm)
    shortest = {first[k].plan.spread: k for k in reversed(ranked)}
    if len(shortest) == 1:
        return ranked, _DEPTHS
    return [k for k in ranked if shortest[first[k].plan.spread] == k], _CONTENDERS


def _interrupted(laid: Laid) -> bool:
    return laid.stopped_because is StopReason.INTERRUPTED


def _least_mm(ways: Sequence[tuple[Wanted, ...]], cloth: Cloth, laid: Sequence[Laid]) -> float | None:
    """A length that no spread can beat: every lay, opened out, is one of the cloth in a single layer.

    Only worked out where a plan could have shared its pieces out otherwise, and where the open cloth that was
    laid anyway does not say it.
    """
    if not any(one.plan.shared for one in laid):
        return None
    wants = either_way(ways)
    kind = any(want.shape.symmetric or want.matched or want.tilt_deg for want in wants)
    same = len(ways) == 1 and not cloth.gap_mm and not kind and not _held(ways[0])
    for one in laid:
        if same and not one.plan.spread.facts.doubled:
            return one.bound_mm
    return _least_opened_mm(ways, cloth)


def _least_opened_mm(ways: Sequence[tuple[Wanted, ...]], cloth: Cloth) -> float:
    """The bound of all that is wanted in one layer; where pieces may be tilted, by their area alone."""
    wants = either_way(ways)
    if may_tilt(wants):
        return area_bound_mm(wants, cloth.usable_width_mm)
    return pack(opened_problem(wants, cloth), stop=Evaluations(0), walks=1).bound_mm


def _tried(
    spread: Spread, reason: SpreadReason, laid: Sequence[Laid], seed: int, least_mm: float | None
) -> TriedSpread:
    mine = [one for one in laid if one.plan.spread is spread]
    if not mine:
        return TriedSpread(spread, None, None, None, reason, searched=False)
    best = min(mine, key=lambda one: (one.to_buy_mm, one.length_mm))
    least = purchase(best.lay(seed, least_mm).bound_mm, best.cloth).to_buy_mm
    return TriedSpread(spread, best.length_mm, best.to_buy_mm, least, searched=any(m.searched for m in mine))


@dataclass
class _Teller:
    """Verifies and tells each lay that is better than all before."""

    project: Project
    cloth: Cloth
    seed: int
    on_lay: Callable[[LayEvent], None] | None
    told_mm: float = field(default=float("inf"))

    def tell(self, laid: Laid) -> None:
        if not fits(laid, self.project.table_mm):
            return
        if self.on_lay is not None and laid.length_mm < self.told_mm:
            lay = laid.lay(self.seed)
            if self._refused(lay):
                return
            self.told_mm = laid.length_mm
            self.on_lay(LayEvent(self.cloth, lay))

    def first_sound(self, ranked: Sequence[Laid], least_mm: float | None) -> Laid:
        """The first that the verifier passes: a person is given another lay rather than none.

        Raises
        ------
        LayRefused
            Where it passes none of them.
        """
        for one in ranked:
            if not self._refused(one.lay(self.seed, least_mm)):
                return one
        require_sound(ranked[0].lay(self.seed, least_mm), self.project)
        raise AssertionError("a lay was refused, and then it was not")

    def _refused(self, lay: Lay) -> bool:
        found = faults(lay, self.project)
        if found:
            _log.warning("a lay of '%s' was refused: %s", self.cloth.name, "; ".join(found))
        return bool(found)
