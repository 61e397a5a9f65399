"""From a cloth's table to a `Cloth`."""

from __future__ import annotations

from nesting.cloth.cloth import Cloth
from nesting.errors import Problem
from nesting.files.schema import ClothTable, PerLength
from nesting.units import MM_PER_YARD, Unit, format_length

__all__ = ["build_cloth"]

METRIC_STEP_MM = 100.0
INCH_STEP_MM = MM_PER_YARD / 8


def build_cloth(key: str, table: ClothTable, unit: Unit, where: str) -> tuple[Cloth, list[Problem]]:
    """The cloth, its defaults filled in by the person's unit, and what is wrong with it as a whole."""
    inches = unit is Unit.IN
    per = table.price_per or (PerLength.YARD if inches else PerLength.METRE)
    price = table.price
    if price is not None and per is PerLength.YARD:
        price = price / MM_PER_YARD * 1000
    cloth = Cloth(
        key=key,
        name=table.name or key,
        width_mm=table.width,
        selvedge_mm=table.selvedge,
        nap=table.nap,
        right_side=table.right_side,
        turn=table.turn,
        spread=table.spread,
        step_mm=table.step or (INCH_STEP_MM if inches else METRIC_STEP_MM),
        price_per_m=price,
        shrinkage_along_pct=table.shrinkage.along,
        shrinkage_across_pct=table.shrinkage.across,
        end_allowance_mm=table.end_allowance,
        gap_mm=table.gap,
    )
    if 2 * table.selvedge < table.width:
        return cloth, []
    what = (
        f"Its two selvedges of {format_length(table.selvedge, unit)} leave nothing of a width of "
        f"{format_length(table.width, unit)}."
    )
    return cloth, [Problem(where, what, "Give the selvedge of one side, the part that is not used.")]
