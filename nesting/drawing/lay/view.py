"""Which stretch of the cloth one drawing shows: all of it, or one of several pages along it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np

from nesting.geometry import FloatArray

__all__ = ["View", "pages_needed", "views", "visible"]

_HAIR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class View:
    """From where to where along the cloth a drawing reaches, lay mm.

    Attributes
    ----------
    x0, x1 : float
    number, of : int
        Which of how many pages, counted from the first cut end.
    overlap_mm : float
        How much of it a neighbouring page shows too.
    """

    x0: float
    x1: float
    number: int = 1
    of: int = 1
    overlap_mm: float = 0.0

    @property
    def starts(self) -> bool:
        """Whether the first cut end is in it."""
        return self.number == 1

    @property
    def ends(self) -> bool:
        """Whether the last end is in it."""
        return self.number == self.of


def pages_needed(length_mm: float, page_mm: float, overlap_mm: float) -> int:
    """How many pages of `page_mm` each, overlapping by at least `overlap_mm`, cover the length.

    >>> pages_needed(1000, 1000, 100), pages_needed(1001, 1000, 100), pages_needed(1901, 1000, 100)
    (1, 2, 3)
    """
    if length_mm <= page_mm:
        return 1
    return ceil((length_mm - overlap_mm) / (page_mm - overlap_mm) - 1e-9)


def views(x0: float, x1: float, page_mm: float, overlap_mm: float) -> tuple[View, ...]:
    """Pages of equal length that cover the cloth from end to end, evenly shared out.

    Parameters
    ----------
    x0, x1 : float
        Where the cloth begins and ends.
    page_mm : float
        No page shows more of the cloth.
    overlap_mm : float
        What a page shows of the one before.
    """
    length = x1 - x0
    count = pages_needed(length, page_mm, overlap_mm)
    each = (length + (count - 1) * overlap_mm) / count
    starts = [x0 + k * (each - overlap_mm) for k in range(count)]
    return tuple(View(start, start + each, k, count, overlap_mm) for k, start in enumerate(starts, start=1))


def visible(outline: FloatArray, view: View) -> tuple[FloatArray, float] | None:
    """The largest part of an outline that the view shows, and its share of the whole area.

    Parameters
    ----------
    outline : (N, 2) float64 array, mm, not closed
    view : View

    Returns
    -------
    ((M, 2) float64 array, float) or None
        None where nothing of it is shown. An outline that is shown whole is given back as it is.
    """
    import shapely

    low, high = float(outline[:, 0].min()), float(outline[:, 0].max())
    if view.x0 - _HAIR_MM <= low and high <= view.x1 + _HAIR_MM:
        return outline, 1.0
    if high <= view.x0 or low >= view.x1:
        return None
    whole = shapely.Polygon(outline).buffer(0)
    window = shapely.box(view.x0, float(outline[:, 1].min()) - 1, view.x1, float(outline[:, 1].max()) + 1)
    parts = [part for part in shapely.get_parts(whole.intersection(window)) if part.area > 0]
    if not parts:
        return None
    largest = max(parts, key=lambda part: part.area)
    return np.asarray(largest.exterior.coords)[:-1], float(largest.area / whole.area)
