"""`pack`: from a strip problem to a verified packing, the one door to the engine.

Several independent walks (`nesting.packing.walks.separate`) run in rounds of a fixed number of evaluations.
Between rounds, always in the order of the walks, the shortest lay is verified, told, and handed to the
walks that lag behind. Nothing depends on the clock or on which walk ended first, so one seed and one budget
of evaluations give one answer, whatever the executor or the number of cores.
"""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import ExitStack

import numpy as np

from nesting.errors import InvalidProblem, LayRefused
from nesting.geometry import FloatArray
from nesting.packing.bounds.bound import lower_bound
from nesting.packing.kernels.sight import new_scratch
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import Layout, Tables, placements_of
from nesting.packing.problem import Placement, StripProblem
from nesting.packing.result import Packing, Progress, StopReason
from nesting.packing.stop import AnyOf, BoundReached, Evaluations, StopRule, default_evaluations
from nesting.packing.turning import (
    MOST_COPIES,
    STEPS_DEG,
    Finite,
    about,
    among,
    begin_at,
    finite,
    turns_freely,
)
from nesting.packing.verify import violations
from nesting.packing.walks import preparing
from nesting.packing.walks.construct import construct, in_a_row
from nesting.packing.walks.separate import walk_on
from nesting.packing.walks.settings import ROAM, TIGHTEN, Settings
from nesting.packing.walks.walk import Walk, new_walk

__all__ = ["Observer", "pack"]

Observer = Callable[[Progress, Packing], None]

ROUND = 1_000_000
"""Evaluations between two looks at the other walks; about a tenth of a second for a small problem."""

ROAMING = 0.95
"""Share of a known budget after which walks stop exchanging pieces and only press on."""

FIRST_SHARE, MANY_SHARE = 0.1, 0.4
"""Of the budget, where items may lie at any angle: when the search at few angles ends, and that at many."""

STAGE_ROUND = 1_000
"""Evaluations that a round has at least where only a share of the budget is to be used."""

LAG = 0.005
"""Share by which a walk's own shortest lay may be longer than that of all before it takes that one over."""

_log = logging.getLogger(__name__)


def pack(
    problem: StripProblem,
    *,
    stop: StopRule | None = None,
    seed: int = 0,
    walks: int = 2,
    executor: Executor | None = None,
    on_progress: Observer | None = None,
) -> Packing:
    """Lay the items on the shortest strip the search finds.

    Parameters
    ----------
    problem : StripProblem
    stop : StopRule, optional
        When to end; by default a budget of evaluations that grows with the number of placements. The
        search always ends, too, when the length meets the lower bound.
    seed : int
        Same problem, seed, walks and budget of evaluations: same answer to the last digit.
    walks : int
        Independent walks that share the best lay after every round.
    executor : Executor, optional
        Where the walks run: any of `concurrent.futures`; by default threads, one for each walk or core.
    on_progress : callable, optional
        Called in this thread with each better verified packing, first the constructed one.

    Returns
    -------
    Packing
        Verified. At least the constructed lay, even with no budget; if that is refused, all pieces one after
        another. The best so far after Ctrl-C.

    Raises
    ------
    InvalidShape
        An outline that is no simple polygon.
    DoesNotFit
        An item that fits in none of its variants.
    InvalidProblem
        Other input that makes no sense.
    LayRefused
        Even the pieces one after another failed verification: a defect of the engine.
    """
    begun = time.perf_counter()
    if walks < 1:
        raise InvalidProblem(f"a search needs at least one walk, not {walks}")
    problem = checked(problem)
    way = finite(problem)
    layout = build(way.searched)
    xy, shape, length, used = construct(layout)
    bound = lower_bound(problem, layout)
    record = _Record(way, layout, bound, seed, begun, on_progress)
    if not record.offer(xy, shape, length, used):
        _log.warning("the constructed lay was refused: %s", "; ".join(record.faults))
        xy, shape, length = in_a_row(layout)
        if not record.offer(xy, shape, length, used):
            raise LayRefused("the constructed lay failed verification: " + "; ".join(record.faults))
    rule = AnyOf(BoundReached(), stop or Evaluations(default_evaluations(problem)))
    if rule(record.progress(used)):
        return record.packing(used, rule.reason)
    search = _Search(problem, rule, stop, seed, walks, executor, record, used)
    try:
        preparing.wait(lambda: rule(record.progress(used)))  # where a caller has asked for a second process
        with ExitStack() as stack:
            if executor is None:
                search.executor = stack.enter_context(ThreadPoolExecutor(min(walks, os.cpu_count() or 1)))
            if not turns_freely(problem):
                reason = search.go_on(xy, shape)
            else:
                reason = _freely(search, xy, shape)
    except KeyboardInterrupt:
        reason = StopReason.INTERRUPTED
    return record.packing(search.spent, reason)


def _freely(search: _Search, xy: FloatArray, shape: IntArray) -> StopReason:
    """Search at few angles, then at many, then turn every copy by less and less about the best lay."""
    record = search.record
    copies = sum(item.demand for item in search.problem.items if item.any_turn)
    if copies > MOST_COPIES:
        return search.go_on(xy, shape)
    reason = search.go_on(xy, shape, until=FIRST_SHARE)
    for number in range(len(STEPS_DEG) + 1):
        if search.over():
            break
        lay = record.placements
        way = about(search.problem, lay, STEPS_DEG[number - 1]) if number else among(search.problem, lay)
        layout = build(way.searched)
        record.now(way, layout, *begin_at(layout, way, lay))
        until = MANY_SHARE + (1.0 - MANY_SHARE) * number / len(STEPS_DEG)
        reason = search.go_on(record.xy, record.shape, until=until if number < len(STEPS_DEG) else np.inf)
    return reason


