"""Words beside places: where each tag goes so that it covers no line and no other tag.

Coordinates are the drawing's, mm; sizes of type and distances from place to tag are points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.text import LINE_HEIGHT, SMALLEST_PT, printable, text_width_pt
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

__all__ = ["PlacedTag", "Spot", "Tag", "place_tags"]

_GAPS_PT = (2.0, 4.5, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 52.0, 66.0)
_LEADER_PT = 6.0
"""A tag farther away than this has a line to its place."""
_FAN_DEG = (0, 25, -25, 50, -50, 75, -75)
_ROUND_DEG = tuple(range(0, 360, 30))
_DEG_A_PT = 15.0
"""Turned by so much, a tag is worth as much as one a point farther off."""
_NEXT_SPOT_PT = 5.0
_WRONG_SIDE_PT = 30.0
_CROSSING_PT = 14.0
"""What a leader costs that crosses a line."""
_PAD_PT = 1.0
_LINE_CLEAR_PT = 1.3
_AT_PLACE = 0.15
"""The share of a leader next to its place, which may well lie on a line."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that a tag may stand beside.

    Attributes
    ----------
    at : (x, y)
    toward : (x, y) or None
        Unit vector to the side where the tag should be; None where any will do.
    """

    at: tuple[float, float]
    toward: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Tag:
    """Words for a place, before they are placed.

    Attributes
    ----------
    lines : tuple of str
    spots : tuple of Spot
        Where it may stand, the best first.
    inside : bool
        Whether it belongs inside the shape rather than outside.
    size_pt : float
    ringed : bool
        A number in a ring.
    """

    lines: tuple[str, ...]
    spots: tuple[Spot, ...]
    inside: bool
    size_pt: float = SMALLEST_PT
    ringed: bool = False

    def extent_pt(self) -> tuple[float, float]:
        """Width and height."""
        room = 5.0 if self.ringed else 0.0
        wide = max(text_width_pt(printable(line), self.size_pt, bold=self.ringed) for line in self.lines)
        return wide + room, LINE_HEIGHT * self.size_pt * len(self.lines) + room / 2


@dataclass(frozen=True, slots=True)
class PlacedTag:
    """A tag with its place.

    Attributes
    ----------
    tag : Tag
    middle : (x, y)
    box : Box
    leader : two points or None
        From the tag to the place it speaks of.
    """

    tag: Tag
    middle: tuple[float, float]
    box: Box
    leader: tuple[tuple[float, float], tuple[float, float]] | None


def place_tags(
    tags: Sequence[Tag], lines: Sequence[FloatArray], shape: BaseGeometry, mm_per_pt: float
) -> tuple[PlacedTag | None, ...]:
    """Place tags one after another, each as near to its place as those before it and the lines allow.

    Parameters
    ----------
    tags : sequence of Tag
        Those that matter most first.
    lines : sequence of (M, 2) float64 arrays, mm
        No tag may cover them.
    shape : shapely Polygon
        What is inside.
    mm_per_pt : float

    Returns
    -------
    tuple of PlacedTag or None
        In the order of `tags`; None where there is no room.
    """
    import shapely

    drawn = shapely.union_all([shapely.LineString(line) for line in lines if len(line) > 1])
    blocked = drawn.buffer(_LINE_CLEAR_PT * mm_per_pt)
    shapely.prepare(drawn)
    shapely.prepare(blocked)
    shapely.prepare(shape)
    boxes = np.empty((0, 4))
    leaders: list[BaseGeometry] = []
    placed: list[PlacedTag | None] = []
    for tag in tags:
        one = _placed(tag, drawn, blocked, shape, boxes, leaders, mm_per_pt)
        placed.append(one)
        if one is not None:
            boxes = np.vstack([boxes, [one.box]])
            if one.leader is not None:
                leaders.append(shapely.LineString(one.leader))
    return tuple(placed)


def _placed(
    tag: Tag,
    drawn: BaseGeometry,
    blocked: BaseGeometry,
    shape: BaseGeometry,
    boxes: FloatArray,
    leaders: Sequence[BaseGeometry],
    mm_per_pt: float,
) -> PlacedTag | None:
    import shapely

    wide, high = (extent * mm_per_pt for extent in tag.extent_pt())
    ways = np.array(list(_ways(tag)))  # x, y, direction x and y, gap, cost; lengths of the last two in points
    towards = ways[:, 2:4]
    reach = ways[:, 4] * mm_per_pt
    half = np.array([wide, high]) / 2
    # From the place straight out, until the box about the words is clear of it by the gap.
    out = np.minimum(*(half / np.maximum(np.abs(towards), 1e-9)).T) + reach
    middles = ways[:, :2] + towards * out[:, None]
    candidates = np.hstack([middles - half, middles + half])
    shapes = shapely.box(*candidates.T)
    free = ~shapely.intersects(blocked, shapes)
    inside = shapely.contains_xy(shape, middles)
    cost = ways[:, 5] + _WRONG_SIDE_PT * (inside != tag.inside)
    nearest = np.clip(ways[:, :2], candidates[:, :2], candidates[:, 2:])
    # A little off the place itself, which is on a line as often as not.
    start = ways[:, :2] + _AT_PLACE * (nearest - ways[:, :2])
    crossing = shapely.intersects(drawn, shapely.linestrings(np.stack([start, nearest], axis=1)))
    cost += _CROSSING_PT * (crossing & (ways[:, 4] > _LEADER_PT))
    pad = _PAD_PT * mm_per_pt
    for k in np.flatnonzero(free)[np.argsort(cost[free], kind="stable")]:
        x0, y0, x1, y1 = candidates[k]
        over = (boxes[:, 0] < x1 + pad) & (boxes[:, 2] > x0 - pad)
        if (over & (boxes[:, 1] < y1 + pad) & (boxes[:, 3] > y0 - pad)).any():
            continue
        box: Box = (float(x0), float(y0), float(x1), float(y1))
        own = shapely.box(*box)
        if any(leader.intersects(own) for leader in leaders):
            continue
        leader = None
        if ways[k, 4] > _LEADER_PT:
            at = (float(ways[k, 0]), float(ways[k, 1]))
            near = (float(nearest[k, 0]), float(nearest[k, 1]))
            line = shapely.LineString([near, at])
            if shapely.intersects(line, shapely.box(*boxes.T)).any() or any(map(line.crosses, leaders)):
                continue
            leader = near, at
        return PlacedTag(tag, (float(middles[k, 0]), float(middles[k, 1])), box, leader)
    return None


def _ways(tag: Tag) -> list[tuple[float, float, float, float, float, float]]:
    """Every way for a tag to stand: place, direction, gap and cost."""
    ways = []
    for number, spot in enumerate(tag.spots):
        start = 90.0 if spot.toward is None else float(np.degrees(np.arctan2(spot.toward[1], spot.toward[0])))
        fan = _ROUND_DEG if spot.toward is None else _FAN_DEG
        for turn, gap in product(fan, _GAPS_PT):
            angle = np.radians(start + turn)
            cost = gap + number * _NEXT_SPOT_PT
            cost += 0.0 if spot.toward is None else abs(turn) / _DEG_A_PT
            ways.append((*spot.at, float(np.cos(angle)), float(np.sin(angle)), gap, cost))
    return ways
