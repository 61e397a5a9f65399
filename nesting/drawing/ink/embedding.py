"""Letters as they go into a PDF: their shapes, without what a printer never asks."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["shapes_alone"]

_HOW_LETTERS_JOIN = ("BASE", "GDEF", "GPOS", "GSUB", "JSTF", "MATH", "kern")
"""Tables of a font that are read while a line is set, never while it is shown (OpenType specification)."""


@contextmanager
def shapes_alone() -> Iterator[None]:
    """Have fonts that are embedded meanwhile leave out how letters join and change each other.

    Matplotlib sets each line itself and writes down which shapes stand where, so those tables are dead
    weight in the file, and cutting them down to the letters used takes time. Which tables it drops is no
    setting of its, hence the stand-in for what it asks of fontTools.
    """
    from fontTools import subset

    whole = subset.Options

    def lean(**choices: object) -> subset.Options:
        options = whole(**choices)
        options.drop_tables = [*options.drop_tables, *_HOW_LETTERS_JOIN]
        return options

    subset.Options = lean
    try:
        yield
    finally:
        subset.Options = whole
