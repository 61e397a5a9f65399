"""Where the matching points of a lay come to lie on the cloth, opened out flat.

A matching point lies at X along the warp and u across it. Where it lies in the repeat is counted as the
finished garment is read: from a main line upwards, and to the left as one sees its right side; a piece that
was turned by half is read backwards.

Main lines: X = 0 is one, for the cloth is straightened along it. Across the cloth a fold lies on one (or
midway between two, which mirrors the pattern as well); on open cloth it is where the person measured it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cloth.cloth import Cloth
from nesting.cutting.flat.opening import Layer
from nesting.cutting.lay import Face, Fold, LaySection, PlacedPiece, Yield
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.match import Axis, Hand
from nesting.pattern.piece import Piece

__all__ = ["CutPoint", "points_cut"]

_ON_FOLD_MM = 0.01


@dataclass(frozen=True, slots=True)
class CutPoint:
    """A matching point on a piece of cloth, as it comes off the table.

    Attributes
    ----------
    piece : str
    copy : int
    point : str
    hand : Hand
        Which half of the garment it is on.
    reads : int
        1 where the piece is read along the cloth, -1 where it was turned by half, 0 where it lies across.
    along_mm : float
        X.
    across_mm : float or None
        u from a main line; None where nobody knows of one, then `flat_mm` must do.
    flat_mm : float
        u.
    on_fold : bool
        Whether its main line is a fold.
    """

    piece: str
    copy: int
    point: str
    hand: Hand
    reads: int
    along_mm: float
    across_mm: float | None
    flat_mm: float
    on_fold: bool

    def phase_mm(self, axis: Axis) -> float:
        """Where it lies in the repeat, as the garment is read; not yet modulo the repeat."""
        if axis is Axis.ALONG:
            return self.reads * self.along_mm
        return self.reads * (self.flat_mm if self.across_mm is None else self.across_mm)


def points_cut(
    placed: PlacedPiece, section: LaySection, layers: Sequence[Layer], piece: Piece, cloth: Cloth
) -> Iterator[CutPoint]:
    """Every matching point that cutting round one placement gives.

    Parameters
    ----------
    placed : PlacedPiece
    section : LaySection
    layers : sequence of Layer
        Of the section, the lowest first.
    piece : Piece
        The paper.
    cloth : Cloth
    """
    on_fold = section.fold is not Fold.NONE or section.layers == 2
    line = layers[0].u_mm if on_fold else _measured_line_mm(cloth)
    for number, layer in enumerate(layers):
        copy = placed.copies[0 if placed.yields is not Yield.PAIR else number]
        turned = {0: 1, 180: -1}.get(round(placed.turned_deg) % 360, 0)
        mirrored = (layer.along * layer.across < 0) != (placed.face is Face.DOWN)
        for feature in placed.shape.features:
            if feature.kind is not FeatureKind.MATCH:
                continue
            x, y = (float(value) for value in feature.vertices[0])
            flat = layer.across * y + layer.u_mm
            hands = {Hand.MIRRORED if mirrored else Hand.DRAWN}
            if piece.on_fold is not None and placed.yields is Yield.ONE:
                hands = _halves(placed, piece, feature.name, y)
            for hand in sorted(hands):
                yield CutPoint(
                    placed.piece,
                    copy,
                    feature.name,
                    hand,
                    turned * layer.along,
                    layer.along * x + layer.x_mm,
                    None if line is None else flat - line,
                    flat,
                    on_fold,
                )


def _measured_line_mm(cloth: Cloth) -> float | None:
    line = None if cloth.repeat is None else cloth.repeat.line_mm
    return None if line is None else line * cloth.kept_across


def _halves(placed: PlacedPiece, piece: Piece, point: str, y: float) -> set[Hand]:
    """Which half of a piece cut whole the point is on, seen from its fold line; both, on the line."""
    off = y - _fold_line_mm(placed.shape)
    if abs(off) < _ON_FOLD_MM:
        return {Hand.DRAWN, Hand.MIRRORED}
    if (placed.face is Face.DOWN) != (round(placed.turned_deg) % 360 == 180):
        off = -off
    return {Hand.DRAWN if off * _left_of_fold_mm(piece, point) > 0 else Hand.MIRRORED}


def _left_of_fold_mm(piece: Piece, point: str) -> float:
    """How far left of the fold a matching point is on the paper, looking from foot to top of the grain."""
    (at,) = (mark.points[0] for mark in piece.matching if mark.name == point)
    fold = piece.edge(piece.on_fold or "").vertices
    along, grain = fold[-1] - fold[0], np.radians(piece.grain_deg)
    if along @ [np.cos(grain), np.sin(grain)] < 0:
        along = -along
    x, y = at - fold[0]
    return float((along[0] * y - along[1] * x) / np.hypot(*along))


def _fold_line_mm(shape: CutShape) -> float:
    (fold,) = (feature for feature in shape.features if feature.kind is FeatureKind.FOLD)
    return float(fold.vertices[0, 1])
