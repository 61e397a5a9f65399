"""Where each piece's words go: inside its outline, clear of its own lines, never under 7 pt.

Terms
-----
room
    The part of a piece where words may stand, sampled on a grid.
arrangement
    A number in a circle and lines of words, put together into one upright block.
callout
    A number that finds no room in its piece: it stands on free cloth, with a line to the piece.

Coordinates of results are the drawing's (mm); sizes of type are points, and ``mm_per_pt`` says how
many millimetres of cloth one point of the page covers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from nesting.drawing.text import LINE_HEIGHT, SMALLEST_PT, text_width_pt, wrapped
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["Box", "InnerLines", "Label", "Room", "callouts", "circle_pt", "fit_label"]

Box = tuple[float, float, float, float]
"""x0, y0, x1, y1, mm."""

_SIZES_PT = ((11.0, 10.0, 9.0, 8.0), (SMALLEST_PT,))
"""Comfortable and tight; what the words say is cut down before they become tight."""
_MARGIN_PT = 1.5
_SIGN_MARGIN_PT = 3.2
"""Wide enough for the heads of arrows."""
_GRID_CELLS = 110
_PAD_PT = 2.0


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
        Stitching and fold lines: the first that words may stand on.
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


def circle_pt(number: int, size_pt: float) -> float:
    """Diameter of the circle round a number set in bold at that size."""
    return float(np.hypot(text_width_pt(str(number), size_pt, bold=True), 0.75 * size_pt)) + _PAD_PT


class Room:
    """Where in a polygon an upright box can lie.

    Parameters
    ----------
    area : shapely Polygon or MultiPolygon
        May be empty.
    """

    def __init__(self, area: BaseGeometry) -> None:
        import shapely

        self.area = area
        shapely.prepare(area)
        if area.is_empty:
            self._cell = 1.0
            self._x = self._y = np.zeros(0)
            self._sums = np.zeros((1, 1), dtype=np.int64)
            return
        x0, y0, x1, y1 = area.bounds
        self._cell = max(x1 - x0, y1 - y0) / _GRID_CELLS
        self._x = np.arange(x0 + self._cell / 2, x1, self._cell)
        self._y = np.arange(y0 + self._cell / 2, y1, self._cell)
        grid_x, grid_y = np.meshgrid(self._x, self._y)
        inside = shapely.contains_xy(area, grid_x, grid_y)
        self._sums = np.pad(inside, ((1, 0), (1, 0))).astype(np.int64).cumsum(axis=0).cumsum(axis=1)

    def place(self, width_mm: float, height_mm: float) -> tuple[float, float] | None:
        """Middle of a box of that size inside the room, as central as may be; None where it fits nowhere.

        The grid proposes (a summed-area table counts the cells under every position of the box at
        once), the exact outline disposes.
        """
        import shapely

        across, up = (
            2 * max(1, round(extent / self._cell / 2 + 0.5)) - 1 for extent in (width_mm, height_mm)
        )
        rows, columns = len(self._y), len(self._x)
        if across > columns or up > rows:
            return None
        s = self._sums
        covered = s[up:, across:] - s[:-up, across:] - s[up:, :-across] + s[:-up, :-across]
        row, column = np.nonzero(covered == across * up)
        if not len(row):
            return None
        x = self._x[column + across // 2]
        y = self._y[row + up // 2]
        nearest = np.argsort((x - x.mean()) ** 2 + (y - y.mean()) ** 2, kind="stable")[:60]
        boxes = shapely.box(
            x[nearest] - width_mm / 2,
            y[nearest] - height_mm / 2,
            x[nearest] + width_mm / 2,
            y[nearest] + height_mm / 2,
        )
        fitting = np.nonzero(shapely.covers(self.area, boxes))[0]
        if not len(fitting):
            return None
        best = nearest[fitting[0]]
        return float(x[best]), float(y[best])


def fit_label(
    number: int,
    name: str,
    copies: str,
    how: str,
    outline: FloatArray,
    lines: InnerLines,
    mm_per_pt: float,
) -> Label | None:
    """The fullest label that fits inside the piece, or None where not even its number does.

    What is looked for, in this order: all words clear of every line; all words across seam lines;
    across darts and marks too; the name alone; the number alone, at last even on the grain line.

    Parameters
    ----------
    number : int
    name, copies, how : str
        Printable words; `how` may be empty.
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
        (room, [b for size in sizes for b in _arrangements(number, name, copies, said, size)])
        for room, choices in zip(rooms, (_SIZES_PT, _SIZES_PT, _SIZES_PT[1:]), strict=True)
        for sizes in choices
        for said in dict.fromkeys((how, ""))
    ]
    name_only, number_only = _brief(number, name)
    in_brief = [(room, name_only) for room in rooms]
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


