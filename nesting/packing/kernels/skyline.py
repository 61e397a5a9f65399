"""Boxes put down one after another as near to the beginning of a strip as they go: a quick guess at a length.

The strip is divided across into cells; the skyline says for each how far it is filled.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel

__all__ = ["ANYWHERE", "skyline_length"]

ANYWHERE = -1
"""In place of a cell where a box must begin."""


@entry_kernel
def skyline_length(
    along: FloatArray, cells: npt.NDArray[np.int64], at: npt.NDArray[np.int64], skyline: FloatArray
) -> float:
    """Put every box where it reaches least far, and give the length then taken.

    Parameters
    ----------
    along : (N,) float64 array, mm
    cells : (N,) int64 array
        How many cells each box takes across; at least 1, at most all.
    at : (N,) int64 array
        The cell where it must begin, or `ANYWHERE`; then of equals the lowest.
    skyline : (C,) float64 array, mm
        How far each cell is filled already; filled further here.
    """
    for k in range(len(along)):
        first, last = at[k], at[k]
        if first < 0:
            first, last = 0, len(skyline) - cells[k]
        best, least = first, np.inf
        for start in range(first, last + 1):
            reach = 0.0
            for cell in range(start, start + cells[k]):
                if skyline[cell] > reach:
                    reach = skyline[cell]
                    if reach >= least:
                        break
            if reach < least:
                best, least = start, reach
        for cell in range(best, best + cells[k]):
            skyline[cell] = least + along[k]
    length = 0.0
    for cell in range(len(skyline)):
        length = max(length, skyline[cell])
    return length
