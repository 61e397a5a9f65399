"""Strips by width and total length, joined end to end: how many, how long each, and their shape.

Terms
-----
bias strip
    Its length runs at 45 degrees to the threads. Its ends are cut along a thread, so two of them laid at
    right angles, right sides together, meet along their slanted ends.
join
    The seam between two strips, and what of their length goes into it.

Geometry
--------
Of a bias strip of width w, the slanted ends measure w √2 each. A seam with allowance a on them takes a √2 of
the length from either strip, 2 √2 a together. Strips cut straight have square ends. Joined on the diagonal
they are laid over each other at right angles and sewn from corner to corner of the square in which they
overlap: that takes the width once, whatever is trimmed off. Joined straight, a seam takes its two allowances.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from nesting.geometry import FloatArray
from nesting.pattern.piece import Edge, Piece, Turn

__all__ = ["Join", "StripCut", "StripGrain", "cut_strips", "join_mm", "longest_on_mm", "strip_piece"]

_ROUND_UP_MM = 1.0
"""Strips are cut to a whole number of these."""
_LONGEST_ALONG_MM = 1000.0


class StripGrain(StrEnum):
    """How the length of a strip runs."""

    BIAS = "bias"
    ALONG = "along"
    ACROSS = "across"


class Join(StrEnum):
    """How two strips are sewn end to end."""

    DIAGONAL = "diagonal"
    STRAIGHT = "straight"


@dataclass(frozen=True, slots=True)
class StripCut:
    """How a strip is pieced: so many, each so long along its edges."""

    number: int
    each_mm: float


def join_mm(width_mm: float, grain: StripGrain, join: Join, seam_mm: float) -> float:
    """Length that one join takes.

    >>> round(join_mm(40.0, StripGrain.BIAS, Join.DIAGONAL, 6.0), 2)
    16.97
    """
    if join is Join.STRAIGHT:
        return 2 * seam_mm
    return 2 * math.sqrt(2) * seam_mm if grain is StripGrain.BIAS else width_mm


def longest_on_mm(width_mm: float, grain: StripGrain, usable_mm: float) -> float:
    """The longest strip to cut from a cloth, where nobody has said: it leaves room for others beside it.

    A bias strip may take half the cloth across, one across the cloth all of it.
    """
    if grain is StripGrain.BIAS:
        return max(usable_mm / math.sqrt(2), 2 * width_mm)
    return usable_mm if grain is StripGrain.ACROSS else _LONGEST_ALONG_MM


def cut_strips(total_mm: float, longest_mm: float, taken_mm: float) -> StripCut:
    """As few strips as give the total, all as long as each other.

    Parameters
    ----------
    total_mm : float
        Wanted, joined.
    longest_mm : float
        No strip is longer.
    taken_mm : float
        What a join takes; less than `longest_mm`.

    >>> cut_strips(total_mm=5600.0, longest_mm=1080.0, taken_mm=20.0)
    StripCut(number=6, each_mm=950.0)
    """
    number = max(1, math.ceil((total_mm - taken_mm) / (longest_mm - taken_mm) - 1e-9))
    each = (total_mm + (number - 1) * taken_mm) / number
    return StripCut(number, min(longest_mm, _ROUND_UP_MM * math.ceil(each / _ROUND_UP_MM - 1e-9)))


def strip_piece(name: str, width_mm: float, cut: StripCut, grain: StripGrain) -> Piece:
    """One strip as a paper piece without counts: its length drawn upright, allowances included.

    A bias strip may also lie along the other diagonal, turned by a quarter; its mirror image would not
    join to it.
    """
    up = cut.each_mm
    slant = width_mm if grain is StripGrain.BIAS else 0.0
    corners = np.array([[0.0, 0.0], [width_mm, slant], [width_mm, slant + up], [0.0, up]])
    names = ("end", "long edge", "other end", "other long edge")
    edges = tuple(Edge(edge, _run(corners[k], corners[(k + 1) % 4]), 0.0) for k, edge in enumerate(names))
    # Degrees counter-clockwise from paper x: the slanted ends of a bias strip run along a thread.
    degrees = {StripGrain.BIAS: 45.0, StripGrain.ALONG: 90.0, StripGrain.ACROSS: 0.0}[grain]
    turn = Turn.QUARTER if grain is StripGrain.BIAS else Turn.HALF
    return Piece(name, edges, degrees, {}, allowance_included=True, turn=turn)


def _run(start: FloatArray, end: FloatArray) -> FloatArray:
    return np.array([start, end])
