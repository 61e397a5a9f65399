"""Compiled inner parts of `nesting.packing.bounds.proof`, which says what they prove and why."""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.jit import entry_kernel, kernel
from nesting.packing.outlines.shapes import IntArray

__all__ = ["REFUTED", "inner_intervals", "refute"]

TRIES = 2000
"""Orders tried in one node; more, and it is taken to be possible."""

VARIANT_BELOW = 0.25
"""Of the length: variants are told apart once no piece's range of x is longer."""

REFUTED, FOUND, UNDECIDED = range(3)
"""No arrangement exists; the relaxed problem seems to have one; the budget of nodes was used first."""


@entry_kernel
def inner_intervals(
    edge: FloatArray, low: FloatArray, high: FloatArray, width: float, loose: float, span: FloatArray
) -> None:
    """For each column of a no-fit polygon the greatest range of y that is inside for every x of the column.

    Parameters
    ----------
    edge : (E, 8) float64
        As in `Tables`.
    low, high : (C,) float64
        Filled with the ranges; low >= high where there is none. C columns, the middle of all at x = 0.
    width, loose : float
        Of a column, and how much further it is looked on both sides.
    span : (E, 2) float64
        Room to work in.
    """
    columns = len(low)
    for c in range(columns):
        left = (c - columns / 2) * width - loose
        right = left + width + 2 * loose
        middle = 0.5 * (left + right)
        count = 0
        for e in range(len(edge)):
            ax, ay, bx, by = edge[e, 0], edge[e, 1], edge[e, 2], edge[e, 3]
            if max(ax, bx) < left or min(ax, bx) > right:
                continue
            if ax != bx:
                one = ay + (by - ay) * min(1.0, max(0.0, (left - ax) / (bx - ax)))
                two = ay + (by - ay) * min(1.0, max(0.0, (right - ax) / (bx - ax)))
            else:
                one, two = ay, by
            lowest, highest = min(one, two), max(one, two)
            at = count
            while at > 0 and span[at - 1, 0] > lowest:  # kept in order of their lower ends
                span[at, 0], span[at, 1] = span[at - 1, 0], span[at - 1, 1]
                at -= 1
            span[at, 0], span[at, 1] = lowest, highest
            count += 1
        low[c], high[c] = 0.0, 0.0
        for s in range(1, count):
            span[s, 1] = max(span[s, 1], span[s - 1, 1])
            begin, end = span[s - 1, 1], span[s, 0]
            if end - begin > high[c] - low[c]:
                y = 0.5 * (begin + end)
                inside = False
                for e in range(len(edge)):
                    ax, bx = edge[e, 0], edge[e, 2]
                    if (ax <= middle) != (bx <= middle):
                        cross = edge[e, 1] + (edge[e, 3] - edge[e, 1]) * (middle - ax) / (bx - ax)
                        if cross > y:
                            inside = not inside
                if inside:
                    low[c], high[c] = begin, end


