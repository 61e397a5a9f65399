"""What a lay leaves over: the largest rectangles, and small pieces that come out of it.

All on the cloth opened out, in the flat coordinates of `nesting.cutting.flat.opening`: X along the warp from
the straightened end, u across from the outer edge of the near selvedge, right side up.

Rectangles (`nesting.cutting.in_hand.rectangles`) are those that no piece, flaw or selvedge touches. Small
pieces are placed by the engine, with all that is cut as obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.flat.opening import in_the_round
from nesting.cutting.flat.rebuilding import blocked_areas, cut_polygons
from nesting.cutting.flat.spare import flat_limits, opened_lay
from nesting.cutting.in_hand.rectangles import free_rectangles
from nesting.cutting.lay import Lay
from nesting.cutting.left import FlatPiece, LeftOver, SmallPlaced
from nesting.cutting.plan.flaws import SLIVER_MM, kept_clear
from nesting.geometry import FloatArray
from nesting.packing import Item, StripProblem, Variant, pack
from nesting.packing.stop import AnyOf, Evaluations, LengthReached

__all__ = ["left_over"]

_ROUND_CORNERS = 36
_SMALL_PIECE_EVALUATIONS = 60_000
"""For each small piece, where they do not all come out at once."""


def left_over(lay: Lay, spare_mm: float, asked: Sequence[SmallPiece] = ()) -> LeftOver:
    """What is left of a cloth after its lay.

    Parameters
    ----------
    lay : Lay
    spare_mm : float
        Length of cloth beyond the lay, washed, between the straightened ends.
    asked : sequence of SmallPiece
        Of this cloth.
    """
    opened = opened_lay(lay, spare_mm)
    limits = flat_limits(opened)
    pieces = [FlatPiece(f"{name} {copy}", _ring(one)) for name, copy, one in cut_polygons(opened)]
    blocked = [FlatPiece(name, _ring(area)) for name, area in blocked_areas(lay.cloth)]
    taken = [shapely.Polygon(one.outline) for one in pieces]
    taken += [shapely.Polygon(ring) for ring in kept_clear(lay.cloth)]
    if in_the_round(lay.stretches[0]):
        # The round goes on beyond both edges of what lies flat.
        around = lay.cloth.usable_width_mm
        taken += [affinity.translate(one, 0.0, step) for one in taken for step in (-around, around)]
    placed = _placed(asked, limits, taken, lay.cloth)
    taken += [shapely.Polygon(one.outline) for one in placed]
    return LeftOver(
        limits,
        tuple(pieces),
        tuple(blocked),
        tuple(free_rectangles(limits, taken)),
        tuple(placed),
        tuple(asked),
    )


def _ring(polygon: shapely.Polygon) -> FloatArray:
    return np.asarray(polygon.exterior.coords, dtype=np.float64)[:-1]


def _placed(
    asked: Sequence[SmallPiece],
    limits: tuple[float, float, float, float],
    taken: Sequence[shapely.Polygon],
    cloth: Cloth,
) -> list[SmallPlaced]:
    """As many of the small pieces as come out."""
    x0, u0, x1, u1 = limits
    corner = np.array([x0, u0])
    items, known = [], []
    for small in asked:
        outline = _outline(small)
        variants = [one for one in _variants(small) if _fits(outline, one, (x1 - x0, u1 - u0))]
        if variants:
            items.append(Item(small.name, outline, small.count, tuple(variants)))
            known.append(small)
    if not items or x1 <= x0:
        return []
    region = shapely.box(*limits)
    obstacles = tuple(
        _ring(part) - corner
        for one in taken
        for part in shapely.get_parts(shapely.intersection(one.buffer(0), region))
        if isinstance(part, shapely.Polygon) and 2 * part.area > SLIVER_MM * part.length
    )
    problem = StripProblem(u1 - u0, tuple(items), cloth.gap_mm, obstacles)
    count = sum(small.count for small in known)
    stop = AnyOf(LengthReached(x1 - x0), Evaluations(_SMALL_PIECE_EVALUATIONS * count))
    found = pack(problem, stop=stop, walks=1)
    placed = []
    for placement in found.placements:
        item = items[placement.item]
        turned = item.outline @ item.variants[placement.variant].matrix().T
        ring = turned + np.array([placement.x_mm, placement.y_mm])
        if ring[:, 0].max() <= x1 - x0:
            placed.append(SmallPlaced(known[placement.item], ring + corner))
    return placed


def _outline(small: SmallPiece) -> FloatArray:
    """Its length along x; a round piece as a polygon round it."""
    if not small.round:
        return np.array(
            [(0.0, 0.0), (small.length_mm, 0.0), (small.length_mm, small.width_mm), (0.0, small.width_mm)]
        )
    radius = small.width_mm / 2 / np.cos(np.pi / _ROUND_CORNERS)
    turn = np.linspace(0, 2 * np.pi, _ROUND_CORNERS, endpoint=False)
    ring: FloatArray = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    return ring


def _variants(small: SmallPiece) -> tuple[Variant, ...]:
    if small.round:
        return (Variant(),)
    angles = {Lie.ALONG: (0.0,), Lie.ACROSS: (90.0,), Lie.EITHER: (0.0, 90.0), Lie.BIAS: (45.0, 135.0)}
    return tuple(Variant(angle) for angle in angles[small.lie])


def _fits(outline: FloatArray, variant: Variant, room: tuple[float, float]) -> bool:
    along, across = np.ptp(outline @ variant.matrix().T, axis=0).tolist()
    return bool(along <= room[0] and across <= room[1])
