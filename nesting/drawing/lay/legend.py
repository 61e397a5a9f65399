"""What each mark of a lay drawing means: a sample of it and a few words, for the marks that occur."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cutting.flat.placing import Numbered
from nesting.cutting.lay import Face, Fold, Lay, Yield
from nesting.drawing.ink.blocks import ring_pt
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.grain_mark import draw_grain
from nesting.drawing.ink.look import (
    CLOTH,
    FACE_DOWN,
    FACE_DOWN_HATCH,
    FLAW_HATCH,
    HATCH_INK,
    MISSING,
    PAPER,
    SELVEDGE,
)
from nesting.drawing.ink.sheet import MARGIN_MM, MM_PER_PT, Sheet
from nesting.drawing.ink.text import LINE_HEIGHT, SMALLEST_PT, wrapped
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import FeatureKind

__all__ = ["Entry", "draw_legend", "legend_entries", "legend_height_mm"]

_SAMPLE_MM = (13.0, 4.4)
_COLUMN_MM = 88.0
_SIZE_PT = 8.0
_ROW_GAP_MM = 1.6


@dataclass(frozen=True, slots=True)
class Entry:
    """A mark and its meaning; `draw` puts a sample into the box whose upper left corner it is given."""

    words: str
    draw: Callable[[Canvas, float, float], None]


def legend_entries(lay: Lay, items: Sequence[Numbered]) -> tuple[Entry, ...]:
    """The marks that this lay shows, in a fixed order."""
    kinds = {feature.kind for item in items for feature in item.shape.features}
    faces = {item.placed.face for item in items}
    folded = any(
        section.fold is not Fold.NONE or section.spread.facts.fold_across for section in lay.sections
    )
    on_fold = any(item.placed.yields is Yield.WHOLE_ON_FOLD for item in items)
    halves = any(
        feature.kind is FeatureKind.FOLD
        for item in items
        if item.placed.yields is not Yield.WHOLE_ON_FOLD
        for feature in item.shape.features
    )
    grain = FeatureKind.GRAIN in kinds
    entries = [
        (True, "placement number: see the table of distances", _number),
        (True, "cutting line", _stroke("cut line")),
        (FeatureKind.STITCHING in kinds, "stitching line", _stroke("stitching line")),
        (FeatureKind.NOTCH in kinds, "notch", _notch),
        (FeatureKind.DART in kinds, "dart", _dart),
        (FeatureKind.MARK in kinds, "line or point to carry over", _stroke("mark")),
        (FeatureKind.MATCH in kinds, "matching point, on the stitching line", _match),
        (
            FeatureKind.MATCH in kinds,
            "where the pattern comes again (not every repeat, where they lie close)",
            _stroke("line of the repeat"),
        ),
        (halves, "the paper is half: turn it over along this line", _stroke("fold line")),
        (
            grain and any(not item.either_way for item in items),
            "grain line: head at the top of the piece, bar at the foot: only this way",
            _grain(False),
        ),
        (
            grain and any(item.either_way for item in items),
            "grain line: head at the top of the piece, ring at the foot: it may also be turned end for end",
            _grain(True),
        ),
        (
            any(item.shape.seams for item in items),
            "beside an edge: its seam allowance; a letter: see the list",
            _figure,
        ),
        (FeatureKind.CORNER in kinds, "corner to lay by: its distances are in the table", _corner),
        (Face.UP in faces, "white: paper face up", _face(Face.UP)),
        (Face.DOWN in faces, "grey, striped: paper face down (turn it over)", _face(Face.DOWN)),
        (folded, "fold of the cloth", _stroke("fold")),
        (on_fold, "this edge of the piece lies exactly on the fold: do not cut it", _bracket),
        (lay.cloth.selvedge_mm > 0, _selvedge_words(lay), _selvedge),
        (
            any(not one.missing for one in lay.cloth.blocked),
            "hatched crosswise: a flaw; no piece lies over it, in either layer",
            _flaw,
        ),
        (
            any(one.keep_off_mm > 0 for one in lay.cloth.blocked),
            "dotted, round a flaw: no cutting line comes nearer",
            _stroke("kept clear"),
        ),
        (
            any(one.missing for one in lay.cloth.blocked),
            "cut away already: there is no cloth in that layer",
            _cut_away,
        ),
        (
            lay.cloth.end_allowance_mm > 0,
            "straighten the cut end to the first of these, at 0 on the tape; at the last one the lay ends",
            _stroke("straightened end"),
        ),
        (len(lay.stretches) > 1, _change_words(lay), _stroke("change of spread")),
    ]
    return tuple(Entry(words, draw) for shown, words, draw in entries if shown)


def _change_words(lay: Lay) -> str:
    """What the line between two stretches means."""
    spreads = [stretch[0].spread for stretch in lay.stretches]
    if len(set(spreads)) == len(spreads):
        return "from this line on the cloth lies another way"
    return "no piece lies over this line: here the next length of the table begins"


def _selvedge_words(lay: Lay) -> str:
    """Where sections lie side by side, a selvedge lies between them."""
    beside = any(len(stretch) > 1 for stretch in lay.stretches)
    return "selvedge, not used; no piece lies over it where layers change" if beside else "selvedge, not used"


def legend_height_mm(entries: Sequence[Entry], width_mm: float) -> float:
    """Height that the legend takes."""
    columns = _columns(width_mm)
    return sum(_row_heights(_short_first(entries, width_mm / columns), columns, width_mm))


def draw_legend(sheet: Sheet, entries: Sequence[Entry]) -> None:
    """Draw the legend across the page, row by row, and move down past it."""
    columns = _columns(sheet.inner_width_mm)
    step = sheet.inner_width_mm / columns
    canvas = Canvas(sheet.ax, MM_PER_PT)
    entries = _short_first(entries, step)
    heights = _row_heights(entries, columns, sheet.inner_width_mm)
    for row, height in enumerate(heights):
        for place, entry in enumerate(entries[row * columns : (row + 1) * columns]):
            x = MARGIN_MM + place * step
            entry.draw(canvas, x, sheet.y_mm)
            lines = _lines(entry, step)
            for k, line in enumerate(lines):
                middle = (
                    sheet.y_mm + _SAMPLE_MM[1] / 2
                    if len(lines) == 1
                    else sheet.y_mm + _SIZE_PT * 0.5 * MM_PER_PT
                )
                baseline = middle + (0.35 + k * LINE_HEIGHT) * _SIZE_PT * MM_PER_PT
                sheet.words(x + _SAMPLE_MM[0] + 2.5, baseline, line, _SIZE_PT)
        sheet.y_mm += height


def _columns(width_mm: float) -> int:
    return max(1, int(width_mm / _COLUMN_MM))


def _short_first(entries: Sequence[Entry], column_mm: float) -> Sequence[Entry]:
    """Entries of one line before those of several, so that a row of two is as low as it can be."""
    return sorted(entries, key=lambda entry: len(_lines(entry, column_mm)))


def _lines(entry: Entry, column_mm: float) -> tuple[str, ...]:
    return wrapped(entry.words, (column_mm - _SAMPLE_MM[0] - 5.0) / MM_PER_PT, _SIZE_PT)


def _row_heights(entries: Sequence[Entry], columns: int, width_mm: float) -> list[float]:
    step = width_mm / columns
    rows = [entries[k : k + columns] for k in range(0, len(entries), columns)]
    line_mm = _SIZE_PT * LINE_HEIGHT * MM_PER_PT
    return [
        max(_SAMPLE_MM[1], *(len(_lines(entry, step)) * line_mm for entry in row)) + _ROW_GAP_MM
        for row in rows
    ]


def _points(x: float, y: float, *shares: tuple[float, float]) -> FloatArray:
    """Points of the sample box, given as shares of its width and height."""
    points: FloatArray = np.array([(x, y)]) + np.array(shares) * np.array([_SAMPLE_MM])
    return points


def _stroke(style: str) -> Callable[[Canvas, float, float], None]:
    def draw(canvas: Canvas, x: float, y: float) -> None:
        canvas.line(_points(x, y, (0, 0.5), (1, 0.5)), style, "legend")

    return draw


def _number(canvas: Canvas, x: float, y: float) -> None:
    at = (x + _SAMPLE_MM[0] / 2, y + _SAMPLE_MM[1] / 2)
    canvas.ring(at, ring_pt(1, _SIZE_PT), "legend")
    canvas.words(at, "1", _SIZE_PT, "legend", bold=True)


def _notch(canvas: Canvas, x: float, y: float) -> None:
    canvas.line(_points(x, y, (0, 0.7), (1, 0.7)), "cut line", "legend")
    canvas.line(_points(x, y, (0.5, 0.7), (0.5, 0.3)), "notch", "legend")


def _match(canvas: Canvas, x: float, y: float) -> None:
    points = _points(x, y, (0.4, 0.1), (0.6, 0.9), (0.5, 0.5), (0.6, 0.1), (0.4, 0.9))
    canvas.line(points, "matching point", "legend")


def _figure(canvas: Canvas, x: float, y: float) -> None:
    canvas.line(_points(x, y, (0, 0.15), (1, 0.15)), "cut line", "legend")
    canvas.line(_points(x, y, (0, 0.3), (1, 0.3)), "stitching line", "legend")
    canvas.words((x + _SAMPLE_MM[0] / 2, y + 0.75 * _SAMPLE_MM[1]), "1.5", SMALLEST_PT, "legend")


def _corner(canvas: Canvas, x: float, y: float) -> None:
    canvas.line(_points(x, y, (0.2, 0.8), (0.5, 0.5), (0.9, 0.8)), "stitching line", "legend")
    square = _points(x, y, (0.42, 0.25), (0.58, 0.25), (0.58, 0.75), (0.42, 0.75), (0.42, 0.25))
    canvas.line(square, "corner to lay by", "legend")


def _dart(canvas: Canvas, x: float, y: float) -> None:
    canvas.line(_points(x, y, (0, 0.2), (1, 0.5), (0, 0.8)), "dart", "legend")


def _grain(either_way: bool) -> Callable[[Canvas, float, float], None]:
    def draw(canvas: Canvas, x: float, y: float) -> None:
        tail, tip = _points(x, y, (0, 0.5), (1, 0.5))
        draw_grain(canvas, tail, tip, "legend", either_way=either_way)

    return draw


def _face(face: Face) -> Callable[[Canvas, float, float], None]:
    down = face is Face.DOWN

    def draw(canvas: Canvas, x: float, y: float) -> None:
        corners = _points(x, y, (0, 0.05), (1, 0.05), (1, 0.95), (0, 0.95), (0, 0.05))
        canvas.area(
            corners,
            FACE_DOWN if down else PAPER,
            "legend",
            "piece",
            hatch=FACE_DOWN_HATCH if down else "",
            hatch_ink=HATCH_INK if down else "none",
        )
        canvas.line(corners, "cut line", "legend")

    return draw


def _flaw(canvas: Canvas, x: float, y: float) -> None:
    corners = _points(x, y, (0, 0.05), (1, 0.05), (1, 0.95), (0, 0.95), (0, 0.05))
    canvas.area(corners, CLOTH, "legend", "piece", hatch=FLAW_HATCH, hatch_ink=HATCH_INK)
    canvas.line(corners, "flaw", "legend")


def _cut_away(canvas: Canvas, x: float, y: float) -> None:
    canvas.area(_points(x, y, (0, 0.05), (1, 0.05), (1, 0.95), (0, 0.95)), CLOTH, "legend", "cloth")
    corner = _points(x, y, (0.4, 0.05), (1, 0.05), (1, 0.95))
    canvas.area(corner, MISSING, "legend", "piece")
    canvas.line(_points(x, y, (0.4, 0.05), (1, 0.95)), "cut away", "legend")


def _bracket(canvas: Canvas, x: float, y: float) -> None:
    left, a, b, right = _points(x, y, (0.1, 0.95), (0.1, 0.3), (0.9, 0.3), (0.9, 0.95))
    canvas.line([a, b], "fold bracket", "legend")
    canvas.arrow(a, left, "fold bracket", "legend")
    canvas.arrow(b, right, "fold bracket", "legend")


def _selvedge(canvas: Canvas, x: float, y: float) -> None:
    canvas.area(_points(x, y, (0, 0.35), (1, 0.35), (1, 0.75), (0, 0.75)), SELVEDGE, "legend", "cloth")
    canvas.line(_points(x, y, (0, 0.35), (1, 0.35)), "selvedge", "legend")
