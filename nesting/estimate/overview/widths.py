"""How much to buy as the cloth gets wider: where the steps are, and from which width on a fold costs nothing.

Whatever lies double can be opened out and lies just as well in one layer, so a fold never saves cloth. It
pays where it takes no more: it is then half the cutting, and left and right come out alike.

A lay from the near side up is sound on all wider cloth too, and one on the fold is sound opened out. So each
curve is the shortest lay found up to that width, and the open cloth never takes more than a fold.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.fit.fitting import fit_findings
from nesting.cutting.search.laying import Effort
from nesting.errors import BadInput
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.jobs import LayJob
from nesting.lettering import quoted
from nesting.project import Project
from nesting.units import format_length

__all__ = ["FOLDED", "OPEN", "Step", "WidthCurve", "WidthPlan", "curve_of", "plan_widths"]

OPEN, FOLDED = Spread.OPEN, Spread.LENGTHWISE_FOLD


@dataclass(frozen=True, slots=True, eq=False)
class WidthPlan:
    """What has to be laid.

    Attributes
    ----------
    project : Project
    cloth : Cloth
        As the file has it.
    widths_mm : tuple of float
        From narrow to wide.
    jobs : Mapping of Spread to tuple of LayJob or None
        For each way to lie one job a width; None where a piece is too wide.
    """

    project: Project
    cloth: Cloth
    widths_mm: tuple[float, ...]
    jobs: Mapping[Spread, tuple[LayJob | None, ...]]

    @property
    def all_jobs(self) -> tuple[LayJob, ...]:
        """All of them."""
        return tuple(job for jobs in self.jobs.values() for job in jobs if job is not None)


@dataclass(frozen=True, slots=True)
class Step:
    """Where the amount falls: at `width_mm` it is `to_buy_mm`, at `before_mm` it is still more."""

    before_mm: float
    width_mm: float
    to_buy_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class WidthCurve:
    """Amounts by width.

    Attributes
    ----------
    project : Project
    cloth : Cloth
        As the file has it.
    widths_mm : tuple of float
    to_buy_mm : Mapping of Spread to tuple of float or None
        None where the cloth is too narrow, or that lay was not worked out.
    early : bool
        Whether some lays are missing or were ended early.
    """

    project: Project
    cloth: Cloth
    widths_mm: tuple[float, ...]
    to_buy_mm: Mapping[Spread, tuple[float | None, ...]]
    early: bool = False

    @property
    def steps(self) -> tuple[Step, ...]:
        """Where the least amount falls, which is that of the open cloth."""
        least = self.to_buy_mm[OPEN]
        return tuple(
            Step(self.widths_mm[k], self.widths_mm[k + 1], after)
            for k, (before, after) in enumerate(pairwise(least))
            if before is not None and after is not None and after < before
        )

    @property
    def fold_pays_mm(self) -> float | None:
        """From which width on the fold takes no more than the open cloth; None where that is never so."""
        if FOLDED not in self.to_buy_mm:
            return None
        pays = None
        for width, opened, folded in zip(
            self.widths_mm, self.to_buy_mm[OPEN], self.to_buy_mm[FOLDED], strict=True
        ):
            if opened is None:
                continue
            if folded is None or folded > opened:
                pays = None
            elif pays is None:
                pays = width
        return pays


def plan_widths(
    project: Project,
    cloth_key: str,
    widths_mm: Sequence[float],
    *,
    effort: Effort | None = None,
    seed: int = 0,
) -> WidthPlan:
    """What has to be laid: each width in one layer and, where it is no tube, on a lengthwise fold.

    Raises
    ------
    BadInput
        When there is no such cloth, nothing is cut from it, or it is too narrow at every width.
    """
    where = project.source or project.title
    if cloth_key not in project.cloths or not project.pieces_in(cloth_key):
        known = ", ".join(key for key in project.cloths if project.pieces_in(key))
        raise BadInput.of(
            where, f"Nothing is cut from a cloth {quoted(cloth_key)}.", f"Choose one of: {known}."
        )
    own = replace(project.cloths[cloth_key], remnants=(), part_pairs=False)  # to be bought
    widths = tuple(sorted(set(widths_mm)))
    jobs = {
        spread: tuple(
            _job(project, replace(own, width_mm=width, spread=spread), effort, seed) for width in widths
        )
        for spread in ((OPEN,) if own.tube else (OPEN, FOLDED))
    }
    plan = WidthPlan(project, own, widths, jobs)
    if not plan.all_jobs:
        widest = format_length(widths[-1], project.unit)
        raise BadInput.of(
            where, f"No width up to {widest} takes every piece of '{cloth_key}'.", "Ask for wider cloth."
        )
    return plan


def curve_of(plan: WidthPlan, found: Mapping[str, ClothFigures]) -> WidthCurve:
    """Amounts by width, from the figures by key of the job."""
    amounts: dict[Spread, tuple[float | None, ...]] = {}
    for spread, jobs in plan.jobs.items():
        row: list[float | None] = []
        for job in jobs:
            figures = None if job is None else found.get(job.key)
            known = [one for one in (*row[-1:], figures.to_buy_mm if figures else None) if one is not None]
            row.append(min(known, default=None))
        amounts[spread] = tuple(row)
    if FOLDED in amounts:
        amounts[OPEN] = tuple(
            min((one for one in both if one is not None), default=None)
            for both in zip(amounts[OPEN], amounts[FOLDED], strict=True)
        )
    early = any(job.key not in found or found[job.key].interrupted for job in plan.all_jobs)
    return WidthCurve(plan.project, plan.cloth, plan.widths_mm, amounts, early)


def _job(project: Project, cloth: Cloth, effort: Effort | None, seed: int) -> LayJob | None:
    version = replace(project, cloths={cloth.key: cloth})
    return None if fit_findings(version) else LayJob.of(version, cloth.key, effort, seed)
