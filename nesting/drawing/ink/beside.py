"""Small words beside the lines of a piece: where they find room inside it, clear of all that is there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.text import LINE_HEIGHT, text_width_pt
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["Beside", "Spot", "along_line", "around"]

_CLEAR_PT = 0.8
"""Between words and lines."""
_GAP_PT = 1.5
"""Between words and what they stand beside."""
_SHARES = (0.5, 0.38, 0.62, 0.27, 0.73, 0.16, 0.84)
"""Places along a line, tried in this order."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that words may stand beside: a point, and the way out from it, of length 1."""

    at: tuple[float, float]
    way: tuple[float, float]


class Beside:
    """The room inside a piece, of which words take up more and more.

    Parameters
    ----------
    outline : (N, 2) float64 array, mm
    strokes : iterable of (M, 2) float64 arrays, mm
        Lines that no words may touch.
    taken : iterable of Box
        Words already there.
    mm_per_pt : float
    within : Box, optional
        Where the words must be, if not everywhere inside.
    """

    def __init__(
        self,
        outline: FloatArray,
        strokes: Iterable[FloatArray],
        taken: Iterable[Box],
        mm_per_pt: float,
        within: Box | None = None,
    ) -> None:
        import shapely

        clear = _CLEAR_PT * mm_per_pt
        area: BaseGeometry = shapely.Polygon(outline).buffer(0).buffer(-clear)
        if within is not None:
            area = area.intersection(shapely.box(*within))
        lines = [shapely.LineString(line) for line in strokes if len(line) > 1]
        area = area.difference(shapely.union_all(lines).buffer(clear))
        self._area = area.difference(shapely.union_all([shapely.box(*box) for box in taken]))
        self._mm_per_pt = mm_per_pt
        shapely.prepare(self._area)

    def put(
        self, words: str, size_pt: float, spots: Iterable[Spot], *, upright: bool = True
    ) -> tuple[float, float] | None:
        """Middle of the words beside the first spot with room for them, which they take; else None.

        Words that are not `upright` run up the page.
        """
        import shapely

        wide = text_width_pt(words, size_pt) * self._mm_per_pt
        high = 0.9 * LINE_HEIGHT * size_pt * self._mm_per_pt
        if not upright:
            wide, high = high, wide
        for spot in spots:
            (x, y), (dx, dy) = spot.at, spot.way
            away = abs(dx) * wide / 2 + abs(dy) * high / 2 + _GAP_PT * self._mm_per_pt
            middle = x + dx * away, y + dy * away
            box = shapely.box(
                middle[0] - wide / 2, middle[1] - high / 2, middle[0] + wide / 2, middle[1] + high / 2
            )
            if self._area.covers(box):
                self._area = self._area.difference(box)
                shapely.prepare(self._area)
                return middle
        return None


def along_line(line: FloatArray) -> list[Spot]:
    """Spots on the left of a line, its middle first.

    Parameters
    ----------
    line : (M, 2) float64 array, mm
    """
    steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
    ends = np.concatenate([[0.0], np.cumsum(steps)])
    spots = []
    for share in _SHARES:
        k = min(int(np.searchsorted(ends, share * ends[-1], side="right")) - 1, len(steps) - 1)
        if steps[k] > 0:
            way = (line[k + 1] - line[k]) / steps[k]
            x, y = line[k] + (share * ends[-1] - ends[k]) * way
            spots.append(Spot((float(x), float(y)), (-float(way[1]), float(way[0]))))
    return spots


def around(points: Sequence[FloatArray] | FloatArray, first: FloatArray) -> list[Spot]:
    """Spots round points, those in one direction first.

    Parameters
    ----------
    points : (K, 2) float64 array, mm
    first : (2,) float64 array
    """
    start = float(np.arctan2(first[1], first[0]))
    turns = np.deg2rad([0, 45, -45, 90, -90, 135, -135, 180])
    return [
        Spot((float(x), float(y)), (float(np.cos(start + turn)), float(np.sin(start + turn))))
        for turn in turns
        for x, y in np.asarray(points)
    ]
