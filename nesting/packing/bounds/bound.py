"""A length that no lay can beat, proven.

The greatest of several bounds, each with its proof beside it:

*area*, below: what items and obstacles cover; *one item*: each lies inside the strip; rows and chains of
items that cannot lie side by side or are bound to a side (`nesting.packing.bounds.rows`); areas counted in
steps, along lines (`nesting.packing.bounds.slices`); and exhaustion for a few of the largest items
(`nesting.packing.bounds.proof`).

Items that may lie at any angle
-------------------------------
An area is the same at any angle, and the least extent along, among all angles at which an item goes across,
is found exactly (`nesting.packing.outlines.angles`). Rows, slices and exhaustion know finite turns only: they
are asked of the other items by themselves, for what is left of a lay without the free ones is a lay of those.

The area bound
--------------
Items and obstacles do not overlap: the items' area A and that of the obstacles within reach, O(L), fit in
L W, W being the strip's width. As O grows with L, ``L >= (A + O(l)) / W`` for every ``l <= L``; begin at
l = 0 and repeat. With a gap g, the items made larger by g/2 all round still do not overlap and lie in the
strip made larger likewise: ``sum of their areas <= (L + g) (W + g)``.

Exactness
---------
The engine's lays may overlap by some units of its grid (`nesting.packing.outlines.no_fit.SHRINK`, and the
tolerance of its depths), which shortens a lay by about 1e-8 of the largest measure at each contact. The
bounds that use no-fit polygons use them made smaller as the engine's own, and looser by its tolerance; lines
across and along take a rim off the items; from the others as much is taken off as that could win over all
items one behind the other and along all their edges. Where the engine takes outlines that are larger than the
true ones (a gap, thinned outlines), the tables are built anew: without the gap, and with outlines inside the
true ones.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nesting.geometry import FloatArray, counter_clockwise, signed_area
from nesting.packing.bounds.proof import proven_length
from nesting.packing.bounds.rows import Distances, chain_bound, row_bound
from nesting.packing.bounds.slices import slice_bound
from nesting.packing.bounds.treatment import Treated, Treatment
from nesting.packing.outlines.angles import least_along
from nesting.packing.outlines.position_rules import slack_mm
from nesting.packing.outlines.shapes import DOUBLINGS, THIN, is_thinned, make_shape
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import Layout, Tables
from nesting.packing.problem import WHOLE_STRIP, EdgeRule, Item, StripProblem, variant_outline

__all__ = ["AREA_TREATED", "SINGLE_TREATED", "lower_bound"]

_WHEREVER = (Treatment.IGNORED, "an area is the same wherever it lies")
AREA_TREATED: Treated = {
    "Item.name": (Treatment.IGNORED, "a word"),
    "Item.outline": (Treatment.OBEYED, ""),
    "Item.demand": (Treatment.OBEYED, ""),
    "Item.variants": (Treatment.IGNORED, "an area is the same however it is turned"),
    "Item.edge": _WHEREVER,
    "Item.x_lattice": _WHEREVER,
    "Item.y_lattice": _WHEREVER,
    "Item.x_window_mm": _WHEREVER,
    "Item.any_turn": (Treatment.IGNORED, "an area is the same however it is turned"),
    "StripProblem.width_mm": (Treatment.OBEYED, ""),
    "StripProblem.items": (Treatment.OBEYED, ""),
    "StripProblem.gap_mm": (Treatment.OBEYED, ""),
    "StripProblem.obstacles": (Treatment.OBEYED, ""),
}
"""How the area bound treats each field, and why it is one all the same."""

_ALONE = "with others on the strip the item ends no sooner"
SINGLE_TREATED: Treated = {
    "Item.name": (Treatment.IGNORED, "a word"),
    "Item.outline": (Treatment.LOOSENED, "the extent of its box"),
    "Item.demand": (Treatment.IGNORED, _ALONE),
    "Item.variants": (Treatment.OBEYED, ""),
    "Item.edge": (Treatment.LOOSENED, "only turns that can't lie so are left out: its end is the same"),
    "Item.x_lattice": (Treatment.OBEYED, ""),
    "Item.y_lattice": (Treatment.LOOSENED, "only turns that can't lie so are left out: its end is the same"),
    "Item.x_window_mm": (Treatment.OBEYED, ""),
    "Item.any_turn": (Treatment.OBEYED, ""),
    "StripProblem.width_mm": (Treatment.LOOSENED, "only turns too wide for it are left out"),
    "StripProblem.items": (Treatment.OBEYED, ""),
    "StripProblem.gap_mm": (Treatment.IGNORED, _ALONE),
    "StripProblem.obstacles": (Treatment.IGNORED, _ALONE),
}
"""How the bound of one item treats each field, and why it is one all the same."""

CONTACT = 5
"""Tolerances of the engine's depths, by which a lay may be shorter at one contact.

