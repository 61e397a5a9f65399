"""A piece with its allowances as it lies on the paper: x to the right, y up, as its points were measured."""

from __future__ import annotations

import math

import numpy as np

from nesting.cutting.flat.placing import grain_line
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.pattern.edges import outline_ring
from nesting.pattern.piece import Piece
from nesting.pattern.shaping import cut_shape

__all__ = ["as_drawn", "on_paper"]


def on_paper(piece: Piece) -> CutShape:
    """The shape to cut, turned and moved back from the cloth to the paper.

    Its grain line is known in both, and says how. Corners that it is laid by are left to the lay.
    """
    shape = cut_shape(piece).without(FeatureKind.CORNER)
    on_cloth, drawn = grain_line(shape), shape.grain_on_paper
    assert on_cloth is not None  # every shape carries one
    assert drawn is not None
    run = drawn[1] - drawn[0]
    angle = math.atan2(run[1], run[0]) if np.hypot(*run) > 0 else math.radians(piece.grain_deg)
    c, s = math.cos(angle), math.sin(angle)
    matrix = np.array([[c, -s], [s, c]])
    return shape.transformed(matrix, drawn[0] - matrix @ on_cloth[0])


def as_drawn(piece: Piece) -> CutShape:
    """The outline of a piece that cannot be cut, without allowances; it may cross itself."""
    marked = [
        *((FeatureKind.DART, dart.name, dart.legs_and_tip) for dart in piece.darts),
        *((FeatureKind.MARK, mark.name, mark.points) for mark in piece.marks),
    ]
    features = tuple(Feature(kind, name, np.array(points)) for kind, name, points in marked)
    return CutShape(piece.name, outline_ring(piece.edges), features, None, symmetric=False)
