"""From a cloth's table to a `Cloth`."""

from __future__ import annotations

from nesting.cloth.cloth import Cloth, Nap, Spread
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
        selvedge_mm=0.0 if table.tube else table.selvedge,
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
        tube=table.tube,
    )
    problems = _spread_problems(cloth, table, where)
    if 2 * cloth.selvedge_mm < table.width:
        return cloth, problems
    what = (
        f"Its two selvedges of {format_length(table.selvedge, unit)} leave nothing of a width of "
        f"{format_length(table.width, unit)}."
    )
    problems.append(Problem(where, what, "Give the selvedge of one side, the part that is not used."))
    return cloth, problems


def _spread_problems(cloth: Cloth, table: ClothTable, where: str) -> list[Problem]:
    """Spreads that this cloth cannot lie in, and a selvedge where there is none."""
    problems = []
    if cloth.tube and cloth.spread not in (Spread.BEST, Spread.TUBE, Spread.OPEN):
        what = f"It is a tube, which cannot lie as '{cloth.spread}'."
        problems.append(
            Problem(where, what, 'Write spread = "tube", "open" (the tube is then cut open) or "best".')
        )
    if not cloth.tube and cloth.spread is Spread.TUBE:
        what = 'spread = "tube" is asked for, but the cloth is not said to be one.'
        problems.append(
            Problem(where, what, "Add tube = true, and give as its width what it measures lying flat.")
        )
    if cloth.tube and "selvedge" in table.model_fields_set and table.selvedge > 0:
        problems.append(Problem(where, "A tube has no selvedge.", "Leave selvedge out."))
    if cloth.nap is Nap.ONE_WAY and cloth.spread is Spread.CROSSWISE_FOLD:
        what = "On a crosswise fold the upper layer runs the other way, but this cloth goes one way only."
        remedy = (
            f'Write spread = "{Spread.TWO_LENGTHS}", for which it is cut through at the fold and one half '
            f'turned end for end, or "{Spread.BEST}".'
        )
        problems.append(Problem(where, what, remedy))
    return problems
