"""The requirements chart as a text table and as CSV (RFC 4180)."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.estimate.overview.chart import Chart
from nesting.files.results.spreadsheet import csv_text
from nesting.lettering import left_to_right
from nesting.units import Unit
from nesting.words.chart import amounts, chart_notes, row_label, size_heads, systems

__all__ = ["chart_csv", "chart_text"]

_LONGEST_HEAD = 12


def chart_text(chart: Chart) -> str:
    """A table for letters of one width, ending with a line feed."""
    lines = [left_to_right(chart.project.title), "How much cloth to buy", ""]
    for system in systems(chart.project.unit):
        lines += [f"In {'yards' if system is Unit.IN else 'metres'}", ""]
        for rows in chart.cloths.values():
            table = [(rows[0].cloth.name, *(_cut(head) for head in size_heads(chart)))]
            table += [(f"  {row_label(row, chart.project.unit)}", *amounts(row, system)) for row in rows]
            lines += [*_aligned(table), ""]
    lines += map(left_to_right, chart_notes(chart))
    return "\n".join(lines) + "\n"


def chart_csv(chart: Chart) -> str:
    """One line for each amount; lengths as plain numbers with a point.

    Returns
    -------
    str
        Columns cloth, name, version, width_mm, nap, size, metres, yards, remark. Lines end in CR LF.
    """
    table: list[tuple[object, ...]] = [
        ("cloth", "name", "version", "width_mm", "nap", "size", "metres", "yards", "remark")
    ]
    for key, rows in chart.cloths.items():
        for row in rows:
            for size, cell in zip(chart.sizes, row.cells, strict=True):
                metres, yards = cell.metres_mm, cell.yards_mm
                remark = "" if cell.fits else "a piece is wider than the cloth"
                if cell.fits and metres is None:
                    remark = "not worked out yet"
                elif cell.early:
                    remark = "the search was ended early"
                table.append(
                    (
                        key,
                        row.cloth.name,
                        row.version,
                        f"{row.cloth.width_mm:.10g}",
                        row.cloth.nap.value,
                        size,
                        "" if metres is None else f"{metres / 1000:.10g}",
                        "" if yards is None else f"{yards / 914.4:.10g}",
                        remark,
                    )
                )
    return csv_text(table)


def _aligned(table: list[tuple[str, ...]]) -> Iterator[str]:
    """Rows as lines: the first column to the left, the others to the right."""
    from rich.cells import cell_len  # how wide a terminal shows a text: some signs take two places, some none

    widths = [max(cell_len(row[k]) for row in table) for k in range(len(table[0]))]
    for row in table:
        first = row[0] + " " * (widths[0] - cell_len(row[0]))
        others = [" " * (widths[k] - cell_len(row[k])) + row[k] for k in range(1, len(row))]
        yield left_to_right("  ".join((first, *others)).rstrip())


def _cut(head: str) -> str:
    return head if len(head) <= _LONGEST_HEAD else f"{head[: _LONGEST_HEAD - 1]}…"
