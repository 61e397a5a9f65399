"""``ellwand compare``: alternatives beside the plain version."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from nesting.cutting.fit.fitting import require_fit
from nesting.errors import BadInput
from nesting.estimate.many.jobs import lay_figures
from nesting.estimate.overview.compare import compare
from nesting.files.project.asked import Asked, ClothChange, read_project_with
from nesting.packing.walks.preparing import beside_the_first_lay
from nesting.project import Project
from nesting.words.comparing import what_decides

from . import ctrl_c
from .kept import say_trouble, store_of
from .lay import effort_of
from .progress import LayProgress
from .tables import comparison_tables
from .terminal import show
from .version import version_of

__all__ = ["run"]


def run(
    file: Path,
    alternatives: Sequence[str],
    *,
    changes: Sequence[ClothChange],
    seconds: float | None,
    seed: int,
    afresh: bool,
) -> None:
    """Lay the plain version and each alternative, and print them side by side.

    Raises
    ------
    BadInput
        When there are no alternatives, or not the one named, or a piece does not fit its cloth.
    """
    project, asked = read_project_with(file, changes)
    for sentence in _remarks(asked, project):
        print(sentence, file=sys.stderr)
    chosen = [version_of(project, name) for name in (*alternatives, *asked.names)]
    if not chosen and not changes:
        chosen = list(project.alternatives)
    if not chosen and changes:
        raise BadInput.of(
            where=str(file),
            what="Nothing that was asked for changes anything, so there is nothing to compare.",
            remedy="Ask for another width, nap or spread, or name an alternative of the file.",
        )
    if not chosen:
        raise BadInput.of(
            where=str(file),
            what="The file has no alternatives to compare.",
            remedy="Ask for one, for example with --width 115, or add one to the file:\n"
            '    [alternative."seam at centre back"]\n    piece.back.on_fold = false',
        )
    require_fit(project, *chosen)
    store = store_of(afresh=afresh)
    results = []
    with beside_the_first_lay(), LayProgress(project.unit, ctrl_c.COMPARING) as progress:
        for version in (project, *chosen):
            if progress.until.pressed:
                break
            progress.version = version.version
            results.append(
                lay_figures(
                    version,
                    effort=effort_of(seconds),
                    seed=seed,
                    store=store,
                    on_lay=progress.tell,
                    until=progress.until,
                )
            )
    ctrl_c.reach(ctrl_c.PRINTING)
    comparison = compare(results)
    show(*comparison_tables(comparison, project), *what_decides(comparison))
    if len(results) < 1 + len(chosen):
        names = ", ".join(f"'{version.version}'" for version in chosen[len(results) - 1 :])
        show(f"Not begun, as you ended it: {names}.")
    say_trouble(store)


def _remarks(asked: Asked, project: Project) -> Iterator[str]:
    """Which cloth was meant where none was named, and what is left out since it changes nothing."""
    cloth = asked.taken_for
    if cloth is not None and len(project.cloths) > 1:
        example = next(key for key in project.cloths if key != cloth)
        (change, *_) = asked.unnamed
        yield (
            f"Where no cloth is named, the first of the file is meant: '{cloth}'. To name another: "
            f"--{change.entry} {shlex.quote(f'{example}={change.text}')}"
        )
    for key, change in asked.the_same:
        yield (
            f"--{change.entry} {shlex.quote(change.text)} is left out: it changes nothing, as '{key}' is so "
            "in the file already."
        )
