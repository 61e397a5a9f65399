"""How it is said what is wrong between pieces, cloth and table, and what to do about it."""

from __future__ import annotations

from typing import assert_never

from nesting.cloth.cloth import Spread
from nesting.cutting.findings import (
    FitHindrance,
    LongerThanTable,
    NoLayOnTable,
    NotEvenOpen,
    SpreadBarred,
    TooLargeForRemnants,
    TooWide,
    Undivided,
)
from nesting.cutting.reasons import Barred, SpreadReason
from nesting.units import Unit, format_length
from nesting.words.reasons import reason_words

__all__ = ["fit_words"]

_HAIR_MM = 1e-6
"""Float noise in a length that is to be rounded up."""


def fit_words(hindrance: FitHindrance, unit: Unit) -> tuple[str, str]:
    """What is wrong, and what to do about it, each in sentences."""
    match hindrance:
        case TooWide():
            return _too_wide(hindrance, unit), f"Either {', or '.join(_too_wide_remedies(hindrance, unit))}."
        case LongerThanTable(_, length, table):
            return (
                f"It is {format_length(length, unit)} long, the table {format_length(table, unit)}.",
                f"Give a table_length of at least {_up(length, unit)} (two tables, or the floor), or cut a "
                "seam in the piece.",
            )
        case TooLargeForRemnants():
            seam = _seam(on_fold=hindrance.on_fold)
            return (
                _too_large(hindrance, unit),
                f"Either find a larger piece of cloth, or {seam}; or check the two lengths and their units.",
            )
        case NotEvenOpen(reason):
            return f"Even laid open it cannot take its pieces: {reason_words(reason)}.", _on_open(reason)
        case SpreadBarred(spread, reason, two_lengths_do):
            return (
                f"The spread '{spread}' is asked for, but {reason_words(reason)}.",
                f"Write {' or '.join(_other_spreads(two_lengths_do=two_lengths_do))}.",
            )
        case NoLayOnTable(length, table, undivided):
            return (
                f"Its lay takes {format_length(length, unit)} of cloth and more of the table than its "
                f"{format_length(table, unit)}{_undivided(undivided)}.",
                'Leave table_length out, or lay the cloth another way: spread = "open" or "lengthwise fold".',
            )
    assert_never(hindrance)


def _too_wide(hindrance: TooWide, unit: Unit) -> str:
    whole = ", opened out," if hindrance.on_fold and not hindrance.doubled else ""
    lies = "the folded cloth" if hindrance.doubled else "the cloth laid open"
    return (
        f"'{hindrance.piece}'{whole} is {format_length(hindrance.across_mm, unit)} across; {lies} gives "
        f"{format_length(hindrance.usable_mm, unit)}"
        f"{', for its fold has to lie on a stripe' if hindrance.on_stripe else ''}."
    )


def _too_wide_remedies(hindrance: TooWide, unit: Unit) -> list[str]:
    opened = ['open the cloth (spread = "open" or "best")'] if hindrance.open_does else []
    wider = f"choose one at least {_up(hindrance.least_width_mm, unit)} wide"
    return [*opened, wider, _seam(on_fold=hindrance.on_fold)]


def _too_large(hindrance: TooLargeForRemnants, unit: Unit) -> str:
    whole = ", opened out," if hindrance.on_fold else ""
    which = f"the largest remnant, '{hindrance.remnant}'," if hindrance.remnant else "the cloth in hand"
    return (
        f"'{hindrance.piece}'{whole} is {format_length(hindrance.along_mm, unit)} long and "
        f"{format_length(hindrance.across_mm, unit)} wide; {which} gives "
        f"{format_length(hindrance.room_mm, unit)} by {format_length(hindrance.width_mm, unit)} to lay on."
    )


def _seam(*, on_fold: bool) -> str:
    return "cut a seam where the fold is (on_fold = false)" if on_fold else "cut a seam in the piece"


def _on_open(reason: SpreadReason) -> str:
    """What to do where even the open cloth cannot be laid."""
    if reason is Barred.LINE_UNKNOWN:
        return (
            "Measure from the outer edge of a selvedge to the middle of the first main line and write it in "
            "the repeat, line = 2.5; or leave on_line out of what is matched."
        )
    return "Match fewer points, or choose a wider cloth."


def _other_spreads(*, two_lengths_do: bool) -> list[str]:
    others = [f'spread = "{Spread.BEST}"', f'spread = "{Spread.OPEN}"']
    if two_lengths_do:
        others.append(f'spread = "{Spread.TWO_LENGTHS}" (cut through at the fold, one half turned round)')
    return others


def _undivided(undivided: Undivided | None) -> str:
    match undivided:
        case None:
            return ""
        case Undivided.FLAWS:
            return ", and a cloth with flaws is not laid in several lengths"
        case Undivided.WISHES:
            return ", and where there are wishes it is not laid in several lengths"
    assert_never(undivided)


def _up(length_mm: float, unit: Unit) -> str:
    """A length to look for, rounded up so that it is really enough."""
    step = 25.4 if unit is Unit.IN else 10.0
    return format_length(-(-(length_mm - _HAIR_MM) // step) * step, unit)
