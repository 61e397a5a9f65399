"""In which order pieces are laid, and which of them are cut before the cloth is spread another way.

Large pieces first, those on the fold before the others, then the small ones into what is left: I. D. Conover,
*A Complete Course in Dressmaking*; T. Johnson, *It's Fun to Sew* (Oregon State Extension Service). What
counts as large has no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cutting.flat.placing import Numbered
from nesting.cutting.lay import Yield
from nesting.geometry import signed_area

__all__ = ["LARGE_SHARE", "LayingOrder", "laying_order"]

LARGE_SHARE = 0.25
"""A piece of at least this share of the largest one's area is laid among the first."""
_SAME_MM2 = 100.0
"""Areas that differ by less count as alike, so that copies follow each other by number."""


@dataclass(frozen=True, slots=True)
class LayingOrder:
    """Placements in the order of laying: the large ones, then those that fit between them."""

    large: tuple[Numbered, ...]
    between: tuple[Numbered, ...]


def laying_order(items: Sequence[Numbered]) -> LayingOrder:
    """Large placements by size, those on the fold first; small ones as they follow along the cloth.

    Parameters
    ----------
    items : sequence of Numbered
        Of a part of the cloth that is spread in one way.
    """
    areas = {item.number: abs(signed_area(item.shape.cut_line)) for item in items}
    least = LARGE_SHARE * max(areas.values(), default=0.0)
    large = [item for item in items if areas[item.number] >= least]
    large.sort(
        key=lambda item: (
            item.placed.yields is not Yield.WHOLE_ON_FOLD,
            -round(areas[item.number] / _SAME_MM2),
            item.number,
        )
    )
    between = [item for item in items if areas[item.number] < least]
    return LayingOrder(tuple(large), tuple(between))
