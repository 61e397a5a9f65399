"""How a chart speaks, the same on paper, in text and in a table: amounts, signs and notes."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.cloth import Spread
from nesting.estimate.overview.chart import Chart, ChartCell, ChartRow, steps_mm
from nesting.project import PLAIN
from nesting.units import Unit, format_buy, format_length, format_step
from nesting.words.cloth import nap_words, repeat_words, selvedge_words, shrinkage_words

__all__ = [
    "BORROWED",
    "EARLY",
    "MISSING",
    "TOO_NARROW",
    "amounts",
    "chart_notes",
    "row_label",
    "size_heads",
    "systems",
]

TOO_NARROW = "–"
MISSING = "…"
EARLY = "*"
BORROWED = "°"

CAUTION = (
    "An estimate for cloth that is laid as reckoned with here. Measure the real cloth before it is cut. "
    "Stripes, checks and large prints need more where no repeat is named above."
)


def systems(unit: Unit) -> tuple[Unit, Unit]:
    """Metres and yards, the person's own first: `Unit.CM` stands for metres, `Unit.IN` for yards.

    >>> systems(Unit.MM)
    (<Unit.CM: 'cm'>, <Unit.IN: 'in'>)
    """
    return (Unit.IN, Unit.CM) if unit is Unit.IN else (Unit.CM, Unit.IN)


def row_label(row: ChartRow, unit: Unit) -> str:
    """What a row is for: ``115 cm, with nap``."""
    version = "" if row.version == PLAIN else row.version
    words = (format_length(row.cloth.width_mm, unit), nap_words(row.cloth), version)
    return ", ".join(word for word in words if word)


def amounts(row: ChartRow, system: Unit) -> tuple[str, ...]:
    """One row's amounts without the unit: ``1.60``, ``1 3/4``."""
    return tuple(_amount(cell, system) for cell in row.cells)


def size_heads(chart: Chart) -> tuple[str, ...]:
    """What stands over the columns."""
    if chart.sizes == ("",):
        return ("amount",)
    return chart.sizes


def chart_notes(chart: Chart) -> Iterator[str]:
    """What the amounts rest on, and what the signs mean, as far as they are used."""
    unit = chart.project.unit
    for rows in chart.cloths.values():
        cloth = rows[0].cloth
        metric, yards = steps_mm(cloth, unit)
        facts = [selvedge_words(cloth, unit)]
        facts += [shrinkage_words(cloth), *repeat_words(cloth, unit)]
        facts += [
            f"{format_length(cloth.end_allowance_mm, unit)} for straightening at each cut end",
            "laid whichever way takes least" if cloth.spread is Spread.BEST else f"laid: {cloth.spread}",
            f"rounded up to {format_step(metric, Unit.CM)} and {format_step(yards, Unit.IN)}",
        ]
        yield f"{cloth.name}: {'; '.join(facts)}."
    cells = chart.cells
    if not all(cell.fits for cell in cells):
        yield f"{TOO_NARROW} a piece is wider than the cloth."
    if chart.missing:
        yield f"{MISSING} not worked out yet: run the same again to go on."
    if any(cell.early for cell in cells):
        yield f"{EARLY} the search was ended early: less might do."
    if any(cell.borrowed for cell in cells):
        yield (
            f"{BORROWED} lay it as for the narrower width, or with nap: that lay fits here and is shorter."
        )
    yield CAUTION


def _amount(cell: ChartCell, system: Unit) -> str:
    if not cell.fits:
        return TOO_NARROW
    length = cell.yards_mm if system is Unit.IN else cell.metres_mm
    if length is None:
        return MISSING
    return (
        format_buy(length, system).rpartition(" ")[0]
        + (EARLY if cell.early else "")
        + (BORROWED if cell.borrowed else "")
    )
