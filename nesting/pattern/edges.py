"""The walk round a piece: its edges one after another, as one ring, and measures along them.

All in paper coordinates, millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nesting.geometry import FloatArray, signed_area
from nesting.pattern.piece import Edge, Piece

__all__ = [
    "counter_clockwise_edges",
    "distinct_points",
    "edge_length_mm",
    "extent_mm",
    "outline_ring",
    "size_mm",
]

SAME_POINT_MM = 1e-6


def outline_ring(edges: Sequence[Edge]) -> FloatArray:
    """Join edges that chain into one ring, in their own direction.

    Returns
    -------
    (N, 2) float64 array, mm, not closed
        Where two edges meet, the point of the one that begins there.
    """
    return np.concatenate([edge.vertices[:-1] for edge in edges])


def counter_clockwise_edges(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Give the edges so that walking them keeps the inside on the left: as they are, or all turned round.

    Points written twice in a row are kept once.
    """
    edges = distinct_points(edges)
    if signed_area(outline_ring(edges)) >= 0:
        return tuple(edges)
    return tuple(replace(edge, vertices=edge.vertices[::-1].copy()) for edge in reversed(edges))


def distinct_points(edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """Give the edges with points that repeat the one before left out; an edge of no length keeps two."""

    def distinct(vertices: FloatArray) -> FloatArray:
        keep = np.linalg.norm(np.diff(vertices[:-1], axis=0), axis=1) > SAME_POINT_MM
        inner = vertices[:-1][np.concatenate([[True], keep])]
        while len(inner) > 1 and np.linalg.norm(vertices[-1] - inner[-1]) <= SAME_POINT_MM:
            inner = inner[:-1]
        return np.vstack([inner, vertices[-1:]])

    return tuple(replace(edge, vertices=distinct(edge.vertices)) for edge in edges)


def edge_length_mm(vertices: FloatArray) -> float:
    """Length of a polyline, (M, 2) float64 array, mm."""
    return float(np.linalg.norm(np.diff(vertices, axis=0), axis=1).sum())


def size_mm(piece: Piece) -> tuple[float, float]:
    """How wide and how high the piece is as drawn on the paper."""
    corners = np.concatenate([edge.vertices for edge in piece.edges])
    wide, high = np.ptp(corners, axis=0)
    return float(wide), float(high)


def extent_mm(piece: Piece) -> float:
    """How long the piece is on the paper: the longer side of the box about its outline."""
    return max(size_mm(piece))
