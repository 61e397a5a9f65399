"""What is drawn at true size: a whole lay, ready to be put on sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from nesting.cutting.flat.placing import Numbered, numbered
from nesting.cutting.lay import Lay, Yield
from nesting.drawing.ink.labels import Box, InnerLines
from nesting.drawing.ink.pen import Pen
from nesting.drawing.lay.across import Across, across
from nesting.drawing.lay.blocked import Seen, seen_blocked
from nesting.drawing.lay.ground import Ground, ground_of
from nesting.drawing.lay.names import draw_names
from nesting.drawing.lay.pieces import draw_lines
from nesting.drawing.lay.repeat_lines import draw_repeat_lines
from nesting.drawing.lay.view import View
from nesting.drawing.true_size.words import draw_edge_words, draw_words
from nesting.estimate.estimate import Estimate
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape
from nesting.units import Unit
from nesting.words.placing import copies_text, how_text

__all__ = ["NAMES_PT", "FullSize", "box_of", "lay_full_size", "lines_of", "meets"]

NAMES_PT = 9.0
"""Of allowances and of the names of notches, darts and marks."""


@dataclass(frozen=True, slots=True, eq=False)
class FullSize:
    """A drawing in true millimetres.

    Attributes
    ----------
    title : str
    bounds : Box
    lines : tuple of (N, 2) float64 arrays
        What is drawn, a ring with its first point repeated, a dot as one point: sheets that show none of it
        are not printed. (What is on every sheet, the lines of a repeat, is not among them.)
    outlines : tuple of (N, 2) float64 arrays
        Cutting lines, for the map of the sheets.
    draw : callable
        Draws with a pen what lies in its window; words stand in the cell, the second box.
    """

    title: str
    bounds: Box
    lines: tuple[FloatArray, ...]
    outlines: tuple[FloatArray, ...]
    draw: Callable[[Pen, Box, Box], None]


def box_of(outline: FloatArray) -> Box:
    """The least box about an outline."""
    (x0, y0), (x1, y1) = outline.min(axis=0).tolist(), outline.max(axis=0).tolist()
    return x0, y0, x1, y1


def lines_of(shape: CutShape) -> tuple[FloatArray, ...]:
    """All lines of a piece: its cut line, closed, and what the paper carries, points too."""
    inside = (one.vertices for one in shape.features)
    return (_closed(shape.cut_line), *inside)


def _closed(ring: FloatArray) -> FloatArray:
    """A ring with its first point repeated."""
    return np.vstack([ring, ring[:1]])


def meets(one: Box, other: Box) -> bool:
    """Whether two boxes have a point in common."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def lay_full_size(estimate: Estimate, unit: Unit = Unit.CM) -> FullSize:
    """One cloth's lay: its pieces as they lie, and the edges they are measured from; allowances in `unit`."""
    lay, ground, items = estimate.lay, ground_of(estimate), numbered(estimate.lay)
    flaws = seen_blocked(lay, ground.x1)

    def draw(pen: Pen, window: Box, cell: Box) -> None:
        _draw_cloth(pen, lay, ground, cell)
        _draw_flaws(pen, flaws, cell)
        draw_repeat_lines(pen, estimate, View(ground.x0, ground.x1))
        for item in items:
            if meets(box_of(item.shape.cut_line), window):
                _draw_item(pen, item, cell, unit)

    return FullSize(
        title=f"{lay.cloth.name}: the lay",
        bounds=(ground.x0, ground.y0, ground.x1, ground.y1),
        lines=(
            *_cloth_lines(lay, ground),
            *(_closed(ring) for flaw in flaws for ring in (flaw.outline, *flaw.clear)),
            *(line for item in items for line in lines_of(item.shape)),
        ),
        outlines=tuple(item.shape.cut_line for item in items),
        draw=draw,
    )


