"""The state of one walk of the search: the attempt it is at, its shortest lay, and what it has behind it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables
from nesting.packing.walks.attempt import AIM, LOW, PUSHED, STALE, Attempt

__all__ = ["POOL", "PooledLay", "Walk", "new_walk"]

POOL = 8
"""Lays that a walk's pool holds at most."""


class PooledLay(NamedTuple):
    """A lay of little overlap that a walk failed to move apart."""

    overlap: float
    xy: FloatArray
    shape: IntArray


class _Number:
    """A number of a walk's attempt, by name."""

    def __init__(self, place: int) -> None:
        self._place = place

    def __get__(self, walk: Walk, kind: type[Walk]) -> float:
        return float(walk.attempt.number[self._place])

    def __set__(self, walk: Walk, value: float) -> None:
        walk.attempt.number[self._place] = value


@dataclass(slots=True, eq=False)
class Walk:
    """All that changes along a walk; it may go on in another thread or process.

    Attributes
    ----------
    attempt : Attempt
        What its passes work on, and its random state.
    best_mm, best_xy, best_shape
        Shortest lay without overlap.
    floor_mm : float
        Length never to go below.
    aim_mm : float
        Strip length aimed at.
    low : float
        Least overlap at this aim.
    low_at_lull, low_when_pushed : float
        That at the start of the lull, and when all pieces were last pushed apart at once.
    stale : float
        Passes since it fell.
    step : float
        Share by which the next aim is shorter than the shortest lay.
    lulls : int
        Lulls in a row without gain.
    failures : int
        At this aim.
    given_up : int
        Aims given up so far.
    pool : list of PooledLay
        Of the failures at this aim.
    done : bool
        Whether the floor is reached.
    """

    attempt: Attempt
    best_mm: float
    best_xy: FloatArray
    best_shape: IntArray
    floor_mm: float
    step: float = 0.01
    low_at_lull: float = np.inf
    lulls: int = 0
    failures: int = 0
    given_up: int = 0
    pool: list[PooledLay] = field(default_factory=list)
    done: bool = False

    # Kernels read these, so they lie in an array of the attempt.
    aim_mm = _Number(AIM)
    low = _Number(LOW)
    stale = _Number(STALE)
    low_when_pushed = _Number(PUSHED)


def new_walk(tables: Tables, xy: FloatArray, shape: IntArray, length: float, floor: float, seed: int) -> Walk:
    """Begin a walk at a lay without overlap."""
    scale = np.outer(tables.size, tables.size) / tables.size.mean() ** 2
    attempt = Attempt(
        xy=xy.copy(),
        shape=shape.copy(),
        low_xy=xy.copy(),
        low_shape=shape.copy(),
        weight=scale.copy(),
        scale=scale,
        over=np.zeros((len(shape), len(shape))),
        number=np.zeros(4),
        rng=np.array([seed | 1], dtype=np.int64),
        used=np.zeros(1, dtype=np.int64),
    )
    walk = Walk(attempt, length, xy.copy(), shape.copy(), floor)
    walk.aim_mm, walk.low, walk.low_when_pushed = length, np.inf, np.inf
    return walk
