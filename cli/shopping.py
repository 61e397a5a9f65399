"""``ellwand shopping``: what to buy for one or several projects, on paper, in a message, on a phone."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from nesting.cutting.fit.fitting import require_fit
from nesting.errors import BadInput, Mistake
from nesting.estimate.many.jobs import lay_figures
from nesting.estimate.overview.shopping import shopping_list
from nesting.files.project.reading import read_project
from nesting.files.results.writing import require_writable
from nesting.packing.walks.preparing import beside_the_first_lay
from nesting.project import Project

from . import ctrl_c
from .kept import say_trouble, store_of
from .lay import effort_of
from .paper import Paper, page_of
from .progress import LayProgress
from .version import version_of
from .written import put_down

__all__ = ["run"]


def run(
    files: Sequence[Path],
    *,
    alternative: str | None,
    to: Path | None,
    paper: Paper | None,
    seconds: float | None,
    seed: int,
    afresh: bool,
) -> None:
    """Lay every cloth of every project, print the list, and write its three forms.

    Raises
    ------
    BadInput
        With all that is wrong in any of the files.
    """
    projects = _read(files, alternative)
    require_fit(*projects)
    stem = f"{files[0].stem}-shopping" if len(files) == 1 else "shopping"
    folder = to or files[0].with_name(stem)
    pdf, txt, html = (folder / f"{stem}.{ending}" for ending in ("pdf", "txt", "html"))
    require_writable(folder, [f"{stem}-earlier-1.html", pdf.name, txt.name, html.name])
    store = store_of(afresh=afresh)
    results = []
    with (
        beside_the_first_lay(),
        LayProgress(projects[0].unit, ctrl_c.SEARCHING.with_last(ctrl_c.TAKEN_UP_AGAIN)) as progress,
    ):
        for project in projects:
            progress.version = project.title
            results.append(
                lay_figures(
                    project,
                    effort=effort_of(seconds),
                    seed=seed,
                    store=store,
                    on_lay=progress.tell,
                    until=progress.until,
                )
            )
    ctrl_c.reach(ctrl_c.DRAWING.with_last(ctrl_c.TAKEN_UP_AGAIN))
    shopping = shopping_list(results)

    from nesting.drawing.pages.shopping import (
        shopping_pdf,  # drawing takes longest to load and is needed last
    )
    from nesting.files.results.shopping_html import shopping_html
    from nesting.files.results.shopping_text import shopping_text

    text = shopping_text(shopping)
    sheets = {
        pdf: shopping_pdf(shopping, page=page_of(paper, projects[0].unit)),
        txt: text.encode(),
        html: shopping_html(shopping).encode(),
    }
    put_down(sheets)
    print(text, end="")  # by itself, so that it can be handed on to another program
    told = f"On paper, as text, and for the phone: {folder / stem}.pdf, .txt, .html"
    print(f"\n{told}", file=sys.stderr)
    say_trouble(store)


def _read(files: Sequence[Path], alternative: str | None) -> list[Project]:
    """All projects, or every mistake of all their files."""
    projects: list[Project] = []
    mistakes: list[Mistake] = []
    for file in dict.fromkeys(files):
        try:
            projects.append(version_of(read_project(file), alternative))
        except BadInput as error:
            mistakes += error.mistakes
    if mistakes:
        raise BadInput(tuple(mistakes))
    return projects
