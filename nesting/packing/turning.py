"""Items that may lie at any angle, searched in a few turns at a time.

The search knows a finite number of turns for each item. So a problem with items that may be turned anyhow is
searched as others without such items: first at a few angles that promise something
(`nesting.packing.outlines.angles`), then at many, then again and again about the best lay so far, each copy
as it lies or turned by a little to either side, and that little less each time. What is found is told as a
placement of the problem that was asked, turned further than its variant.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.outlines.angles import FEW, every_variant, faces, promising
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.tables import Layout
from nesting.packing.problem import Item, Placement, StripProblem, Variant

__all__ = ["MOST_COPIES", "STEPS_DEG", "Finite", "about", "among", "begin_at", "finite", "turns_freely"]

STEPS_DEG = (10.0, 5.0, 2.5, 1.2, 0.6, 0.3, 0.15, 0.07)
"""By how much copies are turned about the best lay, one after the other."""

MOST_COPIES = 16
"""So many copies at most are turned by themselves: time and memory grow with the square."""

MANY, MOST_SHAPES = 56, 128
"""Angles beside its own that an item is searched at; and all that are searched of all items together, unless
already `FEW` of each are more: time and memory grow with the square."""


@dataclass(frozen=True, slots=True, eq=False)
class Finite:
    """A problem without items that may be turned anyhow, that stands for one with them.

    Attributes
    ----------
    asked, searched : StripProblem
    origin : tuple of (int, int)
        For each item that is searched, the item that was asked for and its first copy.
    """

    asked: StripProblem
    searched: StripProblem
    origin: tuple[tuple[int, int], ...]

    def told(self, placements: Sequence[Placement]) -> tuple[Placement, ...]:
        """Placements of what is searched, as placements of what was asked."""
        found = (self._told(one) for one in placements)
        return tuple(sorted(found, key=lambda one: (one.item, one.copy)))

    def _told(self, placement: Placement) -> Placement:
        index, first = self.origin[placement.item]
        item, lies = self.asked.items[index], self.searched.items[placement.item].variants[placement.variant]
        ways = [k for k, way in enumerate(item.variants) if way.mirrored == lies.mirrored]
        variant = (
            next((k for k in ways if item.variants[k] == lies), ways[0])
            if item.any_turn
            else placement.variant
        )
        further = lies.angle_deg - item.variants[variant].angle_deg
        return replace(
            placement, item=index, copy=first + placement.copy, variant=variant, further_deg=further
        )


def turns_freely(problem: StripProblem) -> bool:
    """Whether any item may be turned anyhow."""
    return any(item.any_turn for item in problem.items)


def finite(problem: StripProblem) -> Finite:
    """The problem with a finite number of turns; one without free items as it is."""
    ways = _ways(problem, FEW)
    items = tuple(
        replace(item, variants=ways[index], any_turn=False) if item.any_turn else item
        for index, item in enumerate(problem.items)
    )
    return Finite(problem, replace(problem, items=items), tuple((k, 0) for k in range(len(items))))


def among(problem: StripProblem, placements: Sequence[Placement]) -> Finite:
    """The problem with every free copy as it lies, or at any of many angles.

    `problem` and `placements` as for `about`.
    """
    ways = _ways(problem, MANY)
    return _copy_by_copy(problem, placements, lambda index, lies: (lies, *ways[index]))


def _ways(problem: StripProblem, most: int) -> dict[int, tuple[Variant, ...]]:
    """For each free item its own variants and others; without its own where all together are too many."""
    free = {index: item for index, item in enumerate(problem.items) if item.any_turn}
    sides = sum(len(faces(item)) for item in free.values())
    most = min(most, max(FEW, MOST_SHAPES // max(1, sides)))
    ways = {index: every_variant(item, problem.width_mm, most) for index, item in free.items()}
    if sum(map(len, ways.values())) <= MOST_SHAPES:
        return ways
    return {index: promising(item, problem.width_mm, most) for index, item in free.items()}


def about(problem: StripProblem, placements: Sequence[Placement], step_deg: float) -> Finite:
    """The problem with every free copy as it lies, or turned by `step_deg` to either side.

    Parameters
    ----------
    problem : StripProblem
        As asked.
    placements : sequence of Placement
        A lay of it, ordered by item, then copy.
    step_deg : float
    """

    def turned(_: int, lies: Variant) -> tuple[Variant, ...]:
        return tuple(replace(lies, angle_deg=lies.angle_deg + by) for by in (0.0, step_deg, -step_deg))

    return _copy_by_copy(problem, placements, turned)


def _copy_by_copy(
    problem: StripProblem,
    placements: Sequence[Placement],
    turns: Callable[[int, Variant], tuple[Variant, ...]],
) -> Finite:
    """Every free copy an item of its own: `turns` gives its variants, of which the first is how it lies."""
    items: list[Item] = []
    origin: list[tuple[int, int]] = []
    for index, item in enumerate(problem.items):
        if not item.any_turn:
            items.append(item)
            origin.append((index, 0))
            continue
        for placement in (one for one in placements if one.item == index):
            variants = tuple(dict.fromkeys(turns(index, item.presented(placement))))
            items.append(replace(item, demand=1, variants=variants, any_turn=False))
            origin.append((index, placement.copy))
    return Finite(problem, replace(problem, items=tuple(items)), tuple(origin))


def begin_at(layout: Layout, way: Finite, placements: Sequence[Placement]) -> tuple[FloatArray, IntArray]:
    """A lay of the problem that was asked as engine positions and shapes, obstacles included.

    Parameters
    ----------
    layout : Layout
        Of ``way.searched``.
    way : Finite
        One of `among` or `about`.
    placements : sequence of Placement
        Those about which it was made.
    """
    tables = layout.tables
    lies = {(one.item, one.copy): one for one in placements}
    xy, shape = np.zeros((len(tables.size), 2)), np.zeros(len(tables.size), dtype=np.int64)
    xy[tables.moving :], shape[tables.moving :] = layout.fixed_xy, layout.fixed_shape
    for k in range(tables.moving):
        index, first = way.origin[layout.piece_item[k]]
        placement = lies[index, first + int(layout.piece_copy[k])]
        variant = 0 if way.asked.items[index].any_turn else placement.variant
        shapes = np.arange(*tables.shapes[k])
        shape[k] = shapes[np.argmax(layout.shape_variant[shapes] == variant)]
        xy[k] = layout.shape_centre[shape[k]] + [placement.x_mm, placement.y_mm]
    return xy, shape
