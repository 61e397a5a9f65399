"""What a lay leaves over: the largest rectangles, and small pieces that come out of it.

All on the cloth opened out, in the flat coordinates of `nesting.cutting.opening`: X along the warp from the
straightened end, u across from the outer edge of the near selvedge, right side up.

Rectangles are found on a grid of `GRID_MM`: of the cells that no piece, flaw or selvedge touches, the largest
rectangle (the largest one in a histogram, row after row; exact on the grid), which is then widened on each
side until it touches something. It falls short of the largest there is by less than a cell on each side.
Small pieces are placed by the engine, with all that is cut as obstacles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.waste import Lie, WasteWish
from nesting.cutting.flaws import SLIVER_MM
from nesting.cutting.lay import Lay, LaySection
from nesting.cutting.verify import blocked_areas, cut_polygons
from nesting.geometry import FloatArray
from nesting.packing import Item, StripProblem, Variant, pack
from nesting.packing.stop import AnyOf, Evaluations, LengthReached

__all__ = [
    "FlatPiece",
    "LeftOver",
    "Rectangle",
    "WishPlaced",
    "flat_limits",
    "largest_rectangle",
    "left_over",
    "opened_lay",
]

GRID_MM = 5.0
MOST_RECTANGLES = 5
LEAST_SIDE_MM = 60.0
LEAST_AREA_MM2 = 10_000.0
"""A rectangle is worth telling from 6 cm and a square decimetre on."""
_ROUND_CORNERS = 36
_WISH_EVALUATIONS = 60_000
"""For each small piece, where they do not all come out at once."""

BoolArray = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class FlatPiece:
    """A piece of cloth or a flaw, opened out: `outline` is (N, 2), flat mm, not closed."""

    name: str
    outline: FloatArray


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
        tuple(_rectangles(limits, taken)),
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


def _rectangles(
    limits: tuple[float, float, float, float], taken: Sequence[shapely.Polygon]
) -> list[Rectangle]:
    """The largest, then the largest of what is left then, and so on."""
    x0, u0, x1, u1 = limits
    if x1 - x0 < LEAST_SIDE_MM or u1 - u0 < LEAST_SIDE_MM:
        return []
    free = _free_cells(limits, taken)
    shapes = list(taken)
    found: list[Rectangle] = []
    while len(found) < MOST_RECTANGLES:
        i0, j0, i1, j1 = largest_rectangle(free)
        rough = Rectangle(x0 + GRID_MM * i0, u0 + GRID_MM * j0, x0 + GRID_MM * i1, u0 + GRID_MM * j1)
        if i1 <= i0:
            break
        whole = _widened(rough, limits, shapes)
        if whole.along_mm * whole.across_mm < LEAST_AREA_MM2:
            break
        shapes.append(shapely.box(whole.x0, whole.u0, whole.x1, whole.u1))
        _mark(free, limits, shapes[-1])
        if min(whole.along_mm, whole.across_mm) >= LEAST_SIDE_MM:
            found.append(whole)
    return found


def _free_cells(limits: tuple[float, float, float, float], taken: Sequence[shapely.Polygon]) -> BoolArray:
    """(columns along, rows across): the whole cells that nothing touches."""
    x0, u0, x1, u1 = limits
    free = np.ones((int((x1 - x0) / GRID_MM), int((u1 - u0) / GRID_MM)), dtype=np.bool_)
    for one in taken:
        _mark(free, limits, one)
    return free


def _mark(free: BoolArray, limits: tuple[float, float, float, float], shape: shapely.Polygon) -> None:
    """Take the cells that the shape touches out of the free ones."""
    x0, u0, *_ = limits
    a, c, b, d = shape.bounds
    i = np.arange(max(0, int((a - x0) / GRID_MM) - 1), min(free.shape[0], int((b - x0) / GRID_MM) + 2))
    j = np.arange(max(0, int((c - u0) / GRID_MM) - 1), min(free.shape[1], int((d - u0) / GRID_MM) + 2))
    if not len(i) or not len(j):
        return
    left, low = np.meshgrid(x0 + GRID_MM * i, u0 + GRID_MM * j, indexing="ij")
    shapely.prepare(shape)
    touched = shapely.intersects(shape, shapely.box(left, low, left + GRID_MM, low + GRID_MM))
    free[i[0] : i[-1] + 1, j[0] : j[-1] + 1] &= ~touched


def largest_rectangle(free: BoolArray) -> tuple[int, int, int, int]:
    """Of all rectangles of free cells the largest: first and last-but-one index along and across.

    Parameters
    ----------
    free : (M, N) bool array

    Returns
    -------
    tuple of int
        i0, j0, i1, j1: ``free[i0:i1, j0:j1]`` is all true; all 0 where no cell is free. Of equals the first.

    Examples
    --------
    >>> largest_rectangle(np.array([[1, 1, 0], [1, 1, 1], [0, 1, 1]], dtype=bool))
    (0, 0, 2, 2)
    >>> largest_rectangle(np.zeros((2, 0), dtype=bool))
    (0, 0, 0, 0)
    """
    best, best_area = (0, 0, 0, 0), 0
    columns = free.shape[1]
    height = np.zeros(columns + 1, dtype=np.int64)  # the last stays 0 and closes every bar
    for i in range(free.shape[0]):
        height[:columns] = np.where(free[i], height[:columns] + 1, 0)
        open_bars: list[tuple[int, int]] = []  # where it starts, how high; rising
        for j, high in enumerate(height.tolist()):
            start = j
            while open_bars and open_bars[-1][1] >= high:
                start, tall = open_bars.pop()
                if tall * (j - start) > best_area:
                    best, best_area = (i + 1 - tall, start, i + 1, j), tall * (j - start)
            open_bars.append((start, high))
    return best


def _widened(
    rough: Rectangle, limits: tuple[float, float, float, float], shapes: Sequence[shapely.Polygon]
) -> Rectangle:
    """Each side moved out until it touches something, by two cells at most."""
    x0, u0, x1, u1 = limits
    reach = 2 * GRID_MM
    around = shapely.box(rough.x0 - reach, rough.u0 - reach, rough.x1 + reach, rough.u1 + reach)
    near = shapely.union_all([one for one in shapes if one.intersects(around)])
    left, low, right, high = rough.x0, rough.u0, rough.x1, rough.u1

    def in_the_way(a: float, c: float, b: float, d: float) -> tuple[float, float, float, float] | None:
        shared = shapely.get_parts(shapely.intersection(near, shapely.box(a, c, b, d)))
        deep = shared[shapely.area(shared) > 1e-9]  # what only touches along a side is in no one's way
        return tuple(shapely.total_bounds(deep).tolist()) if len(deep) else None

    hit = in_the_way(left - reach, low, left, high)
    left = max(x0, left - reach if hit is None else hit[2])
    hit = in_the_way(right, low, right + reach, high)
    right = min(x1, right + reach if hit is None else hit[0])
    hit = in_the_way(left, low - reach, right, low)
    low = max(u0, low - reach if hit is None else hit[3])
    hit = in_the_way(left, high, right, high + reach)
    high = min(u1, high + reach if hit is None else hit[1])
    return Rectangle(left, low, right, high)
