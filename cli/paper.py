"""Which paper the sheets are made for."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from nesting.errors import BadInput
from nesting.units import Unit, format_length, parse_length

if TYPE_CHECKING:
    from nesting.drawing.ink.papers import PageSize
    from nesting.drawing.true_size.pages import PrintOn

__all__ = ["DraftPaper", "FullPaper", "Paper", "draft_page", "page_of", "print_on"]

_NARROWEST_ROLL_MM = 300.0


class Paper(StrEnum):
    """Sheets to print on."""

    A4 = "a4"
    LETTER = "letter"


class FullPaper(StrEnum):
    """What true-size drawings are printed on; a roll also stands for one picture to project."""

    A4 = "a4"
    LETTER = "letter"
    A3 = "a3"
    A2 = "a2"
    A1 = "a1"
    A0 = "a0"
    ROLL = "roll"


class DraftPaper(StrEnum):
    """What the sheet of ``check`` is printed on."""

    A4 = "a4"
    LETTER = "letter"
    A3 = "a3"
    A2 = "a2"


def draft_page(paper: DraftPaper | None, unit: Unit) -> PageSize:
    """The page asked for; else US Letter for a person who measures in inches, A4 for all others."""
    from nesting.drawing.ink.papers import PAPERS

    return PAPERS[paper or (DraftPaper.LETTER if unit is Unit.IN else DraftPaper.A4)]


def page_of(paper: Paper | None, unit: Unit) -> PageSize:
    """The page asked for; else US Letter for a person who measures in inches, A4 for all others."""
    from nesting.drawing.ink.papers import A4, LETTER

    usual = Paper.LETTER if unit is Unit.IN else Paper.A4
    return LETTER if (paper or usual) is Paper.LETTER else A4


def print_on(paper: FullPaper, margin: str | None, roll_width: str | None, unit: Unit) -> PrintOn:
    """What to print true-size drawings on.

    Parameters
    ----------
    paper : FullPaper
    margin, roll_width : str or None
        Lengths as a person writes them, bare numbers in `unit`.
    unit : Unit

    Raises
    ------
    BadInput
        When a margin or a roll is too wide or too narrow to be used.
    BadLength
        When one of them is no length.
    """
    from nesting.drawing.ink.papers import PAPERS
    from nesting.drawing.true_size.pages import MOST_MARGIN_MM, USUAL_MARGIN_MM, PrintOn

    margin_mm = USUAL_MARGIN_MM if margin is None else parse_length(margin, unit)
    if not 0 <= margin_mm <= MOST_MARGIN_MM:
        raise BadInput.of(
            where="--margin",
            what=f"A margin of {format_length(margin_mm, unit)} leaves too little of the paper.",
            remedy=f"Give what your printer cannot reach: from 0 to {format_length(MOST_MARGIN_MM, unit)}.",
        )
    width_mm = None if roll_width is None else parse_length(roll_width, unit)
    if width_mm is not None and (width_mm < _NARROWEST_ROLL_MM or paper is not FullPaper.ROLL):
        least = format_length(_NARROWEST_ROLL_MM, unit)
        raise BadInput.of(
            where="--roll-width",
            what=f"A width is for a roll of paper, and none is narrower than {least}.",
            remedy=f"Give it together with roll, and at least {least}: for example --roll-width '91.4 cm'.",
        )
    return PrintOn(None if paper is FullPaper.ROLL else PAPERS[paper], margin_mm, width_mm)
