"""`pack`: from a strip problem to a verified packing, the one door to the engine."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import Executor

from nesting.errors import LayRefused
from nesting.packing.bound import lower_bound
from nesting.packing.checks import checked
from nesting.packing.construct import construct
from nesting.packing.problem import StripProblem
from nesting.packing.result import Packing, Progress
from nesting.packing.stop import AnyOf, BoundReached, Evaluations, StopRule, default_evaluations
from nesting.packing.tables import build, placements_of
from nesting.packing.verify import violations

__all__ = ["pack"]


def pack(
    problem: StripProblem,
    *,
    stop: StopRule | None = None,
    seed: int = 0,
    walks: int = 2,
    executor: Executor | None = None,
    on_progress: Callable[[Progress, Packing], None] | None = None,
) -> Packing:
    """Lay the items on the shortest strip the search finds."""
    begun = time.perf_counter()
    problem = checked(problem)
    layout = build(problem)
    bound = lower_bound(problem, layout.tables)
    xy, shape, length, used = construct(layout)
    placements = placements_of(layout, xy, shape)
    faults = violations(problem, placements)
    if faults:
        raise LayRefused("; ".join(faults))
    rule = AnyOf(BoundReached(), stop or Evaluations(default_evaluations(problem)))
    seconds = time.perf_counter() - begun
    rule(Progress(used, seconds, length, bound))
    packing = Packing(placements, length, bound, used, seconds, seed, rule.reason)
    if on_progress is not None:
        on_progress(Progress(used, seconds, length, bound), packing)
    return packing
