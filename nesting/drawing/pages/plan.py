"""How a lay is put on paper: upright or on its side, at what scale, and over how many pages."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from typing import Protocol

from nesting.drawing.ink.sheet import FOOTER_MM, MARGIN_MM, MM_PER_PT, PageSize
from nesting.drawing.lay.figure import mm_per_pt, room_pt, whole_view
from nesting.drawing.lay.ground import ground_of
from nesting.drawing.lay.view import View, pages_needed, views
from nesting.estimate.estimate import Estimate

__all__ = ["Heights", "PagePlan", "inner_width_mm", "page_plan"]

_UPRIGHT_WORTH = 1.1
_ONE_PAGE_WORTH = 1.3
"""How many times smaller a drawing may be for an upright page, and to share its page with the tables."""
_LARGE_MM_PER_PT = 8 * MM_PER_PT
"""One to eight is large enough to share its page in any case."""
_SMALL_MM_PER_PT = 14 * MM_PER_PT
"""Drawn smaller than one to fourteen, a cuff of 6 cm hardly holds its number; then more pages are taken,"""
_SPLIT_MM_PER_PT = 12 * MM_PER_PT
"""and the drawing is at least this large on them, unless the cloth is too wide for that."""
_LEAST_DRAWING_MM = 60.0


@dataclass(frozen=True, slots=True)
class PagePlan:
    """The pages that a lay is drawn on.

    Attributes
    ----------
    landscape : bool
    mm_per_pt : float
        Millimetres of cloth to a point of the page.
    views : tuple of View
        One for each page along the cloth.
    """

    landscape: bool
    mm_per_pt: float
    views: tuple[View, ...]


class Heights(Protocol):
    """What else stands on the page of a drawing."""

    def __call__(self, inner_width_mm: float, *, legend: bool, tables: bool) -> float:
        """Height of the words, and if asked of the legend and of the tables, mm."""
        ...


def inner_width_mm(page: PageSize, landscape: bool) -> float:
    """Between the margins."""
    return (page.height_mm if landscape else page.width_mm) - 2 * MARGIN_MM


def page_plan(page: PageSize, estimate: Estimate, heights: Heights, overlap_mm: float) -> PagePlan:
    """One page where that is large enough to read, else as few as may be, the drawing as large as fits them.

    The drawing should be large; yet one page that holds the tables too is worth a little size, and an
    upright page is worth less of it.

    Parameters
    ----------
    page : PageSize
    estimate : Estimate
    heights : Heights
    overlap_mm : float
        How much of the cloth two pages along it have in common.
    """

    def free_pt(landscape: bool, *, legend: bool, tables: bool) -> tuple[float, float]:
        inner = inner_width_mm(page, landscape)
        full = page.width_mm if landscape else page.height_mm
        height = full - 2 * MARGIN_MM - FOOTER_MM - heights(inner, legend=legend, tables=tables)
        return inner / MM_PER_PT, height / MM_PER_PT

    def scale(landscape: bool, *, tables: bool = False) -> float:
        width, height = free_pt(landscape, legend=True, tables=tables)
        return inf if height * MM_PER_PT < _LEAST_DRAWING_MM else mm_per_pt(estimate, width, height)

    upright, on_its_side, with_tables = scale(False), scale(True), scale(False, tables=True)
    best = min(upright, on_its_side)
    if with_tables <= max(_ONE_PAGE_WORTH * best, _LARGE_MM_PER_PT) and with_tables <= _SMALL_MM_PER_PT:
        return PagePlan(False, with_tables, (whole_view(estimate),))
    if best <= _SMALL_MM_PER_PT:
        landscape = on_its_side * _UPRIGHT_WORTH < upright
        return PagePlan(landscape, on_its_side if landscape else upright, (whole_view(estimate),))
    plans = [
        _split(estimate, landscape, free_pt(landscape, legend=False, tables=False), overlap_mm)
        for landscape in (False, True)
    ]
    return min(plans, key=lambda plan: (len(plan.views), plan.mm_per_pt))


def _split(estimate: Estimate, landscape: bool, free_pt: tuple[float, float], overlap_mm: float) -> PagePlan:
    """As few pages as the least scale allows, and on these the largest scale."""
    ground = ground_of(estimate)
    along_pt, across_pt = room_pt(estimate, *free_pt)
    largest = (ground.y1 - ground.y0) / across_pt
    least = max(_SPLIT_MM_PER_PT, largest)
    length = ground.x1 - ground.x0
    count = pages_needed(length, along_pt * least, overlap_mm)
    each = (length + (count - 1) * overlap_mm) / count
    pages = views(ground.x0, ground.x1, each * (1 + 1e-9), overlap_mm)
    return PagePlan(landscape, max(largest, each / along_pt), pages)
