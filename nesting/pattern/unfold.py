"""A piece on the fold, opened out: what is cut of it where the cloth lies in one layer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nesting.errors import InvalidShape
from nesting.geometry import FloatArray
from nesting.pattern.allowance import without_collinear
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind

__all__ = ["unfolded"]

SAME_MM = 1e-6


def unfolded(shape: CutShape) -> CutShape:
    """Open a piece out about its fold edge.

    Parameters
    ----------
    shape : CutShape
        With a fold edge.

    Returns
    -------
    CutShape
        Whole and symmetric, the box about it from (0, 0), counter-clockwise. Every feature is there on
        both sides, but for the fold line and what the paper is laid by, which are drawn once; a stitching
        line is closed. Seams are there on both sides too.

    Raises
    ------
    InvalidShape
        When the shape has no fold edge.
    """
    if shape.fold_edge is None:
        raise InvalidShape(f"piece {shape.name!r} has no fold edge to open out")
    y = float(shape.fold_edge[0, 1])

    def mirrored(points: FloatArray) -> FloatArray:
        return np.column_stack([points[:, 0], 2 * y - points[:, 1]])

    half = _from_fold_to_fold(shape.cut_line, shape.fold_edge)
    cut_line = without_collinear(np.concatenate([half, mirrored(half)[-2:0:-1]]))
    features = [
        side for feature in shape.features for side in _both_sides(feature, mirrored(feature.vertices))
    ]
    seams = (*shape.seams, *(replace(seam, vertices=mirrored(seam.vertices)[::-1]) for seam in shape.seams))
    whole = replace(
        shape, cut_line=cut_line, features=tuple(features), fold_edge=None, symmetric=True, seams=seams
    )
    return whole.transformed(np.eye(2), -cut_line.min(axis=0))


def _from_fold_to_fold(cut_line: FloatArray, fold_edge: FloatArray) -> FloatArray:
    """The cut line without its stretch on the fold, both of whose ends are kept."""
    # Counter-clockwise, a fold below the piece is walked towards +x, one above it towards -x.
    below = cut_line[:, 1].mean() > fold_edge[0, 1]
    along = fold_edge[np.argsort(fold_edge[:, 0] if below else -fold_edge[:, 0])]
    first, second = (int(np.argmin(np.linalg.norm(cut_line - end, axis=1))) for end in along)
    ring = np.roll(cut_line, -second, axis=0)
    return ring[: (first - second) % len(ring) + 1]


def _both_sides(feature: Feature, mirrored: FloatArray) -> tuple[Feature, ...]:
    if feature.kind in (FeatureKind.GRAIN, FeatureKind.CORNER, FeatureKind.FOLD):
        return (feature,)
    if feature.kind is FeatureKind.STITCHING:
        return (Feature(feature.kind, feature.name, np.concatenate([feature.vertices, mirrored[-2::-1]])),)
    if np.abs(feature.vertices - mirrored).max() < SAME_MM:
        return (feature,)
    return feature, Feature(feature.kind, feature.name, mirrored)
