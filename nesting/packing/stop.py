"""When a search ends: small rules that look at a snapshot of the search and say yes or no.

Rules hold no state of their own, so one may be used for many searches.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from nesting.errors import InvalidProblem
from nesting.packing.problem import StripProblem
from nesting.packing.result import Progress, StopReason

__all__ = [
    "AnyOf",
    "BoundReached",
    "Budget",
    "Evaluations",
    "LengthReached",
    "Seconds",
    "StopRule",
    "default_evaluations",
]


class StopRule(Protocol):
    """Asked after every round of the search; ``reason`` says why it stopped."""

    @property
    def reason(self) -> StopReason:
        """Why the search ended, once the rule has said yes."""
        ...

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        ...


@runtime_checkable
class Budget(Protocol):
    """A rule that can also say how much of what it allows is used, so the search can plan its last part."""

    def used(self, progress: Progress) -> float:
        """Share used, 0 to 1."""
        ...


@dataclass(frozen=True, slots=True)
class Evaluations:
    """Stop after `n` evaluations, all walks together: the same answer on any machine."""

    n: int
    reason: StopReason = StopReason.EVALUATIONS

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        return progress.evaluations >= self.n

    def used(self, progress: Progress) -> float:
        """Share of the evaluations used."""
        return min(1.0, progress.evaluations / self.n) if self.n > 0 else 1.0


@dataclass(frozen=True, slots=True)
class Seconds:
    """Stop after `s` seconds by the clock, set-up included.

    Raises
    ------
    InvalidProblem
        When `s` is not a number, which would never end.
    """

    s: float
    reason: StopReason = StopReason.TIME

    def __post_init__(self) -> None:
        if math.isnan(self.s):  # no time is later than that
            raise InvalidProblem("a search can't end after nan seconds: give a number of seconds")

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        return progress.seconds >= self.s

    def used(self, progress: Progress) -> float:
        """Share of the time used."""
        return min(1.0, progress.seconds / self.s) if self.s > 0 else 1.0


@dataclass(frozen=True, slots=True)
class LengthReached:
    """Stop when the lay is no longer than `mm`."""

    mm: float
    reason: StopReason = StopReason.LENGTH

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        return progress.best_length_mm <= self.mm


@dataclass(frozen=True, slots=True)
class BoundReached:
    """Stop when no packing can be shorter by more than `tolerance_mm`."""

    tolerance_mm: float = 1e-3
    reason: StopReason = StopReason.BOUND

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        return progress.best_length_mm <= progress.bound_mm + self.tolerance_mm


class AnyOf:
    """Stop as soon as one of several rules says so; the first that does gives the reason."""

    def __init__(self, *rules: StopRule) -> None:
        self.rules = rules
        self._reason: StopReason | None = None

    @property
    def reason(self) -> StopReason:
        """That of the rule that said yes.

        Raises
        ------
        LookupError
            When none has yet.
        """
        if self._reason is None:
            raise LookupError("no rule has said stop yet")
        return self._reason

    def __call__(self, progress: Progress) -> bool:
        """Whether any rule says stop; all earlier ones are asked every time."""
        for rule in self.rules:
            if rule(progress):
                self._reason = rule.reason
                return True
        return False

    def used(self, progress: Progress) -> float:
        """Share of the budget that is nearest its end."""
        return max((rule.used(progress) for rule in self.rules if isinstance(rule, Budget)), default=0.0)


def default_evaluations(problem: StripProblem) -> int:
    """Evaluations that a home-size lay is worth: some seconds on one core at 20 placements.

    Grows with the number of placements; a lay of one piece needs next to nothing.
    """
    placements = sum(item.demand for item in problem.items)
    return 1_500_000 * max(1, placements)
