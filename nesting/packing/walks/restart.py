"""What a walk does after success and failure, in plain Python: press the lay, aim anew, exchange pieces.

A lay without overlap is kept, pressed together by pushing all its pieces at once, and the aim shortened.
When the overlap at an aim no longer falls (a lull), the lay of least overlap is taken up again; after some
lulls it goes into a small pool, one of the pool has two large pieces exchanged and is tried; after many of
these failures the aim is given up for a longer one. `nesting.packing.walks.separate` then begins anew, as
after success, but every other time from no lay at all.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.kernels.place import share_of
from nesting.packing.kernels.settle import settle
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables
from nesting.packing.walks.walk import (
    AIM,
    BEST,
    DONE,
    FAILURES,
    FLOOR,
    GIVEN_UP,
    LOW,
    LULLS,
    MARK,
    MAX_FAILURES,
    MAX_LULLS,
    POOL,
    POOLED,
    STALE,
    STEP,
    STEP_LEAST,
    STEP_MOST,
    TRIED,
    Walk,
    bring_onto,
)

__all__ = ["after_lull", "begin_anew", "exchange", "keep_best", "large_piece", "settled", "throw_about"]

PRESS_FIRST, PRESS_LEAST = 2e-3, 1e-5
"""Shares of the length by which a lay is pressed together: tried first; at least."""

EASE = 2e-4
"""Share by which a lay pushed apart all at once must be shorter than the shortest."""


def begin_anew(tables: Tables, walk: Walk) -> None:
    """Aim anew from the shortest lay."""
    number = walk.number
    walk.xy[:], walk.shape[:] = walk.best_xy, walk.best_shape
    number[AIM] = max(number[FLOOR], number[BEST] * (1.0 - number[STEP]))
    number[[LOW, TRIED, MARK]] = np.inf
    number[[STALE, LULLS, FAILURES, POOLED]] = 0.0
    walk.weight[:] = walk.scale
    bring_onto(tables, walk)


def throw_about(tables: Tables, walk: Walk) -> None:
    """Every piece to a place and into a shape at random, on the strip aimed at."""
    for i in range(tables.moving):
        first, last = tables.shapes[i]
        walk.shape[i] = first + int(share_of(walk.rng) * (last - first))
        walk.xy[i] = share_of(walk.rng) * walk.number[AIM], share_of(walk.rng) * tables.width
    bring_onto(tables, walk)


def large_piece(tables: Tables, rng: IntArray) -> int:
    """A piece at random, the larger the likelier (by area of the hull)."""
    area = np.cumsum(tables.size[: tables.moving] ** 2)
    return min(int(np.searchsorted(area, share_of(rng) * area[-1], side="right")), tables.moving - 1)


def exchange(tables: Tables, walk: Walk) -> None:
    """Let two large pieces of different kinds change places.

    Each takes a random shape of its own or, where that has no place on the strip, the first that has.
    """
    one = other = large_piece(tables, walk.rng)
    for _ in range(50):
        other = large_piece(tables, walk.rng)
        if tables.shapes[one, 0] != tables.shapes[other, 0]:
            break
    walk.xy[[one, other]] = walk.xy[[other, one]]
    for i in (one, other):
        first, last = tables.shapes[i]
        walk.shape[i] = first + int(share_of(walk.rng) * (last - first))
    bring_onto(tables, walk)


def lay_length(tables: Tables, xy: FloatArray, shape: IntArray) -> float:
    """Where the last piece ends."""
    moving = slice(tables.moving)
    return float((xy[moving, 0] + tables.half[shape[moving], 0]).max())


def press(tables: Tables, walk: Walk) -> None:
    """Shorten the shortest lay by pushing all its pieces at once, in steps as long as they succeed."""
    number, step = walk.number, PRESS_FIRST
    while step > PRESS_LEAST and number[BEST] > number[FLOOR]:
        aim = max(number[FLOOR], number[BEST] * (1.0 - step))
        pressed = walk.best_xy.copy()
        if settle(tables, pressed, walk.best_shape, aim, walk.used):
            shorter = lay_length(tables, pressed, walk.best_shape)
            if shorter >= number[BEST]:  # at the floor to the last digit: nothing more to gain
                break
            walk.best_xy[:] = pressed
            number[BEST] = shorter
            step *= 1.5
        else:
            step *= 0.4


def keep_best(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """No overlap is left: keep this lay, press it, and settle by how much the next is to be shorter.

    A lay at the floor ends the walk, and so does one that is no shorter than the shortest so far: every aim
    is shorter than that but where the floor is a hair below what the longest piece can do.
    """
    number = walk.number
    before = float(number[BEST])
    number[BEST] = lay_length(tables, walk.xy, walk.shape)
    walk.best_xy[:], walk.best_shape[:] = walk.xy, walk.shape
    press(tables, walk)
    at_floor = number[BEST] <= number[FLOOR] + 1e-12 * tables.width  # not the aim: a pushed lay may miss it
    if at_floor or number[BEST] >= before:
        number[DONE] = 1.0
        return
    if number[FAILURES] == 0.0:
        number[STEP] *= 1.3
    number[STEP] = min(settings[STEP_MOST], number[STEP])


def settled(tables: Tables, walk: Walk) -> bool:
    """Push the lay of least overlap apart on a strip a little shorter than the shortest; whether that does.

    If so, `walk.xy` and `walk.shape` hold it.
    """
    number = walk.number
    number[TRIED] = number[LOW]
    pushed = walk.low_xy.copy()
    if not settle(tables, pushed, walk.low_shape, max(number[AIM], number[BEST] * (1.0 - EASE)), walk.used):
        return False
    walk.xy[:], walk.shape[:] = pushed, walk.low_shape
    return True


def after_lull(tables: Tables, walk: Walk, settings: FloatArray) -> bool:
    """Overlap no longer falls: go back to the least, or exchange pieces; whether to give up this aim."""
    number, pool_overlap = walk.number, walk.pool_overlap
    number[STALE] = 0.0
    number[LULLS] = 0.0 if number[LOW] < 0.98 * number[MARK] else number[LULLS] + 1.0
    number[MARK] = number[LOW]
    if number[LULLS] < settings[MAX_LULLS]:
        walk.xy[:], walk.shape[:] = walk.low_xy, walk.low_shape
        bring_onto(tables, walk)
        return False
    number[LULLS] = 0.0
    number[FAILURES] += 1.0
    if number[FAILURES] > settings[MAX_FAILURES]:
        number[STEP] = max(settings[STEP_LEAST], 0.5 * number[STEP])
        number[GIVEN_UP] += 1.0
        return True
    held = int(number[POOLED])
    slot = held if held < POOL else int(np.argmax(pool_overlap))
    held = min(held + 1, POOL)
    number[POOLED] = held
    pool_overlap[slot], walk.pool_xy[slot], walk.pool_shape[slot] = number[LOW], walk.low_xy, walk.low_shape
    drawn = [int(share_of(walk.rng) * held) for _ in range(2)]
    chosen = min(drawn, key=lambda k: float(pool_overlap[k]))
    walk.xy[:], walk.shape[:] = walk.pool_xy[chosen], walk.pool_shape[chosen]
    walk.weight[:] = walk.scale
    exchange(tables, walk)
    number[[LOW, TRIED, MARK]] = np.inf
    return False
