"""A line of words cut into runs of one direction, each to be drawn by itself, from left to right.

Names may be written from right to left. Left to the drawing library, such a name at the start turns the whole
line round, and figures after it come to stand before it. The marks of Unicode that prevent this (U+200E)
cannot be used in a PDF: they take the room of a space there, and the letter after them is lost.
"""

from __future__ import annotations

import unicodedata
from itertools import pairwise

from nesting.drawing.ink.pen import Align
from nesting.drawing.ink.text import text_width_pt

__all__ = ["direction_runs", "placed_runs"]

_RIGHT_TO_LEFT = frozenset({"R", "AL"})
_ENDS_IT = frozenset({"L", "EN"})


def direction_runs(line: str) -> tuple[str, ...]:
    """The runs of a line; together they are the line.

    A run from right to left goes from its first such letter to its last before a letter from left to right or
    a figure.

    >>> direction_runs("wool: 13 pieces")
    ('wool: 13 pieces',)
    """
    ends = [0]
    last: int | None = None
    for at, letter in enumerate(line):
        kind = unicodedata.bidirectional(letter)
        if kind in _RIGHT_TO_LEFT:
            if last is None:
                ends.append(at)
            last = at
        elif kind in _ENDS_IT and last is not None:
            ends.append(last + 1)
            last = None
    if last is not None:
        ends.append(last + 1)
    ends.append(len(line))
    runs = [line[start:end] for start, end in pairwise(ends) if end > start]
    return tuple(runs) or ("",)


def placed_runs(
    line: str, size_pt: float, align: Align, *, bold: bool = False
) -> tuple[tuple[str, float, Align], ...]:
    """The runs, each with how far right of the line's anchor its own stands, in points, and its alignment."""
    runs = direction_runs(line)
    if len(runs) == 1:
        return ((line, 0.0, align),)
    widths = [text_width_pt(run, size_pt, bold=bold) for run in runs]
    at = -{"left": 0.0, "center": 0.5, "right": 1.0}[align] * sum(widths)
    placed: list[tuple[str, float, Align]] = []
    for run, width in zip(runs, widths, strict=True):
        placed.append((run, at, "left"))
        at += width
    return tuple(placed)
