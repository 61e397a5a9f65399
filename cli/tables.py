"""Tables for the terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from rich import box
from rich.table import Column, Table

from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.estimate.on_remnant import on_remnant
from nesting.estimate.overview.compare import Comparison, VersionRow
from nesting.pattern.edges import edge_length_mm, size_mm
from nesting.pattern.piece import CutCount
from nesting.project import Project
from nesting.units import Unit, format_area, format_buy, format_length, format_money
from nesting.words.allowances import allowance_words
from nesting.words.comparing import seam_words
from nesting.words.counts import count_words
from nesting.words.in_hand import goes_on_words
from nesting.words.lying import lies_words, ways_words

from .terminal import LONGEST_WORD

_OTHERS_A_TABLE = 3
"""So many columns fit on a narrow terminal beside the first."""

__all__ = ["buy_table", "comparison_tables", "counts_table", "edges_table", "money", "tally_table"]


def _name(head: str, names: Iterable[str]) -> Column:
    """A column of names, of which nothing is cut off and only very long words are broken."""
    longest = max((len(word) for name in names for word in name.split()), default=0)
    return Column(head, overflow="fold", min_width=min(longest, LONGEST_WORD))


def money(amount: float | None, currency: str) -> str:
    """An amount with its currency, or a dash where there is no price."""
    return "–" if amount is None else format_money(amount, currency)


def buy_table(result: ProjectEstimate) -> Table:
    """What to buy: a row for each cloth."""
    project = result.project
    cloths = [estimate.lay.cloth.name for estimate in result.estimates]
    name = _name("cloth", cloths)
    table = Table(name, "width", box=box.SIMPLE_HEAD, title="What to buy", title_justify="left")
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
            *_lies(estimate, project.unit),
        )
    bought = [estimate for estimate in result.estimates if not estimate.in_hand]
    if bought and len(result.estimates) > 1 and result.cost is not None:
        table.add_section()
        table.add_row("together", "", "", money(result.cost, project.currency), "", "", "")
    return table


def _lies(estimate: Estimate, unit: Unit) -> tuple[str, str, str]:
    """How long the lay is, its waste, and how it lies; nothing of a lay that does not go on its cloth."""
    lay = estimate.lay
    if estimate.lacking_mm:
        return goes_on_words(on_remnant(lay), unit), "–", "–"
    return format_length(lay.length_mm, unit), f"{estimate.waste_pct:.1f} %", lies_words(lay)


def tally_table(result: ProjectEstimate) -> Table:
    """Cut counts: a row for each piece in each cloth; nothing is placed on one that is too short."""
    cloths = [estimate.lay.cloth.name for estimate in result.estimates]
    pieces = [tally.piece for estimate in result.estimates for tally in estimate.tallies]
    table = Table(
        _name("cloth", cloths),
        _name("piece", pieces),
        box=box.SIMPLE_HEAD,
        title="Cut count",
        title_justify="left",
    )
    for heading in ("asked", "placed", "face up", "face down", "on the fold"):
        table.add_column(heading, justify="right")
    for estimate in result.estimates:
        name = estimate.lay.cloth.name
        for tally in estimate.tallies:
            placed = (tally.placed, tally.face_up, tally.face_down, tally.on_fold)
            numbers = (tally.asked, *((0, 0, 0, 0) if estimate.lacking_mm else placed))
            table.add_row(name, tally.piece, *(str(number) if number else "–" for number in numbers))
            name = ""
        table.add_section()
    return table


def counts_table(project: Project) -> Table:
    """Each piece's size as drawn, a check on units and points, and how many in each cloth, as understood."""
    names = [piece.name for piece in project.pieces]
    # No wrapping: a number stays beside its unit.
    size = [Column(f"paper,\n{side}", justify="right", no_wrap=True) for side in ("wide", "high")]
    cloths = [_name(key, [key]) for key in project.cloths]
    table = Table(_name("piece", names), *size, *cloths, box=box.SIMPLE_HEAD)
    for piece in project.pieces:
        sides = (format_length(side, project.unit) for side in size_mm(piece))
        table.add_row(piece.name, *sides, *(_count_words(piece.cuts.get(key)) for key in project.cloths))
    return table


