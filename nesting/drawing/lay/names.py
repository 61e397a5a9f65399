"""What is written on a piece beside its lines: allowances in figures, and names or letters for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from nesting.drawing.ink.beside import Beside, Spot, along_line, around
from nesting.drawing.ink.labels import Box, InnerLines
from nesting.drawing.ink.pen import Pen
from nesting.drawing.ink.text import SMALLEST_PT, printable
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.units import Unit, format_length
from nesting.words.marks import allowance_figure, marked

__all__ = ["draw_names"]

_FURTHER_PT = (0.0, 3.0, 6.0, 10.0, 15.0)
"""How far further in than its slit the name of a notch may stand."""


def draw_names(
    pen: Pen,
    shape: CutShape,
    inner: InnerLines,
    taken: Iterable[Box],
    unit: Unit,
    gid: str,
    *,
    size_pt: float = SMALLEST_PT,
    within: Box | None = None,
    ground: str | None = None,
) -> None:
    """Write each allowance and each name where it finds room; for a name that finds none, its letter.

    Parameters
    ----------
    pen : Pen
    shape : CutShape
    inner : InnerLines
        What is drawn in it already.
    taken : iterable of Box
        Words that stand there already.
    unit : Unit
        Of the figures.
    gid : str
        First part of every group id.
    size_pt : float
    within : Box, optional
        The sheet's own part of the drawing.
    ground : str, optional
        Shade laid under the words, where lines run through all of the piece.
    """
    strokes = (*inner.grain, *inner.signs, *inner.seams)
    beside = Beside(shape.cut_line, strokes, taken, pen.mm_per_pt, within)
    for seam in shape.seams:
        # On a small drawing without the unit: the list has it.
        said = allowance_figure if within is None else format_length
        figure = said(seam.allowance_mm, unit)
        for line in _shown(seam.vertices, within):
            at = beside.put(figure, size_pt, along_line(line))
            if at is not None:
                pen.words(at, figure, size_pt, f"{gid}-allowance", ground=ground)
    for one in marked(shape):
        name = printable(one.name)
        for feature in one.features:
            spots = list(_spots(feature, shape.cut_line, pen.mm_per_pt))
            if within is not None and not any(_holds(within, spot.at) for spot in spots):
                continue
            ways = [
                (words, upright) for words in filter(None, (name, one.letter)) for upright in (True, False)
            ]
            for words, upright in ways:
                at = beside.put(words, size_pt, spots, upright=upright)
                if at is not None:
                    what = "letter" if words == one.letter else "name"
                    pen.words(at, words, size_pt, f"{gid}-{what}", upright=upright, ground=ground)
                    if within is None:
                        name = ""  # once on a small drawing: the others of it get the letter
                    break


def _spots(feature: Feature, outline: FloatArray, mm_per_pt: float) -> Iterator[Spot]:
    """Where its name may stand."""
    points = feature.vertices
    match feature.kind:
        case FeatureKind.NOTCH:
            inwards = points[-1] - points[0]
            way = inwards / max(float(np.hypot(*inwards)), 1e-9)
            # Mostly beyond the stitching line, which lies a little further in than the slit.
            for further_pt in _FURTHER_PT:
                yield from around(points[-1:] + further_pt * mm_per_pt * way, inwards)
        case FeatureKind.DART:
            middle = points.mean(axis=0)
            yield from around(np.vstack([middle, points[1:2]]), points[1] - middle)
        case _:
            middles = (points[:-1] + points[1:]) / 2 if len(points) > 1 else points
            inwards = outline.mean(axis=0) - middles[0]
            yield from around(np.vstack([middles, points[:1], points[-1:]]), inwards)


def _shown(line: FloatArray, within: Box | None) -> Iterator[FloatArray]:
    """The parts of a line that a sheet shows; all of it where there is only one drawing."""
    import shapely

    if within is None:
        yield line
        return
    cut = shapely.LineString(line).intersection(shapely.box(*within))
    for part in shapely.get_parts(cut):
        if part.geom_type == "LineString" and part.length > 0:
            yield np.asarray(part.coords)


def _holds(box: Box, at: tuple[float, float]) -> bool:
    return box[0] <= at[0] <= box[2] and box[1] <= at[1] <= box[3]