def callouts(
    wanted: Sequence[tuple[int, tuple[float, float]]],
    outlines: Sequence[FloatArray],
    taken: Sequence[Box],
    within: Box,
    mm_per_pt: float,
) -> tuple[Label, ...]:
    """A number on free ground for each piece too small to hold it, as near to its piece as may be.

    Parameters
    ----------
    wanted : sequence of (number, (x, y) inside the piece)
    outlines : sequence of (N, 2) float64 arrays, mm
        Pieces that no number may touch.
    taken : sequence of Box
        Words already there.
    within : Box
        The ground to look on.
    mm_per_pt : float

    Returns
    -------
    tuple of Label
        In the order wanted; a number for which there is no free ground at all is left out.
    """
    import shapely

    if not wanted:
        return ()
    side = max(circle_pt(number, SMALLEST_PT) for number, _ in wanted) * mm_per_pt
    x0, y0, x1, y1 = within
    grid = np.meshgrid(
        np.arange(x0 + side / 2, x1 - side / 2, side / 3), np.arange(y0 + side / 2, y1 - side / 2, side / 3)
    )
    places = np.column_stack([axis.ravel() for axis in grid])
    solid = [shapely.Polygon(outline).buffer(mm_per_pt) for outline in outlines]
    words = [shapely.box(*box) for box in taken]
    boxes = shapely.box(*(places - side / 2).T, *(places + side / 2).T)
    blocked = np.unique(shapely.STRtree([*solid, *words]).query(boxes, predicate="intersects")[0])
    places = np.delete(places, blocked, axis=0)
    labels: list[Label] = []
    for number, target in wanted:
        near = np.argsort(((places - target) ** 2).sum(axis=1), kind="stable")[:80]
        if not len(near):
            break
        leaders = shapely.linestrings(
            np.stack([np.broadcast_to(target, (len(near), 2)), places[near]], axis=1)
        )
        clear = ~shapely.intersects(leaders, shapely.MultiPolygon(words))
        x, y = places[near[clear][0] if clear.any() else near[0]].tolist()
        box = (x - side / 2, y - side / 2, x + side / 2, y + side / 2)
        words.append(shapely.box(*box))
        places = places[np.abs(places - (x, y)).max(axis=1) >= side]
        labels.append(Label(number, (x, y), (), (x, y), SMALLEST_PT, True, box, points_to=target))
    return tuple(labels)


@dataclass(frozen=True, slots=True)
class _Arrangement:
    """A block before it is placed; offsets are from its middle, points, y up."""

    width_pt: float
    height_pt: float
    number_offset: tuple[float, float]
    lines_offset: tuple[float, float]
    lines: tuple[str, ...]
    size_pt: float


def _arrangements(number: int, name: str, copies: str, how: str, size_pt: float) -> list[_Arrangement]:
    """Ways to set the words at that size, those of fewest lines first."""
    return [
        arranged
        for lines in _line_breaks(name, copies, how, size_pt)
        for arranged in (_stacked(number, lines, size_pt), _side_by_side(number, lines, size_pt))
    ]


def _brief(number: int, name: str) -> tuple[list[_Arrangement], list[_Arrangement]]:
    """At the smallest size: the number with the name but no copies; the number alone."""
    circle = circle_pt(number, SMALLEST_PT)
    alone = _Arrangement(circle, circle, (0.0, 0.0), (0.0, 0.0), (), SMALLEST_PT)
    named = [_side_by_side(number, (name,), SMALLEST_PT), _stacked(number, (name,), SMALLEST_PT)]
    return named, [alone]


def _size_of(lines: tuple[str, ...], size_pt: float) -> tuple[float, float]:
    """Width and height of lines of words, points."""
    wide = max(text_width_pt(line, size_pt) for line in lines) + 1.0
    return wide, len(lines) * LINE_HEIGHT * size_pt


def _stacked(number: int, lines: tuple[str, ...], size_pt: float) -> _Arrangement:
    """The number above the words."""
    circle, gap = circle_pt(number, size_pt), 0.35 * size_pt
    wide, high = _size_of(lines, size_pt)
    return _Arrangement(
        max(wide, circle),
        high + gap + circle,
        (0.0, (high + gap) / 2),
        (0.0, -(circle + gap) / 2),
        lines,
        size_pt,
    )


def _side_by_side(number: int, lines: tuple[str, ...], size_pt: float) -> _Arrangement:
    """The number before the words."""
    circle, gap = circle_pt(number, size_pt), 0.35 * size_pt
    wide, high = _size_of(lines, size_pt)
    return _Arrangement(
        wide + gap + circle,
        max(high, circle),
        (-(wide + gap) / 2, 0.0),
        ((circle + gap) / 2, 0.0),
        lines,
        size_pt,
    )


def _line_breaks(name: str, copies: str, how: str, size_pt: float) -> Iterator[tuple[str, ...]]:
    """The words broken into few and into more lines."""
    full = text_width_pt(name, size_pt)
    names = dict.fromkeys(
        wrapped(name, width, size_pt) for width in (full + 0.1, full * 0.62, full * 0.42) if width > 0
    )
    whole_words = [lines for lines in names if " ".join(lines) == name] or [(name,)]
    rest = (copies, how) if how else (copies,)
    for lines in whole_words:
        yield (*lines, *rest)
    yield (", ".join((f"{name} {copies}", *rest[1:])),)


def _fitting(blocks: Sequence[_Arrangement], number: int, room: Room, mm_per_pt: float) -> Label | None:
    """The first block that fits; any of them level before any of them turned."""
    for upright in (True, False):
        for block in blocks:
            size = (block.width_pt * mm_per_pt, block.height_pt * mm_per_pt)
            width, height = size if upright else size[::-1]
            at = room.place(width, height)
            if at is not None:
                return Label(
                    number=number,
                    number_at=_moved(at, block.number_offset, upright, mm_per_pt),
                    lines=block.lines,
                    lines_at=_moved(at, block.lines_offset, upright, mm_per_pt),
                    size_pt=block.size_pt,
                    upright=upright,
                    box=(at[0] - width / 2, at[1] - height / 2, at[0] + width / 2, at[1] + height / 2),
                )
    return None


def _moved(
    at: tuple[float, float], offset_pt: tuple[float, float], upright: bool, mm_per_pt: float
) -> tuple[float, float]:
    """The point, moved by an offset that turns with the block."""
    dx, dy = offset_pt if upright else (-offset_pt[1], offset_pt[0])
    return at[0] + dx * mm_per_pt, at[1] + dy * mm_per_pt
