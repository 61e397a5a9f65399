"""The shape that is cut: the outline with its allowances, laid along the grain, with all it carries.

Cloth coordinates: millimetres, x along the cloth (the warp), y across it. A cut shape as made here
lies with its grain along +x (its top towards +x), paper face up, so only turned, never mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from nesting.geometry import FloatArray
from nesting.pattern.piece import Side

__all__ = ["NOTCH_DEPTH_MM", "CutShape", "Feature", "FeatureKind", "Seam"]

NOTCH_DEPTH_MM = 5.0
"""Length of the slit that marks a notch, inward from the cut line (3 to 5 mm; common practice, no source)."""


class FeatureKind(StrEnum):
    """What a line on a cut shape means."""

    STITCHING = "stitching line"
    NOTCH = "notch"
    DART = "dart"
    MARK = "mark"
    MATCH = "matching point"
    GRAIN = "grain line"
    CORNER = "corner to lay by"
    FOLD = "fold line"


@dataclass(frozen=True, slots=True, eq=False)
class Feature:
    """A line, or a point (one vertex), carried with a shape.

    Attributes
    ----------
    kind : FeatureKind
    name : str
    vertices : (M, 2) float64 array, mm, M >= 1
        A closed line repeats its first vertex. A grain line runs from foot to top. A corner to lay by is
        called by the two edges that meet there (`nesting.pattern.laid_by`). A notch is two
        points: on the cut line first, then `NOTCH_DEPTH_MM` towards the inside.
    """

    kind: FeatureKind
    name: str
    vertices: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Seam:
    """An edge as it is stitched, and what is added outside it.

    Attributes
    ----------
    name : str
        Of the edge.
    allowance_mm : float
    vertices : (M, 2) float64 array, mm, M >= 2
        The inside of the piece lies to the left of them.
    """

    name: str
    allowance_mm: float
    vertices: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class CutShape:
    """A piece as it is cut.

    Attributes
    ----------
    name : str
        The piece's name.
    cut_line : (N, 2) float64 array, mm, counter-clockwise, not closed
    features : tuple of Feature
    fold_edge : (2, 2) float64 array or None
        The stretch of the cut line that lies on the fold, its neighbours' allowances included,
        parallel to x; None for a whole piece.
    symmetric : bool
        True when the shape is its own mirror image across the grain (within 1 mm), so that a left
        and a right are the same.
    grain_on_paper : (2, 2) float64 array or None
        Foot and top of the grain line in paper coordinates, so that it can be drawn on the paper; it
        stays as it is however the shape is moved.
    seams : tuple of Seam
        Every edge to which an allowance is added or might be: none of a paper that has its own, nor the
        edge on the fold.
    drawn : Side or None
        For which side of the body the paper is, face up, where it says and the sides differ.
    """

    name: str
    cut_line: FloatArray
    features: tuple[Feature, ...]
    fold_edge: FloatArray | None
    symmetric: bool
    grain_on_paper: FloatArray | None = None
    seams: tuple[Seam, ...] = ()
    drawn: Side | None = None

    def without(self, kind: FeatureKind) -> CutShape:
        """The shape with no features of that kind."""
        return replace(self, features=tuple(one for one in self.features if one.kind is not kind))

    def transformed(self, matrix: FloatArray, shift: FloatArray) -> CutShape:
        """The shape under ``p -> matrix @ p + shift``; mirrored too, its cut line stays counter-clockwise.

        Parameters
        ----------
        matrix : (2, 2) float64 array
        shift : (2,) float64 array, mm
        """

        def move(points: FloatArray) -> FloatArray:
            return points @ matrix.T + shift

        mirrored = np.linalg.det(matrix) < 0

        def go_round(points: FloatArray) -> FloatArray:
            moved = move(points)
            return moved[::-1].copy() if mirrored else moved

        return CutShape(
            name=self.name,
            cut_line=go_round(self.cut_line),
            features=tuple(Feature(f.kind, f.name, move(f.vertices)) for f in self.features),
            fold_edge=None if self.fold_edge is None else move(self.fold_edge),
            symmetric=self.symmetric,
            grain_on_paper=self.grain_on_paper,
            seams=tuple(Seam(seam.name, seam.allowance_mm, go_round(seam.vertices)) for seam in self.seams),
            drawn=self.drawn,
        )