Three for SHRINK, one for the depth, less than one for `no_fit.CLEAN` and for corners put on the grid.
"""

FEW = 8
"""Pieces up to which a proof by exhaustion is tried hard."""

MANY_PIECES = 40
"""Pieces from which exhaustion is not tried: too small a part of the lay."""

NOTCH = 4
"""How many times as deep a tab may lie in a notch: the mitre of the corners that SHRINK moves inwards."""

STEPS = {True: 1_000_000, False: 250_000}
"""Of exhaustion, for few pieces and for more: about 0.2 s and 0.06 s at most."""


COLUMNS = {True: 600, False: 300}
"""Of exhaustion: what it can't tell apart along the strip is a small part of these."""


def lower_bound(problem: StripProblem, layout: Layout) -> float:
    """The best of the bounds above, in mm, for a checked problem.

    `layout` is its own; of one with items that may lie at any angle, that of one with some of their turns.
    """
    if any(item.any_turn for item in problem.items):
        return _free_bound(problem, layout)
    touching = _perimeters(problem) / (2 * problem.width_mm)  # lengths of contact shared out over the width
    slack = CONTACT * layout.tables.tolerance * (layout.tables.moving + 1 + touching)
    best = max(_area_bound(problem), _single_bound(layout.tables)) - slack
    best = max(best, slice_bound(problem, best, NOTCH * CONTACT * layout.tables.tolerance))
    plain, loose = _without_excess(problem, layout)
    if plain is not None:
        edges = [problem.items[i].edge for i in plain.piece_item]
        rounded = 0.0 if plain is layout else 2 * layout.tables.tolerance  # corners put on the grid anew
        best = max(best, _pair_bound(problem, plain, edges, best, loose) - rounded)
    return best * (1 - 1e-9)


def _free_bound(problem: StripProblem, layout: Layout) -> float:
    """The area of all; what one needs at least at any angle; what is proven of the others by themselves."""
    held = replace(problem, items=tuple(item for item in problem.items if not item.any_turn))
    touching = _perimeters(problem) / (2 * problem.width_mm)
    slack = CONTACT * layout.tables.tolerance * (layout.tables.moving + 1 + touching)
    best = (max(_area_bound(problem), _any_angle_bound(problem, layout.scale)) - slack) * (1 - 1e-9)
    return max(best, lower_bound(held, build(held, layout.scale))) if held.items else best


def _any_angle_bound(problem: StripProblem, scale: float) -> float:
    """The least extent along of the item for which that is greatest, at any angle at which it goes across.

    Across it may be as much wider than the strip as the engine lets pass, twice over: of a piece that is just
    as long as the strip is wide, a hair across decides about millimetres along.
    """
    across_mm = problem.width_mm + 2 * slack_mm(problem.width_mm, scale)
    free = (item for item in problem.items if item.any_turn)
    return max(least_along(item.outline, across_mm)[0] for item in free)


def _perimeters(problem: StripProblem) -> float:
    """Of all items and obstacles together, mm: what they overlap by is at most a depth along half of it."""
    import shapely

    items = sum(item.demand * shapely.Polygon(item.outline).length for item in problem.items)
    return float(items + sum(shapely.Polygon(ring).length for ring in problem.obstacles))


def _pair_bound(
    problem: StripProblem, layout: Layout, edges: list[EdgeRule], best: float, loose: float
) -> float:
    tables, gap = layout.tables, problem.gap_mm
    distances = Distances(tables, gap, loose)
    best = max(best, chain_bound(tables, distances), row_bound(tables, distances, edges))
    if 1 < tables.moving < MANY_PIECES:
        few = tables.moving <= FEW
        best = proven_length(
            tables,
            _mirrored(problem, layout),
            best,
            gap_mm=gap,
            loose_mm=loose,
            most=FEW,
            steps=STEPS[few],
            columns=COLUMNS[few],
        )
    return best


