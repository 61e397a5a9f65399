"""The walk round a piece: its edges one after another, as one ring, and measures along them.

All in paper coordinates, millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nesting.errors import InvalidShape
from nesting.geometry import FloatArray, signed_area
from nesting.pattern.piece import Edge, Piece

__all__ = ["counter_clockwise_edges", "edge_length_mm", "extent_mm", "outline_ring", "point_along"]


def outline_ring(edges: Sequence[Edge]) -> FloatArray:
    """Join edges that chain into one ring, in their own direction.

    Returns
    -------
    (N, 2) float64 array, mm, not closed
        Where two edges meet, the point of the one that begins there.
    """
    return np.concatenate([edge.vertices[:-1] for edge in edges])


def counter_clockwise_edges(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Give the edges so that walking them keeps the inside on the left: as they are, or all turned round."""
    if signed_area(outline_ring(edges)) >= 0:
        return tuple(edges)
    return tuple(replace(edge, vertices=edge.vertices[::-1].copy()) for edge in reversed(edges))


def edge_length_mm(vertices: FloatArray) -> float:
    """Length of a polyline, (M, 2) float64 array, mm."""
    return float(np.linalg.norm(np.diff(vertices, axis=0), axis=1).sum())


def point_along(vertices: FloatArray, distance_mm: float) -> tuple[float, float]:
    """Find the point a distance along a polyline, from its first vertex; a negative one counts from the last.

    Raises
    ------
    InvalidShape
        When the polyline is shorter than that.

    Examples
    --------
    >>> point_along(np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]]), 14.0)
    (10.0, 4.0)
    """
    stations = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(vertices, axis=0), axis=1))])
    length = float(stations[-1])
    if abs(distance_mm) > length + 1e-9:
        raise InvalidShape(f"{abs(distance_mm):.1f} mm along an edge that is {length:.1f} mm long")
    at = distance_mm if distance_mm >= 0 else length + distance_mm
    return float(np.interp(at, stations, vertices[:, 0])), float(np.interp(at, stations, vertices[:, 1]))


def extent_mm(piece: Piece) -> float:
    """How long the piece is on the paper: the longer side of the box about its outline."""
    corners = np.concatenate([edge.vertices for edge in piece.edges])
    return float(np.ptp(corners, axis=0).max())
