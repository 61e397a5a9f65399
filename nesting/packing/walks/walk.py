"""The state of one walk of the search, as flat arrays, and how its overlap is measured."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel, inner_kernel, kernel
from nesting.packing.kernels.depth import apart, depth
from nesting.packing.kernels.place import has_place, snap_x, snap_y
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = [
    "AIM",
    "BEST",
    "DONE",
    "FLOOR",
    "GIVEN_UP",
    "ROAM",
    "STEP",
    "TIGHTEN",
    "Walk",
    "bring_onto",
    "copy_lay",
    "measure",
    "new_walk",
    "overlaps",
    "total_overlap",
]

AIM, BEST, FLOOR, LOW, STEP, STALE, LULLS, FAILURES, POOLED, DONE, MARK, TRIED, GIVEN_UP = range(13)
"""Places in `Walk.number`: strip length aimed at; shortest lay; length never to go below; least overlap at
this aim; share by which the next aim is shorter; passes since LOW fell; lulls; failures; lays in the
pool; whether the floor is reached; LOW at the start of the lull; LOW when all pieces were last pushed
apart at once; aims given up."""

POOL = 8

SAMPLES, PATIENCE, MAX_LULLS, MAX_FAILURES, GROW_LEAST = range(5)
GROW_MOST, DECAY, STEP_MOST, STEP_LEAST, WINDOW, POINTS = range(5, 11)
"""Places in the settings."""

ROAM = np.array([3.0, 100.0, 3.0, 300.0, 1.3, 2.0, 0.98, 0.003, 1e-4, 1.0, 10.0])
TIGHTEN = np.array([3.0, 100.0, 2.0, 0.0, 1.3, 2.0, 0.98, 0.001, 1e-5, 1.0, 10.0])


class Walk(NamedTuple):
    """All that changes along a walk, as arrays, so a walk may go on in another thread or process.

    Attributes
    ----------
    xy, shape : (P, 2) float64 mm, (P,) int64
        The lay being worked on.
    best_xy, best_shape
        Shortest lay without overlap.
    low_xy, low_shape
        Lay of least overlap at this aim.
    pool_xy, pool_shape, pool_overlap : (POOL, ...)
    weight : (P, P) float64
        Of pairs, scaled by the sizes of the two; `scale` holds the plain scaling.
    over : (P, P) float64, mm
        Depths of the lay being worked on.
    number : (13,) float64
    rng, used : (1,) int64
        Random state; evaluations so far: depths asked for, and neighbours a line was cut with.
    """

    xy: FloatArray
    shape: IntArray
    best_xy: FloatArray
    best_shape: IntArray
    low_xy: FloatArray
    low_shape: IntArray
    pool_xy: FloatArray
    pool_shape: IntArray
    pool_overlap: FloatArray
    weight: FloatArray
    scale: FloatArray
    over: FloatArray
    number: FloatArray
    rng: IntArray
    used: IntArray


def new_walk(tables: Tables, xy: FloatArray, shape: IntArray, length: float, floor: float, seed: int) -> Walk:
    """Begin a walk at a lay without overlap."""
    count = len(shape)
    scale = np.outer(tables.size, tables.size) / tables.size.mean() ** 2
    number = np.zeros(13)
    number[[AIM, BEST, FLOOR, LOW, STEP]] = length, length, floor, np.inf, 0.01
    number[[MARK, TRIED]] = np.inf
    return Walk(
        xy.copy(),
        shape.copy(),
        xy.copy(),
        shape.copy(),
        xy.copy(),
        shape.copy(),
        np.zeros((POOL, count, 2)),
        np.zeros((POOL, count), dtype=np.int64),
        np.zeros(POOL),
        scale.copy(),
        scale,
        np.zeros((count, count)),
        number,
        np.array([seed | 1], dtype=np.int64),
        np.zeros(1, dtype=np.int64),
    )


@kernel
def measure(tables: Tables, walk: Walk, i: int) -> None:
    """Bring the depths between piece `i` and all others up to date."""
    s = walk.shape[i]
    for j in range(walk.xy.shape[0]):
        if j == i:
            continue
        other = walk.shape[j]
        x, y = walk.xy[i, 0] - walk.xy[j, 0], walk.xy[i, 1] - walk.xy[j, 1]
        inside = 0.0
        if not apart(tables, s, other, x, y):
            sx, sy = tables.sign[other, s, 0], tables.sign[other, s, 1]
            inside, _ = depth(tables, tables.pair[other, s], x * sx, y * sy)
            inside = inside if inside > tables.tolerance else 0.0
        walk.over[i, j] = inside
        walk.over[j, i] = inside


@inner_kernel
def overlaps(walk: Walk, i: int) -> bool:
    """Whether a piece overlaps any other.

    Counted to the end, not only up to the first: so it compiles to instructions that compare several at once.
    """
    count = 0
    for j in range(walk.over.shape[1]):
        count += 1 if walk.over[i, j] > 0.0 else 0
    return count > 0


@kernel
def total_overlap(tables: Tables, walk: Walk) -> float:
    """Total overlap, scaled by sizes, unweighted."""
    total = 0.0
    for i in range(tables.moving):
        if not overlaps(walk, i):
            continue
        for j in range(i):
            total += walk.over[i, j] * walk.scale[i, j]
        for j in range(tables.moving, walk.xy.shape[0]):
            total += walk.over[i, j] * walk.scale[i, j]
    return total


@kernel
def copy_lay(from_xy: FloatArray, from_shape: IntArray, to_xy: FloatArray, to_shape: IntArray) -> None:
    """Positions and shapes from one lay to another."""
    for i in range(from_xy.shape[0]):
        to_xy[i, 0], to_xy[i, 1] = from_xy[i, 0], from_xy[i, 1]
        to_shape[i] = from_shape[i]


@entry_kernel
def bring_onto(tables: Tables, walk: Walk) -> None:
    """Bring every piece onto the strip aimed at, as its rules allow, and measure all depths.

    One that has no place there in its shape takes the first of its shapes that has.
    """
    aim = walk.number[AIM]
    for i in range(tables.moving):
        if not has_place(tables, walk.shape[i], aim):
            for t in range(tables.shapes[i, 0], tables.shapes[i, 1]):
                if has_place(tables, t, aim):
                    walk.shape[i] = t
                    break
        walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, walk.xy[i, 0])
        walk.xy[i, 1] = snap_y(tables, walk.shape[i], walk.xy[i, 1])
    for i in range(tables.moving):
        measure(tables, walk, i)
