"""What lies where across the table: the cloth's outer edges, selvedges in the midst of it, and its folds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import assert_never

from nesting.cloth.cloth import Cloth
from nesting.cloth.spread import Spread, no_way_to_lie
from nesting.cutting.lay import LaySection
from nesting.words.spreads import words_of

__all__ = ["Across", "EdgeLine", "across"]


@dataclass(frozen=True, slots=True)
class EdgeLine:
    """An edge that runs along the cloth.

    Attributes
    ----------
    y_mm : float
    style : str
        Of `nesting.drawing.ink.look.LINES`.
    name : str
        For group ids.
    words : str
        Beside it; none for one in the midst of the cloth, which the title tells.
    """

    y_mm: float
    style: str
    name: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Across:
    """One stretch of the cloth from side to side, lay mm.

    Attributes
    ----------
    selvedges : tuple of (float, float, str)
        From where to where, and a name for group ids.
    near, far : EdgeLine
        The outer edges.
    inner : tuple of EdgeLine
        Edges that lie on the cloth.
    """

    selvedges: tuple[tuple[float, float, str], ...]
    near: EdgeLine
    far: EdgeLine
    inner: tuple[EdgeLine, ...] = ()

    @property
    def low(self) -> float:
        """The near outer edge."""
        return self.near.y_mm

    @property
    def high(self) -> float:
        """The far outer edge."""
        return self.far.y_mm


def across(stretch: Sequence[LaySection], cloth: Cloth) -> Across:
    """Where the edges of a stretch lie."""
    breadth, top = cloth.washed_selvedge_mm, stretch[-1].across_mm + stretch[-1].width_mm
    spread = stretch[0].spread
    near_words, far_words = words_of(spread, cloth).edges
    fold = EdgeLine(0.0, "fold", "fold-edge", near_words)
    match spread:
        case Spread.LENGTHWISE_FOLD:
            top = cloth.usable_width_mm / 2  # the strip is narrower where the fold must find a stripe
            far = EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", far_words)
            return Across(((top, top + breadth, "far-selvedge"),), fold, far)
        case Spread.PART_FOLD:
            depth = stretch[0].width_mm
            over = EdgeLine(depth + breadth, "selvedge", "inner-selvedge-edge")
            far = EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", far_words)
            bands = ((depth, depth + breadth, "inner-selvedge"), (top, top + breadth, "far-selvedge"))
            return Across(bands, fold, far, (over,))
        case Spread.DOUBLE_FOLD:
            middle = (stretch[0].width_mm + stretch[-1].across_mm) / 2
            meet = EdgeLine(middle, "selvedge", "inner-selvedge-edge")
            far = EdgeLine(top, "fold", "far-fold-edge", far_words)
            return Across(((middle - breadth, middle + breadth, "inner-selvedge"),), fold, far, (meet,))
        case Spread.TUBE:
            return Across((), fold, EdgeLine(top, "fold", "far-fold-edge", far_words))
        case Spread.OPEN | Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:
            if cloth.tube:
                near = EdgeLine(0.0, "cut end", "near-cut-edge", near_words)
                return Across((), near, EdgeLine(top, "cut end", "far-cut-edge", far_words))
            return Across(
                ((-breadth, 0.0, "near-selvedge"), (top, top + breadth, "far-selvedge")),
                EdgeLine(-breadth, "selvedge", "near-selvedge-edge", near_words),
                EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", far_words),
            )
        case Spread.BEST:
            no_way_to_lie(spread)
        case _:
            assert_never(spread)
