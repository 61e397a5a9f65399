"""What can be wrong with the edge that lies on the fold."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from nesting.geometry import FloatArray
from nesting.pattern.edges import counter_clockwise_edges
from nesting.pattern.faults import (
    BesideFold,
    FoldAtAPoint,
    FoldBent,
    FoldOffGrain,
    OverFold,
    PieceFault,
    Place,
    UnknownFoldEdge,
)
from nesting.pattern.piece import Edge, Piece

__all__ = ["FOLD_ANGLE_TOLERANCE_DEG", "FOLD_STRAIGHT_TOLERANCE_MM", "fold_faults", "place_of"]

FOLD_STRAIGHT_TOLERANCE_MM = 0.5
"""How far a fold edge may leave the straight line between its ends: the width of a pencil line."""

FOLD_ANGLE_TOLERANCE_DEG = 0.5
"""How far fold edge and grain may differ: 3 mm over 40 cm, about what pinning a grain line allows (common
practice, no source)."""

ALONG_FOLD_MM = 1.0
"""Another edge may lie on the fold line for no longer than this."""


def fold_faults(piece: Piece, *, has_inside: bool) -> Iterator[PieceFault]:
    """Find everything wrong with the fold edge; `has_inside` says whether the outline is a simple one."""
    if piece.on_fold is None:
        return
    names = tuple(edge.name for edge in piece.edges)
    if piece.on_fold not in names:
        yield UnknownFoldEdge(piece.on_fold, names)
        return
    fold = piece.edge(piece.on_fold).vertices
    if np.linalg.norm(fold[-1] - fold[0]) < FOLD_STRAIGHT_TOLERANCE_MM:
        yield FoldAtAPoint(piece.on_fold)
        return
    off = np.abs(_left_of(fold, fold))
    worst = int(np.argmax(off))
    if off[worst] > FOLD_STRAIGHT_TOLERANCE_MM:
        yield FoldBent(piece.on_fold, float(off[worst]), place_of(fold[worst]))
        return
    yield from _grain_fault(piece, piece.on_fold, fold)
    if has_inside:
        yield from _side_faults(piece, piece.on_fold)


def place_of(point: FloatArray) -> Place:
    """A point as a value."""
    return float(point[0]), float(point[1])


def _grain_fault(piece: Piece, name: str, fold: FloatArray) -> Iterator[PieceFault]:
    run = float(np.degrees(np.arctan2(*(fold[-1] - fold[0])[::-1])))
    turn = abs((run - piece.grain_deg + 90) % 180 - 90)
    if turn > FOLD_ANGLE_TOLERANCE_DEG:
        yield FoldOffGrain(name, turn, float(np.linalg.norm(fold[-1] - fold[0]) * np.sin(np.radians(turn))))


def _side_faults(piece: Piece, name: str) -> Iterator[PieceFault]:
    edges = counter_clockwise_edges(piece.edges)
    fold = next(edge for edge in edges if edge.name == name)
    rest = [edge for edge in edges if edge is not fold]
    if not rest:
        return
    # Counter-clockwise, the piece lies left of its fold edge.
    over = [(-_left_of(fold.vertices, edge.vertices), edge) for edge in rest]
    beyond, edge = max(over, key=lambda found: float(found[0].max()))
    worst = int(np.argmax(beyond))
    if beyond[worst] > FOLD_STRAIGHT_TOLERANCE_MM:
        yield OverFold(name, edge.name, float(beyond[worst]), place_of(edge.vertices[worst]))
    for edge in rest:
        if _length_along(fold, edge) > ALONG_FOLD_MM:
            yield BesideFold(edge.name, name)


def _length_along(fold: Edge, edge: Edge) -> float:
    near = np.abs(_left_of(fold.vertices, edge.vertices)) <= FOLD_STRAIGHT_TOLERANCE_MM
    steps = np.linalg.norm(np.diff(edge.vertices, axis=0), axis=1)
    return float(steps[near[:-1] & near[1:]].sum())


def _left_of(line: FloatArray, points: FloatArray) -> FloatArray:
    """How far points lie to the left of the straight line from a polyline's first vertex to its last, mm."""
    along = (line[-1] - line[0]) / np.linalg.norm(line[-1] - line[0])
    away = points - line[0]
    return np.asarray(along[0] * away[:, 1] - along[1] * away[:, 0])
