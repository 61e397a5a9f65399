"""A seat for every lot of the demand among the zones of one layout, settled by estimate.

Terms
-----
estimate of a zone
    Midway between what the pieces' area alone would need and what their boxes need when each is put as near
    to the beginning as it goes, longest first, for interlocking outlines lie between the two; but no less
    than the fold pieces on one fold take, one after another.

A layout's estimate is the cloth that its stretches then take. Units are seated one after another where they
lengthen it least, the largest first; then single lots are moved, and lots of two zones exchanged, as long
as that helps. No chance is in it: the same demand is shared out in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import Seat, measures
from nesting.cutting.plan.demand import Lot
from nesting.cutting.plan.spreading import Zone
from nesting.packing.problem import EdgeRule

__all__ = ["Seating"]

_CELL_MM = 10.0
"""Boxes are put down on a grid across the cloth of about this step."""
_MOST_TRIALS = 400
"""Sharings-out that are estimated for one layout,"""
_MANY_LOTS = 20
"""and the fewer, the more there are than this to share out: a chorus's costumes are not to take all day."""


@dataclass
class Seating:
    """One layout's lots being shared out."""

    lots: Sequence[Lot]
    layout: Sequence[Zone]
    choices: Sequence[tuple[Seat, ...]]
    trials: int = 0
    known: dict[tuple[int, tuple[tuple[int, Seat], ...]], float] = field(default_factory=dict)

    def best(self) -> tuple[Seat, ...]:
        """A seat for each lot."""
        seated: list[Seat | None] = [None] * len(self.lots)
        for k in sorted(range(len(self.lots)), key=self._hardest_first):

            def with_seat(seat: Seat, k: int = k) -> tuple[float, float]:
                return self._cost([*seated[:k], seat, *seated[k + 1 :]])

            seated[k] = min(self.choices[k], key=with_seat)
        chosen = [seat for seat in seated if seat is not None]
        cost = self._cost(chosen)
        most = _MOST_TRIALS * min(1.0, _MANY_LOTS / max(1, len(self.lots)))
        better = True
        while better:
            better = False
            for trial in self._changes(chosen):
                self.trials += 1
                if self.trials > most:
                    return tuple(chosen)
                if self._cost(trial) < cost:
                    chosen, cost, better = trial, self._cost(trial), True
                    break
        return tuple(chosen)

    def estimate(self, seated: Sequence[Seat]) -> float:
        """Cloth that this sharing-out is estimated to take."""
        return self._cost(seated)[0]

    def _hardest_first(self, k: int) -> tuple[int, float]:
        first = self.choices[k][0]
        return len(self.choices[k]), -measures(self.lots[k].want, first.yields)[2]

    def _changes(self, seated: list[Seat]) -> Iterator[list[Seat]]:
        """Each lot on each other seat, then each two of different pieces with each other's."""
        for k, choice in enumerate(self.choices):
            for seat in choice:
                if seat != seated[k]:
                    yield [*seated[:k], seat, *seated[k + 1 :]]
        for a, b in combinations(range(len(seated)), 2):
            zones = seated[a].zone, seated[b].zone
            if zones[0] != zones[1] and self.lots[a].want is not self.lots[b].want:
                for seat_a in (seat for seat in self.choices[a] if seat.zone == zones[1]):
                    for seat_b in (seat for seat in self.choices[b] if seat.zone == zones[0]):
                        changed = list(seated)
                        changed[a], changed[b] = seat_a, seat_b
                        yield changed

    def _cost(self, seated: Sequence[Seat | None]) -> tuple[float, float]:
        """Cloth taken; then, to tell equals apart, the zones' lengths together."""
        lengths = [self._zone_mm(index, seated) for index in range(len(self.layout))]
        stretches: dict[int, float] = {}
        for zone, length in zip(self.layout, lengths, strict=True):
            taken = zone.spread.facts.lengths * length
            stretches[zone.stretch] = max(stretches.get(zone.stretch, 0.0), taken)
        return sum(stretches.values()), sum(lengths)

    def _zone_mm(self, index: int, seated: Sequence[Seat | None]) -> float:
        lying = tuple(
            sorted(
                (id(lot.want), seat)
                for lot, seat in zip(self.lots, seated, strict=True)
                if seat is not None and seat.zone == index
            )
        )
        if (index, lying) not in self.known:
            boxes = [
                (*measures(lot.want, seat.yields), seat.edge)
                for lot, seat in zip(self.lots, seated, strict=True)
                if seat is not None and seat.zone == index
                for _ in range(len(lot.copies) if seat.yields is Yield.ONE else 1)
            ]
            self.known[index, lying] = _estimate_mm(boxes, self.layout[index].width_mm)
        return self.known[index, lying]


def _estimate_mm(boxes: Sequence[tuple[float, float, float, EdgeRule]], width_mm: float) -> float:
    """Length that a zone is estimated to need for boxes of (along, across, area, which fold)."""
    from nesting.packing.kernels.skyline import ANYWHERE, skyline_length

    if not boxes:
        return 0.0
    cells = max(1, int(width_mm / _CELL_MM))
    on_folds = dict.fromkeys((EdgeRule.LOW, EdgeRule.HIGH), 0.0)
    order = sorted(boxes, key=lambda box: (box[3] is EdgeRule.FREE, -box[0], -box[1]))
    wide = [min(cells, max(1, round(box[1] / width_mm * cells))) for box in order]
    at = [
        {EdgeRule.LOW: 0, EdgeRule.HIGH: cells - taken}.get(box[3], ANYWHERE)
        for box, taken in zip(order, wide, strict=True)
    ]
    for along, _, _, edge in order:
        if edge in on_folds:
            on_folds[edge] += along
    by_boxes = skyline_length(
        np.array([box[0] for box in order]), np.array(wide), np.array(at), np.zeros(cells)
    )
    by_area = sum(box[2] for box in boxes) / width_mm
    at_least = max(*on_folds.values(), *(box[0] for box in boxes))
    return max(at_least, (by_area + by_boxes) / 2)
