"""Flaws and missing corners of a cloth in hand, drawn where they come to lie in the lay.

They are found by folding the flat cloth back (`nesting.cutting.flat.opening`), layer by layer. In one layer a
flaw stands alone; where the cloth lies double, words say in which layer it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.cutting.flat.opening import layers_of, taken_mm
from nesting.cutting.flat.rebuilding import blocked_areas
from nesting.cutting.lay import Lay, LaySection
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import CLOTH, FLAW_HATCH, HATCH_INK, MISSING, PAPER
from nesting.drawing.ink.room import Room
from nesting.drawing.ink.text import LINE_HEIGHT, text_width_pt
from nesting.drawing.lay.view import View, visible
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["Seen", "draw_blocked", "name_blocked", "seen_blocked"]

_WORDS_PT = 7.5
_AWAY_PT = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A flaw as it lies: `outline` is (N, 2), lay mm, not closed; `clear` what cutting lines keep off."""

    words: str
    missing: bool
    outline: FloatArray
    clear: tuple[FloatArray, ...] = ()


def seen_blocked(lay: Lay, end_mm: float) -> tuple[Seen, ...]:
    """Every flaw in every layer of the lay, the last stretch reaching to `end_mm` along the table."""
    if not lay.cloth.blocked:
        return ()
    return tuple(_seen(lay, end_mm))


def _seen(lay: Lay, end_mm: float) -> Iterator[Seen]:
    import shapely
    from shapely import affinity

    areas = list(zip(lay.cloth.blocked, (area for _, area in blocked_areas(lay.cloth)), strict=True))
    flat = 0.0
    for index, stretch in enumerate(lay.stretches):
        last = index == len(lay.stretches) - 1
        for section in stretch:
            # Lengths that lie over each other end where they are folded or cut.
            on = last and section.spread.facts.lengths == 1
            length = end_mm - section.start_mm if on else section.length_mm
            first_mm = -lay.cloth.end_allowance_mm if index == 0 else 0.0
            ground = shapely.box(first_mm, *_sides(section, lay)[:1], length, *_sides(section, lay)[1:])
            layers = layers_of(section, stretch, flat, lay.cloth)
            for number, layer in enumerate(layers):
                back = [
                    layer.along,
                    0,
                    0,
                    layer.across,
                    -layer.along * layer.x_mm,
                    -layer.across * layer.u_mm,
                ]
                where = "" if len(layers) == 1 else (", lower layer", ", upper layer")[number]
                for blocked, area in areas:
                    shown = shapely.intersection(affinity.affine_transform(area, back), ground)
                    shift = np.array([section.start_mm, section.across_mm])
                    clear = shapely.intersection(
                        affinity.affine_transform(area, back).buffer(blocked.keep_off_mm), ground
                    )
                    rings = tuple(ring + shift for ring in _rings(clear)) if blocked.keep_off_mm else ()
                    for ring in _rings(shown):
                        yield Seen(f"{blocked.words}{where}", blocked.missing, ring + shift, rings)
        flat += taken_mm(stretch, lay.cloth)


def _rings(shown: BaseGeometry) -> Iterator[FloatArray]:
    import shapely

    for part in shapely.get_parts(shown):
        if isinstance(part, shapely.Polygon) and part.area > 1.0:
            yield np.asarray(part.exterior.coords)[:-1]


def _sides(section: LaySection, lay: Lay) -> tuple[float, float]:
    """From where to where across a section shows cloth: to a fold, or to the edge of a selvedge."""
    selvedge = lay.cloth.washed_selvedge_mm
    low = 0.0 if section.fold.low else -selvedge
    high = section.width_mm if section.fold.high else section.width_mm + selvedge
    return low, high


def draw_blocked(canvas: Canvas, seen: tuple[Seen, ...]) -> None:
    """Hatch every flaw, and show where there is no cloth."""
    for number, one in enumerate(seen, start=1):
        closed = np.vstack([one.outline, one.outline[:1]])
        if one.missing:
            canvas.area(one.outline, MISSING, f"flaw-{number}", "flaw")
            canvas.line(closed, "cut away", f"flaw-{number}-edge", "outline")
        else:
            canvas.area(one.outline, CLOTH, f"flaw-{number}", "flaw", hatch=FLAW_HATCH, hatch_ink=HATCH_INK)
            canvas.line(closed, "flaw", f"flaw-{number}-edge", "outline")
        for ring in one.clear:
            canvas.line(np.vstack([ring, ring[:1]]), "kept clear", f"flaw-{number}-clear", "outline")


def name_blocked(canvas: Canvas, seen: tuple[Seen, ...], outlines: list[FloatArray], view: View) -> None:
    """Put its words on each flaw, or beside it where no piece lies and nothing else stands, with a line."""
    import shapely

    free_of = [shapely.Polygon(ring).buffer(0) for ring in outlines]
    tree = shapely.STRtree(free_of)
    for number, one in enumerate(seen, start=1):
        shown = visible(one.outline, view)
        if shown is None:
            continue
        shape = shapely.Polygon(shown[0]).buffer(0)
        middle = shape.representative_point()
        wide = (text_width_pt(one.words, _WORDS_PT) + 2) * canvas.mm_per_pt
        high = _WORDS_PT * LINE_HEIGHT * canvas.mm_per_pt

        def free(x: float, y: float, wide: float = wide, high: float = high) -> bool:
            box = shapely.box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            if len(tree.query(box, predicate="intersects")):
                return False
            return not any(shapely.box(*other).intersects(box) for other in canvas.taken)

        inside = Room(shape).place(wide, high)
        spots = [inside] if inside is not None else list(_round(canvas, shape.bounds, wide, high))
        at = next((spot for spot in spots if free(*spot)), spots[0])
        canvas.words(at, one.words, _WORDS_PT, f"flaw-{number}-words", ground=PAPER)
        if inside is None:
            canvas.line([(middle.x, middle.y), at], "leader", f"flaw-{number}-leader", "leader")


def _round(
    canvas: Canvas, bounds: tuple[float, float, float, float], wide: float, high: float
) -> Iterator[tuple[float, float]]:
    """Places for words round a box, the nearest first, inside the drawing."""
    x0, y0, x1, y1 = bounds
    (left, right), (low, top) = canvas.ax.get_xlim(), canvas.ax.get_ylim()
    for step in range(1, 30):
        away = step * _AWAY_PT * canvas.mm_per_pt
        for x in ((x0 + x1) / 2, x1 + away + wide / 2, x0 - away - wide / 2):
            for y in (y1 + away + high / 2, y0 - away - high / 2, (y0 + y1) / 2):
                a, b, c, d = x - wide / 2, x + wide / 2, y - high / 2, y + high / 2
                if (a > x1 or b < x0 or c > y1 or d < y0) and left < a and b < right and low < c and d < top:
                    yield x, y
    yield (x0 + x1) / 2, (y0 + y1) / 2