def _draw_item(pen: Pen, item: Numbered, cell: Box, unit: Unit) -> None:
    inner = draw_lines(
        pen,
        item.shape,
        f"piece-{item.number}",
        on_fold=item.placed.yields is Yield.WHOLE_ON_FOLD,
        either_way=item.either_way,
    )
    lines = (
        f"{item.number}  {item.placed.piece}",
        copies_text(item.placed, item.side),
        how_text(item.placed),
    )
    name = f"piece-{item.number}"
    words = draw_words(pen, lines, item.shape.cut_line, inner, cell, f"{name}-words")
    taken = () if words is None else (words,)
    draw_names(pen, item.shape, inner, taken, unit, name, size_pt=NAMES_PT, within=cell)


def _spans(lay: Lay, ground: Ground) -> Sequence[tuple[float, float, Across]]:
    """From where to where each stretch lies, cut ends included, and its edges."""
    starts = [ground.x0, *(stretch[0].start_mm for stretch in lay.stretches[1:]), ground.x1]
    return [(starts[k], starts[k + 1], across(stretch, lay.cloth)) for k, stretch in enumerate(lay.stretches)]


def _cloth_lines(lay: Lay, ground: Ground) -> Iterator[FloatArray]:
    """The edges of the cloth."""
    for x0, x1, side in _spans(lay, ground):
        corners = [(x0, side.low), (x1, side.low), (x1, side.high), (x0, side.high), (x0, side.low)]
        yield np.array(corners)
        for y, *_ in _levels(side):
            yield np.array([(x0, y), (x1, y)])


def _draw_cloth(pen: Pen, lay: Lay, ground: Ground, cell: Box) -> None:
    """Edges, ends and changes of spread as lines, with words on every sheet that shows one."""
    spans = _spans(lay, ground)
    for number, (x0, x1, side) in enumerate(spans, start=1):
        middle = (side.low + side.high) / 2
        for y, style, name, words in _levels(side):
            ends = (x0, y), (x1, y)
            pen.line(ends, style, f"stretch-{number}-{name}")
            draw_edge_words(pen, words, ends, (0.0, -1.0 if y < middle else 1.0), cell)
    first, last = spans[0][2], spans[-1][2]
    lines = [
        (ground.x0, first, "cut end", "cut end", -1.0),
        (0.0, first, "straightened end", "0: straightened end", -1.0),
        (lay.table_mm, last, "straightened end", "the lay ends here", 1.0),
        (ground.x1, last, "cut end", "end of the cloth", 1.0),
        *((x0, side, "change of spread", "the spread changes here", 1.0) for x0, _, side in spans[1:]),
    ]
    for x, side, style, words, out in lines:
        upright = (x, side.low), (x, side.high)
        pen.line(upright, style, style.replace(" ", "-"))
        draw_edge_words(pen, words, upright, (out, 0.0), cell)


def _draw_flaws(pen: Pen, flaws: Sequence[Seen], cell: Box) -> None:
    """Flaws and missing corners: their edges, and what they are."""
    for number, flaw in enumerate(flaws, start=1):
        pen.line(_closed(flaw.outline), "cut away" if flaw.missing else "flaw", f"flaw-{number}-edge")
        for ring in flaw.clear:
            pen.line(_closed(ring), "kept clear", f"flaw-{number}-clear")
        draw_words(pen, (flaw.words,), flaw.outline, InnerLines((), (), ()), cell, f"flaw-{number}-words")


def _levels(side: Across) -> Iterator[tuple[float, str, str, str]]:
    """Lines along the cloth, each once: where, in what style, a name, and what to call it."""
    edges = (side.near, side.far, *side.inner)
    for edge in edges:
        yield edge.y_mm, edge.style, edge.name, edge.words or "selvedge folded over"
    for low, high, _ in side.selvedges:
        for y in sorted({low, high} - {edge.y_mm for edge in edges}):
            yield y, "straightened end", "selvedge-inner-edge", "inner edge of the selvedge"
