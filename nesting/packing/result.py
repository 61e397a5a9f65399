"""What the engine gives back, and what it tells while it works."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from nesting.packing.problem import Placement

__all__ = ["Packing", "Progress", "StopReason"]


class StopReason(Enum):
    """Why a search ended; `nesting.words.searching` says it in words."""

    INTERRUPTED = "interrupted"
    """The person pressed Ctrl-C; what had been found by then is kept."""
    EVALUATIONS = "evaluations"
    """As many evaluations were used as had been granted."""
    TIME = "time"
    """The time was up."""
    LENGTH = "length"
    """The length that was asked for was reached."""
    BOUND = "bound"
    """By the bound, nothing shorter exists."""
    FLOOR = "floor"
    """No walk could shorten its lay any further: it is as near to the bound as its grid allows."""
    NOT_YET = "not yet"
    """It has not ended: told of the best so far, while the search goes on."""
    NO_USE = "no use"
    """A shorter lay would be of no use to whoever asked for it."""


@dataclass(frozen=True, slots=True)
class Packing:
    """A verified answer to a strip problem.

    Attributes
    ----------
    placements : tuple of Placement
        Ordered by item, then copy.
    length_mm : float
        Largest x any placed outline reaches.
    bound_mm : float
        No packing is shorter.
    evaluations : int
        Evaluations used (`nesting.packing.walks.walk.Walk`), all walks together.
    seconds : float
    seed : int
    stopped_because : StopReason
    """

    placements: tuple[Placement, ...]
    length_mm: float
    bound_mm: float
    evaluations: int
    seconds: float
    seed: int
    stopped_because: StopReason


@dataclass(frozen=True, slots=True)
class Progress:
    """A snapshot handed to stop rules and observers.

    Attributes
    ----------
    evaluations : int
    seconds : float
        Since the search was called, set-up included.
    best_length_mm : float
        Of the best verified packing so far.
    bound_mm : float
    """

    evaluations: int
    seconds: float
    best_length_mm: float
    bound_mm: float
