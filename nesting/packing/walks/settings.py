"""How a walk moves its pieces, and when it goes back, exchanges pieces or gives an aim up."""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["ROAM", "TIGHTEN", "Settings"]


class Settings(NamedTuple):
    """Plain numbers, so that kernels, too, read them by name.

    Attributes
    ----------
    samples : int
        Places elsewhere that a move looks at.
    patience : int
        Passes without gain that are a lull.
    max_lulls : int
        Lulls without gain that are a failure.
    max_failures : int
        Failures that an aim is worth; after more it is given up.
    grow_least, grow_most : float
        By how much the weights of pairs that overlap grow in a pass: the shallowest, the deepest.
    decay : float
        What is left of all other weights after a pass.
    step_most, step_least : float
        Share by which an aim is shorter than the shortest lay: at most after success, at least after failure.
    window : float
        How far along the strip a piece looks and moves, in half perimeters of its box.
    points : int
        Touching spots of which a sample is the best.
    """

    samples: int = 3
    patience: int = 100
    max_lulls: int = 3
    max_failures: int = 300
    grow_least: float = 1.3
    grow_most: float = 2.0
    decay: float = 0.98
    step_most: float = 0.003
    step_least: float = 1e-4
    window: float = 1.0
    points: int = 10


ROAM = Settings()
"""Most of a search."""

TIGHTEN = Settings(max_lulls=2, max_failures=0, step_most=0.001, step_least=1e-5)
"""The last part of a known budget: no exchanges, smaller steps."""
