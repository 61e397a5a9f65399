"""Plain measures of rings that every part needs: rings are (N, 2) float64 arrays in mm, not closed."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

__all__ = ["FloatArray", "counter_clockwise", "signed_area"]

FloatArray = npt.NDArray[np.float64]


def signed_area(ring: FloatArray) -> float:
    """Area in mm², positive when the ring runs counter-clockwise.

    >>> signed_area(np.array([[0.0, 0.0], [0.0, 2.0], [3.0, 2.0], [3.0, 0.0]]))
    -6.0
    """
    x, y = ring[:, 0], ring[:, 1]
    return 0.5 * float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


def counter_clockwise(ring: FloatArray) -> FloatArray:
    """Give the ring with its inside on the left of travel, reversed if it must be."""
    return ring[::-1].copy() if signed_area(ring) < 0 else ring
