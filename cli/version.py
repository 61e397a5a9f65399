"""Which version of a project is meant: a size, an alternative, some of its cloths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from nesting.errors import BadInput, Mistake
from nesting.lettering import quoted, shortened
from nesting.project import Project, only_cloths

__all__ = ["of_cloths", "of_size", "version_of"]


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
        where=project.source or project.title,
        what=f"There is no size {quoted(size)}.",
        remedy=f"It has: {names}.",
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
        what=f"There is no alternative called {quoted(alternative)}.",
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
            what = "Nothing is cut from it." if key in project.cloths else f"There is no cloth {quoted(key)}."
            names = ", ".join(f"'{one}'" for one in project.cloths if project.pieces_in(one))
            mistakes.append(Mistake(f"--cloth {shortened(key)}", what, f"Pieces are cut from {names}."))
    if mistakes:
        raise BadInput(tuple(mistakes))
    others = tuple(
        cloth.name for key, cloth in project.cloths.items() if key not in keys and project.pieces_in(key)
    )
    return replace(only_cloths(project, keys), not_asked=others)
