"""``ellwand widths``: how much to buy as the cloth gets wider."""

from __future__ import annotations

from pathlib import Path

from rich import box
from rich.table import Table

from nesting.cloth.cloth import Cloth
from nesting.errors import BadInput
from nesting.estimate.overview.widths import WidthCurve, curve_of, plan_widths
from nesting.files.project.reading import read_project
from nesting.files.results.writing import require_writable
from nesting.units import Unit, format_buy, format_length
from nesting.words.widths import widths_sentences

from . import ctrl_c
from .crew import lay_many
from .kept import say_trouble, store_of
from .lay import effort_of
from .terminal import show
from .values import lengths_of
from .version import version_of
from .written import put_down

__all__ = ["run"]

_MOST = 200
"""Widths; more than these are a slip."""
_USUAL = {Unit.IN: ("35", "62", "1"), Unit.CM: ("80", "160", "5"), Unit.MM: ("800", "1600", "50")}
"""From, to, and how far apart, in the person's unit."""


def run(
    file: Path,
    *,
    cloth: str | None,
    alternative: str | None,
    narrowest: str | None,
    widest: str | None,
    every: str | None,
    to: Path | None,
    workers: int | None,
    scheduler: str | None,
    seconds: float | None,
    seed: int,
    afresh: bool,
) -> None:
    """Lay one cloth at many widths, open and folded, and plot what each takes.

    Raises
    ------
    BadInput
        When the file is at fault, or does not have what is asked for.
    """
    project = version_of(read_project(file), alternative)
    usual = _USUAL[project.unit]
    (first,) = lengths_of([narrowest or usual[0]], project.unit, "--from")
    (last,) = lengths_of([widest or usual[1]], project.unit, "--up-to")
    (step,) = lengths_of([every or usual[2]], project.unit, "--every", least_mm=1.0)
    key = cloth or next((key for key in project.cloths if project.pieces_in(key)), "")
    plan = plan_widths(project, key, _widths(first, last, step), effort=effort_of(seconds), seed=seed)
    stem = f"{file.stem}-{key}-widths"
    folder = to or file.with_name(f"{file.stem}-widths")
    pdf, png = folder / f"{stem}.pdf", folder / f"{stem}.png"
    require_writable(folder, [f"{stem}-earlier-1.png", pdf.name, png.name])
    store = store_of(afresh=afresh)
    found = lay_many(
        plan.all_jobs,
        store=store,
        workers=workers,
        scheduler=scheduler,
        name_of=lambda job: _name(job.project.cloths[key], project.unit),
        unit=project.unit,
    )
    ctrl_c.reach(ctrl_c.DRAWING.with_last(ctrl_c.TAKEN_UP_AGAIN))
    curve = curve_of(plan, found)

    from nesting.drawing.pages.widths import widths_pdf, widths_png  # takes longest to load, needed last

    sheets = {pdf: widths_pdf(curve), png: widths_png(curve)}
    put_down(sheets)
    show(_table(curve), *widths_sentences(curve), f"Plotted: {folder / stem}.pdf, .png")
    say_trouble(store)


def _name(cloth: Cloth, unit: Unit) -> str:
    return f"{format_length(cloth.width_mm, unit)}, {cloth.spread}"


def _widths(first_mm: float, last_mm: float, step_mm: float) -> list[float]:
    if last_mm < first_mm or (last_mm - first_mm) / step_mm > _MOST:
        raise BadInput.of(
            where="--from, --up-to and --every",
            what=f"They ask for no width, or for more than {_MOST}.",
            remedy="Give a narrower and a wider width, and a greater distance between two.",
        )
    return [first_mm + k * step_mm for k in range(int((last_mm - first_mm) / step_mm + 1e-9) + 1)]


def _table(curve: WidthCurve) -> Table:
    unit = curve.project.unit
    table = Table("width", box=box.SIMPLE_HEAD, title=f"{curve.cloth.key}: buy", title_justify="left")
    for spread in curve.to_buy_mm:
        table.add_column(str(spread), justify="right")
    for k, width in enumerate(curve.widths_mm):
        amounts = [row[k] for row in curve.to_buy_mm.values()]
        cells = ["–" if amount is None else format_buy(amount, unit) for amount in amounts]
        table.add_row(format_length(width, unit), *cells)
    return table
