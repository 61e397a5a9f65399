"""What the engine gives back, and what it tells while it works."""

from __future__ import annotations

from dataclasses import dataclass

from nesting.packing.problem import Placement

__all__ = ["INTERRUPTED", "Packing", "Progress"]

INTERRUPTED = "interrupted"
"""Why a search stopped when the person pressed Ctrl-C; what it had found by then is kept."""


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
    stopped_because : str
        Which stop rule ended the search, in words.
    """

    placements: tuple[Placement, ...]
    length_mm: float
    bound_mm: float
    evaluations: int
    seconds: float
    seed: int
    stopped_because: str


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
