"""What the bounds alone would need: nobody can buy less, in the spreads that were laid."""

from __future__ import annotations

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Lay

__all__ = ["is_proven", "least_to_buy_mm"]


def least_to_buy_mm(lay: Lay) -> dict[Spread, float]:
    """What the lower bound alone would need, for each spread that was laid."""
    least = {tried.spread: tried.least_to_buy_mm for tried in lay.tried if tried.least_to_buy_mm is not None}
    return least or {lay.spread: purchase(lay.bound_mm, lay.cloth).to_buy_mm}


def is_proven(to_buy_mm: float, least_mm: float) -> bool:
    """Whether the bounds show that no lay needs a shorter purchase."""
    return to_buy_mm <= least_mm
