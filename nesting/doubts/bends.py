"""Smooth curves that are no curves: a corner lost in one, and a curve that bulges out between its points.

A smooth curve that is led round a corner makes a lobe there. A corner is told from a tight curve by what lies
beside it: along a curve the bend goes on at the neighbouring points, beside a corner it does not.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from nesting.doubts.kinds import FarCurve, SharpBend
from nesting.geometry import FloatArray
from nesting.pattern.curves import smooth
from nesting.pattern.draft import Curve, Draft, Walk

__all__ = ["far_curves", "sharp_bends", "turns_deg"]

BEND_DEG = 45.0
"""Points along a curve are close enough that it bends by less at each, unless it bends on at the next."""
GOES_ON = 0.22
"""A bend goes on where a neighbouring point bends the same way by this share of it."""
BEND_ALONE_DEG = 70.0
"""The same where nothing is known of neighbours, as a curve has one point on its way; and on average of
several tight bends one after another: a circle through six points bends by 60 degrees at each."""
BEYOND_MM = 5.0
BEYOND_SHARE = 0.06
"""A curve leaves the box of its points by less, as a share of the longer side of that box."""


def turns_deg(points: FloatArray) -> FloatArray:
    """How far each point but the first and last turns the way, degrees, to the left positive; (N - 2,)."""
    way = np.diff(points, axis=0)
    heading = np.arctan2(way[:, 1], way[:, 0])
    return np.asarray(np.degrees((np.diff(heading) + np.pi) % (2 * np.pi) - np.pi))


def sharp_bends(draft: Draft) -> Iterator[SharpBend]:
    """The points of smooth edges that look like corners."""
    for walk, points in _smooth_walks(draft):
        turns = turns_deg(points)
        for first, last in _tight_runs(turns):
            beside = [turns[k] * np.sign(turns[first]) for k in (first - 1, last + 1) if 0 <= k < len(turns)]
            tight = np.abs(turns[first : last + 1])
            most = BEND_DEG if len(tight) == 1 and beside else BEND_ALONE_DEG
            if tight.mean() > most and all(bend < GOES_ON * tight.min() for bend in beside):
                for k in range(first, last + 1):
                    x, y = points[k + 1].tolist()
                    yield SharpBend(walk.edge, walk.through[k + 1], (x, y), abs(float(turns[k])))


def _tight_runs(turns: FloatArray) -> Iterator[tuple[int, int]]:
    """First and last of each run of neighbouring bends over `BEND_DEG`, all to the same side."""
    k = 0
    while k < len(turns):
        last = k
        if abs(turns[k]) > BEND_DEG:
            while last + 1 < len(turns) and turns[last + 1] * np.sign(turns[k]) > BEND_DEG:
                last += 1
            yield k, last
        k = last + 1


def far_curves(draft: Draft) -> Iterator[FarCurve]:
    """The stretches of smooth edges that bulge out of the box of all points of the edge; one an edge."""
    for walk, points in _smooth_walks(draft):
        low, high = points.min(axis=0), points.max(axis=0)
        curve = smooth(points)
        beyond = np.maximum(low - curve, curve - high).max(axis=1)
        worst = int(beyond.argmax())
        if beyond[worst] > max(BEYOND_MM, BEYOND_SHARE * float((high - low).max())):
            # Each point of the edge is a vertex of the curve: those up to the worst one have been passed.
            passed = [int(np.abs(curve - point).sum(axis=1).argmin()) for point in points]
            k = max(0, int(np.searchsorted(passed, worst)) - 1)
            x, y = curve[worst].tolist()
            yield FarCurve(walk.edge, walk.through[k], walk.through[k + 1], (x, y), float(beyond[worst]))


def _smooth_walks(draft: Draft) -> Iterator[tuple[Walk, FloatArray]]:
    """Smooth edges with a point on their way, and their points, (N, 2) mm."""
    for walk in draft.walks:
        if walk.curve is Curve.SMOOTH and len(walk.through) > 2:
            yield walk, np.array([draft.points[name] for name in walk.through])
