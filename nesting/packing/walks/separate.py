"""One walk of the search: shorten the strip, let pieces overlap, move them apart again.

Guided local search on the overlap of a lay (after Umetani et al. 2009 and Egeblad et al. 2007, see
`nesting.packing.kernels.move` for the moves): in each pass every overlapping piece, in random order, moves
to the cheapest place found; the weights of pairs that still overlap then grow, all others slowly fall back
to one.

A walk has an aim, a strip length. When no overlap is left the lay is kept and the aim shortened. When the
overlap (of all pairs, unweighted) stops falling, a lull, the walk returns to the lay of least overlap and
goes on with other weights; after some lulls it puts that lay into a small pool, takes one of the pool,
exchanges two large pieces and tries again; and after many of these failures it gives the aim up for a
longer one, every other time with all pieces thrown about first.
"""

from __future__ import annotations

import numpy as np

from nesting.packing.jit import entry_kernel, kernel
from nesting.packing.kernels.line import line_search
from nesting.packing.kernels.move import refine
from nesting.packing.kernels.place import has_place, random_share, snap_x, snap_y
from nesting.packing.kernels.sight import Scratch, cost_at, look_round, touching_spot
from nesting.packing.outlines.tables import Tables
from nesting.packing.walks.attempt import (
    AIM,
    LOW,
    PUSHED,
    STALE,
    Attempt,
    copy_lay,
    measure,
    overlaps,
    total_overlap,
)
from nesting.packing.walks.restart import after_lull, begin_anew, keep_best, settled, throw_about
from nesting.packing.walks.settings import Settings
from nesting.packing.walks.walk import Walk

__all__ = ["elsewhere", "move_piece", "passes", "raise_weights", "walk_on", "window_at"]

ASIDE = 1.0
"""How far round its place a piece is tried in another shape, in half perimeters of its box."""

ELSEWHERE = 0.5
"""Share of the moves for which places away from the piece are looked at, too."""

HOPELESS = 4.0
"""A place elsewhere that costs more than this many times the best near by is not looked at closer.

Nine tenths of the places elsewhere that became the best cost less than three times as much before."""

WORTH = 0.7
"""All pieces are pushed apart at once when the least overlap fell below this share of that last tried."""


@kernel
def window_at(tables: Tables, s: int, x: float, settings: Settings) -> tuple[float, float]:
    """How far along the strip shape `s` looks and moves from x."""
    far = settings.window * (tables.half[s, 0] + tables.half[s, 1])
    return x - far, x + far


@kernel
def elsewhere(
    tables: Tables, attempt: Attempt, scratch: Scratch, i: int, settings: Settings, enough: float
) -> tuple[float, float, float, int]:
    """The best of a few places away from where a piece lies: cost (`enough` if none costs less), x, y, shape.

    The first is another shape near the same place, shifted to the cheapest crossing of a line; each of the
    others is the best of some touching spots anywhere on the strip.
    """
    aim, rng, used = attempt.number[AIM], attempt.rng, attempt.used
    old = attempt.shape[i]
    first, last = tables.shapes[i, 0], tables.shapes[i, 1]
    best, best_x, best_y, best_s = enough, attempt.xy[i, 0], attempt.xy[i, 1], old
    for sample in range(settings.samples):
        s = first + int(random_share(rng) * (last - first))
        if sample == 0 and last - first > 1:
            s = first + (old - first + 1 + int(random_share(rng) * (last - first - 1))) % (last - first)
        if not has_place(tables, s, aim):
            continue
        if sample == 0:
            spread = ASIDE * (tables.half[s, 0] + tables.half[s, 1])
            x = snap_x(tables, s, aim, attempt.xy[i, 0] + spread * (random_share(rng) - 0.5))
            y = snap_y(tables, s, attempt.xy[i, 1] + spread * (random_share(rng) - 0.5))
            window = window_at(tables, s, x, settings)
            m = look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, window, scratch)
            upright = tables.y_rule[s, 2] == 0.0
            line = (x, y, 0.0 if upright else 1.0, 1.0 if upright else 0.0)
            cost, x, y = line_search(
                tables, scratch, m, s, aim, window, line, (-np.inf, np.inf), 0.0, best, used
            )
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
            continue
        m = look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, (-np.inf, np.inf), scratch)
        for _ in range(settings.points):
            x, y = touching_spot(tables, scratch, m, s, aim, rng)
            cost = cost_at(tables, scratch, m, x, y, 0.0, best, used)
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
    return best, best_x, best_y, best_s


