"""Lays a cloth: tries its spreads, has the engine place the pieces, and lets only verified lays out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.fit import require_fit, too_wide
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, TriedSpread
from nesting.cutting.plan import Stretch, plan, spreads_of, wanted
from nesting.cutting.verify import require_sound
from nesting.packing import pack
from nesting.packing.result import INTERRUPTED, Packing, Progress
from nesting.packing.stop import AnyOf, Evaluations, Seconds, StopRule
from nesting.project import Project

__all__ = ["Effort", "LayEvent", "lay_cloth"]


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look.

    Attributes
    ----------
    evaluations_per_placement : int
        The search budget of each spread grows with its placements. Counted, not timed, so that the
        answer does not depend on the machine.
    seconds : float or None
        When given, each cloth may take this long instead, and the answer depends on the machine.
    walks : int
        Independent searches side by side.
    """

    evaluations_per_placement: int = 400_000
    seconds: float | None = None
    walks: int = 2


@dataclass(frozen=True, slots=True)
class LayEvent:
    """A better verified lay of one cloth, told while the search goes on.

    Attributes
    ----------
    cloth : Cloth
    lay : Lay
        The best so far in `lay.spread`.
    """

    cloth: Cloth
    lay: Lay


def lay_cloth(
    project: Project,
    cloth: Cloth,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    executor: Executor | None = None,
    on_lay: Callable[[LayEvent], None] | None = None,
    until: StopRule | None = None,
) -> Lay:
    """The best verified lay of everything the project cuts from this cloth.

    Parameters
    ----------
    project : Project
    cloth : Cloth
        One of the project's.
    effort : Effort, optional
    seed : int
    executor : concurrent.futures.Executor, optional
        Where the walks run.
    on_lay : callable, optional
        Told of every better lay.
    until : StopRule, optional
        Ends the search of each spread early; its best lay so far is kept.

    Raises
    ------
    BadInput
        When a piece is wider than the cloth in every spread.
    LayRefused
        When the verifier finds a fault: a defect of the program.
    """
    require_fit(replace(project, cloths={cloth.key: cloth}))
    effort = effort or Effort()
    wants = wanted(project, cloth)
    candidates: list[Lay] = []
    tried: list[TriedSpread] = []
    for spread in spreads_of(cloth):
        stretches = plan(wants, cloth, spread)
        misfits = too_wide(stretches)
        if misfits:
            names = ", ".join(dict.fromkeys(f"'{order.piece}'" for order, _ in misfits))
            tried.append(TriedSpread(spread, None, None, None, f"too narrow for {names}"))
            continue
        if spread is not Spread.OPEN and cloth.spread is Spread.BEST and _lies_open(stretches):
            tried.append(TriedSpread(spread, None, None, None, "nothing can be cut double"))
            continue
        if any(lay.stopped_because == INTERRUPTED for lay in candidates):
            tried.append(TriedSpread(spread, None, None, None, f"not tried, as the search was {INTERRUPTED}"))
            continue
        to_beat = min((_to_buy_mm(lay) for lay in candidates), default=None)
        search = _Search(project, cloth, spread, effort, seed, executor, on_lay, until)
        lay = search.run(stretches, to_beat_mm=to_beat)
        candidates.append(lay)
        least = purchase(lay.bound_mm, cloth).to_buy_mm
        tried.append(TriedSpread(spread, lay.length_mm, _to_buy_mm(lay), least))
    best = min(candidates, key=_to_buy_mm)  # the first of equals: the one easier to cut
    return replace(best, tried=tuple(tried))


def _lies_open(stretches: Sequence[Stretch]) -> bool:
    return all(stretch.spread is Spread.OPEN for stretch in stretches)


def _to_buy_mm(lay: Lay) -> float:
    return purchase(lay.length_mm, lay.cloth).to_buy_mm


@dataclass(frozen=True)
class _Settled:
    """A stop rule: no shorter lay of this stretch could lessen the purchase.

    Attributes
    ----------
    cloth : Cloth
    other_lengths_mm, other_bounds_mm : float
        Of the other stretches of the lay, together, and what is kept free between the stretches.
    to_beat_mm : float or None
        What another spread buys already.
    """

    cloth: Cloth
    other_lengths_mm: float
    other_bounds_mm: float
    to_beat_mm: float | None
    reason: ClassVar[str] = "no shorter lay would lessen the purchase"

    def __call__(self, progress: Progress) -> bool:
        least = purchase(progress.bound_mm + self.other_bounds_mm, self.cloth).to_buy_mm
        if self.to_beat_mm is not None and least >= self.to_beat_mm:
            return True
        return purchase(progress.best_length_mm + self.other_lengths_mm, self.cloth).to_buy_mm <= least


