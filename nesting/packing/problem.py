"""The strip-packing problem: polygons, and where each may be put on a strip of given width.

Field name: two-dimensional irregular open-dimension problem (irregular strip packing). The strip is
``0 <= y <= width_mm``, ``x >= 0``; its length, the largest x any item reaches, is to be made small.

Terms
-----
variant
    One way an item's outline may be presented: mirrored or not, then turned.
reference point
    The origin of the item's own coordinates; a placement says where it lies.
inner-fit region
    Where the reference point may lie so that the item is inside the strip.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from nesting.errors import InvalidProblem
from nesting.geometry import FloatArray, counter_clockwise

__all__ = [
    "WHOLE_STRIP",
    "EdgeRule",
    "Item",
    "Lattice",
    "Placement",
    "StripProblem",
    "Variant",
    "variant_outline",
]


WHOLE_STRIP = (0.0, math.inf)
"""A window that holds nothing back."""


class EdgeRule(StrEnum):
    """Whether an item must touch a long side of the strip."""

    FREE = "free"
    LOW = "low"
    """The least y of the placed outline is exactly 0."""
    HIGH = "high"
    """The greatest y of the placed outline is exactly the strip's width."""
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class Variant:
    """Mirrored across the x axis (y changes sign) or not, then turned counter-clockwise.

    Attributes
    ----------
    angle_deg : float
    mirrored : bool
    x_phase_mm, y_phase_mm : float
        Added to the phases of the item's lattices, where it has any: an outline that is turned meets the
        same line of a repeat at another place.
    """

    angle_deg: float = 0.0
    mirrored: bool = False
    x_phase_mm: float = 0.0
    y_phase_mm: float = 0.0

    def matrix(self) -> FloatArray:
        """(2, 2) float64: ``placed = matrix @ outline_point + (x, y)``; quarter turns are exact."""
        quarter, rest = divmod(self.angle_deg, 90.0)
        if rest == 0.0:
            c, s = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
        else:
            radians = np.deg2rad(self.angle_deg)
            c, s = float(np.cos(radians)), float(np.sin(radians))
        flip = -1.0 if self.mirrored else 1.0
        return np.array([[c, -s * flip], [s, c * flip]])


@dataclass(frozen=True, slots=True)
class Lattice:
    """A coordinate of the reference point is held to ``phase_mm + k * repeat_mm``, k any integer.

    Raises
    ------
    InvalidProblem
        A repeat that is not above 0 mm, or one of the two not finite.
    """

    repeat_mm: float
    phase_mm: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.repeat_mm < math.inf:
            raise InvalidProblem(f"a lattice needs a finite repeat above 0 mm, not {self.repeat_mm}")
        if not math.isfinite(self.phase_mm):
            raise InvalidProblem(f"a lattice begins at a number of mm, not at {self.phase_mm}")

    def shifted(self, by_mm: float) -> Lattice:
        """The lattice moved."""
        return Lattice(self.repeat_mm, self.phase_mm + by_mm)


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """A polygon to be placed `demand` times.

    Attributes
    ----------
    name : str
    outline : (N, 2) float64 array, mm, simple, not closed, N >= 3
    demand : int
    variants : tuple of Variant
        The allowed ways to present it, at least one.
    edge : EdgeRule
    x_lattice, y_lattice : Lattice or None
        Each variant may have its own phase on them.
    x_window_mm : (float, float)
        The placed outline lies between these two along the strip.
    any_turn : bool
        Whether it may be turned by any angle from its variants; such an item is bound to no side and to no
        lattice.
    """

    name: str
    outline: FloatArray
    demand: int = 1
    variants: tuple[Variant, ...] = (Variant(),)
    edge: EdgeRule = EdgeRule.FREE
    x_lattice: Lattice | None = None
    y_lattice: Lattice | None = None
    x_window_mm: tuple[float, float] = WHOLE_STRIP
    any_turn: bool = False

    def presented(self, placement: Placement) -> Variant:
        """How that placement of it lies: its variant, turned further where the item may lie at any angle."""
        variant = self.variants[placement.variant]
        if not placement.further_deg:
            return variant
        return replace(variant, angle_deg=variant.angle_deg + placement.further_deg)

    def lattices(self, variant: Variant) -> tuple[Lattice | None, Lattice | None]:
        """What holds x and y of the reference point in that variant."""
        x, y = self.x_lattice, self.y_lattice
        return (
            None if x is None else x.shifted(variant.x_phase_mm),
            None if y is None else y.shifted(variant.y_phase_mm),
        )


@dataclass(frozen=True, slots=True, eq=False)
class StripProblem:
    """Items and the strip they go on.

    Attributes
    ----------
    width_mm : float
    items : tuple of Item
    gap_mm : float
        Least distance between any two items (not to the strip's sides).
    obstacles : tuple of (N, 2) float64 arrays
        Fixed polygons in strip coordinates that nothing may overlap.
    """

    width_mm: float
    items: tuple[Item, ...]
    gap_mm: float = 0.0
    obstacles: tuple[FloatArray, ...] = ()


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one copy lies: `item` and `variant` are indices, `copy` counts from 0 within its item.

    `further_deg` is how far it is turned, counter-clockwise, beyond its variant: 0 but for an item that may
    lie at any angle.
    """

    item: int
    copy: int
    variant: int
    x_mm: float
    y_mm: float
    further_deg: float = 0.0


def variant_outline(outline: FloatArray, variant: Variant) -> FloatArray:
    """The outline presented as `variant`, still about its own origin, counter-clockwise.

    Parameters
    ----------
    outline : (N, 2) float64 array, mm
    variant : Variant

    Returns
    -------
    (N, 2) float64 array, mm
    """
    return counter_clockwise(outline @ variant.matrix().T)
