"""What ``ellwand lay`` says of cloth in hand: what is left over, or what would make it go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from rich import box
from rich.table import Table

from nesting.cloth.cloth import Cloth
from nesting.cutting.in_hand.asking import Answer, TriedChange, what_would_do
from nesting.cutting.plan.remnants import remnant_cloths
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimate import ProjectEstimate
from nesting.project import Project, only_cloths
from nesting.units import Unit
from nesting.words.answers import answer_words, figure_words
from nesting.words.changes import change_words, how_to
from nesting.words.in_hand import left_words

from .progress import LayProgress
from .terminal import show

__all__ = ["NOT_ENOUGH_CLOTH", "ask", "show_answers", "show_left", "what_goes_on"]

NOT_ENOUGH_CLOTH = 3
"""Exit code where not all goes on a cloth in hand: nothing is wrong, but the answer is no."""


def show_left(result: ProjectEstimate) -> None:
    """What each lay leaves over, where that was asked for."""
    for estimate in result.estimates:
        if estimate.left is not None:
            words = " ".join(left_words(estimate.left, result.project.unit))
            show(f"{estimate.lay.cloth.name}: {words}")


def what_goes_on(
    project: Project, result: ProjectEstimate, answers: Mapping[str, Answer]
) -> ProjectEstimate | None:
    """The cloths on which all goes, by themselves; None where there are none.

    `answers` are of the cloths that are too short, by their keys.
    """
    short = {part.key for key in answers for part in remnant_cloths(project.cloths[key])}
    kept = tuple(estimate for estimate in result.estimates if estimate.lay.cloth.key not in short)
    if not kept:
        return None
    alone = only_cloths(result.project, {estimate.lay.cloth.key for estimate in kept})
    names = tuple(project.cloths[key].name for key in answers)
    return ProjectEstimate(replace(alone, too_short=names), kept)


def ask(
    project: Project, result: ProjectEstimate, effort: Effort, seed: int, progress: LayProgress
) -> dict[str, Answer]:
    """Try what would make it go, for each cloth in hand on which not all goes, by its key."""
    lacking = {estimate.lay.cloth.key for estimate in result.estimates if estimate.lacking_mm}
    answers: dict[str, Answer] = {}
    for cloth in project.cloths.values():
        if lacking.isdisjoint(part.key for part in remnant_cloths(cloth)):
            continue

        def tell(tried: TriedChange, cloth: Cloth = cloth) -> None:
            progress.say(
                f"{cloth.name}: {change_words(tried.change)}: {figure_words(tried, cloth, project.unit)}"
            )

        progress.say(f"{cloth.name}: not all goes on; trying what would make it go ...")
        answers[cloth.key] = what_would_do(
            project, cloth, effort=effort, seed=seed, until=progress.until, on_change=tell
        )
    return answers


def show_answers(project: Project, answers: Mapping[str, Answer], written: Path, sheets: Path | None) -> None:
    """Tell what would make it go, where that is written, and where the sheets of the other cloths are."""
    for key, answer in answers.items():
        cloth = project.cloths[key]
        show(_table(answer, cloth, project.unit))
        show(*(f"{cloth.name}: {words}" for words in answer_words(answer, cloth, project.unit)))
    this = f"This answer, for other programs: {written}"
    if sheets is None:
        show(f"There is no lay to cut by, so no sheets were written. {this}")
    else:
        names = ", ".join(project.cloths[key].name for key in answers)
        show(f"There is no lay of {names} to cut by, so no sheets of it were written. {this}")
        show(f"Sheets of the other cloths, to shop and cut by: {sheets}")


def _table(answer: Answer, cloth: Cloth, unit: Unit) -> Table:
    table = Table(
        "what was tried",
        "what came of it",
        "how",
        box=box.SIMPLE_HEAD,
        title=cloth.name,
        title_justify="left",
    )
    for one in answer.changes:
        table.add_row(change_words(one.change), figure_words(one, cloth, unit), how_to(one.change))
    table.add_section()
    for one in answer.without:
        table.add_row(change_words(one.change), figure_words(one, cloth, unit), "")
    return table
