"""Ellwand: from a finished paper pattern to metres of cloth and a verified lay.

>>> from nesting import lay_project, read_project  # doctest: +SKIP
>>> result = lay_project(read_project("jacket.toml"))  # doctest: +SKIP

The names below are the public ones; everything else may change.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    __version__: str
    from nesting.cutting.search.laying import Effort as Effort
    from nesting.drawing.lay.figure import draw_lay as draw_lay
    from nesting.drawing.pages.book import pdf_bytes as pdf_bytes
    from nesting.errors import BadInput as BadInput
    from nesting.errors import EllwandError as EllwandError
    from nesting.estimate.estimate import Estimate as Estimate
    from nesting.estimate.estimate import ProjectEstimate as ProjectEstimate
    from nesting.estimate.overview.compare import Comparison as Comparison
    from nesting.estimate.overview.compare import compare as compare
    from nesting.files.example import example_text as example_text
    from nesting.files.project.reading import read_project as read_project
    from nesting.packing.walks.preparing import beside_the_first_lay as beside_the_first_lay
    from nesting.project import Project as Project
    from nesting.words.comparing import what_decides as what_decides
    from nesting.words.laying import lay_project as lay_project
    from nesting.words.verdict import verdict as verdict

# Loaded when first used, so that a command that needs little starts at once.
_HOMES = {
    "BadInput": "nesting.errors",
    "Comparison": "nesting.estimate.overview.compare",
    "Effort": "nesting.cutting.search.laying",
    "EllwandError": "nesting.errors",
    "Estimate": "nesting.estimate.estimate",
    "Project": "nesting.project",
    "ProjectEstimate": "nesting.estimate.estimate",
    "beside_the_first_lay": "nesting.packing.walks.preparing",
    "compare": "nesting.estimate.overview.compare",
    "draw_lay": "nesting.drawing.lay.figure",
    "example_text": "nesting.files.example",
    "lay_project": "nesting.words.laying",
    "pdf_bytes": "nesting.drawing.pages.book",
    "read_project": "nesting.files.project.reading",
    "verdict": "nesting.words.verdict",
    "what_decides": "nesting.words.comparing",
}

__all__ = sorted(_HOMES)


def __getattr__(name: str) -> object:
    if name == "__version__":
        from importlib.metadata import version

        return version("ellwand")
    if name not in _HOMES:
        raise AttributeError(f"module 'nesting' has no attribute '{name}'")
    return getattr(import_module(_HOMES[name]), name)
