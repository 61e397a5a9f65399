"""A piece cut in two across its middle, to be joined by a seam: an under collar pieced from two halves.

The line is drawn across the longer way of the piece, square to its grain or along it. Each half keeps its
part of the outline, and gets a new edge, with an allowance, where they are joined.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nesting.geometry import FloatArray
from nesting.pattern.piece import Edge, Piece

__all__ = ["JOIN", "pieced"]

JOIN = "joining seam"
_SAME_MM = 1e-6


def pieced(piece: Piece, allowance_mm: float) -> tuple[Piece, Piece] | None:
    """The two halves, named after the piece; None where it cannot simply be cut in two.

    That is so for a piece drawn as half, one with matching points or with a dart or mark across its middle,
    and one whose outline crosses its middle more than twice.

    Parameters
    ----------
    piece : Piece
    allowance_mm : float
        Of the new seam, on either half.
    """
    if piece.on_fold is not None or piece.matching:
        return None
    grain = np.deg2rad(piece.grain_deg)
    ring = np.concatenate([edge.vertices[:-1] for edge in piece.edges])
    ways = [np.array([np.cos(grain), np.sin(grain)]), np.array([-np.sin(grain), np.cos(grain)])]
    along = max(ways, key=lambda way: float(np.ptp(ring @ way)))
    reach = ring @ along
    middle = float(reach.min() + reach.max()) / 2
    walk, crossings = _with_crossings(piece.edges, along, middle)
    if len(crossings) != 2:
        return None
    first, second = crossings
    halves = []
    for number, side, run in (
        ("first", 1.0 if _beyond(walk[first], along, middle) else -1.0, walk[first:second]),
        ("second", 1.0 if _beyond(walk[second], along, middle) else -1.0, walk[second:] + walk[:first]),
    ):
        half = _half(piece, run, f"{piece.name}, {number} half", allowance_mm, along * side, middle * side)
        if half is None:
            return None
        halves.append(half)
    return halves[0], halves[1]


_Run = tuple[str, float, FloatArray]
"""Name and allowance of an edge, and (M, 2) vertices of a part of it on one side of the line."""


def _with_crossings(edges: Sequence[Edge], along: FloatArray, middle: float) -> tuple[list[_Run], list[int]]:
    """The outline as runs, none of which crosses the line, and those that begin on it."""
    runs: list[_Run] = []
    crossings: list[int] = []
    for edge in edges:
        points = [edge.vertices[0]]
        for a, b in zip(edge.vertices[:-1], edge.vertices[1:], strict=True):
            da, db = float(a @ along) - middle, float(b @ along) - middle
            if da * db < 0:
                cross = a + (b - a) * da / (da - db)
                runs.append((edge.name, edge.allowance_mm, np.array([*points, cross])))
                crossings.append(len(runs))
                points = [cross]
            elif abs(da) <= _SAME_MM:
                # A corner on the line begins a run as well, if the outline goes on to the other side there.
                if len(points) > 1:
                    runs.append((edge.name, edge.allowance_mm, np.array(points)))
                    points = [points[-1]]
                before = runs[-1][2] if runs else edges[-1].vertices
                if (float(before[-2] @ along) - middle) * db < 0:
                    crossings.append(len(runs))
            points.append(b)
        runs.append((edge.name, edge.allowance_mm, np.array(points)))
    return runs, [number % len(runs) for number in crossings]


def _beyond(run: _Run, along: FloatArray, middle: float) -> bool:
    return float(run[2].mean(axis=0) @ along) > middle


def _half(
    piece: Piece, runs: Sequence[_Run], name: str, allowance_mm: float, along: FloatArray, middle: float
) -> Piece | None:
    """The part of the piece beyond the line, or None where a dart or a mark lies across it."""
    names: dict[str, int] = {}
    edges = []
    for edge, allowance, vertices in runs:
        names[edge] = names.get(edge, 0) + 1
        label = edge if names[edge] == 1 else f"{edge} {names[edge]}"
        edges.append(Edge(label, vertices, allowance))
    join = np.array([edges[-1].vertices[-1], edges[0].vertices[0]])
    edges.append(Edge(JOIN, join, allowance_mm))

    def inside(points: Sequence[tuple[float, float]]) -> bool | None:
        beyond = [float(np.array(point) @ along) >= middle - _SAME_MM for point in points]
        return None if any(beyond) and not all(beyond) else all(beyond)

    darts = [(dart, inside(dart.legs_and_tip)) for dart in piece.darts]
    marks = [(mark, inside(mark.points)) for mark in piece.marks]
    if any(where is None for _, where in (*darts, *marks)):
        return None
    notches = tuple(notch for notch in piece.notches if notch.edge in names and inside((notch.at,)))
    return replace(
        piece,
        name=name,
        edges=tuple(edges),
        notches=notches,
        darts=tuple(dart for dart, where in darts if where),
        marks=tuple(mark for mark, where in marks if where),
        grain_line=None,
    )