def edges_table(project: Project) -> Table:
    """How long each edge is, to be held against a tape laid along the paper, and what is added to it."""
    names = [piece.name for piece in project.pieces]
    edges = [edge.name for piece in project.pieces for edge in piece.edges]
    table = Table(
        _name("piece", names), _name("edge", edges), box=box.SIMPLE_HEAD, title="Edges", title_justify="left"
    )
    for heading in ("length", "allowance"):
        table.add_column(heading, justify="right")
    for piece in project.pieces:
        name = piece.name
        for edge in piece.edges:
            length = format_length(edge_length_mm(edge.vertices), project.unit)
            table.add_row(name, edge.name, length, allowance_words(piece, edge, project.unit))
            name = ""
        table.add_section()
    return table


def _count_words(count: CutCount | None) -> str:
    return "" if count is None else count_words(count)


def comparison_tables(comparison: Comparison, project: Project) -> list[Table]:
    """Versions side by side, a column for each; the first is in every table, a few others beside it."""
    if not comparison.rows:
        return []
    first, *others = comparison.rows
    groups = [others[k : k + _OTHERS_A_TABLE] for k in range(0, max(1, len(others)), _OTHERS_A_TABLE)]
    return [_comparison_table([first, *group], project) for group in groups]


def _comparison_table(rows: Sequence[VersionRow], project: Project) -> Table:
    table = Table("", box=box.SIMPLE_HEAD)
    for row in rows:
        table.add_column(row.version, justify="right", max_width=24, overflow="fold")
    for key in dict.fromkeys(key for row in rows for key in row.to_buy_mm):
        lengths = [row.to_buy_mm.get(key) for row in rows]
        table.add_row(f"buy {key}", *_against_first(lengths, lambda mm: format_buy(mm, project.unit)))
        lies = [ways_words(row.runs[key]) if key in row.runs else "–" for row in rows]
        if len(set(lies)) > 1:
            table.add_row("    laid", *lies)
    for name in dict.fromkeys(name for row in rows for name in row.in_hand):
        table.add_row(f"in hand: {name}", *(_in_hand(row, name, project) for row in rows))
    costs = [row.cost for row in rows]
    table.add_row("cost", *_against_first(costs, lambda cost: format_money(cost, project.currency)))
    wasted = [row.wasted_mm2 for row in rows]
    table.add_row("in no piece", *_against_first(wasted, lambda area: format_area(area, project.unit)))
    table.add_row("    of all bought", *(f"{row.waste_pct:.0f} %" for row in rows))
    table.add_row("pieces to cut", *_against_first([row.pieces for row in rows], lambda n: f"{n:.0f}"))
    table.add_row("rounds of cutting", *_against_first([row.rounds for row in rows], lambda n: f"{n:.0f}"))
    table.add_row("seams for folds", *("\n".join(map(seam_words, row.seams)) or "–" for row in rows))
    return table


def _in_hand(row: VersionRow, name: str, project: Project) -> str:
    """Whether all goes on that piece of cloth in hand."""
    return goes_on_words(row.in_hand[name], project.unit) if name in row.in_hand else "–"


def _against_first(values: Sequence[float | None], words: Callable[[float], str]) -> list[str]:
    """Each value, and below it how much it is more (+) or less (−) than the first."""
    first = values[0]
    cells = []
    for value in values:
        if value is None:
            cells.append("–")
            continue
        cell = words(value)
        if first is not None and words(abs(value - first)) != words(0.0):
            cell += f"\n{'+' if value > first else '−'}{words(abs(value - first))}"
        cells.append(cell)
    return cells
