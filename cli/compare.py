"""``ellwand compare``: the alternatives of a project beside its plain version."""

from __future__ import annotations

from pathlib import Path

from cli.lay import effort_of, version_of
from cli.progress import LayProgress
from cli.tables import comparison_table
from cli.terminal import show
from nesting.cutting.fit import require_fit
from nesting.errors import BadInput
from nesting.estimate.compare import compare
from nesting.estimate.estimating import lay_project
from nesting.files.project import read_project

__all__ = ["run"]


def run(file: Path, alternatives: list[str], *, seconds: float | None, seed: int) -> None:
    """Lay the plain version and each alternative, and print them side by side.

    Raises
    ------
    BadInput
        When the file has no alternatives, or not the one named, or a piece does not fit its cloth.
    """
    project = read_project(file)
    chosen = [version_of(project, name) for name in alternatives] or list(project.alternatives)
    if not chosen:
        raise BadInput.of(
            where=str(file),
            what="The file has no alternatives to compare.",
            remedy="Add one, for example:\n"
            '    [alternative."seam at centre back"]\n    piece.back.on_fold = false',
        )
    require_fit(project, *chosen)
    results = []
    with LayProgress(project.unit) as progress:
        for version in (project, *chosen):
            progress.version = version.version
            results.append(
                lay_project(
                    version, effort=effort_of(seconds), seed=seed, on_lay=progress.tell, until=progress.until
                )
            )
    if progress.until.pressed:
        show("Stopped early: not every version was searched equally long, so small differences mean little.")
    comparison = compare(results)
    show(comparison_table(comparison, project), *comparison.sentences)
