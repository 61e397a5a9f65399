"""What can draw a piece: the canvas of the pages, and the writer of SVG files."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Protocol

from nesting.geometry import FloatArray

__all__ = ["Align", "Pen"]

Align = Literal["left", "center", "right"]


class Pen(Protocol):
    """Draws in millimetres; sizes of words and signs are points.

    Attributes
    ----------
    mm_per_pt : float
        Millimetres of the drawing to a point on paper.
    """

    mm_per_pt: float

    def line(
        self, points: FloatArray | Sequence[Sequence[float]], style: str, gid: str, layer: str = "inside"
    ) -> None:
        """An open line through the points."""

    def lines(self, strokes: Sequence[Sequence[Sequence[float]]], style: str, gid: str) -> None:
        """Many separate strokes as one."""

    def outline(self, ring: FloatArray, drawn: Sequence[bool], style: str, gid: str) -> None:
        """A closed line, given with its first point repeated, of which only some edges are drawn."""

    def circle(self, at: tuple[float, float], diameter_pt: float, style: str, gid: str) -> None:
        """A small circle, white inside."""

    def arrow(self, tail: Sequence[float], tip: Sequence[float], style: str, gid: str) -> None:
        """A line with a full head at its tip."""

    def words(
        self,
        at: tuple[float, float],
        lines: str | Sequence[str],
        size_pt: float,
        gid: str,
        *,
        align: Align = "center",
        upright: bool = True,
        bold: bool = False,
        ground: str | None = None,
        keep_clear: bool = True,
    ) -> None:
        """Words about a middle."""
