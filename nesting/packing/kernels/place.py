"""Where may a shape lie? The positions its rules and the strip allow, and random ones of them."""

from __future__ import annotations

import numpy as np

from nesting.packing.jit import inner_kernel, kernel, plain
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Tables

__all__ = ["has_place", "random_share", "random_spot", "reach", "share_of", "snap_x", "snap_y"]


@inner_kernel
def random_share(rng: IntArray) -> float:
    """Next number in [0, 1) of a xorshift generator (Marsaglia 2003, 'Xorshift RNGs') kept in ``rng[0]``."""
    state = np.uint64(rng[0])
    state ^= state << np.uint64(13)
    state ^= state >> np.uint64(7)
    state ^= state << np.uint64(17)
    rng[0] = np.int64(state)
    return float(state >> np.uint64(11)) / 9007199254740992.0


share_of = plain(random_share)
"""As `random_share`, from Python."""


@inner_kernel
def reach(tables: Tables, s: int, length: float) -> float:
    """Greatest x of the centre of shape `s` on a strip of this length (below its least: it has no place)."""
    last = min(length - tables.half[s, 0], tables.x_rule[s, 2])
    step = tables.x_rule[s, 1]
    if step > 0.0:
        first = tables.x_rule[s, 0]
        last = first + float(np.floor((last - first) / step + 1e-9)) * step
    return float(last)


@inner_kernel
def snap_x(tables: Tables, s: int, length: float, x: float) -> float:
    """Nearest allowed x of the centre."""
    first, step = tables.x_rule[s, 0], tables.x_rule[s, 1]
    if step > 0.0:
        x = first + np.round((x - first) / step) * step
    return float(max(first, min(x, reach(tables, s, length))))


@inner_kernel
def snap_y(tables: Tables, s: int, y: float) -> float:
    """Nearest allowed y of the centre."""
    first, step, count = tables.y_rule[s, 0], tables.y_rule[s, 1], tables.y_rule[s, 2]
    if count > 0.0:
        return float(first + max(0.0, min(np.round((y - first) / step), count - 1.0)) * step)
    return float(max(first, min(y, tables.width - tables.half[s, 1])))


@kernel
def random_spot(tables: Tables, s: int, length: float, rng: IntArray) -> tuple[float, float]:
    """Any allowed position of the centre, all alike."""
    first = tables.x_rule[s, 0]
    x = snap_x(tables, s, length, first + random_share(rng) * (length - tables.half[s, 0] - first))
    low, step, count = tables.y_rule[s, 0], tables.y_rule[s, 1], tables.y_rule[s, 2]
    if count > 0.0:
        return x, low + np.floor(random_share(rng) * count) * step
    return x, low + random_share(rng) * max(0.0, tables.width - tables.half[s, 1] - low)


@inner_kernel
def has_place(tables: Tables, s: int, length: float) -> bool:
    """Whether shape `s` has any place on a strip of this length, within its window."""
    return bool(reach(tables, s, length) >= tables.x_rule[s, 0] - 1e-9 * tables.width)
