"""``ellwand lay``: what to buy, and the sheets to cut by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import typer

from nesting.cutting.search.laying import Effort
from nesting.errors import BadInput, Mistake
from nesting.estimate.estimating import lay_project
from nesting.files.project.reading import read_project
from nesting.files.results.answer_json import answer_json
from nesting.files.results.naming import sheet_names
from nesting.files.results.writing import require_writable
from nesting.packing.walks.preparing import beside_the_first_lay
from nesting.project import Project, only_cloths
from nesting.words.notes import project_notes
from nesting.words.verdict import verdict

from . import ctrl_c
from .in_hand import NOT_ENOUGH_CLOTH, ask, show_answers, show_left, what_goes_on
from .paper import FullPaper, Paper, page_of, print_on
from .progress import LayProgress, SheetProgress
from .tables import buy_table, tally_table
from .terminal import show
from .written import put_down

__all__ = ["effort_of", "of_cloths", "of_size", "run", "version_of"]


def run(
    file: Path,
    *,
    alternative: str | None,
    size: str | None,
    cloths: Sequence[str],
    to: Path | None,
    paper: Paper | None,
    full_size: FullPaper | None,
    margin: str | None,
    roll_width: str | None,
    seconds: float | None,
    seed: int,
) -> None:
    """Lay one version of a project, or some of its cloths, and write the sheets."""
    project = of_cloths(version_of(of_size(read_project(file), size), alternative), cloths)
    folder = to or file.with_name(sheet_folder_name(file, size, alternative, *cloths))
    if full_size is None and (margin or roll_width):
        raise BadInput.of(
            where="--margin or --roll-width",
            what="These are for drawings at true size, and none was asked for.",
            remedy="Add for example --full-size a4, or leave them out.",
        )
    on = None if full_size is None else print_on(full_size, margin, roll_width, project.unit)
    names = sheet_names(folder, file.stem, project)
    require_writable(folder, [f"{file.stem}-cut-list-earlier-1.csv", *(path.name for path in names.all())])
    effort = effort_of(seconds)
    with beside_the_first_lay(), LayProgress(project.unit) as progress:
        result = lay_project(project, effort=effort, seed=seed, on_lay=progress.tell, until=progress.until)
        answers = ask(project, result, effort, seed, progress)
    ctrl_c.reach(ctrl_c.DRAWING)
    files = {names.answer: answer_json(result, answers).encode()} if answers else {}
    going = what_goes_on(project, result, answers) if answers else result
    if going is not None:
        with SheetProgress() as drawing:
            from .sheets import sheets_of  # drawing takes longest to load and is needed last

            page = page_of(paper, project.unit)
            files |= sheets_of(going, names, page=page, full_size=on, progress=drawing)
    put_down(files)
    verdicts = [
        f"{estimate.lay.cloth.name}: {verdict(estimate, result.project)}" for estimate in result.estimates
    ]
    show(buy_table(result), tally_table(result), *verdicts, items=project_notes(result.project))
    if going is not None:
        show_left(going)
    if answers:
        show_answers(project, answers, names.answer, None if going is None else names.book)
        raise typer.Exit(NOT_ENOUGH_CLOTH)
    show(f"Sheets to shop and cut by: {names.book}")


def of_size(project: Project, size: str | None) -> Project:
    """The project, or one garment of it in that size.

    Raises
    ------
    BadInput
        When there is no such size.
    """
    if size is None:
        return project
    for one in project.sizes:
        if one.size == size:
            return one
    names = ", ".join(f"'{one.size}'" for one in project.sizes) or "no sizes"
    raise BadInput.of(
        where=project.source or project.title, what=f"There is no size '{size}'.", remedy=f"It has: {names}."
    )


def version_of(project: Project, alternative: str | None) -> Project:
    """The plain project, or its alternative of that name.

    Raises
    ------
    BadInput
        When there is no such alternative.
    """
    if alternative is None:
        return project
    for version in project.alternatives:
        if version.version == alternative:
            return version
    names = ", ".join(f"'{version.version}'" for version in project.alternatives) or "none"
    raise BadInput.of(
        where=project.source or project.title,
        what=f"There is no alternative called '{alternative}'.",
        remedy=f"It has: {names}.",
    )


def of_cloths(project: Project, keys: Sequence[str]) -> Project:
    """The project, or what is cut from those of its cloths.

    Raises
    ------
    BadInput
        When there is no such cloth, or nothing is cut from it.
    """
    if not keys:
        return project
    mistakes = []
    for key in dict.fromkeys(keys):
        if key not in project.cloths or not project.pieces_in(key):
            what = "Nothing is cut from it." if key in project.cloths else f"There is no cloth '{key}'."
            names = ", ".join(f"'{one}'" for one in project.cloths if project.pieces_in(one))
            mistakes.append(Mistake(f"--cloth {key}", what, f"Pieces are cut from {names}."))
    if mistakes:
        raise BadInput(tuple(mistakes))
    others = tuple(
        cloth.name for key, cloth in project.cloths.items() if key not in keys and project.pieces_in(key)
    )
    return replace(only_cloths(project, keys), not_asked=others)


def effort_of(seconds: float | None) -> Effort:
    """The counted default, or a time."""
    return Effort() if seconds is None else Effort(seconds=seconds)


def sheet_folder_name(file: Path, *parts: str | None) -> str:
    """``jacket-lay``, or with what was asked for: ``jacket-lay-96-seam-at-centre-back``."""
    words = "".join(c if c.isalnum() else " " for c in " ".join(part or "" for part in parts)).split()
    return "-".join([f"{file.stem}-lay", *words])
