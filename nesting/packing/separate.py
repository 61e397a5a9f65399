"""One walk of the search: shorten the strip, let pieces overlap, move them apart again.

Guided local search on the overlap of a lay (after Umetani et al. 2009 and Egeblad et al. 2007, see
`nesting.packing.move_kernel` for the moves): in each pass every overlapping piece, in random order, moves
to the cheapest place found; the weights of pairs that still overlap then grow, all others slowly fall back
to one.

A walk has an aim, a strip length. When no overlap is left the lay is kept and the aim shortened. When the
loss (total overlap, unweighted) stops falling, the walk returns to the lay of least loss and goes on with
other weights; after some such strikes it puts that lay into a small pool, takes one of the pool, exchanges
two large pieces and tries again; and after some of these failures it gives the aim up for a longer one.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import kernel
from nesting.packing.move_kernel import (
    Scratch,
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
    "new_walk",
    "walk_on",
]

AIM, BEST, FLOOR, LOW, SHRINK, STALE, STRIKES, FAILURES, POOLED, DONE, MARK = range(11)
"""Places in `Walk.number`: strip length aimed at; shortest lay; length never to go below; least loss at
this aim; share by which the next aim is shorter; passes since LOW fell; strikes; failures; lays in the
pool; whether the floor is reached; LOW at the start of the strike."""

POOL = 8

SAMPLES, PATIENCE, MAX_STRIKES, MAX_FAILURES, GROW_LEAST = range(5)
GROW_MOST, DECAY, SHRINK_MOST, SHRINK_LEAST, WINDOW = range(5, 10)
"""Places in the settings."""

EXPLORE = np.array([4.0, 50.0, 3.0, 4.0, 1.2, 2.0, 0.95, 0.003, 1e-4, 1.0])
COMPRESS = np.array([4.0, 50.0, 2.0, 0.0, 1.2, 2.0, 0.95, 0.001, 1e-5, 1.0])


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
    scale = np.outer(tables.size, tables.size) / tables.size.mean() ** 2
    number = np.zeros(11)
    number[[AIM, BEST, FLOOR, LOW, SHRINK]] = length, length, floor, np.inf, 0.01
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
def measure_all(tables: Tables, walk: Walk) -> None:
    """Bring all depths up to date."""
    for i in range(tables.moving):
        measure(tables, walk, i)


@kernel
def has_place(tables: Tables, s: int, length: float) -> bool:
    """Whether shape `s` has any place on a strip of this length."""
    return bool(reach(tables, s, length) >= tables.x_rule[s, 0] - 1e-9 * tables.width)


@kernel
def squeeze(tables: Tables, walk: Walk) -> None:
    """Bring every piece onto the strip aimed at and measure the lay anew."""
    aim = walk.number[AIM]
    for i in range(tables.moving):
        if not has_place(tables, walk.shape[i], aim):
            for t in range(tables.shapes[i, 0], tables.shapes[i, 1]):
                if has_place(tables, t, aim):
                    walk.shape[i] = t
                    walk.xy[i, 1] = snap_y(tables, t, walk.xy[i, 1])
                    break
        walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, walk.xy[i, 0])
    measure_all(tables, walk)


@kernel
def copy_lay(from_xy: FloatArray, from_shape: IntArray, to_xy: FloatArray, to_shape: IntArray) -> None:
    """Positions and shapes from one lay to another."""
    for i in range(from_xy.shape[0]):
        to_xy[i, 0], to_xy[i, 1] = from_xy[i, 0], from_xy[i, 1]
        to_shape[i] = from_shape[i]


@kernel
def even_weights(walk: Walk) -> None:
    """Weights back to the plain scaling."""
    for i in range(walk.scale.shape[0]):
        for j in range(walk.scale.shape[0]):
            walk.weight[i, j] = walk.scale[i, j]


@kernel
def begin_anew(tables: Tables, walk: Walk) -> None:
    """Aim anew from the shortest lay."""
    number = walk.number
    copy_lay(walk.best_xy, walk.best_shape, walk.xy, walk.shape)
    number[AIM] = max(number[FLOOR], number[BEST] * (1.0 - number[SHRINK]))
    number[LOW] = np.inf
    number[MARK] = np.inf
    number[STALE], number[STRIKES], number[FAILURES], number[POOLED] = 0.0, 0.0, 0.0, 0.0
    even_weights(walk)
    squeeze(tables, walk)


@kernel
def large_piece(tables: Tables, walk: Walk) -> int:
    """A piece at random, the larger the likelier (by area of the hull)."""
    total = 0.0
    for i in range(tables.moving):
        total += tables.size[i] ** 2
    pick = random_share(walk.rng) * total
    for i in range(tables.moving - 1):
        pick -= tables.size[i] ** 2
        if pick < 0.0:
            return i
    return tables.moving - 1


@kernel
def exchange(tables: Tables, walk: Walk) -> None:
    """Let two large pieces of different kinds change places, each in a random shape of its own."""
    one = large_piece(tables, walk)
    other = one
    for _ in range(50):
        other = large_piece(tables, walk)
        if tables.shapes[one, 0] != tables.shapes[other, 0]:
            break
    x, y = walk.xy[one, 0], walk.xy[one, 1]
    put_near(tables, walk, one, walk.xy[other, 0], walk.xy[other, 1])
    put_near(tables, walk, other, x, y)
    measure_all(tables, walk)


@kernel
def put_near(tables: Tables, walk: Walk, i: int, x: float, y: float) -> None:
    """Put a piece near (x, y), in a random shape that has a place on this strip."""
    aim = walk.number[AIM]
    first, last = tables.shapes[i, 0], tables.shapes[i, 1]
    for _ in range(20):
        s = first + int(random_share(walk.rng) * (last - first))
        if has_place(tables, s, aim):
            walk.shape[i] = s
            break
    walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, x)
    walk.xy[i, 1] = snap_y(tables, walk.shape[i], y)


@kernel
def window_at(tables: Tables, s: int, x: float, settings: FloatArray) -> tuple[float, float]:
    """How far along the strip shape `s` looks and moves from x."""
    far = settings[WINDOW] * (tables.half[s, 0] + tables.half[s, 1])
    return x - far, x + far


@kernel
def move_piece(tables: Tables, walk: Walk, scratch: Scratch, i: int, settings: FloatArray) -> None:
    """Move a piece to the cheaper of a corner near by and one next to the best of a few random places."""
    aim, rng, used = walk.number[AIM], walk.rng, walk.used
    old = walk.shape[i]
    x, y = walk.xy[i, 0], walk.xy[i, 1]
    window = window_at(tables, old, x, settings)
    m = look_round(tables, walk.xy, walk.shape, walk.weight, i, old, window, scratch)
    now = cost_at(tables, scratch, m, x, y, 0.0, np.inf, used)
    best, best_x, best_y = now, x, y
    best_s = old
    first, last = tables.shapes[i, 0], tables.shapes[i, 1]
    there, there_x, there_y = now, x, y
    there_s = old
    for start in range(2):  # from where it lies, then from elsewhere
        if start == 1:
            there = np.inf
            for sample in range(int(settings[SAMPLES])):
                s = first + int(random_share(rng) * (last - first))
                if not has_place(tables, s, aim):
                    continue
                x, y = random_spot(tables, s, aim, rng)
                window = window_at(tables, s, x, settings)
                m = look_round(tables, walk.xy, walk.shape, walk.weight, i, s, window, scratch)
                upright = sample % 2 == 0 and tables.y_rule[s, 2] == 0.0
                line = (x, y, 0.0 if upright else 1.0, 1.0 if upright else 0.0)
                c, x, y = line_search(
                    tables, scratch, m, s, aim, window, line, (-np.inf, np.inf), 0.0, there, used
                )
                if c < there:
                    there, there_x, there_y, there_s = c, x, y, s
            if there == np.inf or best == 0.0:
                break
            window = window_at(tables, there_s, there_x, settings)
            m = look_round(tables, walk.xy, walk.shape, walk.weight, i, there_s, window, scratch)
        c, x, y = refine(tables, scratch, m, there_s, aim, window, there_x, there_y, there, 0.0, used)
        if c < best:
            best, best_x, best_y, best_s = c, x, y, there_s
    if best < now:
        walk.xy[i, 0], walk.xy[i, 1], walk.shape[i] = best_x, best_y, best_s
        measure(tables, walk, i)


@kernel
def keep_best(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """No overlap is left: keep this lay and aim for a shorter one."""
    number = walk.number
    length = 0.0
    for i in range(tables.moving):
        length = max(length, walk.xy[i, 0] + tables.half[walk.shape[i], 0])
    number[BEST] = length
    copy_lay(walk.xy, walk.shape, walk.best_xy, walk.best_shape)
    if number[AIM] <= number[FLOOR]:
        number[DONE] = 1.0
        return
    if number[FAILURES] == 0.0:
        number[SHRINK] = number[SHRINK] * 1.3
    number[SHRINK] = min(settings[SHRINK_MOST], number[SHRINK])
    begin_anew(tables, walk)


@kernel
def raise_weights(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """Pairs that overlap become dearer, the deeper the more; all others slowly cheaper."""
    over, weight, scale = walk.over, walk.weight, walk.scale
    deepest = 0.0
    for i in range(tables.moving):
        for j in range(over.shape[0]):
            deepest = max(deepest, over[i, j])
    for i in range(tables.moving):
        for j in range(over.shape[0]):
            if over[i, j] > 0.0:
                growth = settings[GROW_MOST] - settings[GROW_LEAST]
                weight[i, j] *= settings[GROW_LEAST] + growth * over[i, j] / deepest
            else:
                weight[i, j] = max(scale[i, j], weight[i, j] * settings[DECAY])


@kernel
def strike(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """The loss has stopped falling: go back to the least, or exchange pieces, or give up this aim."""
    number, rng = walk.number, walk.rng
    number[STALE] = 0.0
    number[STRIKES] = 0.0 if number[LOW] < 0.98 * number[MARK] else number[STRIKES] + 1.0
    number[MARK] = number[LOW]
    if number[STRIKES] < settings[MAX_STRIKES]:
        copy_lay(walk.low_xy, walk.low_shape, walk.xy, walk.shape)
        measure_all(tables, walk)
        return
    number[STRIKES] = 0.0
    number[FAILURES] += 1.0
    if number[FAILURES] > settings[MAX_FAILURES]:
        number[SHRINK] = max(settings[SHRINK_LEAST], 0.5 * number[SHRINK])
        begin_anew(tables, walk)
        return
    slot = int(number[POOLED])
    if slot < POOL:
        number[POOLED] += 1.0
    else:
        slot = int(np.argmax(walk.pool_loss))
    walk.pool_loss[slot] = number[LOW]
    copy_lay(walk.low_xy, walk.low_shape, walk.pool_xy[slot], walk.pool_shape[slot])
    held = int(number[POOLED])
    a, b = int(random_share(rng) * held), int(random_share(rng) * held)
    chosen = a if walk.pool_loss[a] <= walk.pool_loss[b] else b
    copy_lay(walk.pool_xy[chosen], walk.pool_shape[chosen], walk.xy, walk.shape)
    even_weights(walk)
    exchange(tables, walk)
    number[LOW] = np.inf
    number[MARK] = np.inf


@kernel
def walk_on(tables: Tables, walk: Walk, scratch: Scratch, settings: FloatArray, budget: int) -> None:
    """Go on for about `budget` depth evaluations."""
    count, moving = walk.xy.shape[0], tables.moving
    number = walk.number
    turn = scratch.turn
    until = walk.used[0] + budget
    if number[AIM] >= number[BEST]:
        begin_anew(tables, walk)
    while walk.used[0] < until and number[DONE] == 0.0:
        for a in range(moving - 1, 0, -1):
            b = int(random_share(walk.rng) * (a + 1))
            turn[a], turn[b] = turn[b], turn[a]
        for place in range(moving):
            i = turn[place]
            for j in range(count):
                if walk.over[i, j] > 0.0:
                    move_piece(tables, walk, scratch, i, settings)
                    break
        walk.used[0] += 1  # so that a pass is never free, and a round always ends
        loss = loss_of(tables, walk)
        if loss == 0.0:
            keep_best(tables, walk, settings)
            continue
        if loss < number[LOW]:
            if loss < 0.98 * number[LOW]:
                number[STALE] = 0.0
            number[LOW] = loss
            copy_lay(walk.xy, walk.shape, walk.low_xy, walk.low_shape)
        number[STALE] += 1.0
        raise_weights(tables, walk, settings)
        if number[STALE] >= settings[PATIENCE]:
            strike(tables, walk, settings)
