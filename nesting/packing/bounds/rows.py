"""What pairs of items prove: in a row, each stands some way after the one before.

Proof
-----
Let x_i be the middle of item i's box. For two items lying as a and b, let ``D(a, b)`` be the least
``x_b - x_a >= 0`` at which some pair of allowed heights keeps them apart. It is read off the no-fit polygon:
a distance is out of the question when the whole segment of possible height differences lies inside. Where
the middles' order can't matter D is 0. A gap adds to each D above 0: at every height difference the pair
is kept from overlapping up to there, and within the gap beyond.

*A row.* Order some items by their middles. From the strip's beginning to the first middle is at least half
its extent, between neighbours at least D, after the last again half its extent. So L is at least the least
such sum over all orders and variants: a shortest path, found exactly by going through all subsets (Held and
Karp 1962, from memory). Items bound to one side of the strip have one height each, so their D are large;
those that may choose their side are shared out in every way, the longer row counting.

*A chain*, for more items than that. Let m_ij be the lesser of D both ways over all variants. In a set C with
all m_ij > 0 no two middles are equal; let h be numbers with ``h_i + h_j <= m_ij`` and h_i at most half of
item i's least extent along x. Then ``L >= 2 sum of h over C``.

The derivations are our own where no source is named.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.bounds.treatment import Treated, Treatment
from nesting.packing.outlines.tables import Tables
from nesting.packing.problem import EdgeRule

__all__ = ["TREATED", "Distances", "chain_bound", "heights", "row_bound"]

_ALONG = "only turns that can't lie so are left out: the middles may then lie anywhere along the strip"
TREATED: Treated = {
    "Item.name": (Treatment.IGNORED, "a word"),
    "Item.outline": (Treatment.LOOSENED, "no-fit polygons nowhere larger than the true ones, looser still"),
    "Item.demand": (Treatment.LOOSENED, "a row is of a few copies; the others may lie anywhere"),
    "Item.variants": (Treatment.OBEYED, ""),
    "Item.edge": (Treatment.OBEYED, ""),
    "Item.x_lattice": (Treatment.LOOSENED, _ALONG),
    "Item.y_lattice": (Treatment.LOOSENED, "any height between the least and the greatest it allows"),
    "Item.x_window_mm": (Treatment.LOOSENED, _ALONG),
    "Item.any_turn": (Treatment.LOOSENED, "items that may lie at any angle are left out"),
    "StripProblem.width_mm": (Treatment.OBEYED, ""),
    "StripProblem.items": (Treatment.LOOSENED, "a row is of a few copies; the others may lie anywhere"),
    "StripProblem.gap_mm": (Treatment.LOOSENED, "kept along the strip between those that must not meet"),
    "StripProblem.obstacles": (Treatment.IGNORED, "without them there is more room"),
}
"""How each field is treated, and why the bound is one all the same."""

MOST = 9
"""Items in a row gone through exactly."""

STATES = 40
"""Items times variants in such a row."""


def heights(tables: Tables) -> FloatArray:
    """(S, 2) float64, mm: least and greatest y of each shape's middle."""
    rule = tables.y_rule[: int(tables.shapes[: tables.moving].max())]
    low = rule[:, 0]
    free = np.maximum(low, tables.width - tables.half[: len(low), 1])
    return np.column_stack([low, np.where(rule[:, 2] > 0, low + rule[:, 1] * (rule[:, 2] - 1), free)])


