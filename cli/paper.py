"""Which paper the sheets are made for."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from nesting.units import Unit

if TYPE_CHECKING:
    from nesting.drawing.sheet import PageSize

__all__ = ["Paper", "page_of"]


class Paper(StrEnum):
    """Sheets to print on."""

    A4 = "a4"
    LETTER = "letter"


def page_of(paper: Paper | None, unit: Unit) -> PageSize:
    """The page asked for; else US Letter for a person who measures in inches, A4 for all others."""
    from nesting.drawing.sheet import A4, LETTER

    usual = Paper.LETTER if unit is Unit.IN else Paper.A4
    return LETTER if (paper or usual) is Paper.LETTER else A4
