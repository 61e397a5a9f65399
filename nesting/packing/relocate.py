"""One piece's move: to a corner near by or, if that is cheaper, next to a place elsewhere."""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import kernel
from nesting.packing.line_kernel import line_search
from nesting.packing.move_kernel import refine
from nesting.packing.place_kernel import has_place, random_share, snap_x, snap_y
from nesting.packing.sight_kernel import Scratch, cost_at, look_round, touching_spot
from nesting.packing.tables import Tables
from nesting.packing.walk import AIM, POINTS, SAMPLES, WINDOW, Walk, measure

__all__ = ["corner_near", "move_piece", "window_at"]

ASIDE = 1.0
"""How far round its place a piece is tried in another shape, in half perimeters of its box."""

ELSEWHERE = 0.5
"""Share of the moves for which places away from the piece are looked at, too."""

HOPELESS = 4.0
"""A place elsewhere that costs more than this many times the best near by is not looked at closer.

Nine tenths of the places elsewhere that became the best cost less than three times as much before."""


@kernel
def window_at(tables: Tables, s: int, x: float, settings: FloatArray) -> tuple[float, float]:
    """How far along the strip shape `s` looks and moves from x."""
    far = settings[WINDOW] * (tables.half[s, 0] + tables.half[s, 1])
    return x - far, x + far


@kernel
def elsewhere(
    tables: Tables, walk: Walk, scratch: Scratch, i: int, settings: FloatArray, enough: float
) -> tuple[float, float, float, int]:
    """The best of a few places away from where a piece lies: cost (`enough` if none costs less), x, y, shape.

    The first is another shape near the same place, shifted to the cheapest crossing of a line; each of the
    others is the best of some touching spots anywhere on the strip.
    """
    aim, rng, used = walk.number[AIM], walk.rng, walk.used
    old = walk.shape[i]
    first, last = tables.shapes[i, 0], tables.shapes[i, 1]
    best, best_x, best_y, best_s = enough, walk.xy[i, 0], walk.xy[i, 1], old
    for sample in range(int(settings[SAMPLES])):
        s = first + int(random_share(rng) * (last - first))
        if sample == 0 and last - first > 1:
            s = first + (old - first + 1 + int(random_share(rng) * (last - first - 1))) % (last - first)
        if not has_place(tables, s, aim):
            continue
        if sample == 0:
            spread = ASIDE * (tables.half[s, 0] + tables.half[s, 1])
            x = snap_x(tables, s, aim, walk.xy[i, 0] + spread * (random_share(rng) - 0.5))
            y = snap_y(tables, s, walk.xy[i, 1] + spread * (random_share(rng) - 0.5))
            window = window_at(tables, s, x, settings)
            m = look_round(tables, walk.xy, walk.shape, walk.weight, i, s, window, scratch)
            upright = tables.y_rule[s, 2] == 0.0
            line = (x, y, 0.0 if upright else 1.0, 1.0 if upright else 0.0)
            cost, x, y = line_search(
                tables, scratch, m, s, aim, window, line, (-np.inf, np.inf), 0.0, best, used
            )
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
            continue
        m = look_round(tables, walk.xy, walk.shape, walk.weight, i, s, (-np.inf, np.inf), scratch)
        for _ in range(int(settings[POINTS])):
            x, y = touching_spot(tables, scratch, m, s, aim, rng)
            cost = cost_at(tables, scratch, m, x, y, 0.0, best, used)
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
    return best, best_x, best_y, best_s


@kernel
def corner_near(
    tables: Tables,
    walk: Walk,
    scratch: Scratch,
    i: int,
    place: tuple[float, float, int],
    now: float,
    settings: FloatArray,
) -> tuple[float, float, float, float]:
    """From a place (x, y and shape) to a corner near by: cost before and after, x and y.

    The cost before is `now`; inf if that is not known yet.
    """
    x, y, s = place
    window = window_at(tables, s, x, settings)
    m = look_round(tables, walk.xy, walk.shape, walk.weight, i, s, window, scratch)
    if now == np.inf:
        now = cost_at(tables, scratch, m, x, y, 0.0, np.inf, walk.used)
    cost, x, y = refine(tables, scratch, m, s, walk.number[AIM], window, x, y, now, 0.0, walk.used)
    return now, cost, x, y


@kernel
def move_piece(tables: Tables, walk: Walk, scratch: Scratch, i: int, settings: FloatArray) -> None:
    """Move a piece to a corner near by or, if that is cheaper, to one next to a place elsewhere.

    Both lie within what its rules and its window allow.
    """
    place = (walk.xy[i, 0], walk.xy[i, 1], walk.shape[i])
    now, best, best_x, best_y = corner_near(tables, walk, scratch, i, place, np.inf, settings)
    best_s = walk.shape[i]
    if best > 0.0 and random_share(walk.rng) < ELSEWHERE:
        enough = HOPELESS * best
        cost, x, y, s = elsewhere(tables, walk, scratch, i, settings, enough)
        if cost < enough:
            _, cost, x, y = corner_near(tables, walk, scratch, i, (x, y, s), cost, settings)
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
    if best < now:
        walk.xy[i, 0], walk.xy[i, 1], walk.shape[i] = best_x, best_y, best_s
        measure(tables, walk, i)
