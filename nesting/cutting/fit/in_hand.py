"""Pieces that a cloth in hand is too small for, whatever else lies on it: said before any search."""

from __future__ import annotations

from nesting.cloth.cloth import Cloth
from nesting.cutting.findings import TooLargeForRemnants
from nesting.cutting.plan.demand import Wanted, wanted
from nesting.cutting.plan.remnants import boxes, goes_on, remnant_cloths
from nesting.pattern.piece import CutKind
from nesting.project import Project

__all__ = ["too_large"]


def too_large(project: Project, cloth: Cloth) -> list[TooLargeForRemnants]:
    """Every piece that is too large for each of the remnants by itself."""
    return [
        _fault(cloth, want)
        for want in wanted(project, cloth)
        if not any(goes_on(want, part) for part in remnant_cloths(cloth))
    ]


def _fault(cloth: Cloth, want: Wanted) -> TooLargeForRemnants:
    along, across = boxes(want)[0]
    largest = max(remnant_cloths(cloth), key=lambda part: (part.room_mm or 0.0) * part.usable_width_mm)
    return TooLargeForRemnants(
        piece=want.piece.name,
        along_mm=along,
        across_mm=across,
        on_fold=want.count.kind is CutKind.ON_FOLD,
        remnant=largest.remnants[0].name if len(cloth.remnants) > 1 else "",
        room_mm=largest.room_mm or 0.0,
        width_mm=largest.usable_width_mm,
    )
