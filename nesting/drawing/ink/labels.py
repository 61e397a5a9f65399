"""Where each piece's words go: inside its outline, clear of its own lines, never under 7 pt.

Coordinates of results are the drawing's (mm); sizes of type are points, and ``mm_per_pt`` says how
many millimetres of cloth one point of the page covers. See `nesting.drawing.ink.callouts` for pieces
that cannot hold even their number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.drawing.ink.blocks import Block, blocks_in_brief, blocks_in_full
from nesting.drawing.ink.room import Room
from nesting.drawing.ink.text import SMALLEST_PT
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["Box", "InnerLines", "Label", "fit_label"]

Box = tuple[float, float, float, float]
"""x0, y0, x1, y1, mm."""

_SIZES_PT = ((11.0, 10.0, 9.0, 8.0), (SMALLEST_PT,))
"""Comfortable and tight; what the words say is cut down before they become tight."""
_MARGIN_PT = 1.5
_SIGN_MARGIN_PT = 3.2
"""Wide enough for the heads of arrows."""


@dataclass(frozen=True, slots=True)
class InnerLines:
    """What is drawn inside a piece, (M, 2) float64 arrays, mm.

    Attributes
    ----------
    grain : tuple
        Grain line and fold bracket: no words stand on them, at most a number.
    signs : tuple
        Darts, notches, marks: words keep off them where they can.
    seams : tuple
        Stitching lines: the first that words may stand on.
    """

    grain: tuple[FloatArray, ...]
    signs: tuple[FloatArray, ...]
    seams: tuple[FloatArray, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A placement's words, placed.

    Attributes
    ----------
    number : int
    number_at : (x, y), mm
    lines : tuple of str
        Empty where there is room for the number only.
    lines_at : (x, y), mm
        Middle of the lines.
    size_pt : float
    upright : bool
        False for lines that run up the page, turned by a quarter.
    box : Box
        All of it.
    points_to : (x, y) or None
        For a callout, where in the piece its line ends.
    """

    number: int
    number_at: tuple[float, float]
    lines: tuple[str, ...]
    lines_at: tuple[float, float]
    size_pt: float
    upright: bool
    box: Box
    points_to: tuple[float, float] | None = None


def fit_label(
    number: int,
    name: str,
    copies: str,
    to_mind: str,
    outline: FloatArray,
    lines: InnerLines,
    mm_per_pt: float,
) -> Label | None:
    """The fullest label that fits inside the piece, or None where not even its number does.

    What is looked for, in this order: all words clear of every line; all words across seam lines;
    across darts and marks too; what is to be minded, with the name or without; the name alone; the number, at
    last even on the grain line.

    Parameters
    ----------
    number : int
    name, copies, to_mind : str
        Printable words; `to_mind` may be empty.
    outline : (N, 2) float64 array, mm, not closed
    lines : InnerLines
    mm_per_pt : float
    """
    import shapely

    inside = shapely.Polygon(outline).buffer(0).buffer(-_MARGIN_PT * mm_per_pt)
    if inside.is_empty:
        return None
    off_grain = inside.difference(_strokes(lines.grain, _SIGN_MARGIN_PT * mm_per_pt))
    off_signs = off_grain.difference(_strokes(lines.signs, _MARGIN_PT * mm_per_pt))
    clear = off_signs.difference(_strokes(lines.seams, _MARGIN_PT * mm_per_pt))
    rooms = [Room(area) for area in (clear, off_signs, off_grain)]
    in_full = [
        (room, blocks_in_full(number, name, copies, to_mind, sizes))
        for room, choices in zip(rooms, (_SIZES_PT, _SIZES_PT, _SIZES_PT[1:]), strict=True)
        for sizes in choices
    ]
    minded, name_only, number_only = blocks_in_brief(number, name, to_mind)
    in_brief = [(room, blocks) for blocks in (minded, name_only) for room in rooms]
    in_brief += [(room, number_only) for room in (*rooms, Room(inside))]
    for room, blocks in (*in_full, *in_brief):
        label = _fitting(blocks, number, room, mm_per_pt)
        if label is not None:
            return label
    return None


def _strokes(lines: Sequence[FloatArray], margin_mm: float) -> BaseGeometry:
    """All lines and points, broadened."""
    import shapely

    drawn = [shapely.LineString(line) if len(line) > 1 else shapely.Point(line[0]) for line in lines]
    return shapely.buffer(shapely.union_all(drawn), margin_mm)


def _fitting(blocks: Sequence[Block], number: int, room: Room, mm_per_pt: float) -> Label | None:
    """The first block that fits."""
    for block in blocks:
        size = (block.width_pt * mm_per_pt, block.height_pt * mm_per_pt)
        width, height = size if block.upright else size[::-1]
        at = room.place(width, height)
        if at is not None:
            return Label(
                number=number,
                number_at=_moved(at, block.number_offset, block.upright, mm_per_pt),
                lines=block.lines,
                lines_at=_moved(at, block.lines_offset, block.upright, mm_per_pt),
                size_pt=block.size_pt,
                upright=block.upright,
                box=(at[0] - width / 2, at[1] - height / 2, at[0] + width / 2, at[1] + height / 2),
            )
    return None


def _moved(
    at: tuple[float, float], offset_pt: tuple[float, float], upright: bool, mm_per_pt: float
) -> tuple[float, float]:
    """The point, moved by an offset that turns with the block."""
    dx, dy = offset_pt if upright else (-offset_pt[1], offset_pt[0])
    return at[0] + dx * mm_per_pt, at[1] + dy * mm_per_pt
