"""Two large pieces change places, each fitted into the room the other leaves."""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import kernel
from nesting.packing.place_kernel import has_place, random_share, snap_x, snap_y
from nesting.packing.relocate import corner_near
from nesting.packing.sight_kernel import Scratch
from nesting.packing.tables import Tables
from nesting.packing.walk import AIM, Walk, copy_lay, loss_of, measure_all

__all__ = ["exchange"]

MOST_TRIED = 6
"""Of at most so many exchanges the one of least loss is taken; of how many is drawn anew each time.

More of them find a shorter lay sooner from a long one, but from a short one always the same: of twelve every
time, lays of 14 to 20 pieces came out longer than of one."""


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
def two_to_exchange(tables: Tables, walk: Walk) -> tuple[int, int]:
    """Two large pieces, of different kinds if there are such."""
    one = large_piece(tables, walk)
    other = one
    for _ in range(50):
        other = large_piece(tables, walk)
        if tables.shapes[one, 0] != tables.shapes[other, 0]:
            break
    return one, other


@kernel
def any_shape(tables: Tables, walk: Walk, i: int) -> int:
    """A shape of piece `i` at random that has a place on this strip."""
    first, last = int(tables.shapes[i, 0]), int(tables.shapes[i, 1])
    s = first + int(random_share(walk.rng) * (last - first))
    for _ in range(last - first):
        if has_place(tables, s, walk.number[AIM]):
            break
        s = s + 1 if s + 1 < last else first
    return s


@kernel
def fit_in(tables: Tables, walk: Walk, scratch: Scratch, i: int, settings: FloatArray) -> None:
    """Put a piece where it costs least near the place it was given, whatever that cost.

    Each of its shapes is tried twice: from that place, and from one at random no farther away than the
    piece is large.
    """
    aim = walk.number[AIM]
    from_x, from_y = walk.xy[i, 0], walk.xy[i, 1]
    walk.xy[i, 0] = snap_x(tables, walk.shape[i], aim, from_x)  # stays there if no shape has a place
    walk.xy[i, 1] = snap_y(tables, walk.shape[i], from_y)
    best = np.inf
    for s in range(tables.shapes[i, 0], tables.shapes[i, 1]):
        if not has_place(tables, s, aim):
            continue
        for spread in (0.0, tables.half[s, 0] + tables.half[s, 1]):
            x = snap_x(tables, s, aim, from_x + spread * (random_share(walk.rng) - 0.5))
            y = snap_y(tables, s, from_y + spread * (random_share(walk.rng) - 0.5))
            _, cost, x, y = corner_near(tables, walk, scratch, i, (x, y, s), np.inf, settings)
            if cost < best:
                best, walk.xy[i, 0], walk.xy[i, 1], walk.shape[i] = cost, x, y, s


@kernel
def exchange(tables: Tables, walk: Walk, scratch: Scratch, settings: FloatArray) -> None:
    """Let two large pieces change places: of a few such exchanges at random, the one of least loss.

    Two of one kind, where there is no other, are not fitted: that would bring back the lay as it was. They
    are put in shapes at random.

    The lay of least loss, `low_xy`, is overwritten: whoever exchanges begins anew.
    """
    xy, shape, was, was_shape = walk.xy, walk.shape, walk.low_xy, walk.low_shape
    copy_lay(xy, shape, was, was_shape)
    least = np.inf
    one = other = one_s = other_s = 0
    one_x = one_y = other_x = other_y = 0.0
    for _ in range(1 + int(random_share(walk.rng) * MOST_TRIED)):
        a, b = two_to_exchange(tables, walk)
        alike = tables.shapes[a, 0] == tables.shapes[b, 0]
        for i, j in ((a, b), (b, a)):
            xy[i, 0], xy[i, 1] = was[j, 0], was[j, 1]
        for i in (a, b):
            if alike:
                s = any_shape(tables, walk, i)
                shape[i] = s
                xy[i, 0] = snap_x(tables, s, walk.number[AIM], xy[i, 0])
                xy[i, 1] = snap_y(tables, s, xy[i, 1])
            else:
                fit_in(tables, walk, scratch, i, settings)
        measure_all(tables, walk)
        loss = loss_of(tables, walk)
        if loss < least:
            least, one, other = loss, a, b
            one_x, one_y, one_s = xy[a, 0], xy[a, 1], shape[a]
            other_x, other_y, other_s = xy[b, 0], xy[b, 1], shape[b]
        if alike:
            break
        for i in (a, b):
            xy[i, 0], xy[i, 1], shape[i] = was[i, 0], was[i, 1], was_shape[i]
    xy[one, 0], xy[one, 1], shape[one] = one_x, one_y, one_s
    xy[other, 0], xy[other, 1], shape[other] = other_x, other_y, other_s
    measure_all(tables, walk)
