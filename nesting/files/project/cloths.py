"""From a cloth's table to a `Cloth`."""

from __future__ import annotations

from dataclasses import replace

from nesting.cloth.buying import INCH_STEP_MM, METRIC_STEP_MM
from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.repeat import Repeat
from nesting.errors import Mistake
from nesting.files.project.remnants import build_remnants, in_hand_mistakes
from nesting.files.tables.schema import ClothTable, PerLength, RepeatTable
from nesting.pattern.match import Axis
from nesting.units import MM_PER_YARD, Unit, format_length
from nesting.words.spreads import SPREAD_WORDS

__all__ = ["build_cloth"]

IN_HAND_STEP_MM = 1.0
"""Of cloth in hand every millimetre counts."""


def build_cloth(
    key: str,
    table: ClothTable,
    unit: Unit,
    where: str,
    *,
    outright: bool = True,
    spare_at_least_mm: float = 0.0,
) -> tuple[Cloth, list[Mistake]]:
    """The cloth, its defaults filled in by the person's unit, and what is wrong with it as a whole.

    `outright` is false where the table is another version's, changed; `spare_at_least_mm` is wished of every
    cloth to be bought that says nothing else.
    """
    inches = unit is Unit.IN
    owned = table.in_hand is not None or bool(table.remnant)
    per = table.price_per or (PerLength.YARD if inches else PerLength.METRE)
    spare = spare_at_least_mm if table.spare_at_least is None else table.spare_at_least
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
        grain_tolerance_deg=table.grain_tolerance,
        spread=table.spread,
        step_mm=IN_HAND_STEP_MM if owned else table.step or (INCH_STEP_MM if inches else METRIC_STEP_MM),
        price_per_m=price,
        shrinkage_along_pct=table.shrinkage.along,
        shrinkage_across_pct=table.shrinkage.across,
        end_allowance_mm=table.end_allowance,
        spare_at_least_mm=0.0 if owned else spare,
        gap_mm=table.gap,
        tube=table.tube,
        repeat=None if table.repeat is None else _repeat(table.repeat),
        part_pairs=table.part_pairs,
    )
    remnants, mistakes = build_remnants(table, cloth, unit, where)
    cloth = replace(cloth, remnants=remnants)
    mistakes += in_hand_mistakes(table, cloth, unit, where, outright=outright)
    mistakes += _spread_mistakes(cloth, table, where)
    if table.repeat is not None:
        mistakes += _repeat_mistakes(table.repeat, cloth, unit, f"{where}, repeat")
    if 2 * cloth.selvedge_mm < table.width:
        return cloth, mistakes
    what = (
        f"Its two selvedges of {format_length(table.selvedge, unit)} leave nothing of a width of "
        f"{format_length(table.width, unit)}."
    )
    mistakes.append(Mistake(where, what, "Give the selvedge of one side, the part that is not used."))
    return cloth, mistakes


def _repeat(table: RepeatTable) -> Repeat:
    uneven = () if table.uneven is None else table.uneven.axes
    return Repeat(table.along, table.across, uneven, table.line)


def _repeat_mistakes(table: RepeatTable, cloth: Cloth, unit: Unit, where: str) -> list[Mistake]:
    """A repeat of nothing, one wider than the cloth, and words on a direction that it does not have."""
    mistakes = []
    example = "Write for example repeat = { along = 8, across = 6 }, or leave it out."
    if table.along is None and table.across is None:
        mistakes.append(Mistake(where, "It repeats neither along nor across.", example))
    usable = cloth.width_mm * (2 if cloth.tube else 1) - 2 * cloth.selvedge_mm
    if table.across is not None and table.across > usable > 0:
        what = (
            f"Across it is {format_length(table.across, unit)}, more than the usable width of the cloth, "
            f"{format_length(usable, unit)}: no line would come twice."
        )
        mistakes.append(
            Mistake(where, what, "Check the number, or leave it out: nothing can be matched across.")
        )
    longest = max((remnant.length_mm for remnant in cloth.remnants), default=None)
    if table.along is not None and longest is not None and table.along > longest:
        what = (
            f"Along it is {format_length(table.along, unit)}, more than there is of the cloth, "
            f"{format_length(longest, unit)}: no line would come twice."
        )
        remedy = "Check both numbers, or leave it out: nothing can be matched along."
        mistakes.append(Mistake(where, what, remedy))
    for axis in () if table.uneven is None else table.uneven.axes:
        if (table.along if axis is Axis.ALONG else table.across) is None:
            what = f"It is called uneven {axis}, but does not repeat {axis}."
            mistakes.append(Mistake(where, what, f"Give its repeat {axis}, or say where else it is uneven."))
    if table.line is not None and table.across is None:
        what = "The line is measured across the cloth, but it does not repeat across."
        mistakes.append(Mistake(where, what, "Give its repeat across, or leave line out."))
    return mistakes


def _spread_mistakes(cloth: Cloth, table: ClothTable, where: str) -> list[Mistake]:
    """Spreads that this cloth cannot lie in, and a selvedge where there is none."""
    mistakes = []
    asked = None if cloth.spread is Spread.BEST else cloth.spread.facts
    if asked and cloth.tube and not asked.tube:
        what = f"It is a tube, which cannot lie as '{cloth.spread}'."
        mistakes.append(
            Mistake(where, what, 'Write spread = "tube", "open" (the tube is then cut open) or "best".')
        )
    if asked and not cloth.tube and not asked.flat:
        what = f'spread = "{cloth.spread}" is asked for, but the cloth is not said to be one.'
        mistakes.append(
            Mistake(where, what, "Add tube = true, and give as its width what it measures lying flat.")
        )
    if cloth.tube and "selvedge" in table.model_fields_set and table.selvedge > 0:
        mistakes.append(Mistake(where, "A tube has no selvedge.", "Leave selvedge out."))
    if asked and asked.fold_across and (cloth.one_way or cloth.nap is not Nap.EITHER_WAY):
        name = SPREAD_WORDS[cloth.spread].name
        what = f"{name.capitalize()} the upper layer runs the other way, but this cloth goes one way only."
        remedy = (
            f'Write spread = "{Spread.TWO_LENGTHS}", for which it is cut through at the fold and one half '
            f'turned end for end, or "{Spread.BEST}".'
        )
        mistakes.append(Mistake(where, what, remedy))
    return mistakes
