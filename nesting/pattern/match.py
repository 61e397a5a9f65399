"""Which points of the pieces meet on the same line of a stripe, check or print when they are sewn.

Terms
-----
repeat
    The distance after which the pattern of a cloth begins anew, along the cloth or across it.
matching point
    A point on the seam line (not the cutting line) that must lie at the same place of the repeat as the
    points it is sewn to.
hand
    A piece cut as its paper is drawn, or as the paper's mirror image.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from enum import StrEnum

__all__ = ["Axis", "Hand", "Match"]


class Axis(StrEnum):
    """A direction of the cloth."""

    ALONG = "along"
    """Along the warp: the bars that run across the cloth come again."""
    ACROSS = "across"
    """Along the weft: the stripes that run along the cloth come again."""


class Hand(StrEnum):
    """Which of a pair a cut piece is."""

    DRAWN = "as drawn"
    MIRRORED = "mirrored"


@dataclass(frozen=True, slots=True)
class Match:
    """Points that meet on one line of the repeat.

    Attributes
    ----------
    name : str
        ``side seams``; never empty.
    points : tuple of (str, str)
        Piece and the name of one of its `Piece.matching` points, each piece once. A piece alone is matched to
        its own mirror image (centre front), or only laid on a line (`on_line`).
    axes : tuple of Axis
        The repeats that it holds in; empty for all that the cloth has.
    on_line : bool
        Whether the points lie on the main line of the repeat, the middle of its boldest stripe.
    cloth : str or None
        Key of the one cloth that it is meant for; None for each whose repeat it can hold in.
    """

    name: str
    points: tuple[tuple[str, str], ...]
    axes: tuple[Axis, ...] = ()
    on_line: bool = False
    cloth: str | None = None

    def among(self, cut: Collection[str]) -> Match | None:
        """The match with those pieces only, or None where there is nothing left to meet."""
        points = tuple(point for point in self.points if point[0] in cut)
        if not points or (len(points) == 1 < len(self.points) and not self.on_line):
            return None
        return replace(self, points=points)

    def holds(self, axis: Axis, cloth_key: str) -> bool:
        """Whether it is meant for that direction of that cloth."""
        return self.cloth in (None, cloth_key) and axis in (self.axes or tuple(Axis))
