"""Tables for the terminal."""

from __future__ import annotations

from rich import box
from rich.table import Table

from nesting.estimate.compare import Comparison
from nesting.estimate.estimate import ProjectEstimate
from nesting.pattern.piece import CutCount, CutKind
from nesting.pattern.walk import size_mm
from nesting.project import Project
from nesting.units import format_area, format_buy, format_length, format_money

__all__ = ["buy_table", "comparison_table", "counts_table", "money", "tally_table"]


def money(amount: float | None, currency: str) -> str:
    """An amount with its currency, or a dash where there is no price."""
    return "–" if amount is None else format_money(amount, currency)


def buy_table(result: ProjectEstimate) -> Table:
    """What to buy: a row for each cloth."""
    project = result.project
    table = Table("cloth", "width", box=box.SIMPLE_HEAD, title="What to buy", title_justify="left")
    for heading in ("buy", "cost", "lay", "waste"):
        table.add_column(heading, justify="right")
    table.add_column("spread")
    for estimate in result.estimates:
        lay = estimate.lay
        table.add_row(
            lay.cloth.name,
            format_length(lay.cloth.width_mm, project.unit),
            "in hand" if estimate.in_hand else format_buy(estimate.to_buy_mm, project.unit),
            "–" if estimate.in_hand else money(estimate.cost, project.currency),
            format_length(lay.length_mm, project.unit),
            f"{estimate.waste_pct:.1f} %",
            lay.lies,
        )
    if len(result.estimates) > 1 and result.cost is not None:
        table.add_section()
        table.add_row("together", "", "", money(result.cost, project.currency), "", "", "")
    return table


def tally_table(result: ProjectEstimate) -> Table:
    """Cut counts: a row for each piece in each cloth."""
    table = Table("cloth", "piece", box=box.SIMPLE_HEAD, title="Cut count", title_justify="left")
    for heading in ("asked", "placed", "face up", "face down", "on the fold"):
        table.add_column(heading, justify="right")
    for estimate in result.estimates:
        name = estimate.lay.cloth.name
        for tally in estimate.tallies:
            numbers = (tally.asked, tally.placed, tally.face_up, tally.face_down, tally.on_fold)
            table.add_row(name, tally.piece, *(str(number) if number else "–" for number in numbers))
            name = ""
        table.add_section()
    return table


def counts_table(project: Project) -> Table:
    """Each piece's size as drawn, a check on units and points, and how many in each cloth, as understood."""
    table = Table("piece", "paper, wide × high", *project.cloths, box=box.SIMPLE_HEAD)
    for piece in project.pieces:
        size = " × ".join(format_length(side, project.unit) for side in size_mm(piece))
        table.add_row(piece.name, size, *(_count_words(piece.cuts.get(key)) for key in project.cloths))
    return table


def _count_words(count: CutCount | None) -> str:
    if count is None:
        return ""
    if count.kind is CutKind.ON_FOLD:
        return f"{count.number} on the fold"
    return f"{count.number} {count.kind}{'' if count.number == 1 else 's'}"


def comparison_table(comparison: Comparison, project: Project) -> Table:
    """Versions side by side: a column for each."""
    rows = comparison.rows
    table = Table("", box=box.SIMPLE_HEAD)
    for row in rows:
        table.add_column(row.version, justify="right", max_width=24, overflow="fold")
    for key in dict.fromkeys(key for row in rows for key in row.to_buy_mm):
        lengths = [row.to_buy_mm.get(key) for row in rows]
        cells = ["–" if length is None else format_buy(length, project.unit) for length in lengths]
        table.add_row(f"buy {project.cloths[key].name}", *cells)
    for name in dict.fromkeys(name for row in rows for name in row.in_hand):
        table.add_row(f"in hand: {name}", *(row.in_hand.get(name, "–") for row in rows))
    table.add_row("cost", *(money(row.cost, project.currency) for row in rows))
    table.add_row("bought but in no piece", *(format_area(row.wasted_mm2, project.unit) for row in rows))
    table.add_row("pieces to cut", *(str(row.pieces) for row in rows))
    table.add_row("seams instead of a fold", *("\n".join(row.seams) or "–" for row in rows))
    return table