class Distances:
    """D between shapes, each no-fit polygon asked once for a range of heights.

    Parameters
    ----------
    tables : Tables
        Built without a gap.
    gap_mm : float
    loose_mm : float
        By how much two pieces may lie deeper in each other than the polygons say.
    """

    def __init__(self, tables: Tables, gap_mm: float, loose_mm: float) -> None:
        self.tables, self.gap, self.loose = tables, gap_mm, loose_mm
        self._known: dict[tuple[int, float, float], tuple[float, float]] = {}

    def after(self, a: int, b: int, low: float, high: float) -> float:
        """``D(a, b)`` when ``y_b - y_a`` is between `low` and `high`."""
        tables = self.tables
        k = int(tables.pair[a, b])
        along, across = tables.sign[a, b]
        low, high = (low, high) if across > 0 else (-high, -low)
        low, high = low - self.loose, high + self.loose
        if low <= tables.box[k, 1] or high >= tables.box[k, 3]:
            return 0.0
        name = (k, low, high)
        if name not in self._known:
            edge = tables.edge[tables.edge_first[k] : tables.edge_first[k + 1]]
            self._known[name] = _first_free(edge, low, high)
        distance = self._known[name][0 if along > 0 else 1] - self.loose
        return distance + self.gap if distance > 0 else 0.0


def _first_free(edge: FloatArray, low: float, high: float) -> tuple[float, float]:
    """How far right and left of 0 the segment from `low` to `high` stays inside the polygon."""
    ax, ay, bx, by = edge[:, 0], edge[:, 1], edge[:, 2], edge[:, 3]
    meets = (np.minimum(ay, by) <= high) & (np.maximum(ay, by) >= low)
    ax, ay, bx, by = ax[meets], ay[meets], bx[meets], by[meets]
    rise = np.where(by == ay, 1.0, by - ay)
    one = np.where(by == ay, ax, ax + (bx - ax) * np.clip((low - ay) / rise, 0.0, 1.0))
    two = np.where(by == ay, bx, ax + (bx - ax) * np.clip((high - ay) / rise, 0.0, 1.0))
    left, right = np.minimum(one, two), np.maximum(one, two)
    if ((left <= 0) & (right >= 0)).any():
        return 0.0, 0.0
    y = 0.5 * (low + high)
    crosses = (edge[:, 1] <= y) != (edge[:, 3] <= y)
    ax, ay, bx, by = (edge[crosses, column] for column in range(4))
    if (ax + (bx - ax) * (y - ay) / (by - ay) > 0).sum() % 2 == 0:
        return 0.0, 0.0
    return float(left[left > 0].min()), float(-right[right < 0].max())


def row_bound(tables: Tables, distances: Distances, edges: list[EdgeRule]) -> float:
    """The longer of two rows, in mm: of items bound to a side, and of the tallest.

    Parameters
    ----------
    tables : Tables
        Built without a gap.
    distances : Distances
    edges : list of EdgeRule
        Of each piece.
    """
    pieces = np.arange(tables.moving)
    first = tables.shapes[: tables.moving, 0]
    tied = np.array([edge is not EdgeRule.FREE for edge in edges])
    by_length = pieces[np.lexsort((pieces, -tables.half[first, 0]))]
    by_height = pieces[np.lexsort((pieces, -tables.half[first, 1]))]
    y = heights(tables)
    best = _rows_length(_row(tables, distances, by_height, y, y), None)
    low = _row(tables, distances, by_length[tied[by_length]], y[:, :1], y[:, :1])
    if len(low) > 1:
        members = _members(tables, by_length[tied[by_length]])
        high = _row(tables, distances, by_length[tied[by_length]], y[:, 1:], y[:, 1:])
        best = max(best, _rows_length(low, (high, [edges[p] for p in members])))
    return best


def _members(tables: Tables, order: np.ndarray[tuple[int], np.dtype[np.int64]]) -> list[int]:
    """The first pieces of an order that are few enough."""
    members: list[int] = []
    states = 0
    for p in order[:MOST]:
        states += int(tables.shapes[p, 1] - tables.shapes[p, 0])
        if states > STATES:
            break
        members.append(int(p))
    return members


