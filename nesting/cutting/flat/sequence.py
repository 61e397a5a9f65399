"""In which order pieces are laid: their numbers on the drawing, and the rows of its tables, follow it.

Large pieces first, those on the fold before the others, then the small ones into what is left: I. D. Conover,
*A Complete Course in Dressmaking*; T. Johnson, *It's Fun to Sew* (Oregon State Extension Service). What
counts as large has no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cutting.lay import Lay, LaySection, PlacedPiece, Yield
from nesting.geometry import signed_area

__all__ = ["LARGE_SHARE", "Laid", "LayingOrder", "laying_order", "stretches_as_laid"]

LARGE_SHARE = 0.25
"""A piece of at least this share of the largest one's area is laid among the first."""
_SAME_MM2 = 100.0
"""Areas that differ by less count as alike, so that copies follow each other along the cloth."""
_TIE_MM = 0.01
"""Placements whose left ends differ by less than this count as level."""

Laid = tuple[LaySection, PlacedPiece]


@dataclass(frozen=True, slots=True)
class LayingOrder:
    """Placements in the order of laying: the large ones, then those that fit between them."""

    large: tuple[Laid, ...]
    between: tuple[Laid, ...]


def stretches_as_laid(lay: Lay) -> tuple[tuple[LaySection, ...], ...]:
    """The stretches in the order in which they are laid and cut.

    From the straightened end on; but a single length that follows two lengths or a crosswise fold is cut off,
    laid and cut before the rest is spread.
    """
    stretches = lay.stretches
    each_another_way = len({stretch[0].spread for stretch in stretches}) == len(stretches)
    if each_another_way and stretches[0][0].spread.facts.lengths == 2:
        return (*stretches[1:], stretches[0])
    return stretches


def laying_order(stretch: Sequence[LaySection]) -> LayingOrder:
    """Large placements by size, those on the fold first; small ones as they follow along the cloth.

    Parameters
    ----------
    stretch : sequence of LaySection
        All sections over the same length: a part of the cloth that is spread in one way.
    """
    laid = sorted(((section, placed) for section in stretch for placed in section.placed), key=_left_then_low)
    least = LARGE_SHARE * max(map(_area_mm2, laid), default=0.0)
    large = sorted(
        (one for one in laid if _area_mm2(one) >= least),
        key=lambda one: (one[1].yields is not Yield.WHOLE_ON_FOLD, -round(_area_mm2(one) / _SAME_MM2)),
    )
    return LayingOrder(tuple(large), tuple(one for one in laid if _area_mm2(one) < least))


def _area_mm2(laid: Laid) -> float:
    return abs(signed_area(laid[1].shape.cut_line))


def _left_then_low(laid: Laid) -> tuple[int, float]:
    section, placed = laid
    left, low = placed.shape.cut_line.min(axis=0).tolist()
    return round(left / _TIE_MM), low + section.across_mm
