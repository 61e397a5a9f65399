"""All pieces at once: push apart whatever overlaps, a little each, until nothing does or nothing gains.

Moves of single pieces (`nesting.packing.kernels.move`) find new places but shift a whole row by a hair only
slowly, neighbour after neighbour. Here every overlapping pair is pushed apart along the shortest way out of
its no-fit polygon, half by either piece, pair after pair, forwards and backwards in turn: cyclic projections
on the constraints that hold near by (Kaczmarz 1937). For nesting compare the separation of all pieces by
nonlinear programming (Imamichi et al. 2009) and by linear programming (Gomes and Oliveira 2006).
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel, inner_kernel
from nesting.packing.kernels.depth import apart, depth
from nesting.packing.kernels.place import has_place, reach
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = ["settle"]

MARGIN = 1e-7
"""Of the strip's width: how much farther than needed a pair is pushed, so that pushing ends."""

RELAX = 1.2
"""Push by this multiple of the depth: pieces in a row hand a push on sooner."""

SWEEPS, GIVE_UP, FALLING = 150, 20, 0.7
"""Sweeps at most; sweeps within which the overlap has to fall below this share, else nothing gains."""


@inner_kernel
def push(tables: Tables, xy: FloatArray, s: int, i: int, length: float, dx: float, dy: float) -> None:
    """Shift a piece as far as its rules, its window and the strip let it."""
    if tables.x_rule[s, 1] == 0.0:
        xy[i, 0] = max(tables.x_rule[s, 0], min(xy[i, 0] + dx, reach(tables, s, length)))
    if tables.y_rule[s, 2] == 0.0:
        xy[i, 1] = max(tables.half[s, 1], min(xy[i, 1] + dy, tables.width - tables.half[s, 1]))


@inner_kernel
def part(
    tables: Tables,
    xy: FloatArray,
    shape: IntArray,
    i: int,
    j: int,
    length: float,
    used: IntArray,
) -> float:
    """Push two pieces apart if they overlap; how deep they did."""
    s, other = shape[i], shape[j]
    x, y = xy[i, 0] - xy[j, 0], xy[i, 1] - xy[j, 1]
    if apart(tables, s, other, x, y):
        return 0.0
    sx, sy = tables.sign[other, s, 0], tables.sign[other, s, 1]
    x, y = x * sx, y * sy
    inside, e = depth(tables, tables.pair[other, s], x, y)
    if e < 0:
        return 0.0
    used[0] += 1
    if inside <= tables.tolerance:
        return 0.0
    edge = tables.edge
    ux, uy = edge[e, 4], edge[e, 5]
    along = (x - edge[e, 0]) * ux + (y - edge[e, 1]) * uy
    along = min(max(0.0, along), edge[e, 6])
    tx, ty = edge[e, 0] + along * ux - x, edge[e, 1] + along * uy - y
    far = np.hypot(tx, ty)
    if far <= 0.0:
        return float(inside)
    scale = (RELAX * inside + MARGIN * tables.width) / far
    tx, ty = tx * sx * scale, ty * sy * scale
    if j >= tables.moving:
        push(tables, xy, s, i, length, tx, ty)
    else:
        push(tables, xy, s, i, length, 0.5 * tx, 0.5 * ty)
        push(tables, xy, other, j, length, -0.5 * tx, -0.5 * ty)
    return float(inside)


@entry_kernel
def settle(
    tables: Tables,
    xy: FloatArray,
    shape: IntArray,
    length: float,
    used: IntArray,
) -> bool:
    """Push all pieces apart on a strip of this length; whether no overlap is left."""
    moving, count = tables.moving, xy.shape[0]
    for i in range(moving):
        s = shape[i]
        if not has_place(tables, s, length):
            return False
        if tables.x_rule[s, 1] > 0.0 and xy[i, 0] > reach(tables, s, length):
            return False
        push(tables, xy, s, i, length, 0.0, 0.0)
    mark, since = np.inf, 0
    for sweep in range(SWEEPS):
        total = 0.0
        for a in range(moving):
            i = a if sweep % 2 == 0 else moving - 1 - a
            for k in range(i + count - moving):  # the pieces before it and the obstacles
                j = k if k < i else moving + k - i
                total += part(tables, xy, shape, i, j, length, used)
        used[0] += 1
        if total == 0.0:
            return True
        since += 1
        if total < FALLING * mark:
            mark, since = total, 0
        elif since >= GIVE_UP:
            return False
    return False
