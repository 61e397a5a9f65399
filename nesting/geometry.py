"""Plain measures of rings that every part needs: rings are (N, 2) float64 arrays in mm, not closed."""

from __future__ import annotations

from typing import TypeVar

import numpy as np
import numpy.typing as npt

__all__ = ["FloatArray", "counter_clockwise", "next_ones", "previous_ones", "signed_area"]

FloatArray = npt.NDArray[np.float64]
_Array = TypeVar("_Array", bound=npt.NDArray[np.generic])


def next_ones(ring: _Array) -> _Array:
    """For each entry the one after it, round the ring.

    `numpy.roll` does the same and is several times as slow on short rings.

    >>> next_ones(np.array([1, 2, 3]))
    array([2, 3, 1])
    """
    return np.concatenate((ring[1:], ring[:1]))  # type: ignore[return-value]


def previous_ones(ring: _Array) -> _Array:
    """For each entry the one before it, round the ring.

    >>> previous_ones(np.array([1, 2, 3]))
    array([3, 1, 2])
    """
    return np.concatenate((ring[-1:], ring[:-1]))  # type: ignore[return-value]


def signed_area(ring: FloatArray) -> float:
    """Area in mm², positive when the ring runs counter-clockwise.

    >>> signed_area(np.array([[0.0, 0.0], [0.0, 2.0], [3.0, 2.0], [3.0, 0.0]]))
    -6.0
    """
    x, y = ring[:, 0], ring[:, 1]
    return 0.5 * float(np.dot(x, next_ones(y)) - np.dot(y, next_ones(x)))


def counter_clockwise(ring: FloatArray) -> FloatArray:
    """Give the ring with its inside on the left of travel, reversed if it must be."""
    return ring[::-1].copy() if signed_area(ring) < 0 else ring
