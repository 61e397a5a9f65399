"""The pieces of a pattern at true size with their allowances, several on a sheet where they are small."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cutting.plan.demand import allowed_turn
from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.pen import Pen
from nesting.drawing.lay.names import draw_names
from nesting.drawing.lay.pieces import draw_lines
from nesting.drawing.true_size.full_size import NAMES_PT, FullSize, box_of, lines_of, meets
from nesting.drawing.true_size.words import draw_words
from nesting.packing.problem import Variant
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.piece import CutKind, Piece, Turn
from nesting.pattern.shaping import cut_shape
from nesting.project import Project

__all__ = ["count_words", "pieces_full_size"]

_GAP_MM = 8.0
"""Between pieces that share a sheet."""
_TURNS_DEG = (0.0, *range(5, 180, 5))
"""Tried of a large piece; the first of those that take fewest sheets is taken."""


def pieces_full_size(
    project: Project,
    pieces: Sequence[Piece],
    room_mm: tuple[float, float],
    sheets: Callable[[FullSize], int] | None = None,
) -> tuple[FullSize, ...]:
    """Drawings of the pieces; each holds what fits one sheet, or one large piece.

    The grain runs along the long side of the paper, but where a piece that is turned saves sheets.

    Parameters
    ----------
    project : Project
    pieces : sequence of Piece
    room_mm : (float, float)
        Length and height that one sheet has for drawing on.
    sheets : callable, optional
        How many sheets a drawing takes; without it no large piece is turned.
    """
    shapes = {piece.name: cut_shape(piece) for piece in pieces}
    small: list[Piece] = []
    large: list[Piece] = []
    for piece in pieces:
        x0, y0, x1, y1 = box_of(shapes[piece.name].cut_line)
        fits = min(x1 - x0, y1 - y0) <= room_mm[1] and max(x1 - x0, y1 - y0) <= room_mm[0]
        (small if fits else large).append(piece)
    alone = [
        min(
            (_drawing(project, [_turned(piece, shapes[piece.name], turn)]) for turn in _TURNS_DEG),
            key=sheets,
        )
        if sheets is not None
        else _drawing(project, [(piece, shapes[piece.name])])
        for piece in sorted(large, key=lambda piece: -float(np.ptp(shapes[piece.name].cut_line[:, 1])))
    ]
    together = _shelves([(piece, shapes[piece.name]) for piece in small], room_mm)
    return (*alone, *(_drawing(project, group) for group in together))


def count_words(piece: Piece, project: Project) -> tuple[str, ...]:
    """How many are cut, a line a cloth: ``cut 2 of grey wool, left and right``, ``1 of calico``."""
    said = []
    for key, count in piece.cuts.items():
        how = {CutKind.PAIR: ", left and right", CutKind.ON_FOLD: ", on the fold"}.get(count.kind, "")
        said.append(f"{count.pieces} of {project.cloths[key].name}{how}")
    drawn = [f"drawn: the {piece.drawn}"] if piece.drawn is not None and piece.on_fold is None else []
    return (f"cut {said[0]}", *said[1:], *drawn) if said else ()


Placed = tuple[Piece, CutShape]


@dataclass(slots=True)
class _Row:
    """Pieces side by side on a sheet: how far it is filled, and from where to where it reaches up."""

    x: float
    y: float
    high: float


def _shelves(pieces: Sequence[Placed], room_mm: tuple[float, float]) -> list[list[Placed]]:
    """Pieces in rows, highest first, each into the first row with room for it, as it is or turned."""
    groups: list[tuple[list[Placed], list[_Row]]] = []
    for piece, shape in sorted(pieces, key=lambda one: -float(np.ptp(one[1].cut_line[:, 1]))):
        ways = [_turned(piece, shape, turn) for turn in (0.0, 90.0)]
        spot = next(
            (
                (group, row, way)
                for group, rows in groups
                for way in ways
                for row in (*rows, _Row(0.0, rows[-1].y + rows[-1].high + _GAP_MM, np.inf))
                if _goes_in(way[1], row, room_mm)
            ),
            None,
        )
        if spot is None:
            way = next(one for one in ways if _goes_in(one[1], _Row(0.0, 0.0, np.inf), room_mm))
            groups.append(([], []))
            spot = (groups[-1][0], _Row(0.0, 0.0, np.inf), way)
        group, row, (_, turned) = spot
        wide, high = np.ptp(turned.cut_line, axis=0).tolist()
        if not np.isfinite(row.high):
            row = _Row(row.x, row.y, high)
            next(rows for one, rows in groups if one is group).append(row)
        group.append((piece, turned.transformed(np.eye(2), np.array([row.x, row.y]))))
        row.x += wide + _GAP_MM
    return [group for group, _ in groups]


def _goes_in(shape: CutShape, row: _Row, room_mm: tuple[float, float]) -> bool:
    """Whether a shape has room at the end of a row."""
    wide, high = np.ptp(shape.cut_line, axis=0).tolist()
    return bool(row.x + wide <= room_mm[0] and high <= row.high and row.y + high <= room_mm[1])


def _turned(piece: Piece, shape: CutShape, turn_deg: float) -> Placed:
    """The piece turned counter-clockwise, its box from (0, 0)."""
    turned = shape.transformed(Variant(turn_deg, False).matrix(), np.zeros(2))
    return piece, turned.transformed(np.eye(2), -turned.cut_line.min(axis=0))


def _drawing(project: Project, placed: Sequence[Placed]) -> FullSize:
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
                words = draw_words(pen, lines, shape.cut_line, inner, cell, f"piece-{number}-words")
                taken = () if words is None else (words,)
                name = f"piece-{number}"
                draw_names(pen, shape, inner, taken, project.unit, name, size_pt=NAMES_PT, within=cell)

    return FullSize(
        title=", ".join(piece.name for piece, _ in placed),
        bounds=(
            float(boxes[:, 0].min()),
            float(boxes[:, 1].min()),
            float(boxes[:, 2].max()),
            float(boxes[:, 3].max()),
        ),
        lines=tuple(line for _, shape in placed for line in lines_of(shape)),
        outlines=outlines,
        draw=draw,
    )
