"""A plan with the packings of its zones: what it takes of table and cloth, and the lay it makes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece
from nesting.cutting.plan.batches import ZoneBatches, round_flaws
from nesting.cutting.plan.sharing import Plan
from nesting.packing.result import Packing, StopReason

__all__ = ["Laid"]


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """A plan and the best packing so far of each of its zones.

    Attributes
    ----------
    plan : Plan
    cloth : Cloth
    packings : tuple of Packing or None
        None for a zone on which nothing lies.
    searched : bool
        Whether more than first packings were asked for.
    stopped_because : StopReason or None
        None where each zone got its first packing only.
    held_mm : float or None
        The first stretch takes no less of the table than this: flaws were mapped by where it ends.
    """

    plan: Plan
    cloth: Cloth
    packings: tuple[Packing | None, ...]
    searched: bool = False
    stopped_because: StopReason | None = None
    held_mm: float | None = None

    @property
    def over_mm(self) -> float:
        """How far the pieces reach beyond the fold across by which flaws were mapped, if they do."""
        if self.held_mm is None or self.plan.spread.facts.lengths == 1:
            return 0.0
        return max(0.0, self._first_table_mm() - self.held_mm)

    def held(self, table_mm: float | None = None) -> Laid:
        """The first stretch held, at that length or its own, and the flaws mapped by it."""
        at = self._first_table_mm() if table_mm is None else table_mm
        halved = at if self.plan.spread.facts.lengths == 2 else None
        return replace(
            self,
            held_mm=at,
            plan=replace(self.plan, zones=round_flaws(self.plan.zones, self.cloth, at, halved)),
        )

    def _first_table_mm(self) -> float:
        lengths = [0.0 if one is None else one.length_mm for one in self.packings]
        return next(iter(replace(self, held_mm=None).tables_mm(lengths).values()))

    @property
    def length_mm(self) -> float:
        """Cloth taken."""
        return self.taken_mm([0.0 if one is None else one.length_mm for one in self.packings])

    @property
    def bound_mm(self) -> float:
        """Least cloth that this plan can take."""
        return self.taken_mm([0.0 if one is None else one.bound_mm for one in self.packings])

    @property
    def to_buy_mm(self) -> float:
        """What that asks for in the shop."""
        return purchase(self.length_mm, self.cloth).to_buy_mm

    def taken_mm(self, lengths_mm: Sequence[float]) -> float:
        """Cloth taken when the zones need those lengths."""
        tables = self.tables_mm(lengths_mm)
        lengths = {one.zone.stretch: one.zone.spread.facts.lengths for one in self.plan.zones}
        return sum(lengths[stretch] * table for stretch, table in tables.items())

    def tables_mm(self, lengths_mm: Sequence[float]) -> dict[int, float]:
        """Table that each stretch takes, with the gap kept free after every one but the last.

        Where pieces are matched along the cloth, the next stretch begins a whole number of repeats on.
        """
        tables: dict[int, float] = {}
        for one, length in zip(self.plan.zones, lengths_mm, strict=True):
            tables[one.zone.stretch] = max(tables.get(one.zone.stretch, 0.0), length)
        every = self.plan.begin_every_mm
        for stretch in list(tables)[:-1]:
            tables[stretch] += self.cloth.gap_mm
            if every is not None:
                tables[stretch] = every * math.ceil(tables[stretch] / every - 1e-9)
        if self.held_mm is not None:
            first = next(iter(tables))
            tables[first] = max(tables[first], self.held_mm)
        return tables

    def lay(self, seed: int, least_mm: float | None = None) -> Lay:
        """The whole as a lay, not verified yet."""
        done = [one for one in self.packings if one is not None]
        tables = self.tables_mm([0.0 if one is None else one.length_mm for one in self.packings])
        starts, start = {}, 0.0
        for stretch, table in tables.items():
            starts[stretch] = start
            start += table
        return Lay(
            cloth=self.cloth,
            spread=self.plan.spread,
            sections=tuple(
                _section(one, packing, starts[one.zone.stretch], tables[one.zone.stretch])
                for one, packing in zip(self.plan.zones, self.packings, strict=True)
            ),
            seed=seed,
            evaluations=sum(packing.evaluations for packing in done),
            stopped_because=self.stopped_because or done[-1].stopped_because,
            least_mm=least_mm if self.plan.shared else None,
        )


def _section(one: ZoneBatches, packing: Packing | None, start_mm: float, table_mm: float) -> LaySection:
    """The zone as packed, as long as its stretch, what is kept free after it included."""
    placed = []
    for placement in () if packing is None else packing.placements:
        batch = one.batches[placement.item]
        want, copies = batch.want, batch.copies[placement.copy]
        variant = batch.item.presented(placement)
        shift = np.array([placement.x_mm, placement.y_mm])
        placed.append(
            PlacedPiece(
                piece=want.piece.name,
                copies=copies,
                of=want.count.pieces,
                yields=batch.yields,
                face=Face.DOWN if variant.mirrored else Face.UP,
                turned_deg=variant.angle_deg % 360.0 if placement.further_deg else variant.angle_deg,
                shape=batch.shape.transformed(variant.matrix(), shift),
                size=want.piece.size,
                garments=want.garments_of(copies),
                tilt_deg=batch.tilts_deg[placement.variant] if batch.tilts_deg else 0.0,
            )
        )
    return LaySection(
        spread=one.zone.spread,
        start_mm=start_mm,
        length_mm=table_mm,
        width_mm=one.zone.width_mm,
        layers=one.zone.layers,
        placed=tuple(placed),
        problem=one.problem,
        placements=() if packing is None else packing.placements,
        bound_mm=0.0 if packing is None else packing.bound_mm,
        across_mm=one.zone.across_mm,
        fold=one.zone.fold,
    )
