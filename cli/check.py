"""``ellwand check``: whether the project file is sound, and what it asks for."""

from __future__ import annotations

from collections.abc import Sized
from pathlib import Path

from nesting.cutting.fit.fitting import require_fit
from nesting.files.project.reading import read_project

from .tables import counts_table
from .terminal import show, typed

__all__ = ["run"]


def run(file: Path) -> None:
    """Print what the file asks for.

    Raises
    ------
    BadInput
        With every mistake of the file, pieces too wide for their cloth included, in any version.
    """
    project = read_project(file)
    require_fit(project, *project.alternatives)
    size = f"{_number(project.pieces, 'piece')}, {_number(project.cloths, 'cloth')}"
    show(f"{project.title}: {size}, no faults found.", counts_table(project), items=project.notes)
    if project.alternatives:
        names = ", ".join(f'"{version.version}"' for version in project.alternatives)
        show(f"Alternatives: {names}. Set them side by side:  {typed('compare', file)}")


def _number(things: Sized, name: str) -> str:
    return f"{len(things)} {name}{'' if len(things) == 1 else 's'}"
