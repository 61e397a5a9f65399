"""An attempt to lay all pieces on a strip of one length, as flat arrays, and how its overlap is measured."""

from __future__ import annotations

from typing import NamedTuple

from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel, inner_kernel, kernel
from nesting.packing.kernels.depth import apart, depth
from nesting.packing.kernels.place import has_place, snap_x, snap_y
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = [
    "AIM",
    "LOW",
    "PUSHED",
    "STALE",
    "Attempt",
    "bring_onto",
    "copy_lay",
    "measure",
    "overlaps",
    "total_overlap",
]

AIM, LOW, STALE, PUSHED = range(4)
"""Places in `Attempt.number`, for kernels; `nesting.packing.walks.walk.Walk` has them by name."""


class Attempt(NamedTuple):
    """What passes read and write: flat arrays only, so that kernels take it.

    Attributes
    ----------
    xy, shape : (P, 2) float64 mm, (P,) int64
        The lay being worked on.
    low_xy, low_shape
        Lay of least overlap at this aim.
    weight : (P, P) float64
        Of pairs, scaled by the sizes of the two; `scale` holds the plain scaling.
    over : (P, P) float64, mm
        Depths of the lay being worked on.
    number : (4,) float64
        Strip length aimed at, mm; least overlap at this aim; passes since that fell; least overlap when all
        pieces were last pushed apart at once.
    rng, used : (1,) int64
        Random state; evaluations so far: depths asked for, and neighbours a line was cut with.
    """

    xy: FloatArray
    shape: IntArray
    low_xy: FloatArray
    low_shape: IntArray
    weight: FloatArray
    scale: FloatArray
    over: FloatArray
    number: FloatArray
    rng: IntArray
    used: IntArray


@kernel
def measure(tables: Tables, attempt: Attempt, i: int) -> None:
    """Bring the depths between piece `i` and all others up to date."""
    s = attempt.shape[i]
    for j in range(attempt.xy.shape[0]):
        if j == i:
            continue
        other = attempt.shape[j]
        x, y = attempt.xy[i, 0] - attempt.xy[j, 0], attempt.xy[i, 1] - attempt.xy[j, 1]
        inside = 0.0
        if not apart(tables, s, other, x, y):
            sx, sy = tables.sign[other, s, 0], tables.sign[other, s, 1]
            inside, _ = depth(tables, tables.pair[other, s], x * sx, y * sy)
            inside = inside if inside > tables.tolerance else 0.0
        attempt.over[i, j] = inside
        attempt.over[j, i] = inside


@inner_kernel
def overlaps(attempt: Attempt, i: int) -> bool:
    """Whether a piece overlaps any other.

    Counted to the end, not only up to the first: so it compiles to instructions that compare several at once.
    """
    count = 0
    for j in range(attempt.over.shape[1]):
        count += 1 if attempt.over[i, j] > 0.0 else 0
    return count > 0


@kernel
def total_overlap(tables: Tables, attempt: Attempt) -> float:
    """Total overlap, scaled by sizes, unweighted."""
    total = 0.0
    for i in range(tables.moving):
        if not overlaps(attempt, i):
            continue
        for j in range(i):
            total += attempt.over[i, j] * attempt.scale[i, j]
        for j in range(tables.moving, attempt.xy.shape[0]):
            total += attempt.over[i, j] * attempt.scale[i, j]
    return total


@kernel
def copy_lay(from_xy: FloatArray, from_shape: IntArray, to_xy: FloatArray, to_shape: IntArray) -> None:
    """Positions and shapes from one lay to another."""
    for i in range(from_xy.shape[0]):
        to_xy[i, 0], to_xy[i, 1] = from_xy[i, 0], from_xy[i, 1]
        to_shape[i] = from_shape[i]


@entry_kernel
def bring_onto(tables: Tables, attempt: Attempt) -> None:
    """Bring every piece onto the strip aimed at, as its rules allow, and measure all depths.

    One that has no place there in its shape takes the first of its shapes that has.
    """
    aim = attempt.number[AIM]
    for i in range(tables.moving):
        if not has_place(tables, attempt.shape[i], aim):
            for t in range(tables.shapes[i, 0], tables.shapes[i, 1]):
                if has_place(tables, t, aim):
                    attempt.shape[i] = t
                    break
        attempt.xy[i, 0] = snap_x(tables, attempt.shape[i], aim, attempt.xy[i, 0])
        attempt.xy[i, 1] = snap_y(tables, attempt.shape[i], attempt.xy[i, 1])
    for i in range(tables.moving):
        measure(tables, attempt, i)
