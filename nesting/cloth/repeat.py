"""The repeat of a stripe, check or print.

A stripe is even when it reads the same from both sides of its main line, the middle of its boldest stripe;
then it is a line of symmetry, and so is the middle between two of them. An uneven one reads one way only.
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.pattern.match import Axis

__all__ = ["Repeat"]


@dataclass(frozen=True, slots=True)
class Repeat:
    """How far the pattern of a cloth goes before it begins anew, as sold (not washed).

    Attributes
    ----------
    along_mm, across_mm : float or None
        None where it does not repeat that way: a stripe along the cloth repeats across it only.
    uneven : tuple of Axis
        In which directions it reads one way only.
    line_mm : float or None
        From the outer edge of a selvedge to the middle of the first main line along the cloth; None where
        nobody measured it.
    """

    along_mm: float | None = None
    across_mm: float | None = None
    uneven: tuple[Axis, ...] = ()
    line_mm: float | None = None

    def length_mm(self, axis: Axis) -> float | None:
        """The repeat in that direction."""
        return self.along_mm if axis is Axis.ALONG else self.across_mm

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The directions in which it repeats."""
        return tuple(axis for axis in Axis if self.length_mm(axis) is not None)