def _row(
    tables: Tables,
    distances: Distances,
    order: np.ndarray[tuple[int], np.dtype[np.int64]],
    low: FloatArray,
    high: FloatArray,
) -> FloatArray:
    """(2 ** n,) float64, mm: the least length of a row of each subset of the first n pieces of an order."""
    members = _members(tables, order)
    n = len(members)
    states = [(i, s) for i, p in enumerate(members) for s in range(*tables.shapes[p])]
    owner = np.array([i for i, _ in states], dtype=np.int64)
    shape = np.array([s for _, s in states], dtype=np.int64)
    least, most = low[:, 0], high[:, -1]
    apart = np.array(
        [
            [distances.after(a, b, float(least[b] - most[a]), float(most[b] - least[a])) for b in shape]
            for a in shape
        ]
    ).reshape(len(shape), len(shape))
    half = tables.half[shape, 0]
    row = np.zeros(2**n)
    reached = np.full((2**n, len(shape)), np.inf)  # least x of the last middle
    for i in range(n):
        reached[1 << i, owner == i] = half[owner == i]
    for subset in range(1, 2**n):
        row[subset] = (reached[subset] + half).min()
        following = (reached[subset][:, None] + apart).min(axis=0)
        for i in range(n):
            if not subset >> i & 1:
                here = owner == i
                more = reached[subset | 1 << i]
                more[here] = np.minimum(more[here], following[here])
    return row


def _rows_length(low: FloatArray, other: tuple[FloatArray, list[EdgeRule]] | None) -> float:
    """Length of the row of all; with a second side, of the longer row when shared out best."""
    every = len(low) - 1
    if other is None:
        return float(low[every])
    high, edges = other
    must_low = sum(1 << i for i, edge in enumerate(edges) if edge is EdgeRule.LOW)
    must_high = sum(1 << i for i, edge in enumerate(edges) if edge is EdgeRule.HIGH)
    return min(
        max(float(low[one]), float(high[every ^ one]))
        for one in range(every + 1)
        if one & must_low == must_low and not one & must_high
    )


def chain_bound(tables: Tables, distances: Distances) -> float:
    """``2 sum of h`` over the best of several chains, each gathered greedily around one kind of item."""
    kinds, first, counts = np.unique(tables.shapes[: tables.moving, 0], return_index=True, return_counts=True)
    copies = counts.tolist()
    ranges = [range(*tables.shapes[k]) for k in first]
    reach = np.array([tables.half[list(shapes), 0].min() for shapes in ranges])
    y = heights(tables)
    apart = np.zeros((len(kinds), len(kinds)))
    for i, shapes in enumerate(ranges):
        for j, others in enumerate(ranges[: i + 1]):
            apart[i, j] = apart[j, i] = _least(distances, y, shapes, others)
    order = sorted(range(len(kinds)), key=lambda k: -reach[k])
    best = 0.0
    for start in order:
        chain = [start]
        length = _chain_length(chain, copies, reach, apart)
        for other in order:
            if other != start and all(apart[other, k] > 0 for k in chain):
                longer = _chain_length([*chain, other], copies, reach, apart)
                if longer > length:
                    chain.append(other)
                    length = longer
        best = max(best, length)
    return best


def _least(distances: Distances, y: FloatArray, one: range, other: range) -> float:
    """m_ij of two kinds."""
    least = np.inf
    for a in one:
        for b in other:
            low, high = float(y[b, 0] - y[a, 1]), float(y[b, 1] - y[a, 0])
            least = min(least, distances.after(a, b, low, high), distances.after(b, a, -high, -low))
            if least == 0.0:
                return 0.0
    return least


def _chain_length(chain: list[int], copies: list[int], reach: FloatArray, apart: FloatArray) -> float:
    """``2 sum of h``, m_ij shared out in proportion to the items' extents; copies count where apart."""
    total = 0.0
    for i in chain:
        times = copies[i] if apart[i, i] > 0 else 1
        h = float(reach[i])
        for j in chain:
            if j != i or times > 1:
                h = min(h, float(apart[i, j] * reach[i] / (reach[i] + reach[j])))
        total += 2 * h * times
    return total
