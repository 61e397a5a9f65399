"""Asks what would make a pattern go on a cloth in hand that is too short: each change is laid for real.

A search for each ends as soon as all goes on, or cannot. Unless the person asked for a spread, it is made on
the open cloth, since what goes on in any spread goes, opened out, on that. What a bounded time does not reach
is told as not tried; so is what is still to come when the person presses Ctrl-C.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from enum import Enum

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.findings import CannotBeLaid, Finding
from nesting.cutting.in_hand.change import Change
from nesting.cutting.in_hand.changes import Changed, changes, left_off
from nesting.cutting.in_hand.lay_in_hand import lay_in_hand
from nesting.cutting.search.laying import Effort
from nesting.packing.result import Progress
from nesting.packing.stop import StopRule
from nesting.project import Project

__all__ = ["Answer", "TriedChange", "what_would_do"]

MOST_SECONDS = 60.0
"""No change is begun after so long: a pattern of many pieces may have more than that takes."""
_MOST_LEFT_OFF = 8


class NotTried(Enum):
    """Why a change was not tried."""

    ENDED = "ended"
    """The person had ended it."""
    TIME_UP = "time up"
    """The time was up."""


@dataclass(frozen=True, slots=True)
class TriedChange:
    """One change, and what came of it.

    Attributes
    ----------
    change : Change
    lacking_mm : float or None
        What is still lacking, washed: 0 where all goes on; None where it was not tried, or cannot be.
    least_mm : float
        No lay with this change lacks less, by the bounds.
    why_not : NotTried, Finding or None
        Why there is no figure: it was not tried, or cannot be laid.
    """

    change: Change
    lacking_mm: float | None
    least_mm: float = 0.0
    why_not: NotTried | Finding | None = None

    @property
    def goes_on(self) -> bool:
        """Whether all goes on with it."""
        return self.lacking_mm == 0.0


@dataclass(frozen=True, slots=True)
class Answer:
    """What would make it go.

    Attributes
    ----------
    cloth_key : str
    changes : tuple of TriedChange
        In the order in which a person would rather do them.
    without : tuple of TriedChange
        One piece left off that may be, up to the first that helps.
    """

    cloth_key: str
    changes: tuple[TriedChange, ...]
    without: tuple[TriedChange, ...]


def what_would_do(
    project: Project,
    cloth: Cloth,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    executor: Executor | None = None,
    until: StopRule | None = None,
    on_change: Callable[[TriedChange], None] | None = None,
    most_seconds: float = MOST_SECONDS,
) -> Answer:
    """Try every change, then each piece left off that may be, until one helps.

    Parameters
    ----------
    project : Project
        As the person wrote it.
    cloth : Cloth
        The one that is too short.
    effort, seed, executor, until
        As for `nesting.cutting.in_hand.lay_in_hand.lay_in_hand`, for each change.
    on_change : callable, optional
        Told of each when it has been tried.
    most_seconds : float
        No change is begun after this long.
    """
    begun = time.monotonic()

    def tried(one: Changed) -> TriedChange:
        if until is not None and until(Progress(0, 0.0, float("inf"), 0.0)):
            return TriedChange(one.change, None, why_not=NotTried.ENDED)
        if time.monotonic() - begun > most_seconds:
            return TriedChange(one.change, None, why_not=NotTried.TIME_UP)
        on = one.project.cloths[cloth.key]
        if on.spread is Spread.BEST:
            on = replace(on, spread=Spread.OPEN)
        try:
            found = lay_in_hand(
                replace(one.project, cloths={on.key: on}),
                on,
                effort=effort,
                seed=seed,
                executor=executor,
                until=until,
                only_whether=True,
            )
        except CannotBeLaid as error:
            return TriedChange(one.change, None, why_not=error.findings[0])
        done = TriedChange(one.change, found.lacking_mm, found.least_lacking_mm)
        if on_change is not None:
            on_change(done)
        return done

    made = tuple(tried(one) for one in changes(project, cloth))
    without: list[TriedChange] = []
    for one in left_off(project, cloth)[:_MOST_LEFT_OFF]:
        without.append(tried(one))
        if without[-1].goes_on:
            break
    return Answer(cloth.key, made, tuple(without))
