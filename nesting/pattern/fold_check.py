"""What can be wrong with the edge that lies on the fold."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from nesting.errors import Mistake
from nesting.geometry import FloatArray
from nesting.pattern.edges import counter_clockwise_edges
from nesting.pattern.piece import Edge, Piece
from nesting.units import Unit, format_point

__all__ = ["FOLD_ANGLE_TOLERANCE_DEG", "FOLD_STRAIGHT_TOLERANCE_MM", "fold_mistakes"]

FOLD_STRAIGHT_TOLERANCE_MM = 0.5
"""How far a fold edge may leave the straight line between its ends: the width of a pencil line."""

FOLD_ANGLE_TOLERANCE_DEG = 0.5
"""How far fold edge and grain may differ: 3 mm over 40 cm, about what pinning a grain line allows (common
practice, no source)."""

_SWAPPED = (
    " Or are the numbers of its points the wrong way round? First how far to the right, then how far up."
)

ALONG_FOLD_MM = 1.0
"""Another edge may lie on the fold line for no longer than this."""


def fold_mistakes(piece: Piece, here: str, *, has_inside: bool, unit: Unit) -> Iterator[Mistake]:
    """Find everything wrong with the fold edge; `has_inside` says whether the outline is a simple one."""
    if piece.on_fold is None:
        return
    names = [edge.name for edge in piece.edges]
    if piece.on_fold not in names:
        yield Mistake(
            f"{here}, on_fold",
            f"There is no edge {piece.on_fold!r}.",
            f"The edges are {', '.join(repr(name) for name in names)}.",
        )
        return
    at = f"{here}, edge {piece.on_fold!r}"
    fold = piece.edge(piece.on_fold).vertices
    if np.linalg.norm(fold[-1] - fold[0]) < FOLD_STRAIGHT_TOLERANCE_MM:
        yield Mistake(at, "The fold edge ends where it begins.", "A fold edge is one straight line.")
        return
    off = np.abs(_left_of(fold, fold))
    worst = int(np.argmax(off))
    if off[worst] > FOLD_STRAIGHT_TOLERANCE_MM:
        yield Mistake(
            at,
            f"The fold edge is not straight: {off[worst]:.1f} mm off at {format_point(fold[worst], unit)}.",
            "Draw it straight, or set on_fold = false and cut a seam there.",
        )
        return
    yield from _grain_mistake(piece, fold, at)
    if has_inside:
        yield from _side_mistakes(piece, at, here, unit)


def _grain_mistake(piece: Piece, fold: FloatArray, at: str) -> Iterator[Mistake]:
    run = float(np.degrees(np.arctan2(*(fold[-1] - fold[0])[::-1])))
    turn = abs((run - piece.grain_deg + 90) % 180 - 90)
    if turn > FOLD_ANGLE_TOLERANCE_DEG:
        off = float(np.linalg.norm(fold[-1] - fold[0]) * np.sin(np.radians(turn)))
        yield Mistake(
            at,
            f"The fold edge is {turn:.1f} degrees off the grain line: {off:.0f} mm from end to end.",
            "The fold runs along the grain: change the grain line or the edge, or set on_fold = false."
            + (_SWAPPED if turn > 80 else ""),
        )


def _side_mistakes(piece: Piece, at: str, here: str, unit: Unit) -> Iterator[Mistake]:
    edges = counter_clockwise_edges(piece.edges)
    fold = next(edge for edge in edges if edge.name == piece.on_fold)
    rest = [edge for edge in edges if edge is not fold]
    if not rest:
        return
    # Counter-clockwise, the piece lies left of its fold edge.
    over = [(-_left_of(fold.vertices, edge.vertices), edge) for edge in rest]
    beyond, edge = max(over, key=lambda found: float(found[0].max()))
    worst = int(np.argmax(beyond))
    if beyond[worst] > FOLD_STRAIGHT_TOLERANCE_MM:
        yield Mistake(
            at,
            f"The piece crosses its fold line: edge {edge.name!r} lies {beyond[worst]:.1f} mm beyond it "
            f"at {format_point(edge.vertices[worst], unit)}.",
            "Draw only the half on one side of the fold, or set on_fold = false and cut a seam there.",
        )
    for edge in rest:
        if _length_along(fold, edge) > ALONG_FOLD_MM:
            yield Mistake(
                f"{here}, edge {edge.name!r}",
                f"The edge lies on the fold line too, beside {piece.on_fold!r}.",
                f"Let {piece.on_fold!r} run on over it, or set on_fold = false and cut a seam there.",
            )


def _length_along(fold: Edge, edge: Edge) -> float:
    near = np.abs(_left_of(fold.vertices, edge.vertices)) <= FOLD_STRAIGHT_TOLERANCE_MM
    steps = np.linalg.norm(np.diff(edge.vertices, axis=0), axis=1)
    return float(steps[near[:-1] & near[1:]].sum())


def _left_of(line: FloatArray, points: FloatArray) -> FloatArray:
    """How far points lie to the left of the straight line from a polyline's first vertex to its last, mm."""
    along = (line[-1] - line[0]) / np.linalg.norm(line[-1] - line[0])
    away = points - line[0]
    return np.asarray(along[0] * away[:, 1] - along[1] * away[:, 0])
