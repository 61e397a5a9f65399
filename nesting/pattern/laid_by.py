"""By which points of its paper a piece is laid: the ends of its grain line, and far corners where need be.

A reading that is 1 mm off at one of two points turns the piece about the other, and moves what lies further
away than they are from each other by more. The points are chosen so that this is at most `MOST_GAIN`: the
grain line is drawn longer, and where the piece is too short along the grain, a far corner is measured
too.

A long half paper that is cut opened out may come a hair above: both its ends are measured, and what is cut
reaches that length and an allowance beyond.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations, pairwise

import numpy as np
import shapely

from nesting.geometry import FloatArray
from nesting.pattern.piece import Edge

__all__ = ["MOST_GAIN", "corners_of", "far_corners", "gain", "lengthened"]

MOST_GAIN = 2.0
"""1 mm in reading is at most so many millimetres anywhere on the piece."""
_MARGIN = 0.05
"""Share of the room inside that is kept free at each end of a grain line."""


def gain(points: Sequence[FloatArray] | FloatArray, outline: FloatArray) -> float:
    """How many millimetres a piece is off at most where one of the points it is laid by is 1 mm off.

    Of several points the two are taken that hold it best.

    Parameters
    ----------
    points : (K, 2) float64 array, mm, K >= 2
    outline : (N, 2) float64 array, mm
        Of all that is cut.

    >>> strip = np.array([(0.0, 0.0), (570.0, 0.0), (570.0, 100.0), (0.0, 100.0)])
    >>> round(gain(np.array([(0.0, 13.0), (0.0, 87.0)]), strip), 1)
    7.8
    """
    at = np.asarray(points, dtype=np.float64)
    far = np.linalg.norm(at[:, None] - outline, axis=2).max(axis=1)
    apart = ((float(np.linalg.norm(at[i] - at[j])), i, j) for i, j in combinations(range(len(at)), 2))
    return float(min((max(far[i], far[j]) / long if long else np.inf) for long, i, j in apart))


def lengthened(grain: FloatArray, outline: FloatArray, whole: FloatArray) -> FloatArray:
    """The grain line as long as it can be, where that is enough and the line as it is is not.

    Parameters
    ----------
    grain : (2, 2) float64 array, mm
        Foot and top, along +x.
    outline : (N, 2) float64 array, mm
        That it keeps inside of.
    whole : (M, 2) float64 array, mm
        Outline of all that is cut.
    """
    if gain(grain, whole) <= MOST_GAIN:
        return grain
    (foot, y), (top, _) = grain.tolist()
    left, right = float(outline[:, 0].min()) - 1.0, float(outline[:, 0].max()) + 1.0
    chords = shapely.Polygon(outline).intersection(shapely.LineString([(left, y), (right, y)]))
    for chord in shapely.get_parts(chords):
        start, _, end, _ = chord.bounds
        if start <= foot and top <= end:
            free = _MARGIN * (end - start)
            longer = np.array([[min(foot, start + free), y], [max(top, end - free), y]])
            if gain(longer, whole) <= MOST_GAIN:
                return longer
    return grain


def corners_of(edges: Sequence[Edge]) -> Mapping[str, tuple[float, float]]:
    """Where two edges meet, by the names of both, in the order of the edges."""
    before_and_after = pairwise((edges[-1], *edges))
    return {
        f"{before.name} / {after.name}": (float(after.vertices[0, 0]), float(after.vertices[0, 1]))
        for before, after in before_and_after
    }


def far_corners(
    grain: FloatArray, corners: Mapping[str, tuple[float, float]], whole: FloatArray
) -> dict[str, tuple[float, float]]:
    """The corners that are measured besides the grain line: none, one, or, if one is not enough, two."""
    found: dict[str, tuple[float, float]] = {}
    least = gain(grain, whole)
    for many in (1, 2):
        if least <= MOST_GAIN:
            break
        for names in combinations(corners, many):
            chosen = {name: corners[name] for name in names}
            reached = gain(np.vstack([grain, *chosen.values()]), whole)
            if reached < least - 1e-9:
                least, found = reached, chosen
    return found
