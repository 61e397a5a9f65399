"""From ``[[strip]]`` to pieces: strips of a width and a total length, pieced with joins."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace

from nesting.cloth.cloth import Cloth
from nesting.errors import Mistake
from nesting.files.tables.strip import StripTable
from nesting.files.tables.wording import choices, quoted
from nesting.pattern.piece import CutCount, CutKind, Piece
from nesting.pattern.strips import (
    Join,
    StripGrain,
    cut_strips,
    join_mm,
    longest_on_mm,
    strip_piece,
)
from nesting.units import Unit, format_length

__all__ = ["build_strip"]


def build_strip(
    table: StripTable, cloths: Mapping[str, Cloth], pieces: Collection[str], unit: Unit, where: str
) -> tuple[Piece | None, list[Mistake], str]:
    """The piece, what is wrong with it, and a sentence on how it is pieced.

    Parameters
    ----------
    table : StripTable
    cloths : Mapping[str, Cloth]
    pieces : collection of str
        Names that are taken.
    unit : Unit
    where : str
        File and version.
    """
    here = f"{where}, strip {quoted(table.name)}"
    mistakes = []
    if table.name in pieces:
        what = f"There is a piece or a strip called {quoted(table.name)} already."
        mistakes.append(Mistake(here, what, "Give this one another name."))
    cloth = cloths.get(table.cloth)
    if cloth is None:
        what = f"There is no cloth {quoted(table.cloth)}."
        mistakes.append(Mistake(here, what, choices(table.cloth, list(cloths), "cloth")))
    if table.grain is StripGrain.BIAS and table.join is Join.STRAIGHT:
        what = "Its ends are cut along a thread, so that bias strips are joined on the diagonal."
        mistakes.append(Mistake(here, what, "Leave join out."))
    if mistakes or cloth is None:
        return None, mistakes, ""
    taken = join_mm(table.width, table.grain, table.join, table.seam)
    longest = table.longest or longest_on_mm(table.width, table.grain, cloth.usable_width_mm)
    if longest <= taken < table.length:
        what = (
            f"A join takes {format_length(taken, unit)}, and no strip is longer than "
            f"{format_length(longest, unit)}."
        )
        return None, [Mistake(here, what, "Let strips be longer (longest), or make the seam narrower.")], ""
    cut = cut_strips(table.length, longest, taken)
    piece = strip_piece(table.name, table.width, cut, table.grain)
    piece = replace(piece, cuts={table.cloth: CutCount(CutKind.SINGLE, cut.number)})
    each = format_length(cut.each_mm, unit)
    if cut.number == 1:
        return piece, [], f"strip {quoted(table.name)}: one of {each}"
    return (
        piece,
        [],
        f"strip {quoted(table.name)}: {cut.number} of {each} along the edge; {cut.number - 1} "
        f"{table.join} join{'s' if cut.number > 2 else ''} of {format_length(taken, unit)} leave "
        f"{format_length(cut.number * cut.each_mm - (cut.number - 1) * taken, unit)}",
    )
