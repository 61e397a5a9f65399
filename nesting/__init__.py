"""Ellwand: from a finished paper pattern to metres of cloth and a verified lay.

>>> from nesting import lay_project, read_project  # doctest: +SKIP
>>> result = lay_project(read_project("jacket.toml"))  # doctest: +SKIP

The names below are the public ones; everything else may change.
"""

from __future__ import annotations

from importlib import import_module

# Loaded when first used, so that a command that needs little starts at once.
_HOMES = {
    "BadInput": "nesting.errors",
    "Comparison": "nesting.estimate.compare",
    "Effort": "nesting.cutting.laying",
    "EllwandError": "nesting.errors",
    "Estimate": "nesting.estimate.estimate",
    "Project": "nesting.project",
    "ProjectEstimate": "nesting.estimate.estimate",
    "compare": "nesting.estimate.compare",
    "draw_lay": "nesting.drawing.figure",
    "example_text": "nesting.files.example",
    "lay_project": "nesting.estimate.estimating",
    "pdf_bytes": "nesting.drawing.pages",
    "read_project": "nesting.files.project",
}

__all__ = sorted(_HOMES)


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'nesting' has no attribute '{name}'")
    return getattr(import_module(_HOMES[name]), name)