@entry_kernel
def refute(
    kind: IntArray,
    ways: IntArray,
    slot: IntArray,
    half: FloatArray,
    rule: FloatArray,
    low: FloatArray,
    high: FloatArray,
    width: float,
    length: float,
    grain: float,
    partner: int,
    budget: int,
    stack: FloatArray,
    depth_state: FloatArray,
    pair_state: FloatArray,
    used: IntArray,
) -> int:
    """Whether no arrangement of the pieces fits into `length`; see `nesting.packing.bounds.proof`.

    Parameters
    ----------
    kind : (N,) int64
        Kind of each piece; equal kinds are next to each other.
    ways, slot : (K,) int64
        Variants of each kind, and the row of its first; the row after its last stands for "any of them".
    half : (M,) float64, mm
        Half the extent along x by row.
    rule : (M, 2) float64, mm
        Least and greatest y of the centre by row.
    low, high : (M, M, C) float64, mm
        By rows of two pieces and column of x_2 - x_1: forbidden y_2 - y_1.
    width, length : float, mm
        Of a column, and of the strip.
    grain : float, mm
        Heights nearer to each other than this are the same.
    partner : int
        The piece that piece 0 changes places with when an arrangement is turned end for end; -1 for none.
    budget : int
        Steps: nodes, and orders tried in them.
    stack, depth_state, pair_state
        Room to work in: (D, 3, N), (N * N + 2, N), (N * N + 2, 6).
    used : (1,) int64
        Steps used are added.
    """
    n = len(kind)
    columns = low.shape[2]
    half_columns = columns / 2
    left, right, way = stack[0, 0], stack[0, 1], stack[0, 2]
    for i in range(n):
        way[i] = ways[kind[i]] if ways[kind[i]] > 1 else 0
        row = slot[kind[i]] + int(way[i])
        left[i], right[i] = half[row], length - half[row]
        if left[i] > right[i]:
            return REFUTED
    top = 1
    most_ways = 1
    for k in range(len(ways)):
        most_ways = max(most_ways, ways[k])
    last_use = used[0] + budget
    while top > 0:
        if used[0] >= last_use or top + most_ways > len(stack):
            return UNDECIDED
        used[0] += 1
        here = top - 1
        left, right, way = stack[here, 0], stack[here, 1], stack[here, 2]
        possible = True
        for i in range(1, n):  # of equal pieces the earlier lies no further along
            if kind[i] == kind[i - 1] and left[i - 1] > right[i]:
                possible = False
        if partner >= 0 and left[0] + left[partner] > length + grain:
            possible = False
        # what each pair forbids, whatever the pieces' places within their ranges
        count = 0
        if possible:
            for i in range(n):
                row = slot[kind[i]] + int(way[i])
                depth_state[0, i] = rule[row, 0]
            for i in range(n):
                one = slot[kind[i]] + int(way[i])
                for j in range(i + 1, n):
                    other = slot[kind[j]] + int(way[j])
                    first = (left[j] - right[i]) / width + half_columns
                    last = (right[j] - left[i]) / width + half_columns
                    if first < 0.0 or last >= columns:
                        continue
                    below, above = -np.inf, np.inf
                    for c in range(int(first), int(last) + 1):
                        below = max(below, low[one, other, c])
                        above = min(above, high[one, other, c])
                        if below >= above:
                            break
                    if below < above:
                        pair_state[count, 0], pair_state[count, 1] = i, j
                        pair_state[count, 2], pair_state[count, 3] = below, above
                        count += 1
            # int: a plain 0 is a type of its own to numba, which would compile `_stackable` once more for it
            possible = _stackable(kind, slot, way, rule, grain, int(count), depth_state, pair_state, used)
        if not possible:
            top -= 1
            continue
        widest, which, weightiest = 0.0, -1, -1.0
        open_way = -1
        for i in range(n):
            wide = right[i] - left[i]
            widest = max(widest, wide)
            # the taller a piece, the more its place decides
            weight = wide * rule[slot[kind[i]] + int(way[i]), 0]
            if wide > width and weight > weightiest:
                weightiest, which = weight, i
            if open_way < 0 and ways[kind[i]] > 1 and way[i] == ways[kind[i]]:
                open_way = i
        if open_way >= 0 and widest < VARIANT_BELOW * length:
            i = open_way
            top -= 1
            before_left, before_right = left[i], right[i]
            for one_way in range(ways[kind[i]]):
                row = slot[kind[i]] + one_way
                low_x, high_x = max(before_left, half[row]), min(before_right, length - half[row])
                if low_x > high_x:
                    continue
                if top != here:
                    _copy_ranges(stack, here, top)
                stack[top, 0, i], stack[top, 1, i], stack[top, 2, i] = low_x, high_x, one_way
                top += 1
            continue
        if widest <= width:
            return FOUND
        middle = 0.5 * (left[which] + right[which])
        _copy_ranges(stack, here, top)
        left[which] = middle
        stack[top, 1, which] = middle
        top += 1
    return REFUTED


@kernel
def _copy_ranges(stack: FloatArray, here: int, there: int) -> None:
    """Ranges and variants of one node of the search to another."""
    for part in range(3):
        for q in range(stack.shape[2]):
            stack[there, part, q] = stack[here, part, q]


@kernel
def _stackable(
    kind: IntArray,
    slot: IntArray,
    way: FloatArray,
    rule: FloatArray,
    grain: float,
    count: int,
    lowest: FloatArray,
    pair: FloatArray,
    used: IntArray,
) -> bool:
    """Whether heights exist with each pair in one order or the other.

    ``lowest[d]`` are the least heights that keep to the first d choices; ``pair[d, 4]`` is the pair chosen at
    step d, ``pair[d, 5]`` its order: 0 the second below the first, 1 above. Any arrangement that keeps to the
    choices lies at or above `lowest`, so where that itself breaks no pair, it is an arrangement.
    """
    n = len(kind)
    d = 0
    tries = 0
    while True:
        broken, worst = -1, 2 * grain
        for p in range(count):
            between = lowest[d, int(pair[p, 1])] - lowest[d, int(pair[p, 0])]
            lift = min(between - pair[p, 2], pair[p, 3] - between)
            if lift > worst:  # the pair that costs most whichever order it takes
                broken, worst = p, lift
        if broken < 0:
            return True
        pair[d, 4], pair[d, 5] = broken, -1.0
        while True:  # the next order of the last choice that has one left
            if pair[d, 5] >= 1.0:
                d -= 1
                if d < 0:
                    return False
                continue
            pair[d, 5] += 1.0
            used[0] += 1
            tries += 1
            if tries > TRIES:
                return True
            for q in range(n):
                lowest[d + 1, q] = lowest[d, q]
            moved, fits, rounds = True, True, 0
            while moved and fits:
                moved = False
                rounds += 1
                if rounds > n + 1:  # the choices go round in a circle that lifts without end
                    fits = False
                    break
                for step in range(d + 1):
                    p = int(pair[step, 4])
                    i, j = int(pair[p, 0]), int(pair[p, 1])
                    if pair[step, 5] == 0.0:  # y_j - y_i <= below: lift i
                        target, least = i, lowest[d + 1, j] - pair[p, 2]
                    else:
                        target, least = j, lowest[d + 1, i] + pair[p, 3]
                    if lowest[d + 1, target] < least - grain:
                        lowest[d + 1, target] = least
                        moved = True
                        if least > rule[slot[kind[target]] + int(way[target]), 1]:
                            fits = False
                            break
            if fits:
                d += 1
                break
