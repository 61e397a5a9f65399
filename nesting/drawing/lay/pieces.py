"""One placement on the drawing: its outline, what the paper carries, and its words."""

from __future__ import annotations

import numpy as np

from nesting.cutting.flat.placing import Numbered, grain_line
from nesting.cutting.lay import Face, Yield
from nesting.drawing.ink.blocks import ring_pt
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.grain_mark import draw_grain
from nesting.drawing.ink.labels import InnerLines, Label
from nesting.drawing.ink.look import FACE_DOWN, FACE_DOWN_HATCH, HATCH_INK, PAPER
from nesting.drawing.ink.pen import Pen
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.words.placing import garments_text

__all__ = ["draw_label", "draw_lines", "draw_piece", "fold_bracket", "label_to_mind"]

_BRACKET_PT = 7.0
_CROSS_PT = 2.5
_CORNER_PT = 6.0
_NOTCH_PT = 5.0
"""A notch is drawn at least this long, or a small scale would hide it."""
_DOT_PT = 3.0
_ON_FOLD_MM = 0.01


def draw_piece(canvas: Canvas, item: Numbered) -> InnerLines:
    """Draw all but the words of a placement; give the inner lines that the words should keep off."""
    name = f"piece-{item.number}"
    down = item.placed.face is Face.DOWN
    canvas.area(
        item.shape.cut_line,
        FACE_DOWN if down else PAPER,
        f"{name}-face-down" if down else f"{name}-face-up",
        "piece",
        hatch=FACE_DOWN_HATCH if down else "",
        hatch_ink=HATCH_INK if down else "none",
    )
    on_fold = item.placed.yields is Yield.WHOLE_ON_FOLD
    return draw_lines(canvas, item.shape, name, on_fold=on_fold, either_way=item.either_way)


def draw_lines(pen: Pen, shape: CutShape, name: str, *, on_fold: bool, either_way: bool) -> InnerLines:
    """Draw the lines of a shape: its cutting line and all that the paper carries.

    Parameters
    ----------
    name : str
        First part of every group id.
    on_fold : bool
        Whether its fold edge lies on the fold of the cloth; that edge is then bracketed, and not cut.
    either_way : bool
        Whether the piece may be turned end for end.
    """
    _draw_cut_line(pen, shape, name, on_fold)
    grain: list[FloatArray] = []
    signs: list[FloatArray] = []
    seams: list[FloatArray] = []
    for feature in shape.features:
        if not _drawn_apart(feature, on_fold):
            drawn = _draw_feature(pen, feature, name)
            (seams if feature.kind is FeatureKind.STITCHING else signs).append(drawn)
    line = grain_line(shape)
    if line is not None:
        draw_grain(pen, line[0], line[1], f"{name}-grain-line", either_way=either_way)
        grain.append(line)
    if on_fold and shape.fold_edge is not None:
        grain.append(_draw_fold_bracket(pen, shape.fold_edge, shape.cut_line, name))
    return InnerLines(tuple(grain), tuple(signs), tuple(seams))


def draw_label(canvas: Canvas, item: Numbered, label: Label) -> None:
    """Draw the number in its ring, the words, and for a callout the line to the piece."""
    name = f"piece-{item.number}"
    if label.points_to is not None:
        canvas.line([label.number_at, label.points_to], "leader", f"{name}-leader", "leader")
        canvas.dot(label.points_to, _DOT_PT, f"{name}-leader-end")
    canvas.ring(label.number_at, ring_pt(label.number, label.size_pt), f"{name}-ring")
    canvas.words(label.number_at, str(label.number), label.size_pt, f"{name}-number", bold=True)
    if label.lines:
        ground = FACE_DOWN if item.placed.face is Face.DOWN else PAPER
        canvas.words(
            label.lines_at, label.lines, label.size_pt, f"{name}-words", upright=label.upright, ground=ground
        )


def label_to_mind(item: Numbered) -> str:
    """What a mistake would be made without: for which garment it is, on the fold, face down; else nothing."""
    said = [garments_text(item.placed)]
    if item.placed.yields is Yield.WHOLE_ON_FOLD:
        said.append("on the fold")
    if item.placed.face is Face.DOWN:
        said.append("face down")
    return ", ".join(filter(None, said))


