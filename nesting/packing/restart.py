"""What a walk does after success and after failure: press the lay, aim anew, exchange pieces.

A lay without overlap is kept, pressed together by pushing all its pieces at once, and the aim shortened.
When the loss at an aim no longer falls, the lay of least loss is taken up again; after some such strikes it
goes into a small pool, one of the pool has two large pieces exchanged and is tried; after many of these
failures the aim is given up for a longer one. `nesting.packing.separate` then begins anew, as after success.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import kernel
from nesting.packing.place_kernel import has_place, random_share, snap_x, snap_y
from nesting.packing.settle_kernel import settle
from nesting.packing.tables import Tables
from nesting.packing.walk import (
    AIM,
    BEST,
    DONE,
    FAILURES,
    FLOOR,
    LOW,
    MARK,
    MAX_FAILURES,
    MAX_STRIKES,
    POOL,
    POOLED,
    SHRINK,
    SHRINK_LEAST,
    SHRINK_MOST,
    STALE,
    STRIKES,
    TRIED,
    Walk,
    copy_lay,
    lay_length,
    loss_of,
    measure_all,
)

__all__ = ["begin_anew", "keep_best", "settled", "strike"]

PRESS_FIRST, PRESS_LEAST = 2e-3, 1e-5
"""Shares of the length by which a lay is pressed together: tried first; at least."""

EASE = 2e-4
"""Share by which a lay pushed apart all at once must be shorter than the shortest."""


@kernel
def squeeze(tables: Tables, walk: Walk) -> None:
    """Bring every piece onto the strip aimed at."""
    aim = walk.number[AIM]
    for i in range(tables.moving):
        if not has_place(tables, walk.shape[i], aim):
            for t in range(tables.shapes[i, 0], tables.shapes[i, 1]):
                if has_place(tables, t, aim):
                    walk.shape[i] = t
                    walk.xy[i, 1] = snap_y(tables, t, walk.xy[i, 1])
                    break
        walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, walk.xy[i, 0])


@kernel
def even_weights(walk: Walk) -> None:
    """Weights back to the plain scaling."""
    for i in range(walk.scale.shape[0]):
        for j in range(walk.scale.shape[0]):
            walk.weight[i, j] = walk.scale[i, j]


@kernel
def begin_anew(tables: Tables, walk: Walk) -> None:
    """Aim anew from the shortest lay; its depths are still to be measured."""
    number = walk.number
    copy_lay(walk.best_xy, walk.best_shape, walk.xy, walk.shape)
    number[AIM] = max(number[FLOOR], number[BEST] * (1.0 - number[SHRINK]))
    number[LOW] = np.inf
    number[TRIED] = np.inf
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
def press(tables: Tables, walk: Walk) -> None:
    """Shorten the shortest lay by pushing all its pieces at once, in steps as long as they succeed."""
    number = walk.number
    step = PRESS_FIRST
    while step > PRESS_LEAST and number[BEST] > number[FLOOR]:
        aim = max(number[FLOOR], number[BEST] * (1.0 - step))
        copy_lay(walk.best_xy, walk.best_shape, walk.trial_xy, walk.shape)
        if settle(tables, walk.trial_xy, walk.shape, aim, walk.used):
            shorter = lay_length(tables, walk.trial_xy, walk.shape)
            if shorter >= number[BEST]:  # at the floor to the last digit: nothing more to gain
                break
            copy_lay(walk.trial_xy, walk.shape, walk.best_xy, walk.best_shape)
            number[BEST] = shorter
            step *= 1.5
        else:
            step *= 0.4


@kernel
def keep_best(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """No overlap is left: keep this lay, press it, and settle by how much the next is to be shorter.

    A lay at the floor ends the walk.
    """
    number = walk.number
    number[BEST] = lay_length(tables, walk.xy, walk.shape)
    copy_lay(walk.xy, walk.shape, walk.best_xy, walk.best_shape)
    press(tables, walk)
    if number[BEST] <= number[FLOOR] + 1e-12 * tables.width:  # not the aim: a lay pushed apart may miss it
        number[DONE] = 1.0
        return
    if number[FAILURES] == 0.0:
        number[SHRINK] = number[SHRINK] * 1.3
    number[SHRINK] = min(settings[SHRINK_MOST], number[SHRINK])


@kernel
def settled(tables: Tables, walk: Walk) -> bool:
    """Push the lay of least loss apart on a strip a little shorter than the shortest; whether that does.

    If so, `walk.xy` and `walk.shape` hold it.
    """
    number = walk.number
    number[TRIED] = number[LOW]
    copy_lay(walk.low_xy, walk.low_shape, walk.trial_xy, walk.low_shape)
    aim = max(number[AIM], number[BEST] * (1.0 - EASE))
    if not settle(tables, walk.trial_xy, walk.low_shape, aim, walk.used):
        return False
    copy_lay(walk.trial_xy, walk.low_shape, walk.xy, walk.shape)
    measure_all(tables, walk)
    return loss_of(tables, walk) == 0.0


@kernel
def strike(tables: Tables, walk: Walk, settings: FloatArray) -> bool:
    """The loss has stopped falling: go back to the least, or exchange pieces; whether to give up this aim.

    The depths of the lay gone back to are still to be measured.
    """
    number, rng = walk.number, walk.rng
    number[STALE] = 0.0
    number[STRIKES] = 0.0 if number[LOW] < 0.98 * number[MARK] else number[STRIKES] + 1.0
    number[MARK] = number[LOW]
    if number[STRIKES] < settings[MAX_STRIKES]:
        copy_lay(walk.low_xy, walk.low_shape, walk.xy, walk.shape)
        return False
    number[STRIKES] = 0.0
    number[FAILURES] += 1.0
    if number[FAILURES] > settings[MAX_FAILURES]:
        number[SHRINK] = max(settings[SHRINK_LEAST], 0.5 * number[SHRINK])
        return True
    slot = int(number[POOLED])
    if slot < POOL:
        number[POOLED] += 1.0
    else:
        slot = 0
        for other in range(1, POOL):
            if walk.pool_loss[other] > walk.pool_loss[slot]:
                slot = other
    walk.pool_loss[slot] = number[LOW]
    copy_lay(walk.low_xy, walk.low_shape, walk.pool_xy[slot], walk.pool_shape[slot])
    held = int(number[POOLED])
    a, b = int(random_share(rng) * held), int(random_share(rng) * held)
    chosen = a if walk.pool_loss[a] <= walk.pool_loss[b] else b
    copy_lay(walk.pool_xy[chosen], walk.pool_shape[chosen], walk.xy, walk.shape)
    even_weights(walk)
    exchange(tables, walk)
    number[LOW] = np.inf
    number[TRIED] = np.inf
    number[MARK] = np.inf
    return False
