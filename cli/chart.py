"""``ellwand chart``: how much of every cloth for each size, width and nap."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from nesting.cloth.cloth import Nap
from nesting.estimate.many.jobs import LayJob
from nesting.estimate.overview.chart import filled, plan_chart
from nesting.files.project.reading import read_project
from nesting.files.results.writing import require_writable
from nesting.project import PLAIN
from nesting.units import Unit, format_length

from . import ctrl_c
from .crew import lay_many
from .kept import say_trouble, store_of
from .lay import effort_of
from .paper import Paper, page_of
from .terminal import show
from .values import lengths_of
from .written import put_down

__all__ = ["run"]


def run(
    file: Path,
    *,
    widths: Sequence[str],
    naps: Sequence[Nap],
    cloths: Sequence[str],
    sizes: Sequence[str],
    alternatives: Sequence[str],
    to: Path | None,
    paper: Paper | None,
    workers: int | None,
    scheduler: str | None,
    seconds: float | None,
    seed: int,
    afresh: bool,
) -> None:
    """Work out what is not kept from earlier, and write the chart in four forms.

    Raises
    ------
    BadInput
        When the file is at fault, or does not have what is asked for.
    """
    project = read_project(file)
    plan = plan_chart(
        project,
        widths_mm=lengths_of(widths, project.unit, "--width"),
        naps=naps,
        cloths=cloths,
        sizes=sizes,
        alternatives=alternatives,
        effort=effort_of(seconds),
        seed=seed,
    )
    stem = f"{file.stem}-chart"
    folder = to or file.with_name(stem)
    pdf, png, txt, csv = (folder / f"{stem}.{ending}" for ending in ("pdf", "png", "txt", "csv"))
    require_writable(folder, [f"{stem}-earlier-1.png", pdf.name, png.name, txt.name, csv.name])
    store = store_of(afresh=afresh)
    found = lay_many(
        plan.jobs,
        store=store,
        workers=workers,
        scheduler=scheduler,
        name_of=lambda job: _name(job, project.unit),
        unit=project.unit,
    )
    ctrl_c.reach(ctrl_c.DRAWING.with_last(ctrl_c.TAKEN_UP_AGAIN))
    chart = filled(plan, found)

    from nesting.drawing.pages.chart import chart_pdf, chart_png  # takes longest to load and is needed last
    from nesting.files.results.chart_text import chart_csv, chart_text

    text = chart_text(chart)
    sheets = {
        pdf: chart_pdf(chart, page=page_of(paper, project.unit)),
        png: chart_png(chart),
        txt: text.encode(),
        csv: chart_csv(chart).encode(),
    }
    put_down(sheets)
    print(text)
    show(f"On paper, as a picture, as text and as a table: {folder / stem}.pdf, .png, .txt, .csv")
    if chart.missing:
        show(f"{chart.missing} of {len(chart.cells)} amounts are missing: run the same again to go on.")
    say_trouble(store)


def _name(job: LayJob, unit: Unit) -> str:
    """What is being laid, in short."""
    cloth, version = job.project.cloths[job.cloth_key], job.project.version
    words = [job.project.size, job.cloth_key, format_length(cloth.width_mm, unit), str(cloth.nap)]
    return ", ".join(word for word in (*words, "" if version == PLAIN else version) if word)