def _drawn_apart(feature: Feature, on_fold: bool) -> bool:
    """The grain line is an arrow; a fold line that lies on the fold of the cloth, a bracket."""
    return feature.kind is FeatureKind.GRAIN or (feature.kind is FeatureKind.FOLD and on_fold)


def _draw_cut_line(pen: Pen, shape: CutShape, name: str, on_fold: bool) -> None:
    """The line to cut along; the edge on the fold is left out, for it is never cut."""
    ring = np.vstack([shape.cut_line, shape.cut_line[:1]])
    drawn = np.ones(len(shape.cut_line), dtype=bool)
    if on_fold and shape.fold_edge is not None:
        at_fold = np.abs(_off_fold(ring, shape.fold_edge)) < _ON_FOLD_MM
        drawn = ~(at_fold[1:] & at_fold[:-1])
    pen.outline(ring, drawn.tolist(), "cut line", f"{name}-cut-line")


def _draw_feature(pen: Pen, feature: Feature, name: str) -> FloatArray:
    """One line or point of the paper; give it as drawn."""
    points = feature.vertices
    if feature.kind is FeatureKind.CORNER:
        points = _square(points[0], _CORNER_PT * pen.mm_per_pt / 2)
    elif len(points) == 1:
        slanting = feature.kind is FeatureKind.MATCH
        points = _cross(points[0], _CROSS_PT * pen.mm_per_pt, slanting=slanting)
    elif feature.kind is FeatureKind.NOTCH:
        inwards = points[-1] - points[0]
        length = float(np.hypot(*inwards))
        if length > 0:
            points = np.array([points[0], points[0] + inwards * max(1.0, _NOTCH_PT * pen.mm_per_pt / length)])
    gid = f"{name}-{str(feature.kind).replace(' ', '-')}"
    pen.line(points, str(feature.kind), gid)
    return points


def _cross(at: FloatArray, arm: float, *, slanting: bool) -> FloatArray:
    """A small cross drawn in one stroke, upright or slanting."""
    one, other = ((1.0, 1.0), (-1.0, 1.0)) if slanting else ((1.0, 0.0), (0.0, 1.0))
    arms = np.array([one, (-one[0], -one[1]), (0.0, 0.0), other, (-other[0], -other[1])])
    return np.asarray(at + arm * arms)


def _square(at: FloatArray, half: float) -> FloatArray:
    """A small square about a point."""
    return np.asarray(
        at + half * np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0)])
    )


def _draw_fold_bracket(pen: Pen, fold: FloatArray, cut_line: FloatArray, name: str) -> FloatArray:
    """A bar along the middle of the fold edge whose ends bend to the fold, each with an arrow head."""
    bracket = fold_bracket(fold, cut_line, pen.mm_per_pt)
    left, *bar, right = bracket
    pen.line(bar, "fold bracket", f"{name}-fold-bracket")
    for tail, end in ((bar[0], left), (bar[1], right)):
        pen.arrow(tail, end, "fold bracket", f"{name}-fold-bracket-end")
    return bracket


def fold_bracket(fold: FloatArray, cut_line: FloatArray, mm_per_pt: float) -> FloatArray:
    """From the fold edge in, along the middle of it, and back to the fold: (4, 2), mm.

    Parameters
    ----------
    fold : (2, 2) float64 array, mm
        May run any way.
    cut_line : (N, 2) float64 array, mm
    mm_per_pt : float
    """
    foot, top = fold
    off = _off_fold(cut_line, fold)
    run = (top - foot) / np.hypot(*(top - foot))
    side = float(np.sign(off.mean())) * np.array([-run[1], run[0]])
    inwards = side * min(_BRACKET_PT * mm_per_pt, 0.35 * float(np.ptp(off)))
    left, right = foot + 0.2 * (top - foot), foot + 0.8 * (top - foot)
    return np.array([left, left + inwards, right + inwards, right])


def _off_fold(points: FloatArray, fold: FloatArray) -> FloatArray:
    """How far points lie off the line of the fold, mm, to the left of its run positive; (N,)."""
    run = (fold[1] - fold[0]) / np.hypot(*(fold[1] - fold[0]))
    return np.asarray((points - fold[0]) @ np.array([-run[1], run[0]]))
