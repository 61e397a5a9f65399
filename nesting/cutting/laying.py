"""Lays a cloth: tries its spreads, has the engine place the pieces, and lets only verified lays out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace

import numpy as np

from nesting.cloth.buying import longest_lay_mm, purchase
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.fit import fit_problems, too_wide
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, TriedSpread
from nesting.cutting.plan import Stretch, plan, spreads_of, wanted
from nesting.cutting.verify import require_sound
from nesting.errors import BadInput
from nesting.packing import pack
from nesting.packing.result import INTERRUPTED, Packing, Progress
from nesting.packing.stop import AnyOf, Evaluations, LengthReached, Seconds, StopRule
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

    evaluations_per_placement: int = 150_000
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

    Raises
    ------
    BadInput
        When a piece is wider than the cloth in every spread.
    LayRefused
        When the verifier finds a fault: a defect of the program.
    """
    problems = fit_problems(replace(project, cloths={cloth.key: cloth}))
    if problems:
        raise BadInput(problems)
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
        if any(lay.stopped_because == INTERRUPTED for lay in candidates):
            tried.append(TriedSpread(spread, None, None, None, "not tried, as the search was interrupted"))
            continue
        to_beat = min((_to_buy_mm(lay) for lay in candidates), default=None)
        search = _Search(project, cloth, spread, effort, seed, executor, on_lay)
        lay = search.run(stretches, to_beat_mm=to_beat)
        candidates.append(lay)
        least = purchase(lay.bound_mm, cloth).to_buy_mm
        tried.append(TriedSpread(spread, lay.length_mm, _to_buy_mm(lay), least))
    best = min(candidates, key=_to_buy_mm)  # the first of equals: the one easier to cut
    return replace(best, tried=tuple(tried))


def _to_buy_mm(lay: Lay) -> float:
    return purchase(lay.length_mm, lay.cloth).to_buy_mm


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

    def run(self, stretches: Sequence[Stretch], *, to_beat_mm: float | None) -> Lay:
        """Search within the budget; not at all where the bound shows that `to_beat_mm` cannot be beaten."""
        # Every stretch is constructed first, so that a whole lay can be shown at once.
        packings = [pack(s.problem, stop=Evaluations(0), seed=self.seed, walks=1) for s in stretches]
        self._tell(stretches, packings)
        least = purchase(sum(p.bound_mm for p in packings), self.cloth).to_buy_mm
        hopeless = to_beat_mm is not None and least >= to_beat_mm
        for index, stretch in enumerate(() if hopeless else stretches):

            def better(_: Progress, packing: Packing, index: int = index) -> None:
                if packing.length_mm < packings[index].length_mm:
                    packings[index] = packing
                    self._tell(stretches, packings)

            found = pack(
                stretch.problem,
                stop=self._stop(stretch, index, packings, len(stretches)),
                seed=self.seed,
                walks=self.effort.walks,
                executor=self.executor,
                on_progress=better,
            )
            if found.length_mm <= packings[index].length_mm:
                packings[index] = found
            if found.stopped_because == INTERRUPTED:
                break
        lay = self._lay(stretches, packings)
        require_sound(lay, self.project)
        return lay

    def _stop(
        self, stretch: Stretch, index: int, packings: Sequence[Packing], stretch_count: int
    ) -> StopRule:
        """The budget, or a lay so short that the bound allows no smaller purchase."""
        others = sum(p.length_mm for k, p in enumerate(packings) if k != index)
        least = purchase(sum(p.bound_mm for p in packings), self.cloth).to_buy_mm
        enough = LengthReached(longest_lay_mm(least, self.cloth) - others)
        if self.effort.seconds is not None:
            share = self.effort.seconds / len(spreads_of(self.cloth)) / stretch_count
            return AnyOf(Seconds(share), enough)
        placements = sum(item.demand for item in stretch.problem.items)
        return AnyOf(Evaluations(self.effort.evaluations_per_placement * placements), enough)

    def _tell(self, stretches: Sequence[Stretch], packings: Sequence[Packing]) -> None:
        if self.on_lay is not None:
            lay = self._lay(stretches, packings)
            require_sound(lay, self.project)
            self.on_lay(LayEvent(self.cloth, lay))

    def _lay(self, stretches: Sequence[Stretch], packings: Sequence[Packing]) -> Lay:
        sections = []
        start = 0.0
        for stretch, packing in zip(stretches, packings, strict=True):
            sections.append(_section(stretch, packing, start))
            start += packing.length_mm
        return Lay(
            cloth=self.cloth,
            spread=self.spread,
            sections=tuple(sections),
            seed=self.seed,
            evaluations=sum(packing.evaluations for packing in packings),
            stopped_because=packings[-1].stopped_because,
        )


def _section(stretch: Stretch, packing: Packing, start_mm: float) -> LaySection:
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
        length_mm=packing.length_mm,
        width_mm=stretch.problem.width_mm,
        layers=stretch.layers,
        placed=tuple(placed),
        problem=stretch.problem,
        placements=packing.placements,
        bound_mm=packing.bound_mm,
    )
