"""``ellwand compare``: alternatives beside the plain version."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from nesting.cutting.fit.fitting import require_fit
from nesting.errors import BadInput
from nesting.estimate.many.jobs import lay_figures
from nesting.estimate.overview.compare import compare
from nesting.files.project.asked import ClothChange, read_project_with
from nesting.packing.walks.preparing import beside_the_first_lay
from nesting.words.comparing import what_decides

from . import ctrl_c
from .kept import say_trouble, store_of
from .lay import effort_of, version_of
from .progress import LayProgress
from .tables import comparison_tables
from .terminal import show

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
    chosen = [version_of(project, name) for name in (*alternatives, *asked)] or list(project.alternatives)
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
    with beside_the_first_lay(), LayProgress(project.unit, ctrl_c.TAKEN_UP_AGAIN) as progress:
        for version in (project, *chosen):
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
    if progress.until.pressed:
        show("Stopped early: not every version was searched equally long, so small differences mean little.")
    ctrl_c.reach(ctrl_c.PRINTING)
    comparison = compare(results)
    show(*comparison_tables(comparison, project), *what_decides(comparison))
    say_trouble(store)
