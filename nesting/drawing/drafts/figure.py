"""One piece as written down, drawn to scale with its names: how large it comes out, and how it is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest

import numpy as np
import shapely

from nesting.cutting.flat.placing import grain_line
from nesting.cutting.plan.demand import allowed_turn
from nesting.doubts.kinds import DoubtKind
from nesting.drawing.drafts.names import doubt_tags, edge_tags, mark_tags, notch_tags, point_tags
from nesting.drawing.drafts.paper import as_drawn, on_paper
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.sheet import MM_PER_PT
from nesting.drawing.ink.tags import PlacedTag, Tag, place_tags
from nesting.drawing.lay.pieces import draw_lines, fold_bracket
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.outline import piece_faults
from nesting.pattern.piece import Piece, Turn
from nesting.project import Project

__all__ = ["DraftFigure", "draft_figure", "draw_draft"]

_DOT_PT = 2.4
_MARGIN_PT = 3.0
_MOST_TAGS = 400
"""No page shows more words about one piece."""


@dataclass(frozen=True, slots=True, eq=False)
class DraftFigure:
    """A piece at a scale, everything about it placed.

    Attributes
    ----------
    piece : Piece
    shape : CutShape
        In paper coordinates, mm.
    scale : int
        So many times smaller than the piece.
    tags : tuple of PlacedTag
    bounds : Box
        Of the lines and words, in mm on the pattern's paper.
    without_room : tuple of str
        Words that found no place, as a list says them.
    numbered : tuple of (int, DoubtKind)
        What is doubted in it.
    sound : bool
        False where it cannot be cut and is drawn without its allowances.
    """

    piece: Piece
    shape: CutShape
    scale: int
    tags: tuple[PlacedTag, ...]
    bounds: Box
    without_room: tuple[str, ...]
    numbered: tuple[tuple[int, DoubtKind], ...]
    sound: bool

    @property
    def mm_per_pt(self) -> float:
        """Millimetres of the pattern to a point of the page."""
        return self.scale * MM_PER_PT

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height on the page."""
        x0, y0, x1, y1 = self.bounds
        return (x1 - x0) / self.scale, (y1 - y0) / self.scale


def draft_figure(
    project: Project, piece: Piece, scale: int, numbered: Sequence[tuple[int, DoubtKind]]
) -> DraftFigure:
    """Place all that is written about a piece at that scale."""
    sound = not piece_faults(piece)
    shape = on_paper(piece) if sound else as_drawn(piece)
    mm_per_pt = scale * MM_PER_PT
    tags = [
        *doubt_tags(piece, numbered),
        *notch_tags(shape),
        *edge_tags(piece, shape, project.unit),
        *point_tags(piece),
        *mark_tags(shape),
    ]
    solid = shapely.Polygon(shape.cut_line).buffer(0)
    placed = place_tags(tags[:_MOST_TAGS], _lines(shape, mm_per_pt), solid, mm_per_pt)
    kept = tuple(one for one in placed if one is not None)
    corners = np.vstack([shape.cut_line, *(np.reshape(one.box, (2, 2)) for one in kept)])
    margin = _MARGIN_PT * mm_per_pt
    (x0, y0), (x1, y1) = corners.min(axis=0) - margin, corners.max(axis=0) + margin
    return DraftFigure(
        piece=piece,
        shape=shape,
        scale=scale,
        tags=kept,
        bounds=(float(x0), float(y0), float(x1), float(y1)),
        without_room=tuple(" ".join(tag.lines) for tag in _left_out(tags, placed)),
        numbered=tuple(numbered),
        sound=sound,
    )


def _left_out(tags: Sequence[Tag], placed: Sequence[PlacedTag | None]) -> Iterator[Tag]:
    """The tags that have no place."""
    for tag, one in zip_longest(tags, placed):
        if one is None:
            yield tag


def draw_draft(canvas: Canvas, project: Project, figure: DraftFigure, name: str) -> None:
    """Draw it; `name` is the first part of every group id."""
    piece = figure.piece
    turns = {allowed_turn(piece, project.cloths[key]) for key in piece.cuts}
    draw_lines(
        canvas,
        figure.shape,
        name,
        on_fold=figure.shape.fold_edge is not None,
        either_way=bool(turns) and Turn.NONE not in turns,
    )
    if piece.draft is not None:
        for point, at in piece.draft.points.items():
            canvas.dot(at, _DOT_PT, f"{name}-point-{point}")
    for one in figure.tags:
        if one.leader is not None:
            canvas.line(one.leader, "tag leader", f"{name}-tag-leader", "leader")
        if one.tag.ringed:
            size = (one.box[2] - one.box[0]) / canvas.mm_per_pt, (one.box[3] - one.box[1]) / canvas.mm_per_pt
            canvas.ring(one.middle, size, f"{name}-doubt-ring")
        canvas.words(one.middle, one.tag.lines, one.tag.size_pt, f"{name}-tag", bold=one.tag.ringed)


def _lines(shape: CutShape, mm_per_pt: float) -> list[FloatArray]:
    """All that is drawn of a piece, as lines that words keep off."""
    lines = [np.vstack([shape.cut_line, shape.cut_line[:1]])]
    lines += [feature.vertices for feature in shape.features if feature.kind is not FeatureKind.GRAIN]
    if shape.fold_edge is not None:
        lines.append(fold_bracket(shape.fold_edge, shape.cut_line, mm_per_pt))
    grain = grain_line(shape)
    return lines if grain is None else [*lines, grain]