@dataclass(frozen=True, slots=True)
class _Search:
    """One spread of one cloth being searched, stretch after stretch."""

    project: Project
    cloth: Cloth
    spread: Spread
    effort: Effort
    seed: int
    executor: Executor | None
    on_lay: Callable[[LayEvent], None] | None
    until: StopRule | None

    def run(self, stretches: Sequence[Stretch], *, to_beat_mm: float | None) -> Lay:
        """Search within the budget; stop where the bound shows that `to_beat_mm` cannot be beaten."""
        # The stretches after the first are constructed before it: its first packing makes a whole lay.
        packings: list[Packing | None] = [
            pack(stretch.problem, stop=Evaluations(0), seed=self.seed, walks=1) if number else None
            for number, stretch in enumerate(stretches)
        ]
        for index, stretch in enumerate(stretches):

            def better(_: Progress, packing: Packing, index: int = index) -> None:
                before = packings[index]
                if before is None or packing.length_mm < before.length_mm:
                    packings[index] = packing
                    self._tell(stretches, packings)

            others = [packing for number, packing in enumerate(packings) if packing and number != index]
            packings[index] = found = pack(
                stretch.problem,
                stop=self._stop(stretch, others, len(stretches), to_beat_mm),
                seed=self.seed,
                walks=self.effort.walks,
                executor=self.executor,
                on_progress=better,
            )
            if found.stopped_because in (INTERRUPTED, _Settled.reason):
                break
        lay = self._lay(stretches, packings)
        require_sound(lay, self.project)
        return replace(lay, stopped_because=found.stopped_because)

    def _stop(
        self, stretch: Stretch, others: Sequence[Packing], stretches: int, to_beat_mm: float | None
    ) -> StopRule:
        """The budget, the person's own wish to stop, or proof that searching on buys nothing."""
        between = self.cloth.gap_mm * (stretches - 1)
        settled = _Settled(
            self.cloth,
            sum(p.length_mm for p in others) + between,
            sum(p.bound_mm for p in others) + between,
            to_beat_mm,
        )
        placements = sum(item.demand for item in stretch.problem.items)
        budget = (
            Evaluations(self.effort.evaluations_per_placement * placements)
            if self.effort.seconds is None
            else Seconds(self.effort.seconds / len(spreads_of(self.cloth)) / stretches)
        )
        rules = (settled, budget) if self.until is None else (self.until, settled, budget)
        return AnyOf(*rules)

    def _tell(self, stretches: Sequence[Stretch], packings: Sequence[Packing | None]) -> None:
        if self.on_lay is not None:
            lay = self._lay(stretches, packings)
            require_sound(lay, self.project)
            self.on_lay(LayEvent(self.cloth, lay))

    def _lay(self, stretches: Sequence[Stretch], packings: Sequence[Packing | None]) -> Lay:
        sections = []
        start = 0.0
        done = [packing for packing in packings if packing is not None]
        for stretch, packing in zip(stretches, done, strict=True):
            kept_free = 0.0 if stretch is stretches[-1] else self.cloth.gap_mm
            sections.append(_section(stretch, packing, start, kept_free))
            start += sections[-1].length_mm
        return Lay(
            cloth=self.cloth,
            spread=self.spread,
            sections=tuple(sections),
            seed=self.seed,
            evaluations=sum(packing.evaluations for packing in done),
            stopped_because=done[-1].stopped_because,
        )


def _section(stretch: Stretch, packing: Packing, start_mm: float, kept_free_mm: float) -> LaySection:
    """The stretch as packed, with what is kept free after it."""
    placed = []
    for placement in packing.placements:
        order = stretch.orders[placement.item]
        variant = order.item.variants[placement.variant]
        shift = np.array([placement.x_mm, placement.y_mm])
        placed.append(
            PlacedPiece(
                piece=order.piece,
                copies=order.copies[placement.copy],
                of=order.of,
                yields=order.yields,
                face=Face.DOWN if variant.mirrored else Face.UP,
                turned_deg=variant.angle_deg,
                shape=order.shape.transformed(variant.matrix(), shift),
            )
        )
    return LaySection(
        spread=stretch.spread,
        start_mm=start_mm,
        length_mm=packing.length_mm + kept_free_mm,
        width_mm=stretch.problem.width_mm,
        layers=stretch.layers,
        placed=tuple(placed),
        problem=stretch.problem,
        placements=packing.placements,
        bound_mm=packing.bound_mm + kept_free_mm,
    )