class _Search:
    """Walks for one layout after another, all under one stop rule."""

    def __init__(
        self,
        problem: StripProblem,
        rule: AnyOf,
        stop: StopRule | None,
        seed: int,
        walks: int,
        executor: Executor | None,
        record: _Record,
        used: int,
    ) -> None:
        self.problem, self.rule, self.stop, self.walks = problem, rule, stop, walks
        self.executor, self.record, self.spent = executor, record, used
        self.seeds = np.random.SeedSequence(seed).generate_state(walks, np.uint64).astype(np.int64)

    def over(self) -> bool:
        """Whether the stop rule says so."""
        return self.rule(self.record.progress(self.spent))

    def go_on(self, xy: FloatArray, shape: IntArray, until: float = np.inf) -> StopReason:
        """Let the walks go on from a lay until the rule ends them, or that share of the budget is used."""
        record, tables, executor = self.record, self.record.layout.tables, self.executor
        assert executor is not None
        team = [new_walk(tables, xy, shape, record.length, record.bound, int(s)) for s in self.seeds]
        begun = self.spent
        while not self.over() and (until > 1.0 or self._share() < until):
            settings = TIGHTEN if self.rule.used(record.progress(self.spent)) >= ROAMING else ROAM
            left = _left(self.stop, self.problem, self.spent)
            if until <= 1.0:
                left = min(left, max(STAGE_ROUND, self._until(until)))
            budget = max(1, min(_round_of(tables), left // self.walks))
            tasks = [executor.submit(_advance, tables, w, settings, budget) for w in team]
            team = [task.result() for task in tasks]
            before, self.spent = self.spent, begun + sum(int(w.attempt.used[0]) for w in team)
            _compare(team, record, self.spent)
            if self.spent == before:  # every walk is at its floor: a rule that counts would wait for ever
                return StopReason.FLOOR
        return self.rule.reason if self.over() else StopReason.NOT_YET

    def _until(self, until: float) -> int:
        """Evaluations until that share of the budget is used, if they go on as so far."""
        share = self._share()
        return int((until - share) / share * self.spent) if share > 0 else 0

    def _share(self) -> float:
        """Of the budget; where the rule has none, of what is searched if no rule is given."""
        used = self.rule.used(self.record.progress(self.spent))
        return used if used > 0 else self.spent / default_evaluations(self.problem)


def _round_of(tables: Tables) -> int:
    """Evaluations a round: fewer where each goes with more work on longer outlines and more pieces."""
    edges = len(tables.edge) / len(tables.box)
    return int(ROUND / (1.0 + edges / 400.0) / (1.0 + tables.moving / 200.0))


def _left(stop: StopRule | None, problem: StripProblem, spent: int) -> int:
    """Evaluations left, where the rule counts them."""
    if stop is None:
        return default_evaluations(problem) - spent
    return stop.n - spent if isinstance(stop, Evaluations) else ROUND * 1_000_000


def _advance(tables: Tables, walk: Walk, settings: Settings, budget: int) -> Walk:
    """One round of one walk; a plain function, so that it may run in another process."""
    walk_on(tables, walk, new_scratch(tables, len(walk.best_shape)), settings, budget)
    return walk


def _compare(team: list[Walk], record: _Record, spent: int) -> None:
    """Verify the shortest lay of the walks, then hand it to those behind."""
    for walk in sorted(team, key=lambda w: w.best_mm):  # stable: equal lengths in order of the walks
        if walk.best_mm >= record.length or record.offer(walk.best_xy, walk.best_shape, walk.best_mm, spent):
            break
        _log.warning("a lay of the search was refused: %s", "; ".join(record.faults))
    for walk in team:
        if not record.length <= walk.best_mm <= record.length * (1.0 + LAG):  # shorter: it was refused
            walk.best_xy[:], walk.best_shape[:], walk.best_mm = record.xy, record.shape, record.length
            if walk.done:  # it had ended, so it has no aim to go on with
                walk.done, walk.aim_mm = False, np.inf


class _Record:
    """Keeps the best verified lay and tells the observer of each better one."""

    def __init__(
        self,
        way: Finite,
        layout: Layout,
        bound: float,
        seed: int,
        begun: float,
        on_progress: Observer | None,
    ) -> None:
        self.way, self.layout, self.bound, self.seed, self.begun = way, layout, bound, seed, begun
        self.on_progress = on_progress
        self.length = np.inf
        self.faults: tuple[str, ...] = ()
        self.placements: tuple[Placement, ...] = ()

    def offer(
        self,
        xy: FloatArray,
        shape: IntArray,
        length: float,
        spent: int,
    ) -> bool:
        """Take a lay if it verifies."""
        placements = self.way.told(placements_of(self.layout, xy, shape))
        self.faults = violations(self.way.asked, placements)
        if self.faults:
            return False
        self.placements, self.length = placements, length
        self.xy, self.shape = xy.copy(), shape.copy()
        if self.on_progress is not None:
            self.on_progress(self.progress(spent), self.packing(spent, StopReason.NOT_YET))
        return True

    def now(self, way: Finite, layout: Layout, xy: FloatArray, shape: IntArray) -> None:
        """From here on lays are of another layout, in which the best so far is this."""
        self.way, self.layout, self.xy, self.shape = way, layout, xy, shape

    def progress(self, spent: int) -> Progress:
        return Progress(spent, time.perf_counter() - self.begun, self.length, self.bound)

    def packing(self, spent: int, reason: StopReason) -> Packing:
        seconds = time.perf_counter() - self.begun
        return Packing(self.placements, self.length, self.bound, spent, seconds, self.seed, reason)
