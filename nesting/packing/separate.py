"""One walk of the search: shorten the strip, let pieces overlap, move them apart again.

Guided local search on the overlap of a lay (after Umetani et al. 2009 and Egeblad et al. 2007, see
`nesting.packing.move_kernel` for the moves): in each pass every overlapping piece, in random order, moves to the
cheapest place found; the weights of pairs that still overlap then grow, all others slowly fall back to one.

A walk has an aim, a strip length. When no overlap is left the lay is kept and the aim shortened. When the loss
(total overlap, unweighted) stops falling, the walk returns to the lay of least loss and goes on with other
weights; after some such strikes it puts that lay into a small pool, takes one of the pool, exchanges two large
pieces and tries again; and after some of these failures it gives the aim up for a longer one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import kernel
from nesting.packing.move_kernel import (
    cost_at,
    depth,
    line_search,
    look_round,
    random_share,
    random_spot,
    reach,
    refine,
    snap_x,
    snap_y,
)
from nesting.packing.shapes import IntArray
from nesting.packing.tables import Tables

__all__ = [
    "AIM",
    "BEST",
    "COMPRESS",
    "DONE",
    "EXPLORE",
    "FLOOR",
    "SHRINK",
    "Walk",
    "begin_at",
    "new_walk",
    "walk_on",
]

AIM, BEST, FLOOR, LOW, SHRINK, STALE, STRIKES, FAILURES, POOLED, DONE, MARK = range(11)
"""Places in `Walk.number`: strip length aimed at; shortest lay; length never to go below; least loss at this
aim; share by which the next aim is shorter; passes since LOW fell; strikes; failures; lays in the pool; whether
the floor is reached; LOW at the start of the strike."""

POOL = 8

SAMPLES, PATIENCE, MAX_STRIKES, MAX_FAILURES, GROW_LEAST, GROW_MOST, DECAY, SHRINK_MOST, SHRINK_LEAST = range(
    9
)
"""Places in the settings."""

EXPLORE = np.array([4.0, 100.0, 3.0, 8.0, 1.2, 2.0, 0.95, 0.01, 1e-4])
COMPRESS = np.array([4.0, 100.0, 2.0, 0.0, 1.2, 2.0, 0.95, 0.002, 1e-5])


class Walk(NamedTuple):
    """All that changes along a walk, as arrays, so a walk may go on in another thread or process.

    Attributes
    ----------
    xy, shape : (P, 2) float64 mm, (P,) int64
        The lay being worked on.
    best_xy, best_shape
        Shortest lay without overlap.
    low_xy, low_shape
        Lay of least loss at this aim.
    pool_xy, pool_shape, pool_loss : (POOL, ...)
    weight : (P, P) float64
        Of pairs, scaled by the sizes of the two; `scale` holds the plain scaling.
    over : (P, P) float64, mm
        Depths of the lay being worked on.
    number : (11,) float64
    rng, used : (1,) int64
        Random state; depth evaluations so far.
    """

    xy: FloatArray
    shape: IntArray
    best_xy: FloatArray
    best_shape: IntArray
    low_xy: FloatArray
    low_shape: IntArray
    pool_xy: FloatArray
    pool_shape: IntArray
    pool_loss: FloatArray
    weight: FloatArray
    scale: FloatArray
    over: FloatArray
    number: FloatArray
    rng: IntArray
    used: IntArray


def new_walk(tables: Tables, xy: FloatArray, shape: IntArray, length: float, floor: float, seed: int) -> Walk:
    """Begin a walk at a lay without overlap."""
    count = len(shape)
    scale = np.sqrt(np.outer(tables.size, tables.size)) / tables.size.mean()
    number = np.zeros(11)
    number[[AIM, BEST, FLOOR, LOW, SHRINK]] = length, length, floor, np.inf, 0.01
    walk = Walk(
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
    return walk


@kernel
def measure(tables: Tables, walk: Walk, i: int) -> None:
    """Bring the depths between piece `i` and all others up to date."""
    s = walk.shape[i]
    for j in range(walk.xy.shape[0]):
        if j == i:
            continue
        other = walk.shape[j]
        inside, _ = depth(
            tables,
            tables.pair[other, s],
            (walk.xy[i, 0] - walk.xy[j, 0]) * tables.sign[other, s, 0],
            (walk.xy[i, 1] - walk.xy[j, 1]) * tables.sign[other, s, 1],
        )
        inside = inside if inside > tables.tolerance else 0.0
        walk.over[i, j] = inside
        walk.over[j, i] = inside


@kernel
def loss_of(tables: Tables, walk: Walk) -> float:
    """Total overlap, scaled by sizes, unweighted."""
    total = 0.0
    for i in range(tables.moving):
        for j in range(i):
            total += walk.over[i, j] * walk.scale[i, j]
        for j in range(tables.moving, walk.xy.shape[0]):
            total += walk.over[i, j] * walk.scale[i, j]
    return total


@kernel
def squeeze(tables: Tables, walk: Walk) -> None:
    """Bring every piece onto the strip aimed at and measure the lay anew."""
    aim = walk.number[AIM]
    for i in range(tables.moving):
        s = walk.shape[i]
        if reach(tables, s, aim) < tables.x_rule[s, 0] - 1e-9:
            for t in range(tables.shapes[i, 0], tables.shapes[i, 1]):
                if reach(tables, t, aim) >= tables.x_rule[t, 0] - 1e-9:
                    walk.shape[i] = t
                    walk.xy[i, 1] = snap_y(tables, t, walk.xy[i, 1])
                    break
            s = walk.shape[i]
        walk.xy[i, 0] = snap_x(tables, s, aim, walk.xy[i, 0])
    for i in range(tables.moving):
        measure(tables, walk, i)


@kernel
def begin_at(tables: Tables, walk: Walk, floor: float) -> None:
    """Aim anew from the shortest lay."""
    number = walk.number
    walk.xy[:] = walk.best_xy
    walk.shape[:] = walk.best_shape
    number[AIM] = max(floor, number[BEST] * (1.0 - number[SHRINK]))
    number[LOW] = np.inf
    number[MARK] = np.inf
    number[STALE] = number[STRIKES] = number[FAILURES] = number[POOLED] = 0.0
    walk.weight[:] = walk.scale
    squeeze(tables, walk)


@kernel
def exchange(tables: Tables, walk: Walk) -> None:
    """Let two large pieces of different kinds change places, each in a random shape of its own."""
    moving = tables.moving
    total = 0.0
    for i in range(moving):
        total += tables.size[i] ** 2
    one = other = 0
    for _ in range(50):
        pick = random_share(walk.rng) * total
        one = 0
        while one < moving - 1 and pick > tables.size[one] ** 2:
            pick -= tables.size[one] ** 2
            one += 1
        pick = random_share(walk.rng) * total
        other = 0
        while other < moving - 1 and pick > tables.size[other] ** 2:
            pick -= tables.size[other] ** 2
            other += 1
        if tables.shapes[one, 0] != tables.shapes[other, 0]:
            break
    x, y = walk.xy[one, 0], walk.xy[one, 1]
    place(tables, walk, one, walk.xy[other, 0], walk.xy[other, 1])
    place(tables, walk, other, x, y)
    for i in range(moving):
        measure(tables, walk, i)


@kernel
def place(tables: Tables, walk: Walk, i: int, x: float, y: float) -> None:
    """Put a piece near (x, y), in a random shape that has a place on this strip."""
    aim = walk.number[AIM]
    first, last = tables.shapes[i, 0], tables.shapes[i, 1]
    for _ in range(20):
        s = first + int(random_share(walk.rng) * (last - first))
        if reach(tables, s, aim) >= tables.x_rule[s, 0] - 1e-9:
            walk.shape[i] = s
            break
    walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, x)
    walk.xy[i, 1] = snap_y(tables, walk.shape[i], y)


@kernel
def walk_on(tables: Tables, walk: Walk, settings: FloatArray, budget: int) -> None:
    """Go on for about `budget` depth evaluations."""
    count, moving = walk.xy.shape[0], tables.moving
    number, rng, used = walk.number, walk.rng, walk.used
    view, poly, order = np.empty((count, 9)), np.empty(count, np.int64), np.empty(count, np.int64)
    stops = np.empty(4096)
    present = np.ones(count, np.int64)
    turn = np.arange(moving)
    until = used[0] + budget
    if number[LOW] == 0.0 or number[AIM] >= number[BEST]:
        begin_at(tables, walk, number[FLOOR])
    while used[0] < until and number[DONE] == 0.0:
        for a in range(moving - 1, 0, -1):
            b = int(random_share(rng) * (a + 1))
            turn[a], turn[b] = turn[b], turn[a]
        moved = 0
        for i in turn:
            overlapping = False
            for j in range(count):
                if walk.over[i, j] > 0.0:
                    overlapping = True
                    break
            if not overlapping:
                continue
            moved += 1
            aim = number[AIM]
            # as it lies
            old = walk.shape[i]
            m = look_round(tables, walk.xy, walk.shape, walk.weight, present, i, old, view, poly, order)
            now = cost_at(tables, view, poly, order, m, walk.xy[i, 0], walk.xy[i, 1], 0.0, 0.0, np.inf, used)
            best, best_x, best_y = refine(
                tables,
                view,
                poly,
                order,
                m,
                stops,
                old,
                aim,
                walk.xy[i, 0],
                walk.xy[i, 1],
                now,
                0.0,
                0.0,
                used,
            )
            best_s = old
            # elsewhere: a few random places, one line each, the best of them refined
            first, last = tables.shapes[i, 0], tables.shapes[i, 1]
            there, there_x, there_y, there_s = np.inf, 0.0, 0.0, -1
            seen = old
            for sample in range(int(settings[SAMPLES])):
                s = first + int(random_share(rng) * (last - first))
                if reach(tables, s, aim) < tables.x_rule[s, 0] - 1e-9:
                    continue
                if s != seen:
                    m = look_round(tables, walk.xy, walk.shape, walk.weight, present, i, s, view, poly, order)
                    seen = s
                x, y = random_spot(tables, s, aim, rng)
                upright = sample % 2 == 0 and tables.y_rule[s, 2] == 0.0
                c, x, y = line_search(
                    tables,
                    view,
                    poly,
                    order,
                    m,
                    stops,
                    s,
                    aim,
                    x,
                    y,
                    0.0 if upright else 1.0,
                    1.0 if upright else 0.0,
                    (0.0, 0.0),
                    0.0,
                    0.0,
                    there,
                    used,
                )
                if c < there:
                    there, there_x, there_y, there_s = c, x, y, s
            if there_s >= 0 and best > 0.0:
                if there_s != seen:
                    m = look_round(
                        tables, walk.xy, walk.shape, walk.weight, present, i, there_s, view, poly, order
                    )
                there, there_x, there_y = refine(
                    tables, view, poly, order, m, stops, there_s, aim, there_x, there_y, there, 0.0, 0.0, used
                )
                if there < best:
                    best, best_x, best_y, best_s = there, there_x, there_y, there_s
            if best < now:
                walk.xy[i, 0], walk.xy[i, 1], walk.shape[i] = best_x, best_y, best_s
                measure(tables, walk, i)
        loss = loss_of(tables, walk)
        if loss == 0.0:
            length = 0.0
            for i in range(moving):
                length = max(length, walk.xy[i, 0] + tables.half[walk.shape[i], 0])
            number[BEST] = length
            walk.best_xy[:] = walk.xy
            walk.best_shape[:] = walk.shape
            if number[AIM] <= number[FLOOR]:
                number[DONE] = 1.0
                break
            if number[FAILURES] == 0.0:
                number[SHRINK] = min(settings[SHRINK_MOST], number[SHRINK] * 1.3)
            begin_at(tables, walk, number[FLOOR])
            continue
        if loss < number[LOW]:
            if loss < 0.98 * number[LOW]:
                number[STALE] = 0.0
            number[LOW] = loss
            walk.low_xy[:] = walk.xy
            walk.low_shape[:] = walk.shape
        number[STALE] += 1.0
        deepest = 0.0
        for i in range(moving):
            for j in range(count):
                deepest = max(deepest, walk.over[i, j])
        for i in range(moving):
            for j in range(count):
                w = walk.weight[i, j] / walk.scale[i, j]
                if walk.over[i, j] > 0.0:
                    share = walk.over[i, j] / deepest
                    w *= settings[GROW_LEAST] + (settings[GROW_MOST] - settings[GROW_LEAST]) * share
                else:
                    w = max(1.0, w * settings[DECAY])
                walk.weight[i, j] = w * walk.scale[i, j]
        if number[STALE] < settings[PATIENCE]:
            continue
        # a strike: back to the least loss
        number[STALE] = 0.0
        number[STRIKES] = 0.0 if number[LOW] < 0.98 * number[MARK] else number[STRIKES] + 1.0
        number[MARK] = number[LOW]
        if number[STRIKES] < settings[MAX_STRIKES]:
            walk.xy[:] = walk.low_xy
            walk.shape[:] = walk.low_shape
            for i in range(moving):
                measure(tables, walk, i)
            continue
        number[STRIKES] = 0.0
        number[FAILURES] += 1.0
        if number[FAILURES] > settings[MAX_FAILURES]:
            number[SHRINK] = max(settings[SHRINK_LEAST], 0.5 * number[SHRINK])
            begin_at(tables, walk, number[FLOOR])
            continue
        # a failure: keep this lay, take up one of the pool with two large pieces exchanged
        slot = int(number[POOLED])
        if slot < POOL:
            number[POOLED] += 1.0
        else:
            slot = int(np.argmax(walk.pool_loss))
        if slot < POOL and (number[POOLED] < POOL or number[LOW] < walk.pool_loss[slot] or True):
            walk.pool_loss[slot] = number[LOW]
            walk.pool_xy[slot] = walk.low_xy
            walk.pool_shape[slot] = walk.low_shape
        held = int(number[POOLED])
        a, b = int(random_share(rng) * held), int(random_share(rng) * held)
        chosen = a if walk.pool_loss[a] <= walk.pool_loss[b] else b
        walk.xy[:] = walk.pool_xy[chosen]
        walk.shape[:] = walk.pool_shape[chosen]
        walk.weight[:] = walk.scale
        exchange(tables, walk)
        number[LOW] = np.inf
        number[MARK] = np.inf
