"""Parts of the outline that nearly touch, though a long way of outline lies between them: a hairline slit."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from nesting.doubts.kinds import NearlyTouching
from nesting.geometry import FloatArray
from nesting.pattern.draft import Draft
from nesting.pattern.piece import Edge

__all__ = ["slits"]

GAP_MM = 2.0
"""Two readings with a set square: parts of an outline that are apart by less were hardly drawn so."""
AROUND_GAPS = 20.0
AROUND_MM = 30.0
"""The way between them along the outline is longer than this, and than so many gaps: else it is a corner."""
STEP_MM = 5.0
MOST_PLACES = 1500


def slits(edges: tuple[Edge, ...], draft: Draft) -> Iterator[NearlyTouching]:
    """The narrowest place between each two edges, or one and itself, that nearly touch."""
    places, names, along, whole = _along(edges)
    runs = np.diff(np.append(along, whole))
    ends = np.roll(places, -1, axis=0)
    steps = np.asarray(shapely.linestrings(np.stack([places, ends], axis=1)))
    points = np.asarray(shapely.points(places))
    at, on = shapely.STRtree(steps).query(points, predicate="dwithin", distance=GAP_MM)
    share = shapely.line_locate_point(steps[on], points[at], normalized=True)
    gap = np.asarray(shapely.distance(steps[on], points[at]), dtype=np.float64)
    way = np.abs(along[on] + share * runs[on] - along[at])
    way = np.minimum(way, whole - way)
    narrowest: dict[tuple[str, str], tuple[float, int]] = {}
    for k in np.flatnonzero(way > np.maximum(AROUND_MM, AROUND_GAPS * gap)).tolist():
        one, other = sorted((names[at[k]], names[on[k]]))
        narrowest[one, other] = min(narrowest.get((one, other), (np.inf, 0)), (float(gap[k]), int(at[k])))
    for (one, other), (gap_mm, k) in narrowest.items():
        edge, other = (one, other) if names[k] == one else (other, one)
        x, y = places[k].tolist()
        yield NearlyTouching(edge, _nearest(draft, edge, places[k]), (x, y), other, gap_mm)


def _along(edges: tuple[Edge, ...]) -> tuple[FloatArray, list[str], FloatArray, float]:
    """Places along the outline, the edge that each is on, how far along it is, and the way round; mm."""
    total = sum(float(np.linalg.norm(np.diff(edge.vertices, axis=0), axis=1).sum()) for edge in edges)
    step = max(STEP_MM, total / MOST_PLACES)
    places: list[FloatArray] = []
    names: list[str] = []
    for edge in edges:
        for a, b in zip(edge.vertices[:-1], edge.vertices[1:], strict=True):
            length = float(np.hypot(*(b - a)))
            if length == 0:
                continue
            parts = max(1, int(np.ceil(length / step)))
            places.append(np.linspace(a, b, parts, endpoint=False))
            names += [edge.name] * parts
    ring = np.concatenate(places)
    steps = np.linalg.norm(np.roll(ring, -1, axis=0) - ring, axis=1)
    return ring, names, np.concatenate([[0.0], np.cumsum(steps[:-1])]), float(steps.sum())


def _nearest(draft: Draft, edge: str, place: FloatArray) -> str:
    """The point of that edge nearest to a place."""
    through = next(walk.through for walk in draft.walks if walk.edge == edge)
    return min(through, key=lambda name: float(np.hypot(*(np.array(draft.points[name]) - place))))
