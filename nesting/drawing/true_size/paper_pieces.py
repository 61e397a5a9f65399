"""The pieces of a pattern at true size with their allowances, several on a sheet where they are small."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.cutting.plan.demand import allowed_turn
from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.pen import Pen
from nesting.drawing.lay.pieces import draw_lines
from nesting.drawing.true_size.full_size import FullSize, box_of, meets
from nesting.drawing.true_size.words import draw_words
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.piece import CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.project import Project

__all__ = ["count_words", "pieces_full_size"]

_GAP_MM = 8.0
"""Between pieces that share a sheet."""


def pieces_full_size(
    project: Project, pieces: Sequence[Piece], room_mm: tuple[float, float]
) -> tuple[FullSize, ...]:
    """Drawings of the pieces, grain along the long side; each holds what fits one sheet, or one large piece.

    Parameters
    ----------
    project : Project
    pieces : sequence of Piece
    room_mm : (float, float)
        Length and height that one sheet has for drawing on.
    """
    shapes = {piece.name: cut_shape(piece) for piece in pieces}
    groups = _shelves([(piece, box_of(shapes[piece.name].cut_line)) for piece in pieces], room_mm)
    return tuple(_drawing(project, group, shapes) for group in groups)


def count_words(piece: Piece, project: Project) -> tuple[str, ...]:
    """How many are cut, a line a cloth: ``cut 2 of grey wool, left and right``, ``1 of calico``."""
    said = []
    for key, count in piece.cuts.items():
        how = {CutKind.PAIR: ", left and right", CutKind.ON_FOLD: ", on the fold"}.get(count.kind, "")
        said.append(f"{count.pieces} of {project.cloths[key].name}{how}")
    return (f"cut {said[0]}", *said[1:]) if said else ()


Placed = tuple[Piece, tuple[float, float]]


def _shelves(boxes: Sequence[tuple[Piece, Box]], room_mm: tuple[float, float]) -> list[list[Placed]]:
    """Pieces in rows, highest first, as many to a sheet as fit; one that is larger has its own drawing."""
    long, high = room_mm
    groups: list[list[Placed]] = []
    open_group: list[Placed] = []
    x = y = row = 0.0
    for piece, (x0, y0, x1, y1) in sorted(boxes, key=lambda one: one[1][1] - one[1][3]):
        wide, tall = x1 - x0, y1 - y0
        if wide > long or tall > high:
            groups.append([(piece, (-x0, -y0))])
            continue
        if x > 0 and x + wide > long:
            x, y, row = 0.0, y + row + _GAP_MM, 0.0
        if y + tall > high:
            groups.append(open_group)
            open_group, x, y, row = [], 0.0, 0.0, 0.0
        open_group.append((piece, (x - x0, y - y0)))
        x, row = x + wide + _GAP_MM, max(row, tall)
    return [*groups, open_group] if open_group else groups


def _drawing(project: Project, group: Sequence[Placed], shapes: dict[str, CutShape]) -> FullSize:
    placed = [(piece, shapes[piece.name].transformed(np.eye(2), np.array(shift))) for piece, shift in group]
    outlines = tuple(shape.cut_line for _, shape in placed)
    boxes = np.array([box_of(outline) for outline in outlines])

    def draw(pen: Pen, window: Box, cell: Box) -> None:
        for number, (piece, shape) in enumerate(placed, start=1):
            if meets(box_of(shape.cut_line), window):
                turns = {allowed_turn(piece, project.cloths[key]) for key in piece.cuts}
                inner = draw_lines(
                    pen,
                    shape,
                    f"piece-{number}",
                    on_fold=shape.fold_edge is not None,
                    either_way=bool(turns) and Turn.NONE not in turns,
                )
                lines = (piece.name, *count_words(piece, project))
                draw_words(pen, lines, shape.cut_line, inner, cell, f"piece-{number}-words")

    return FullSize(
        title=", ".join(piece.name for piece, _ in group),
        bounds=(
            float(boxes[:, 0].min()),
            float(boxes[:, 1].min()),
            float(boxes[:, 2].max()),
            float(boxes[:, 3].max()),
        ),
        covers=outlines,
        outlines=outlines,
        draw=draw,
    )
