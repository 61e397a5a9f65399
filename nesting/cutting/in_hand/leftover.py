"""What a lay leaves over: the largest rectangles, and small pieces that come out of it.

All on the cloth opened out, in the flat coordinates of `nesting.cutting.flat.opening`: X along the warp from the
straightened end, u across from the outer edge of the near selvedge, right side up.

Rectangles (`nesting.cutting.in_hand.rectangles`) are those that no piece, flaw or selvedge touches. Small pieces are
placed by the engine, with all that is cut as obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.waste import Lie, WasteWish
from nesting.cutting.flat.rebuilding import blocked_areas, cut_polygons
from nesting.cutting.in_hand.rectangles import Rectangle, free_rectangles
from nesting.cutting.lay import Lay, LaySection
from nesting.cutting.plan.flaws import SLIVER_MM
from nesting.geometry import FloatArray
from nesting.packing import Item, StripProblem, Variant, pack
from nesting.packing.stop import AnyOf, Evaluations, LengthReached

__all__ = [
    "FlatPiece",
    "LeftOver",
    "WishPlaced",
    "flat_limits",
    "left_over",
    "opened_lay",
]

_ROUND_CORNERS = 36
_WISH_EVALUATIONS = 60_000
"""For each small piece, where they do not all come out at once."""


@dataclass(frozen=True, slots=True, eq=False)
class FlatPiece:
    """A piece of cloth or a flaw, opened out: `outline` is (N, 2), flat mm, not closed."""

    name: str
    outline: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class WishPlaced:
    """A small piece that comes out of the waste: `outline` is (N, 2), flat mm, not closed."""

    wish: WasteWish
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
    placed : tuple of WishPlaced
    wishes : tuple of WasteWish
        All that was asked for of this cloth.
    """

    limits: tuple[float, float, float, float]
    pieces: tuple[FlatPiece, ...]
    blocked: tuple[FlatPiece, ...]
    rectangles: tuple[Rectangle, ...]
    placed: tuple[WishPlaced, ...]
    wishes: tuple[WasteWish, ...]

    def letter(self, wish: WasteWish) -> str:
        """What a small piece is called where there is no room for its name: A for the first asked for."""
        return chr(ord("A") + self.wishes.index(wish) % 26)

    def came_out(self, wish: WasteWish) -> int:
        """How many of a small piece there are."""
        return sum(one.wish is wish for one in self.placed)


def left_over(lay: Lay, spare_mm: float, wishes: Sequence[WasteWish] = ()) -> LeftOver:
    """What is left of a cloth after its lay.

    Parameters
    ----------
    lay : Lay
    spare_mm : float
        Length of cloth beyond the lay, washed, between the straightened ends.
    wishes : sequence of WasteWish
        Of this cloth.
    """
    opened = opened_lay(lay, spare_mm)
    limits = flat_limits(opened)
    pieces = [FlatPiece(f"{name} {copy}", _ring(one)) for name, copy, one in cut_polygons(opened)]
    blocked = [FlatPiece(name, _ring(area)) for name, area in blocked_areas(lay.cloth)]
    taken = [shapely.Polygon(one.outline) for one in (*pieces, *blocked)]
    if lay.cloth.tube and lay.stretches[0][0].spread is Spread.TUBE:
        # The round goes on beyond both edges of what lies flat.
        around = lay.cloth.usable_width_mm
        taken += [affinity.translate(one, 0.0, step) for one in taken for step in (-around, around)]
    placed = _placed(wishes, limits, taken, lay.cloth)
    taken += [shapely.Polygon(one.outline) for one in placed]
    return LeftOver(
        limits,
        tuple(pieces),
        tuple(blocked),
        tuple(free_rectangles(limits, taken)),
        tuple(placed),
        tuple(wishes),
    )


def opened_lay(lay: Lay, spare_mm: float) -> Lay:
    """The lay with what is left over at its end on the table as well; folded across, it lies there double."""
    last = lay.stretches[-1]
    longer = spare_mm / last[0].spread.lengths

    def lengthened(section: LaySection) -> LaySection:
        return replace(section, length_mm=section.length_mm + longer) if section in last else section

    return replace(lay, sections=tuple(lengthened(section) for section in lay.sections))


def flat_limits(lay: Lay) -> tuple[float, float, float, float]:
    """x0, u0, x1, u1 of the cloth between ends and selvedges, flat mm."""
    length = lay.length_mm
    low = lay.cloth.washed_selvedge_mm
    if lay.stretches[0][0].spread is Spread.TUBE:
        half = lay.cloth.usable_width_mm / 2
        return 0.0, -half, length, half
    return 0.0, low, length, low + lay.cloth.usable_width_mm


def _ring(polygon: shapely.Polygon) -> FloatArray:
    return np.asarray(polygon.exterior.coords, dtype=np.float64)[:-1]


def _placed(
    wishes: Sequence[WasteWish],
    limits: tuple[float, float, float, float],
    taken: Sequence[shapely.Polygon],
    cloth: Cloth,
) -> list[WishPlaced]:
    """As many of the small pieces as come out."""
    x0, u0, x1, u1 = limits
    corner = np.array([x0, u0])
    items, known = [], []
    for wish in wishes:
        outline = _outline(wish)
        variants = [one for one in _variants(wish) if _fits(outline, one, (x1 - x0, u1 - u0))]
        if variants:
            items.append(Item(wish.name, outline, wish.count, tuple(variants)))
            known.append(wish)
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
    count = sum(wish.count for wish in known)
    stop = AnyOf(LengthReached(x1 - x0), Evaluations(_WISH_EVALUATIONS * count))
    found = pack(problem, stop=stop, walks=1)
    placed = []
    for placement in found.placements:
        item = items[placement.item]
        turned = item.outline @ item.variants[placement.variant].matrix().T
        ring = turned + np.array([placement.x_mm, placement.y_mm])
        if ring[:, 0].max() <= x1 - x0:
            placed.append(WishPlaced(known[placement.item], ring + corner))
    return placed


def _outline(wish: WasteWish) -> FloatArray:
    """Its length along x; a round piece as a polygon round it."""
    if not wish.round:
        return np.array(
            [(0.0, 0.0), (wish.length_mm, 0.0), (wish.length_mm, wish.width_mm), (0.0, wish.width_mm)]
        )
    radius = wish.width_mm / 2 / np.cos(np.pi / _ROUND_CORNERS)
    turn = np.linspace(0, 2 * np.pi, _ROUND_CORNERS, endpoint=False)
    ring: FloatArray = radius * np.column_stack([np.cos(turn), np.sin(turn)])
    return ring


def _variants(wish: WasteWish) -> tuple[Variant, ...]:
    if wish.round:
        return (Variant(),)
    angles = {Lie.ALONG: (0.0,), Lie.ACROSS: (90.0,), Lie.EITHER: (0.0, 90.0), Lie.BIAS: (45.0, 135.0)}
    return tuple(Variant(angle) for angle in angles[wish.lie])


def _fits(outline: FloatArray, variant: Variant, room: tuple[float, float]) -> bool:
    along, across = np.ptp(outline @ variant.matrix().T, axis=0).tolist()
    return bool(along <= room[0] and across <= room[1])
