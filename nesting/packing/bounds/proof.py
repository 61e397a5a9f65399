"""A proof by exhaustion that a few pieces need more than a given length of strip.

Proof
-----
Leave all items out but a few copies, and forget lattices along, windows and obstacles: what is left
needs no more strip.
Let (x_i, y_i) be the middle of copy i's box. Divide all the ways in which the copies may lie on a strip of
length L into *steps*: a range for each x_i, and for each copy one variant or "any". Two copies may not lie
with (x_j - x_i, y_j - y_i) inside their no-fit polygon. When x_j - x_i is known to be in some range, a
range (a, b) of y_j - y_i is inside for all of it, hence forbidden: either ``y_j - y_i <= a`` (j below i) or
``y_j - y_i >= b`` (above). Where a no-fit polygon has several such ranges only the largest is used, and for
"any" variant what all variants forbid: both allow more. If no choice of below and above for all pairs lets
every y_i keep to the strip, the node holds no lay. The choices are tried by depth first: given some, the
least heights that keep to them are found by lifting until nothing changes; if no pair is broken there, the
node may hold a lay; if one is, one of its two orders must hold. A node that may hold a lay is halved, by the
longest range of x or by the variants. When no node is left, no lay of length L exists, nor a shorter one.

That is exact but for the widths of the ranges of x at which the search gives up and calls the length open.

Two symmetries are used. Of equal items the first lies no further along (change their names). And where the
copies, each mirrored end for end, are the same shapes again, the first copy's among them that of copy p
(perhaps itself), ``x_1 + x_p <= L``: if not, mirror the whole lay, which makes the sum ``2 L`` less the old
one (less still, when equal items then change names). None may be held to a part of the strip or to a lattice
across, for then not every turn is in the tables (`nesting.packing.bounds.bound` sees to that).

Where polygons of smaller outlines inside the true ones stand in (`nesting.packing.bounds.bound`), (x_i, y_i)
is still the middle of the true outline's box, so both symmetries hold as they are. The sides of a smaller box
lie within some distance d inside those of the true one, so its middle within d/2 of the true one along x and
along y, and two smaller outlines lie within d of where the true middles say. What a pair forbids is therefore
taken only where it is forbidden for all differences within `loose_mm`, at least 2 d, along x and along y; and
the strip's sides are as far away for a smaller outline as for the true one, or farther.

The derivation is our own; choosing between below and above is the disjunctive branching known from scheduling
(Carlier and Pinson 1989, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.bounds.kernel import REFUTED, inner_intervals, refute
from nesting.packing.bounds.treatment import Treated, Treatment
from nesting.packing.outlines.tables import Tables

__all__ = ["TREATED", "proven_length"]

_ALONG = "only turns that can't lie so are left out; what lies so lies somewhere along the strip"
TREATED: Treated = {
    "Item.name": (Treatment.IGNORED, "a word"),
    "Item.outline": (Treatment.LOOSENED, "no-fit polygons nowhere larger than the true ones, looser still"),
    "Item.demand": (Treatment.LOOSENED, "all are left out but a few copies, which need no more strip"),
    "Item.variants": (Treatment.OBEYED, ""),
    "Item.edge": (Treatment.LOOSENED, "any height between the least and the greatest it allows"),
    "Item.x_lattice": (Treatment.LOOSENED, _ALONG),
    "Item.y_lattice": (Treatment.LOOSENED, "any height between the least and the greatest it allows"),
    "Item.x_window_mm": (Treatment.LOOSENED, _ALONG),
    "Item.any_turn": (Treatment.LOOSENED, "items that may lie at any angle are left out"),
    "StripProblem.width_mm": (Treatment.OBEYED, ""),
    "StripProblem.items": (Treatment.LOOSENED, "all are left out but a few copies, which need no more strip"),
    "StripProblem.gap_mm": (Treatment.LOOSENED, "kept across the strip only"),
    "StripProblem.obstacles": (Treatment.IGNORED, "without them there is more room"),
}
"""How each field is treated, and why the bound is one all the same."""

SOME = (5,)
"""So many of the largest pieces are tried by themselves first: often enough, and quicker."""

FIRST_STEP, CLOSE = 0.16, 2e-4
"""Relative: how much longer the first length tried is, and when to be content."""

TESTS = 4
"""Into which the rest of the budget is divided for each length tried."""

ROWS = 50
"""Most variants of all kinds together; memory and time grow with the square."""


def proven_length(
    tables: Tables,
    mirror: Sequence[int],
    least: float,
    *,
    gap_mm: float,
    loose_mm: float,
    most: int = 8,
    steps: int = 300_000,
    columns: int = 300,
) -> float:
    """The greatest length found to be too short for some of the largest pieces, or `least`.

    Parameters
    ----------
    tables : Tables
        Built without a gap: its no-fit polygons may be smaller than the true ones, never larger.
    mirror : sequence of int
        For each piece one (of the item) that it changes places with when a lay is mirrored end for end; -1
        where there is none.
    least : float, mm
        A bound already known.
    gap_mm : float
        Kept between any two pieces: it widens what is forbidden across the strip.
    loose_mm : float
        By how much two pieces may lie deeper in each other than the polygons say, and off the strip's sides;
        along x and along y each.
    most : int
        Pieces looked at.
    steps : int
        Budget, all lengths tried together.
    columns : int
        Into which the no-fit polygons are cut along x: more come closer to the shortest lay.
    """
    chosen = _largest(tables, most)
    if len(chosen) < 2:
        return least
    search = _Search(tables, chosen, gap_mm, loose_mm, columns)
    sizes = sorted({min(n, len(chosen)) for n in (*SOME, most)})
    groups = [(n, _partner(tables, mirror, chosen[:n])) for n in sizes]
    best, step = least, FIRST_STEP
    while step > CLOSE and search.used[0] < steps:
        length = best * (1 + step)
        share = (steps - int(search.used[0])) // (TESTS * len(groups)) + 1
        if any(search.refutes(length, n, partner, share) for n, partner in groups):
            best = length
        else:
            step /= 2
    return best


class _Search:
    """What is asked of the kernel again and again, for one length after another."""

    def __init__(self, tables: Tables, chosen: list[int], gap: float, loose: float, columns: int) -> None:
        ranges = [(int(tables.shapes[p, 0]), int(tables.shapes[p, 1])) for p in chosen]
        kinds = sorted(set(ranges), key=ranges.index)
        self.kind = np.array([kinds.index(r) for r in ranges])
        self.ways = np.array([last - first for first, last in kinds])
        self.slot = np.concatenate([[0], np.cumsum(self.ways + 1)])[:-1]
        self.half, self.rule = _rows(tables, kinds, loose)
        self.low, self.high, self.column = _forbidden(tables, kinds, gap, loose, columns)
        self.grain = 1e-9 * tables.width
        self.used = np.zeros(1, dtype=np.int64)

    def refutes(self, length: float, n: int, partner: int, budget: int) -> bool:
        """Whether the first `n` pieces are shown to need more than `length`."""
        answer = refute(
            self.kind[:n],
            self.ways,
            self.slot,
            self.half,
            self.rule,
            self.low,
            self.high,
            self.column,
            length,
            self.grain,
            partner,
            budget,
            np.empty((64 * n + 64, 3, n)),
            np.empty((n * n + 2, n)),
            np.empty((n * n + 2, 6)),
            self.used,
        )
        return answer == REFUTED


def _partner(tables: Tables, mirror: Sequence[int], chosen: list[int]) -> int:
    """Place in `chosen` of the piece that the first changes places with; -1 where others have no place."""
    item = [int(tables.shapes[p, 0]) for p in chosen]
    if any(mirror[p] < 0 for p in chosen):
        return -1
    other = [int(tables.shapes[mirror[p], 0]) for p in chosen]
    return item.index(other[0]) if sorted(item) == sorted(other) else -1


def _largest(tables: Tables, most: int) -> list[int]:
    """Pieces that are hardest to place, equal ones together."""
    size = tables.size[: tables.moving]
    order = np.lexsort((np.arange(tables.moving), -size))[:most]
    chosen: list[int] = []
    rows = 0
    seen = set()
    for p in order:
        first, last = (int(s) for s in tables.shapes[p])
        more = 0 if first in seen else last - first + 1
        if rows + more > ROWS:
            break
        rows += more
        seen.add(first)
        chosen.append(int(p))
    return sorted(chosen, key=lambda p: (-size[p], tables.shapes[p, 0], p))


def _rows(tables: Tables, kinds: list[tuple[int, int]], loose: float) -> tuple[FloatArray, FloatArray]:
    """Half extents along x, and the range of y, of each variant and then of "any", kind by kind."""
    half, rule = [], []
    for first, last in kinds:
        halves = tables.half[first:last, 0] - loose
        y = tables.y_rule[first:last]
        low = y[:, 0]
        free = np.maximum(low, tables.width - tables.half[first:last, 1])
        high = np.where(y[:, 2] > 0, low + y[:, 1] * (y[:, 2] - 1), free)
        half.append(np.append(halves, halves.min()))
        rule.append(np.column_stack([np.append(low, low.min()) - loose, np.append(high, high.max()) + loose]))
    return np.concatenate(half), np.concatenate(rule)


def _forbidden(
    tables: Tables, kinds: list[tuple[int, int]], gap: float, loose: float, columns: int
) -> tuple[FloatArray, FloatArray, float]:
    """What is forbidden across, by rows and columns; and the width of a column."""
    shapes = [s for first, last in kinds for s in range(first, last)]
    needed = sorted({int(tables.pair[a, b]) for a in shapes for b in shapes})
    reach = max(float(np.abs(tables.box[k, [0, 2]]).max()) for k in needed)
    width = 2 * reach / columns
    low, high = np.zeros((len(needed), columns)), np.zeros((len(needed), columns))
    for n, k in enumerate(needed):
        edge = tables.edge[tables.edge_first[k] : tables.edge_first[k + 1]]
        inner_intervals(edge, low[n], high[n], width, loose, np.empty((len(edge), 2)))
    some = high - low > 4 * loose
    low = np.where(some, low + loose - gap, np.inf)
    high = np.where(some, high - loose + gap, -np.inf)
    number = np.zeros(len(tables.box), dtype=np.int64)
    number[needed] = np.arange(len(needed))
    rows = [list(range(first, last)) for first, last in kinds]
    size = sum(len(r) + 1 for r in rows)
    out_low, out_high = np.full((size, size, columns), np.inf), np.full((size, size, columns), -np.inf)
    at_one = 0
    for one in rows:
        at_other = 0
        for other in rows:
            block_of = number[tables.pair[np.ix_(one, other)]]
            sign = tables.sign[np.ix_(one, other)]
            a, b = low[block_of], high[block_of]
            along = (sign[:, :, 0] < 0)[:, :, None]
            a, b = np.where(along, a[:, :, ::-1], a), np.where(along, b[:, :, ::-1], b)
            over = (sign[:, :, 1] < 0)[:, :, None]
            a, b = np.where(over, -b, a), np.where(over, -a, b)
            v, w = len(one), len(other)
            for table, part, join in ((out_low, a, np.max), (out_high, b, np.min)):
                block = table[at_one : at_one + v + 1, at_other : at_other + w + 1]
                block[:v, :w] = part
                block[v, :w] = join(part, axis=0)
                block[:v, w] = join(part, axis=1)
                block[v, w] = join(part, axis=(0, 1))
            at_other += len(other) + 1
        at_one += len(one) + 1
    return out_low, out_high, width
