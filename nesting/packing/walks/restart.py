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
from nesting.packing.walks.attempt import Attempt, bring_onto
from nesting.packing.walks.settings import Settings
from nesting.packing.walks.walk import POOL, PooledLay, Walk

__all__ = ["after_lull", "begin_anew", "exchange", "keep_best", "large_piece", "settled", "throw_about"]

PRESS_FIRST, PRESS_LEAST = 2e-3, 1e-5
"""Shares of the length by which a lay is pressed together: tried first; at least."""

EASE = 2e-4
"""Share by which a lay pushed apart all at once must be shorter than the shortest."""


def begin_anew(tables: Tables, walk: Walk) -> None:
    """Aim anew from the shortest lay."""
    attempt = walk.attempt
    attempt.xy[:], attempt.shape[:] = walk.best_xy, walk.best_shape
    attempt.weight[:] = attempt.scale
    walk.aim_mm = max(walk.floor_mm, walk.best_mm * (1.0 - walk.step))
    walk.low = walk.low_when_pushed = walk.low_at_lull = np.inf
    walk.stale = 0.0
    walk.lulls = walk.failures = 0
    walk.pool.clear()
    bring_onto(tables, attempt)


def throw_about(tables: Tables, walk: Walk) -> None:
    """Every piece to a place and into a shape at random, on the strip aimed at."""
    attempt, rng = walk.attempt, walk.attempt.rng
    for i in range(tables.moving):
        first, last = tables.shapes[i]
        attempt.shape[i] = first + int(share_of(rng) * (last - first))
        attempt.xy[i] = share_of(rng) * walk.aim_mm, share_of(rng) * tables.width
    bring_onto(tables, attempt)


def large_piece(tables: Tables, rng: IntArray) -> int:
    """A piece at random, the larger the likelier (by area of the hull)."""
    area = np.cumsum(tables.size[: tables.moving] ** 2)
    return min(int(np.searchsorted(area, share_of(rng) * area[-1], side="right")), tables.moving - 1)


def exchange(tables: Tables, attempt: Attempt) -> None:
    """Let two large pieces of different kinds change places.

    Each takes a random shape of its own or, where that has no place on the strip, the first that has.
    """
    one = other = large_piece(tables, attempt.rng)
    for _ in range(50):
        other = large_piece(tables, attempt.rng)
        if tables.shapes[one, 0] != tables.shapes[other, 0]:
            break
    attempt.xy[[one, other]] = attempt.xy[[other, one]]
    for i in (one, other):
        first, last = tables.shapes[i]
        attempt.shape[i] = first + int(share_of(attempt.rng) * (last - first))
    bring_onto(tables, attempt)


def lay_length(tables: Tables, xy: FloatArray, shape: IntArray) -> float:
    """Where the last piece ends."""
    moving = slice(tables.moving)
    return float((xy[moving, 0] + tables.half[shape[moving], 0]).max())


def press(tables: Tables, walk: Walk) -> None:
    """Shorten the shortest lay by pushing all its pieces at once, in steps as long as they succeed."""
    step = PRESS_FIRST
    while step > PRESS_LEAST and walk.best_mm > walk.floor_mm:
        aim = max(walk.floor_mm, walk.best_mm * (1.0 - step))
        pressed = walk.best_xy.copy()
        if settle(tables, pressed, walk.best_shape, aim, walk.attempt.used):
            shorter = lay_length(tables, pressed, walk.best_shape)
            if shorter >= walk.best_mm:  # at the floor to the last digit: nothing more to gain
                break
            walk.best_xy[:] = pressed
            walk.best_mm = shorter
            step *= 1.5
        else:
            step *= 0.4


def keep_best(tables: Tables, walk: Walk, settings: Settings) -> None:
    """No overlap is left: keep this lay, press it, and settle by how much the next is to be shorter.

    A lay at the floor ends the walk, and so does one that is no shorter than the shortest so far: every aim
    is shorter than that but where the floor is a hair below what the longest piece can do.
    """
    attempt, before = walk.attempt, walk.best_mm
    walk.best_mm = lay_length(tables, attempt.xy, attempt.shape)
    walk.best_xy[:], walk.best_shape[:] = attempt.xy, attempt.shape
    press(tables, walk)
    at_floor = walk.best_mm <= walk.floor_mm + 1e-12 * tables.width  # not the aim: a pushed lay may miss it
    if at_floor or walk.best_mm >= before:
        walk.done = True
        return
    if walk.failures == 0:
        walk.step *= 1.3
    walk.step = min(settings.step_most, walk.step)


def settled(tables: Tables, walk: Walk) -> bool:
    """Push the lay of least overlap apart on a strip a little shorter than the shortest; whether that does.

    If so, the attempt holds it.
    """
    attempt = walk.attempt
    walk.low_when_pushed = walk.low
    pushed = attempt.low_xy.copy()
    aim = max(walk.aim_mm, walk.best_mm * (1.0 - EASE))
    if not settle(tables, pushed, attempt.low_shape, aim, attempt.used):
        return False
    attempt.xy[:], attempt.shape[:] = pushed, attempt.low_shape
    return True


def after_lull(tables: Tables, walk: Walk, settings: Settings) -> bool:
    """Overlap no longer falls: go back to the least, or exchange pieces; whether to give up this aim."""
    attempt = walk.attempt
    walk.stale = 0.0
    walk.lulls = 0 if walk.low < 0.98 * walk.low_at_lull else walk.lulls + 1
    walk.low_at_lull = walk.low
    if walk.lulls < settings.max_lulls:
        attempt.xy[:], attempt.shape[:] = attempt.low_xy, attempt.low_shape
        bring_onto(tables, attempt)
        return False
    walk.lulls = 0
    walk.failures += 1
    if walk.failures > settings.max_failures:
        walk.step = max(settings.step_least, 0.5 * walk.step)
        walk.given_up += 1
        return True
    put_into_pool(walk)
    drawn = [walk.pool[int(share_of(attempt.rng) * len(walk.pool))] for _ in range(2)]
    chosen = min(drawn, key=lambda lay: lay.overlap)
    attempt.xy[:], attempt.shape[:] = chosen.xy, chosen.shape
    attempt.weight[:] = attempt.scale
    exchange(tables, attempt)
    walk.low = walk.low_when_pushed = walk.low_at_lull = np.inf
    return False


def put_into_pool(walk: Walk) -> None:
    """Keep the lay of least overlap for later; in a full pool it replaces the one of the most."""
    lay = PooledLay(walk.low, walk.attempt.low_xy.copy(), walk.attempt.low_shape.copy())
    if len(walk.pool) < POOL:
        walk.pool.append(lay)
    else:
        walk.pool[max(range(POOL), key=lambda place: walk.pool[place].overlap)] = lay
