"""Grain lines a little off the warp, where the person grants it and it shortens the lay.

The lay with every grain line straight comes first. Its plan is then searched again with every piece that may
be tilted free to lie straight, or tilted by all it is granted to either side; a piece on the fold or on lines
of a repeat stays straight. Pieces that need no tilt where they then lie are laid straight again. What comes
of it is kept only where it is shorter by `WORTH_MM`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import Batch, ZoneBatches, measures
from nesting.cutting.plan.demand import Wanted
from nesting.cutting.search.laid import Laid
from nesting.cutting.search.searching import Searcher
from nesting.packing.problem import EdgeRule, Item, Placement, StripProblem, Variant, variant_outline
from nesting.packing.result import Packing
from nesting.packing.verify import violations

__all__ = ["WORTH_MM", "area_bound_mm", "may_tilt", "tilted"]

WORTH_MM = 20.0
"""A lay shorter by less is not worth a grain line off the warp."""


def may_tilt(wants: Sequence[Wanted]) -> bool:
    """Whether any piece is granted a tilt."""
    return any(want.tilt_deg > 0 for want in wants)


def area_bound_mm(wants: Sequence[Wanted], width_mm: float) -> float:
    """A length that no lay can beat, however its pieces are tilted: their area over the width."""
    return sum(len(want.copies) * _area_mm2(want) for want in wants) / width_mm


def _area_mm2(want: Wanted) -> float:
    return measures(want, Yield.ONE)[2]


def tilted(laid: Laid, searcher: Searcher, *, until_s: float | None) -> Laid:
    """The same with pieces tilted, if that is worth it; else as it is.

    Parameters
    ----------
    laid : Laid
        With every grain line straight.
    searcher : Searcher
    until_s : float or None
        By the monotonic clock, when to end, instead of counting evaluations.
    """
    zones = tuple(_freer(one) for one in laid.plan.zones)
    freer = replace(laid, plan=replace(laid.plan, zones=zones, shared=True))
    searcher = replace(searcher, tell=lambda _: None)
    found = searcher.first(freer.plan)
    found = searcher.search(found, until_s=until_s, to_beat_mm=laid.to_buy_mm)
    if found.length_mm > laid.length_mm - WORTH_MM:
        return laid
    packings = tuple(
        None if packing is None else _straightened(one, packing)
        for one, packing in zip(found.plan.zones, found.packings, strict=True)
    )
    return replace(found, packings=packings)


def _freer(one: ZoneBatches) -> ZoneBatches:
    batches = tuple(_tiltable(batch) for batch in one.batches)
    problem = replace(one.problem, items=tuple(batch.item for batch in batches))
    return replace(one, batches=batches, problem=problem)


def _tiltable(batch: Batch) -> Batch:
    item = batch.item
    held = item.edge is not EdgeRule.FREE or item.x_lattice is not None or item.y_lattice is not None
    if held or not batch.want.tilt_deg:
        return batch
    tilts = (0.0, batch.want.tilt_deg, -batch.want.tilt_deg)
    variants = tuple(
        Variant((variant.angle_deg + tilt) % 360, variant.mirrored)
        for tilt in tilts
        for variant in item.variants
    )
    each = tuple(tilt for tilt in tilts for _ in item.variants)
    return replace(batch, item=replace(item, variants=variants), tilts_deg=each)


def _straightened(one: ZoneBatches, packing: Packing) -> Packing:
    """With every tilted piece laid straight that can lie so about the same middle."""
    placements = list(packing.placements)
    for k, placement in enumerate(placements):
        straight = _straight(one.batches[placement.item], placement)
        if straight is None:
            continue
        trial = [*placements[:k], straight, *placements[k + 1 :]]
        if _end_mm(one.problem, straight) <= packing.length_mm and not violations(one.problem, trial):
            placements = trial
    return replace(packing, placements=tuple(placements))


def _straight(batch: Batch, placement: Placement) -> Placement | None:
    """The same piece with its grain line straight, the middle of its box where it was; None if it is."""
    item = batch.item
    if not batch.tilts_deg or batch.tilts_deg[placement.variant] == 0:
        return None
    variant = item.variants[placement.variant]
    upright = placement.variant % batch.tilts_deg.count(0.0)  # the straight ones come first
    was, will = (_middle(item, one) for one in (variant, item.variants[upright]))
    x, y = (np.array([placement.x_mm, placement.y_mm]) + was - will).tolist()
    return replace(placement, variant=upright, x_mm=x, y_mm=y)


def _middle(item: Item, variant: Variant) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    ring = variant_outline(item.outline, variant)
    middle: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = (ring.min(axis=0) + ring.max(axis=0)) / 2
    return middle


def _end_mm(problem: StripProblem, placement: Placement) -> float:
    item = problem.items[placement.item]
    ring = variant_outline(item.outline, item.variants[placement.variant])
    return float(ring[:, 0].max()) + placement.x_mm
