"""A lay with the spare cloth at its end, as it lies on the table and opened out flat."""

from __future__ import annotations

from dataclasses import replace

from nesting.cutting.flat.opening import in_the_round, taken_mm
from nesting.cutting.lay import Lay, LaySection

__all__ = ["flat_limits", "opened_lay"]


def opened_lay(lay: Lay, spare_mm: float) -> Lay:
    """The lay with what is left over at its end on the table as well; folded across, it lies there double."""
    last = lay.stretches[-1]
    longer = spare_mm / (taken_mm(last, lay.cloth) / last[0].length_mm)

    def lengthened(section: LaySection) -> LaySection:
        return replace(section, length_mm=section.length_mm + longer) if section in last else section

    return replace(lay, sections=tuple(lengthened(section) for section in lay.sections))


def flat_limits(lay: Lay) -> tuple[float, float, float, float]:
    """x0, u0, x1, u1 of the cloth between ends and selvedges, flat mm."""
    length = lay.length_mm
    low = lay.cloth.washed_selvedge_mm
    if in_the_round(lay.stretches[0]):
        half = lay.cloth.usable_width_mm / 2
        return 0.0, -half, length, half
    return 0.0, low, length, low + lay.cloth.usable_width_mm
