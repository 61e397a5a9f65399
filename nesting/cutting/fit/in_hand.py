"""Pieces that a cloth in hand is too small for, whatever else lies on it: said before any search."""

from __future__ import annotations

from nesting.cloth.cloth import Cloth
from nesting.cutting.plan.demand import Wanted, wanted
from nesting.cutting.plan.remnants import boxes, goes_on, remnant_cloths
from nesting.errors import Mistake
from nesting.pattern.piece import CutKind
from nesting.project import Project
from nesting.units import format_length

__all__ = ["too_large"]


def too_large(project: Project, cloth: Cloth, source: str) -> list[Mistake]:
    """Every piece that is too large for each of the remnants by itself."""
    return [
        _mistake(project, cloth, want, source)
        for want in wanted(project, cloth)
        if not any(goes_on(want, part) for part in remnant_cloths(cloth))
    ]


def _mistake(project: Project, cloth: Cloth, want: Wanted, source: str) -> Mistake:
    unit = project.unit
    along, across = boxes(want)[0]
    largest = max(remnant_cloths(cloth), key=lambda part: (part.room_mm or 0.0) * part.usable_width_mm)
    which = (
        f"the largest remnant, '{largest.remnants[0].name}',"
        if len(cloth.remnants) > 1
        else "the cloth in hand"
    )
    whole = ", opened out," if want.count.kind is CutKind.ON_FOLD else ""
    what = (
        f"'{want.piece.name}'{whole} is {format_length(along, unit)} long and {format_length(across, unit)} "
        f"wide; {which} gives {format_length(largest.room_mm or 0.0, unit)} by "
        f"{format_length(largest.usable_width_mm, unit)} to lay on."
    )
    seam = "cut a seam where the fold is (on_fold = false)" if whole else "cut a seam in the piece"
    return Mistake(
        where=f"{source}piece '{want.piece.name}' in cloth '{cloth.key}'",
        what=what,
        remedy=f"Either find a larger piece of cloth, or {seam}; or check the two lengths and their units.",
    )
