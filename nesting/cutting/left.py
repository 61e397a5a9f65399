"""What a lay leaves over: data only; made by `nesting.cutting.in_hand.leftover`.

In flat coordinates, as in `nesting.cutting.flat.opening`.
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.cloth.waste import SmallPiece
from nesting.geometry import FloatArray

__all__ = ["FlatPiece", "LeftOver", "Rectangle", "SmallPlaced"]


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Free cloth, flat mm: `x0` to `x1` along, `u0` to `u1` across."""

    x0: float
    u0: float
    x1: float
    u1: float

    @property
    def along_mm(self) -> float:
        """Its length along the cloth."""
        return self.x1 - self.x0

    @property
    def across_mm(self) -> float:
        """Its breadth across the cloth."""
        return self.u1 - self.u0


@dataclass(frozen=True, slots=True, eq=False)
class FlatPiece:
    """A piece of cloth or a flaw, opened out: `outline` is (N, 2), flat mm, not closed."""

    name: str
    outline: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class SmallPlaced:
    """A small piece that comes out of the waste: `outline` is (N, 2), flat mm, not closed."""

    small: SmallPiece
    outline: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class LeftOver:
    """A cloth opened out after its lay.

    Attributes
    ----------
    limits : tuple of float
        x0, u0, x1, u1 of the cloth that can be laid on, flat mm.
    pieces, blocked : tuple of FlatPiece
    rectangles : tuple of Rectangle
        The largest first, none over another, nor over a small piece.
    placed : tuple of SmallPlaced
    asked : tuple of SmallPiece
        All that was asked for of this cloth.
    """

    limits: tuple[float, float, float, float]
    pieces: tuple[FlatPiece, ...]
    blocked: tuple[FlatPiece, ...]
    rectangles: tuple[Rectangle, ...]
    placed: tuple[SmallPlaced, ...]
    asked: tuple[SmallPiece, ...]

    def letter(self, small: SmallPiece) -> str:
        """What a small piece is called where there is no room for its name: A for the first asked for."""
        return chr(ord("A") + self.asked.index(small) % 26)

    def came_out(self, small: SmallPiece) -> int:
        """How many of a small piece there are."""
        return sum(one.small is small for one in self.placed)
