"""``ellwand check``: whether the project file is sound, and what it asks for."""

from __future__ import annotations

from pathlib import Path

from cli.tables import counts_table
from cli.terminal import show
from nesting.cutting.fit import fit_problems
from nesting.errors import BadInput
from nesting.files.project import read_project

__all__ = ["run"]


def run(file: Path) -> None:
    """Print what the file asks for.

    Raises
    ------
    BadInput
        With every problem of the file, pieces too wide for their cloth included, in any version.
    """
    project = read_project(file)
    versions = (project, *project.alternatives)
    problems = dict.fromkeys(problem for version in versions for problem in fit_problems(version))
    if problems:
        raise BadInput(tuple(problems))
    size = f"{len(project.pieces)} pieces, {len(project.cloths)} cloths"
    show(f"{project.title}: {size}, no faults found.", counts_table(project), items=project.notes)
    if project.alternatives:
        names = ", ".join(f'"{version.version}"' for version in project.alternatives)
        show(f"Alternatives: {names}. Set them side by side:  ellwand compare {file}")
