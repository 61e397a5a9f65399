"""Curved edges, flattened to polylines that stay within `CHORD_TOLERANCE_MM` of the curve.

A smooth curve goes through all its points with the tangent, at each, of the parabola through it and
its two neighbours, where the parameter grows with the square root of the distance between points: the
centripetal Catmull-Rom curve. It has no cusp and no loop between two points, and hugs the points the
way a curved ruler does: C. Yuksel, S. Schaefer, J. Keyser, "Parameterization and applications of
Catmull-Rom curves", Computer-Aided Design 43 (2011) 747-755, doi:10.1016/j.cad.2010.08.008. At the
first and last point the tangent is that of the parabola through the nearest three points.
"""

from __future__ import annotations

import math

import numpy as np

from nesting.errors import InvalidShape
from nesting.geometry import FloatArray

__all__ = ["CHORD_TOLERANCE_MM", "arc", "smooth"]

CHORD_TOLERANCE_MM = 0.25
"""Half the width of a pencil line: no chord leaves its curve by more."""

SAME_POINT_MM = 1e-6
FLAT_ARC_MM = 0.01
"""An arc that rises less than this over its chord is a straight line."""


def smooth(points: FloatArray, *, tolerance_mm: float = CHORD_TOLERANCE_MM) -> FloatArray:
    """Draw a smooth curve through all the points, in their order.

    Parameters
    ----------
    points : (N, 2) float64 array, mm, N >= 2
        Two give a straight line. When the last is the first again the curve is smooth there too.
    tolerance_mm : float
        How far a chord may lie from the curve.

    Returns
    -------
    (M, 2) float64 array, mm
        From the first point to the last; each of `points` is one of the vertices.

    Raises
    ------
    InvalidShape
        When there are fewer than two points or two neighbours are the same.

    Examples
    --------
    >>> smooth(np.array([[0.0, 0.0], [3.0, 4.0]])).tolist()
    [[0.0, 0.0], [3.0, 4.0]]
    """
    points = np.asarray(points, dtype=np.float64)
    if len(points) < 2:
        raise InvalidShape("a smooth curve needs at least two points")
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    if steps.min() < SAME_POINT_MM:
        place = int(np.argmin(steps))
        raise InvalidShape(f"points {place + 1} and {place + 2} of a smooth curve are at the same place")
    if len(points) == 2:
        return points.copy()
    knots = np.sqrt(steps)
    tangents = _tangents(points, knots)
    out, into = tangents[:-1] * knots[:, None] / 3, tangents[1:] * knots[:, None] / 3
    runs = [_flatten(points[i], out[i], into[i], points[i + 1], tolerance_mm) for i in range(len(knots))]
    return np.concatenate([points[:1], *runs])


def arc(
    start: FloatArray, on_the_way: FloatArray, end: FloatArray, *, tolerance_mm: float = CHORD_TOLERANCE_MM
) -> FloatArray:
    """Draw the part of a circle from `start` over `on_the_way` to `end`.

    Parameters
    ----------
    start, on_the_way, end : (2,) float64 arrays, mm
        Three points on one line, in that order, give the straight line.
    tolerance_mm : float
        How far a chord may lie from the arc.

    Returns
    -------
    (M, 2) float64 array, mm
        From `start` to `end`, evenly parted.

    Raises
    ------
    InvalidShape
        When two points are the same, or all lie on one line with `on_the_way` outside the other two.
    """
    a, b, c = (np.asarray(p, dtype=np.float64) for p in (start, on_the_way, end))
    if min(np.linalg.norm(b - a), np.linalg.norm(c - b), np.linalg.norm(c - a)) < SAME_POINT_MM:
        raise InvalidShape("an arc needs three different points: start, one on the way, end")
    chord = c - a
    rise = _cross(chord, b - a) / float(np.linalg.norm(chord))
    if abs(rise) < FLAT_ARC_MM:
        if np.dot(b - a, c - b) < 0:
            raise InvalidShape(
                "the points of an arc lie on one line, and the middle one not between the others"
            )
        return np.array([a, b, c])
    centre = _circle_centre(a, b, c)
    radius = float(np.linalg.norm(a - centre))
    first, last = (math.atan2(p[1] - centre[1], p[0] - centre[0]) for p in (a, c))
    # The way round is counter-clockwise when the middle point lies right of the chord.
    sweep = (last - first) % math.tau if rise < 0 else -((first - last) % math.tau)
    half_step = math.acos(max(0.0, 1.0 - tolerance_mm / radius))
    parts = max(2, math.ceil(abs(sweep) / (2 * half_step)))
    angles = first + np.linspace(0.0, sweep, parts + 1)
    vertices = centre + radius * np.column_stack([np.cos(angles), np.sin(angles)])
    vertices[0], vertices[-1] = a, c
    return vertices


def _tangents(points: FloatArray, knots: FloatArray) -> FloatArray:
    """Derivative, at each point, of the parabola through it and its neighbours; `knots` are its steps."""
    slopes = np.diff(points, axis=0) / knots[:, None]
    before, after = knots[:-1, None], knots[1:, None]
    tangents = np.empty_like(points)
    tangents[1:-1] = (after * slopes[:-1] + before * slopes[1:]) / (before + after)
    if np.linalg.norm(points[0] - points[-1]) < SAME_POINT_MM:
        closing = (knots[0] * slopes[-1] + knots[-1] * slopes[0]) / (knots[0] + knots[-1])
        tangents[0] = tangents[-1] = closing
    else:
        tangents[0] = 2 * slopes[0] - tangents[1]
        tangents[-1] = 2 * slopes[-1] - tangents[-2]
    return tangents


def _flatten(p: FloatArray, out: FloatArray, into: FloatArray, q: FloatArray, tolerance: float) -> FloatArray:
    """Vertices after `p`, up to `q`, of the cubic with Bézier points p, p + out, q - into, q.

    A chord over 1/n of the parameter leaves the curve by at most |second derivative| / (8 n²).
    """
    b1, b2 = p + out, q - into
    bend = 6 * max(float(np.linalg.norm(p - 2 * b1 + b2)), float(np.linalg.norm(b1 - 2 * b2 + q)))
    parts = max(1, math.ceil(math.sqrt(bend / (8 * tolerance))))
    t = np.linspace(0.0, 1.0, parts + 1)[1:, None]
    s = 1 - t
    vertices = s**3 * p + 3 * s**2 * t * b1 + 3 * s * t**2 * b2 + t**3 * q
    vertices[-1] = q
    return vertices


def _circle_centre(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    u, v = b - a, c - a
    double = 2 * _cross(u, v)
    uu, vv = float(u @ u), float(v @ v)
    return a + np.array([v[1] * uu - u[1] * vv, u[0] * vv - v[0] * uu]) / double


def _cross(u: FloatArray, v: FloatArray) -> float:
    return float(u[0] * v[1] - u[1] * v[0])