@kernel
def move_piece(tables: Tables, attempt: Attempt, scratch: Scratch, i: int, settings: Settings) -> None:
    """Move a piece to a corner near by or, if that is cheaper, to one next to a place elsewhere.

    Both lie within what its rules and its window allow.
    """
    aim, used, weight = attempt.number[AIM], attempt.used, attempt.weight
    s, x, y = attempt.shape[i], attempt.xy[i, 0], attempt.xy[i, 1]
    window = window_at(tables, s, x, settings)
    m = look_round(tables, attempt.xy, attempt.shape, weight, i, s, window, scratch)
    now = cost_at(tables, scratch, m, x, y, 0.0, np.inf, used)
    best, best_x, best_y = refine(tables, scratch, m, s, aim, window, x, y, now, 0.0, used)
    best_s = s
    if best > 0.0 and random_share(attempt.rng) < ELSEWHERE:
        enough = HOPELESS * best
        cost, x, y, s = elsewhere(tables, attempt, scratch, i, settings, enough)
        if cost < enough:
            window = window_at(tables, s, x, settings)
            m = look_round(tables, attempt.xy, attempt.shape, weight, i, s, window, scratch)
            cost, x, y = refine(tables, scratch, m, s, aim, window, x, y, cost, 0.0, used)
            if cost < best:
                best, best_x, best_y, best_s = cost, x, y, s
    if best < now:
        attempt.xy[i, 0], attempt.xy[i, 1], attempt.shape[i] = best_x, best_y, best_s
        measure(tables, attempt, i)


@kernel
def raise_weights(tables: Tables, attempt: Attempt, settings: Settings) -> None:
    """Pairs that overlap become dearer, by their share of the deepest; all others slowly cheaper.

    The share is that of Umetani et al. 2009, who add it to the weight (from memory); here it multiplies.
    """
    over, weight, scale = attempt.over, attempt.weight, attempt.scale
    deepest = 0.0
    for i in range(tables.moving):
        if overlaps(attempt, i):
            for j in range(over.shape[0]):
                deepest = max(deepest, over[i, j])
    least, decay = settings.grow_least, settings.decay
    growth = settings.grow_most - least
    for i in range(tables.moving):
        for j in range(over.shape[0]):
            factor = least + growth * over[i, j] / deepest if over[i, j] > 0.0 else decay
            weight[i, j] = max(scale[i, j], weight[i, j] * factor)


@entry_kernel
def passes(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, until: int) -> bool:
    """Pass after pass until so many evaluations, or until there is something to decide; whether the lay fits.

    What is to be decided: the lay fits; its overlap has fallen so far that pushing all pieces at once is
    worth while; it has not fallen for long.
    """
    moving, number, turn = tables.moving, attempt.number, scratch.turn
    while attempt.used[0] < until:
        for a in range(moving - 1, 0, -1):
            b = int(random_share(attempt.rng) * (a + 1))
            turn[a], turn[b] = turn[b], turn[a]
        for place in range(moving):
            if overlaps(attempt, turn[place]):
                move_piece(tables, attempt, scratch, turn[place], settings)
        attempt.used[0] += 1  # so that a pass is never free, and a round always ends
        overlap = total_overlap(tables, attempt)
        if overlap == 0.0:
            return True
        if overlap < number[LOW]:
            if overlap < 0.98 * number[LOW]:
                number[STALE] = 0.0
            number[LOW] = overlap
            copy_lay(attempt.xy, attempt.shape, attempt.low_xy, attempt.low_shape)
        number[STALE] += 1.0
        raise_weights(tables, attempt, settings)
        if number[LOW] < WORTH * number[PUSHED] or number[STALE] >= settings.patience:
            break
    return False


def walk_on(tables: Tables, walk: Walk, scratch: Scratch, settings: Settings, budget: int) -> None:
    """Go on for about `budget` evaluations.

    Passes are compiled; what is decided between them is plain Python, which spares a machine's first run
    much compiling (figures: docs/engine-search.md, Cold start).
    """
    used = walk.attempt.used
    until = int(used[0]) + budget
    if walk.aim_mm >= walk.best_mm:
        begin_anew(tables, walk)
    while used[0] < until and not walk.done:
        fits = passes(tables, walk.attempt, scratch, settings, until)
        worth = walk.low < WORTH * walk.low_when_pushed
        tired = walk.stale >= settings.patience
        if not fits and (worth or (tired and walk.low < walk.low_when_pushed)):
            fits = settled(tables, walk)
        given_up = not fits and tired and after_lull(tables, walk, settings)
        if fits:
            keep_best(tables, walk, settings)
        if given_up or (fits and not walk.done):
            begin_anew(tables, walk)
            if given_up and walk.given_up % 2 == 1 and settings.max_failures > 0:
                throw_about(tables, walk)  # from the same lay it may come to the same lays again
