"""``ellwand lay``: what to buy, and the sheets to cut by."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import typer

from nesting.cutting.search.laying import Effort
from nesting.doubts.looking import version_doubts
from nesting.errors import BadInput
from nesting.estimate.estimating import lay_project
from nesting.files.project.reading import read_project
from nesting.files.results.answer_json import answer_json
from nesting.files.results.naming import sheet_names
from nesting.files.results.writing import require_writable
from nesting.packing.walks.preparing import beside_the_first_lay
from nesting.words.doubts import doubt_hint
from nesting.words.notes import project_notes
from nesting.words.spare import tight_words
from nesting.words.verdict import verdict

from . import ctrl_c
from .in_hand import NOT_ENOUGH_CLOTH, ask, show_answers, show_left, what_goes_on
from .paper import FullPaper, Paper, page_of, print_on
from .progress import LayProgress, SheetProgress
from .tables import buy_table, tally_table
from .terminal import show, typed
from .version import of_cloths, of_size, version_of
from .written import put_down

__all__ = ["effort_of", "run"]


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
    cloths = tuple(dict.fromkeys(cloths))
    whole = version_of(of_size(read_project(file), size), alternative)
    project = of_cloths(whole, cloths)
    folder = to or file.with_name(sheet_folder_name(file, size, alternative, *cloths))
    if full_size is None and (margin or roll_width):
        raise BadInput.of(
            where="--margin or --roll-width",
            what="These are for drawings at true size, and none was asked for.",
            remedy="Add for example --full-size a4, or leave them out.",
        )
    on = None if full_size is None else print_on(full_size, margin, roll_width, project.unit)
    names = sheet_names(folder, file.stem, whole)
    require_writable(folder, [f"{file.stem}-cut-list-earlier-1.csv", *(path.name for path in names.all())])
    doubts = version_doubts(project)
    if doubts:
        show(doubt_hint(len(doubts), typed("check", file)))
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
    put_down(files, names.all())
    verdicts = [
        f"{estimate.lay.cloth.name}: {verdict(estimate, result.project)}" for estimate in result.estimates
    ]
    tight = filter(None, (tight_words(estimate, result.project.unit) for estimate in result.estimates))
    show(buy_table(result), tally_table(result), *tight, *verdicts, items=project_notes(result.project))
    if going is not None:
        show_left(going)
    if answers:
        show_answers(project, answers, names.answer, None if going is None else names.book)
        raise typer.Exit(NOT_ENOUGH_CLOTH)
    show(f"Sheets to shop and cut by: {names.book}")


def effort_of(seconds: float | None) -> Effort:
    """The counted default, or a time."""
    return Effort() if seconds is None else Effort(seconds=seconds)


def sheet_folder_name(file: Path, *parts: str | None) -> str:
    """``jacket-lay``, or with what was asked for: ``jacket-lay-96-seam-at-centre-back``."""
    words = "".join(c if c.isalnum() else " " for c in " ".join(part or "" for part in parts)).split()
    return "-".join([f"{file.stem}-lay", *words])
