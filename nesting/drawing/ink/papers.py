"""Paper sizes, and what a printer can reach of them."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

__all__ = ["A4", "LETTER", "LONGEST_PAGE_MM", "PAPERS", "PageSize"]


@dataclass(frozen=True, slots=True)
class PageSize:
    """Paper held upright."""

    name: str
    width_mm: float
    height_mm: float


A4 = PageSize("A4", 210.0, 297.0)
LETTER = PageSize("US Letter", 215.9, 279.4)
"""8 1/2 by 11 inches."""

PAPERS = MappingProxyType(
    {
        "a4": A4,
        "letter": LETTER,
        "a3": PageSize("A3", 297.0, 420.0),
        "a2": PageSize("A2", 420.0, 594.0),
        "a1": PageSize("A1", 594.0, 841.0),
        "a0": PageSize("A0", 841.0, 1189.0),
    }
)
"""By the name a person asks for them. A sizes are those of ISO 216:2007."""

LONGEST_PAGE_MM = 5000.0
"""Many readers refuse a PDF page of more than 14 400 points, 5080 mm: PDF 1.7 reference, appendix C."""
