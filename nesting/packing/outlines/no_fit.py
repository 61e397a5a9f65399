"""No-fit polygons: where the reference point of one shape may not be, seen from another.

``no_fit(a, b)`` is the interior of ``a - b = {p - q : p in a, q in b}``: placed at the origin, ``a`` overlaps
``b`` placed at ``d`` exactly when ``d`` is inside.

The boundary is found from the *convolution* of the two outlines (Guibas, Ramshaw, Stolfi 1983, "A kinetic
framework for computational geometry"): every edge of one moved to every vertex of the other whose turn
takes in the edge's direction. The winding number of these closed trails about ``d`` is the number of
separate pieces of ``a ∩ (b + d)``, so the part with non-zero winding is the no-fit polygon: holes, notches
and all.

Exact fits (a tab that fills a slot to the last unit) would be cracks of no width, lost in the union. So ``a``
is first made smaller by `SHRINK` grid units all round: a crack becomes a slot that the search can use. What a
lay may overlap by this is below 1e-8 of the largest measure, nothing that can be cut.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
import pyclipper

from nesting.geometry import FloatArray, next_ones, previous_ones
from nesting.packing.outlines.shapes import IntArray

__all__ = ["SHRINK", "no_fit", "offset_ring", "shrunk"]

SHRINK = 48
"""Grid units."""

CLEAN = 4
"""Grid units: corners this near to each other, or to the straight line past them, are rounding."""


def shrunk(ring: IntArray) -> IntArray:
    """Every edge moved inwards by `SHRINK`, corners mitred (at most four times as far)."""
    points = ring.astype(np.float64)
    ahead = next_ones(points) - points
    ahead /= np.hypot(ahead[:, 0], ahead[:, 1])[:, None]
    inward = np.column_stack([-ahead[:, 1], ahead[:, 0]])
    both = inward + previous_ones(inward)
    square = np.maximum((both * both).sum(axis=1), 0.25)
    moved: IntArray = np.rint(points + 2.0 * SHRINK * both / square[:, None]).astype(np.int64)
    return moved


def offset_ring(ring: IntArray, units: float) -> IntArray:
    """Outline of all that is within `units` of the ring, never less; hollows that close up count as filled.

    Arcs are replaced by chords that stay outside them (pyclipper's last chord of a corner may span two
    steps, so the steps are half as long as they could be); the excess is at most 2 % of `units`.
    """
    tool = pyclipper.PyclipperOffset(2.0, max(0.5, 0.0025 * units))
    tool.AddPath(ring.tolist(), pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    paths = tool.Execute(1.011 * units + 3)
    return np.array(max(paths, key=pyclipper.Area), dtype=np.int64)


def no_fit(a: IntArray, b: IntArray) -> list[FloatArray]:
    """Rings of the no-fit polygon of `b` seen from `a`.

    Parameters
    ----------
    a, b : (N, 2), (M, 2) int64 arrays
        Simple, counter-clockwise, grid units; `a` already made smaller (`shrunk`).

    Returns
    -------
    list of (K, 2) float64 arrays
        Inside on the left of travel: outer rings counter-clockwise, holes clockwise. Not to be changed: the
        same two shapes are often asked for again, in another strip.
    """
    rings = _remembered(a.astype(np.int64).tobytes(), b.astype(np.int64).tobytes())
    return [np.frombuffer(ring, dtype=np.float64).reshape(-1, 2) for ring in rings]


@lru_cache(maxsize=8192)
def _remembered(a_bytes: bytes, b_bytes: bytes) -> tuple[bytes, ...]:
    a, b = (np.frombuffer(ring, dtype=np.int64).reshape(-1, 2) for ring in (a_bytes, b_bytes))
    tool = pyclipper.Pyclipper()
    tool.AddPaths(_convolution(a, -b), pyclipper.PT_SUBJECT, True)
    rings = tool.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    cleaned = (_cleaned(ring) for ring in rings)
    return tuple(np.array(ring, dtype=np.float64).tobytes() for ring in cleaned if len(ring) >= 3)


def _cleaned(ring: list[list[int]]) -> list[list[int]]:
    """The ring without corners that are rounding; empty where it is nothing else.

    A slot that an arm just fits is a hole of some units with a crack like a needle beside it. Which way such
    a ring runs is told by its whole area, most of which is the needle's: its length times what it was rounded
    by. So once the needle is cleaned away, what is left may run the wrong way round, and all that lies
    nearest to it would count as outside.
    """
    fewer: list[list[int]] = pyclipper.CleanPolygon(ring, CLEAN)
    turned = pyclipper.Orientation(fewer) != pyclipper.Orientation(ring)
    return fewer[::-1] if turned else fewer


def _convolution(p: IntArray, q: IntArray) -> list[list[list[int]]]:
    """Closed trails of the convolution of two counter-clockwise outlines."""
    n, m = len(p), len(q)
    toward_p, toward_q = _directions(p), _directions(q)
    # Ranks replace angles; where directions are equal, those of q come first (a tilt too small to matter).
    order = np.lexsort((np.repeat([1, 0], [n, m]), np.concatenate([toward_p, toward_q])))
    rank = np.empty(n + m, dtype=np.int64)
    rank[order] = np.arange(n + m)
    rank_p, rank_q = rank[:n], rank[n:]
    plus_q, minus_q = _taken_in(rank_p, rank_q, toward_q, n + m)  # (n, m): edge of p at vertex of q
    plus_p, minus_p = _taken_in(rank_q, rank_p, toward_p, n + m)  # (m, n): edge of q at vertex of p
    leaving: dict[int, list[int]] = {}

    def add(start: IntArray, end: IntArray) -> None:
        for one, other in zip(start.tolist(), end.tolist(), strict=True):
            leaving.setdefault(one, []).append(other)

    for taken, forward in ((plus_q, True), (minus_q, False)):
        i, j = np.nonzero(taken)
        here, there = i * m + j, (i + 1) % n * m + j
        add(here, there) if forward else add(there, here)
    for taken, forward in ((plus_p, True), (minus_p, False)):
        j, i = np.nonzero(taken)
        here, there = i * m + j, i * m + (j + 1) % m
        add(here, there) if forward else add(there, here)
    trails = []
    sums = (p[:, None, :] + q[None, :, :]).reshape(-1, 2)
    while leaving:
        node = next(iter(leaving))
        trail = []
        while node in leaving:
            trail.append(node)
            ends = leaving[node]
            following = ends.pop()
            if not ends:
                del leaving[node]
            node = following
        if len(trail) >= 3:
            trails.append(sums[trail].tolist())
    return trails


def _directions(ring: IntArray) -> FloatArray:
    ahead = (next_ones(ring) - ring).astype(np.float64)
    return np.arctan2(ahead[:, 1], ahead[:, 0])


def _taken_in(
    edge: IntArray, vertex_out: IntArray, direction: FloatArray, count: int
) -> tuple[np.ndarray[tuple[int, int], np.dtype[np.bool_]], np.ndarray[tuple[int, int], np.dtype[np.bool_]]]:
    """Which edge directions lie in the turn at which vertices: left turns, then right turns."""
    vertex_in = previous_ones(vertex_out)
    turn = direction - previous_ones(direction)
    # Where both edges have one direction, as near as can be told, their ranks decide here as they do below.
    left = ((0 < turn) & (turn < np.pi)) | (turn < -np.pi) | ((turn == 0) & (vertex_in < vertex_out))
    along = (edge[:, None] - vertex_in[None, :]) % count < ((vertex_out - vertex_in) % count)[None, :]
    against = (vertex_in[None, :] - edge[:, None]) % count < ((vertex_in - vertex_out) % count)[None, :]
    return along & left[None, :], against & ~left[None, :]
