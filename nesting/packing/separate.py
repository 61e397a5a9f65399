"""One walk of the search: shorten the strip, let pieces overlap, move them apart again.

Guided local search on the overlap of a lay (after Umetani et al. 2009 and Egeblad et al. 2007, see
`nesting.packing.relocate` for the moves): in each pass every overlapping piece, in random order, moves
to the cheapest place found; the weights of pairs that still overlap then grow, all others slowly fall back
to one.

A walk has an aim, a strip length. When no overlap is left the lay is kept and the aim shortened. When the
loss (total overlap, unweighted) stops falling, the walk returns to the lay of least loss and goes on with
other weights; after some such strikes it puts that lay into a small pool, takes one of the pool, exchanges
two large pieces and tries again; and after some of these failures it gives the aim up for a longer one.
"""

from __future__ import annotations

from nesting.geometry import FloatArray
from nesting.packing.exchange import exchange
from nesting.packing.jit import kernel
from nesting.packing.place_kernel import random_share
from nesting.packing.relocate import move_piece
from nesting.packing.restart import begin_anew, keep_best, settled, strike
from nesting.packing.sight_kernel import Scratch
from nesting.packing.tables import Tables
from nesting.packing.walk import (
    AIM,
    BEST,
    DECAY,
    DONE,
    FAILURES,
    GROW_FIRST,
    GROW_LATER,
    GROW_LEAST,
    LOW,
    PATIENCE,
    STALE,
    TRIED,
    Walk,
    copy_lay,
    loss_of,
)

__all__ = ["walk_on"]

WORTH = 0.7
"""All pieces are pushed apart at once when the least loss fell below this share of that last tried."""


@kernel
def raise_weights(tables: Tables, walk: Walk, settings: FloatArray) -> None:
    """Pairs that overlap become dearer, the deeper the more; all others slowly cheaper.

    Once pieces were exchanged the deepest grow less: then the lay is to be mended more than moved.
    """
    over, weight, scale = walk.over, walk.weight, walk.scale
    most = settings[GROW_FIRST] if walk.number[FAILURES] == 0.0 else settings[GROW_LATER]
    deepest = 0.0
    for i in range(tables.moving):
        for j in range(over.shape[0]):
            deepest = max(deepest, over[i, j])
    for i in range(tables.moving):
        for j in range(over.shape[0]):
            if over[i, j] > 0.0:
                growth = most - settings[GROW_LEAST]
                weight[i, j] *= settings[GROW_LEAST] + growth * over[i, j] / deepest
            else:
                weight[i, j] = max(scale[i, j], weight[i, j] * settings[DECAY])


@kernel
def walk_on(tables: Tables, walk: Walk, scratch: Scratch, settings: FloatArray, budget: int) -> None:
    """Go on for about `budget` evaluations."""
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
        if loss < number[LOW]:
            if loss < 0.98 * number[LOW]:
                number[STALE] = 0.0
            number[LOW] = loss
            copy_lay(walk.xy, walk.shape, walk.low_xy, walk.low_shape)
        number[STALE] += 1.0
        weary = number[STALE] >= settings[PATIENCE]
        worth = number[LOW] < (1.0 if weary else WORTH) * number[TRIED]
        if loss == 0.0 or (worth and settled(tables, walk)):
            keep_best(tables, walk, settings)
            continue
        raise_weights(tables, walk, settings)
        if weary and strike(tables, walk, settings):
            exchange(tables, walk, scratch, settings)