def _area_bound(problem: StripProblem) -> float:
    import shapely

    area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
    blocked = shapely.union_all([shapely.Polygon(ring) for ring in problem.obstacles])
    length = area / problem.width_mm
    for _ in range(50 if problem.obstacles else 0):
        within = shapely.intersection(blocked, shapely.box(0.0, 0.0, length, problem.width_mm)).area
        length = (area + within) / problem.width_mm
    gap = problem.gap_mm
    if gap > 0:
        grown = sum(
            item.demand * shapely.Polygon(item.outline).buffer(gap / 2).area for item in problem.items
        )
        length = max(length, grown / (problem.width_mm + gap) - gap)
    return length


def _single_bound(tables: Tables) -> float:
    """The least end of the item whose least end is greatest; on a lattice, the least end it can have."""
    ends = tables.x_rule[:, 0] + tables.half[: len(tables.x_rule), 0]
    return max(float(ends[first:last].min()) for first, last in tables.shapes[: tables.moving])


def _without_excess(problem: StripProblem, layout: Layout) -> tuple[Layout | None, float]:
    """Tables whose no-fit polygons are nowhere larger than the true ones, and how loose they are, in mm."""
    loose = 2 * layout.tables.tolerance
    thick = [is_thinned(item.outline) for item in problem.items]
    if problem.gap_mm == 0 and not any(thick):
        return layout, loose
    items = []
    for item, replaced in zip(problem.items, thick, strict=True):
        if not replaced:
            items.append(item)
            continue
        inner, off = _inside(item)
        if inner is None:
            return None, loose
        items.append(replace(item, outline=inner, x_lattice=None, y_lattice=None))
        loose = max(loose, 2 * layout.tables.tolerance + 2 * off)
    bare = replace(problem, items=tuple(items), gap_mm=0.0, obstacles=())
    return build(bare, layout.scale), loose


def _inside(item: Item) -> tuple[FloatArray | None, float]:
    """An outline inside the item's that is laid as it is, and how far off its box is at most, in mm."""
    from shapely import Polygon

    allowed = THIN * float(np.ptp(item.outline, axis=0).max())
    for _ in range(DOUBLINGS):
        fewer = Polygon(item.outline).simplify(0.9 * allowed).buffer(-allowed, join_style="mitre")
        if fewer.geom_type == "Polygon" and not fewer.is_empty and Polygon(item.outline).covers(fewer):
            ring = counter_clockwise(np.array(fewer.exterior.coords)[:-1])
            if not is_thinned(ring):
                return ring, _box_distance(item, ring)
        allowed *= 2
    return None, 0.0


def _box_distance(item: Item, ring: FloatArray) -> float:
    far = 0.0
    for variant in item.variants:
        whole, part = variant_outline(item.outline, variant), variant_outline(ring, variant)
        far = max(
            far,
            float(np.abs(whole.min(axis=0) - part.min(axis=0)).max()),
            float(np.abs(whole.max(axis=0) - part.max(axis=0)).max()),
        )
    return far


def _mirrored(problem: StripProblem, layout: Layout) -> list[int]:
    """For each piece the first piece of the item it becomes when a lay is mirrored end for end; else -1.

    Items on a lattice across, whose turns lie at heights of their own, become none; nor do items held to a
    part of the strip, for the tables leave out their turns that are too long for it.
    """
    own, turned = [], []
    for item in problem.items:
        rings = [variant_outline(item.outline, variant) for variant in item.variants]
        own.append(_marks(rings, layout.scale))
        turned.append(_marks([ring[::-1] * [-1.0, 1.0] for ring in rings], layout.scale))
    other = [-1] * len(own)
    for i in range(len(own)):
        if other[i] < 0:
            fits = [
                j
                for j in [i, *range(i + 1, len(own))]
                if other[j] < 0
                and turned[i] == own[j]
                and turned[j] == own[i]
                and problem.items[i].demand == problem.items[j].demand
                and problem.items[i].edge is problem.items[j].edge
                and _free_to_mirror(problem.items[i])
                and _free_to_mirror(problem.items[j])
            ]
            if fits:
                other[i], other[fits[0]] = fits[0], i
    first_piece = np.concatenate([[0], np.cumsum([item.demand for item in problem.items])])
    return [int(first_piece[other[i]]) if other[i] >= 0 else -1 for i in layout.piece_item]


def _free_to_mirror(item: Item) -> bool:
    return item.y_lattice is None and item.x_window_mm == WHOLE_STRIP


def _marks(rings: list[FloatArray], scale: float) -> set[tuple[bytes, tuple[int, int]]]:
    """The shapes of some outlines, told apart exactly."""
    shapes = [make_shape(ring, scale) for ring in rings]
    return {(shape.key, shape.flip) for shape in shapes}
