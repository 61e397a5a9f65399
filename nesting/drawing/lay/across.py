"""What lies where across the table: the cloth's outer edges, selvedges in the midst of it, and its folds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import LaySection

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
    fold = EdgeLine(0.0, "fold", "fold-edge", "fold")
    if spread is Spread.TUBE:
        return Across((), _near_fold(), EdgeLine(top, "fold", "far-fold-edge", "far fold"))
    if spread is Spread.LENGTHWISE_FOLD:
        top = cloth.usable_width_mm / 2  # the strip is narrower where the fold must find a stripe
        far = EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", "both selvedges")
        return Across(((top, top + breadth, "far-selvedge"),), fold, far)
    if spread is Spread.PART_FOLD:
        depth = stretch[0].width_mm
        over = EdgeLine(depth + breadth, "selvedge", "inner-selvedge-edge")
        far = EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", "far selvedge")
        bands = ((depth, depth + breadth, "inner-selvedge"), (top, top + breadth, "far-selvedge"))
        return Across(bands, fold, far, (over,))
    if spread is Spread.DOUBLE_FOLD:
        middle = (stretch[0].width_mm + stretch[-1].across_mm) / 2
        meet = EdgeLine(middle, "selvedge", "inner-selvedge-edge")
        far = EdgeLine(top, "fold", "far-fold-edge", "far fold")
        return Across(((middle - breadth, middle + breadth, "inner-selvedge"),), _near_fold(), far, (meet,))
    if cloth.tube:
        ends = ((0.0, "near-cut-edge", "near cut edge"), (top, "far-cut-edge", "far cut edge"))
        near, far = (EdgeLine(y, "cut end", name, words) for y, name, words in ends)
        return Across((), near, far)
    both = "selvedge of both layers" if spread.lengths == 2 else "selvedge"
    return Across(
        ((-breadth, 0.0, "near-selvedge"), (top, top + breadth, "far-selvedge")),
        EdgeLine(-breadth, "selvedge", "near-selvedge-edge", f"near {both}"),
        EdgeLine(top + breadth, "selvedge", "far-selvedge-edge", f"far {both}"),
    )


def _near_fold() -> EdgeLine:
    return EdgeLine(0.0, "fold", "fold-edge", "near fold")
