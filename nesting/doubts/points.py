"""Points that lie far from their neighbours: numbers that were swapped, a decimal point that slipped.

A point with two numbers is tried with the slips that people make, undone. Where that brings it from far away
into the line of its neighbours, the slip was probably made. A corner of a sound piece lies far out too, but
none of the slips takes it back.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.doubts.bends import turns_deg
from nesting.doubts.kinds import FarPoint, Place, Slip
from nesting.geometry import FloatArray
from nesting.pattern.draft import Curve, Draft

__all__ = ["far_points", "likely_slips"]

SHORTER = {Slip.SWAPPED: 0.66, Slip.DECIMAL: 0.5}
"""The way over the point, the slip undone, is at most this share of the way as written."""
SAVED_SHARE = 0.12
"""The way saved is at least this share of the piece's size: less may be a corner."""
SPIKE_DEG = 8.0
"""Between the two edges at a point is at least this angle."""
FEW = 6
"""Of fewer points than these, one that lies far out may well be the tip of a triangle,"""
FAR_OUT = 2.5
"""unless it is farther away from all others than so many times their own extent."""


@dataclass(frozen=True, slots=True)
class _Corner:
    """A point of the outline with its neighbours."""

    edge: str
    name: str
    before: Place
    at: Place
    after: Place
    on_arc: bool


def far_points(draft: Draft) -> Iterator[FarPoint]:
    """The points that lie far out, in the order of the outline."""
    corners = list(_corners(draft))
    places = np.array([corner.at for corner in corners])
    found = {k: one for k in range(len(corners)) if (one := _far(corners, places, k)) is not None}
    # A point far out takes its neighbours along: of some side by side it was one with a slip that can be
    # undone, and of several such the one whose undoing leaves the smoothest outline.
    likeliest = {k: (one.meant is None, _bent_deg(places, k, one.meant), k) for k, one in found.items()}
    for k, one in found.items():
        near = {(k + step) % len(corners) for step in (-2, -1, 1, 2)} - {k}
        if all(likeliest[k] < likeliest[j] for j in near if j in found):
            yield one


def likely_slips(draft: Draft) -> tuple[FarPoint, ...]:
    """The points whose numbers are probably what makes an outline impossible: a slip undone brings them back.

    Of a few points any may be the wrong one, so then there are none.
    """
    if len(list(_corners(draft))) < FEW:
        return ()
    return tuple(far for far in far_points(draft) if far.slip is not Slip.UNKNOWN)


def _far(corners: Sequence[_Corner], places: FloatArray, k: int) -> FarPoint | None:
    """Whether a point lies far out, judged by itself."""
    corner = corners[k]
    size = float(np.ptp(places, axis=0).max())
    over = _way(corner, corner.at)
    past = float(np.hypot(*np.subtract(corner.after, corner.before)))
    few = len(corners) < FEW and not _far_out(corner.at, np.delete(places, k, axis=0))
    better = [
        (way, slip, meant)
        for slip, meant in _undone(corner.at)
        if (way := _way(corner, meant)) <= SHORTER[slip] * over
        and over - way >= SAVED_SHARE * size
        and not (few and slip is Slip.DECIMAL)
    ]
    if better:
        _, slip, meant = min(better, key=lambda one: one[0])
        return FarPoint(corner.edge, corner.name, corner.at, over - past, slip, meant)
    if not corner.on_arc and _angle_deg(corner) < SPIKE_DEG and over - past >= SAVED_SHARE * size:
        return FarPoint(corner.edge, corner.name, corner.at, over - past, Slip.UNKNOWN)
    return None


def _bent_deg(places: FloatArray, k: int, meant: Place | None) -> float:
    """How much an outline turns in all, this way and that, with a point where it is meant, or left out."""
    instead = np.empty((0, 2)) if meant is None else np.array([meant])
    ring = np.vstack([places[:k], instead, places[k + 1 :]])
    return float(np.abs(turns_deg(np.vstack([ring, ring[:2]]))).sum())


def _far_out(at: Place, others: FloatArray) -> bool:
    """Whether a point is far away from the box about the others, by the size of that box."""
    low, high = others.min(axis=0), others.max(axis=0)
    away = float(np.maximum(np.maximum(low - at, np.subtract(at, high)), 0.0).max())
    return away > FAR_OUT * float((high - low).max())


def _undone(at: Place) -> Iterator[tuple[Slip, Place]]:
    """Where the point would be, had each of the usual slips been made."""
    x, y = at
    yield Slip.SWAPPED, (y, x)
    for factor in (0.1, 10.0):
        yield Slip.DECIMAL, (x * factor, y)
        yield Slip.DECIMAL, (x, y * factor)


def _way(corner: _Corner, at: Place) -> float:
    """From the point before to the one after, over that place."""
    return sum(float(np.hypot(*np.subtract(b, a))) for a, b in ((corner.before, at), (at, corner.after)))


def _angle_deg(corner: _Corner) -> float:
    """Between the ways to the neighbours."""
    to_before, to_after = np.subtract(corner.before, corner.at), np.subtract(corner.after, corner.at)
    lengths = float(np.hypot(*to_before) * np.hypot(*to_after))
    if lengths == 0:
        return 180.0
    return float(np.degrees(np.arccos(np.clip(to_before @ to_after / lengths, -1.0, 1.0))))


def _corners(draft: Draft) -> Iterator[_Corner]:
    """Every point of the outline, once; at the ends of edges, the edge that begins there."""
    run = [
        (walk.edge, name, draft.points[name], walk.curve is Curve.ARC)
        for walk in draft.walks
        for name in walk.through[:-1]
    ]
    for (_, _, before, _), (edge, name, at, on_arc), (_, _, after, _) in zip(
        [run[-1], *run[:-1]], run, [*run[1:], run[0]], strict=True
    ):
        yield _Corner(edge, name, before, at, after, on_arc)
