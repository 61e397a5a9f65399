"""The requirements chart: how much of every cloth, for each size, width and nap.

Terms
-----
with nap, without nap
    As on the back of a pattern envelope: all tops one way, or pieces laid either way up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nesting.cloth.buying import INCH_STEP_MM, METRIC_STEP_MM, asked_for_mm
from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.fit.fitting import fit_findings
from nesting.cutting.search.laying import Effort
from nesting.errors import BadInput
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.jobs import LayJob
from nesting.lettering import quoted
from nesting.pattern.piece import Turn
from nesting.project import PLAIN, Project
from nesting.units import MM_PER_INCH, Unit

__all__ = [
    "INCH_WIDTHS_MM",
    "METRIC_WIDTHS_MM",
    "Chart",
    "ChartCell",
    "ChartPlan",
    "ChartRow",
    "filled",
    "plan_chart",
    "steps_mm",
]

METRIC_WIDTHS_MM = (900.0, 1150.0, 1400.0, 1500.0)
INCH_WIDTHS_MM = tuple(MM_PER_INCH * inches for inches in (36, 45, 54, 60))
"""Widths that shops have (common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class _PlannedRow:
    version: str
    cloth: Cloth
    jobs: tuple[LayJob | None, ...]


@dataclass(frozen=True, slots=True, eq=False)
class ChartPlan:
    """What has to be laid for a chart.

    Attributes
    ----------
    project : Project
    sizes : tuple of str
        Empty text where the project has one size without a name.
    rows : tuple
        Each with a job a size; None where the cloth is too narrow.
    """

    project: Project
    sizes: tuple[str, ...]
    rows: tuple[_PlannedRow, ...]

    @property
    def jobs(self) -> tuple[LayJob, ...]:
        """All of them; some may be alike."""
        return tuple(job for row in self.rows for job in row.jobs if job is not None)


@dataclass(frozen=True, slots=True)
class ChartCell:
    """One amount.

    Attributes
    ----------
    metres_mm, yards_mm : float or None
        Millimetres, rounded up to a step of each system; None where there is no lay.
    fits : bool
        Whether the cloth is wide enough.
    early : bool
        Whether the search was ended before its time.
    borrowed : bool
        Whether it is the lay of a narrower width, or of cloth with nap, which fits here too and was found to
        be shorter.
    """

    metres_mm: float | None
    yards_mm: float | None
    fits: bool = True
    early: bool = False
    borrowed: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class ChartRow:
    """One width of one cloth, with or without nap, a cell for each size."""

    version: str
    cloth: Cloth
    cells: tuple[ChartCell, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Chart:
    """The filled chart.

    Attributes
    ----------
    project : Project
    sizes : tuple of str
    cloths : Mapping of str to tuple of ChartRow
        By key of the cloth.
    """

    project: Project
    sizes: tuple[str, ...]
    cloths: Mapping[str, tuple[ChartRow, ...]]

    @property
    def cells(self) -> tuple[ChartCell, ...]:
        """All of them."""
        return tuple(cell for rows in self.cloths.values() for row in rows for cell in row.cells)

    @property
    def missing(self) -> int:
        """How many amounts are not worked out yet."""
        return sum(cell.fits and cell.metres_mm is None for cell in self.cells)


def plan_chart(
    project: Project,
    *,
    widths_mm: Sequence[float] = (),
    naps: Sequence[Nap] = (),
    cloths: Sequence[str] = (),
    sizes: Sequence[str] = (),
    alternatives: Sequence[str] = (),
    effort: Effort | None = None,
    seed: int = 0,
) -> ChartPlan:
    """What has to be laid.

    Parameters
    ----------
    project : Project
    widths_mm : sequence of float, optional
        If none are given, the widths that shops have and the cloth's own; of a tube its own alone.
    naps : sequence of Nap, optional
        If none are given, with and without; cloth that may be turned any way has none.
    cloths, sizes, alternatives : sequence of str, optional
        Keys and names; all cloths, all sizes and the plain version unless some are given. Alternatives come
        after the plain version.
    effort : Effort, optional
    seed : int

    Raises
    ------
    BadInput
        For a name that the project does not have.
    """
    every = _in_order(project.sizes or (project,))
    chosen = [one for one in every if not sizes or one.size in sizes]
    _require(project, "size", sizes, [one.size for one in every])
    _require(project, "cloth", cloths, list(project.cloths))
    _require(project, "alternative", alternatives, [one.version for one in project.alternatives])
    rows = []
    for key, own in project.cloths.items():
        if cloths and key not in cloths:
            continue
        for name in (PLAIN, *alternatives):
            versions = [_version(one, name) for one in chosen]
            if not any(one.pieces_in(key) for one in versions):
                continue
            for width_mm in widths_mm or _usual_widths(own, project.unit):
                for nap in _naps(own, naps):
                    cloth = replace(
                        versions[0].cloths[key], width_mm=width_mm, nap=nap, remnants=(), part_pairs=False
                    )
                    jobs = tuple(_job(one, cloth, effort, seed) for one in versions)
                    rows.append(_PlannedRow(name, cloth, jobs))
    return ChartPlan(project, tuple(one.size for one in chosen), tuple(rows))


def filled(plan: ChartPlan, found: Mapping[str, ClothFigures]) -> Chart:
    """The chart, as far as its jobs are done.

    Parameters
    ----------
    plan : ChartPlan
    found : Mapping of str to ClothFigures
        By key of the job.
    """
    cloths: dict[str, tuple[ChartRow, ...]] = {}
    for row in plan.rows:
        cells = tuple(
            _cell(row.jobs[k], [one.jobs[k] for one in plan.rows if _holds_on(one, row)], found, plan, row)
            for k in range(len(plan.sizes))
        )
        made = ChartRow(row.version, row.cloth, cells)
        cloths[row.cloth.key] = (*cloths.get(row.cloth.key, ()), made)
    return Chart(plan.project, plan.sizes, cloths)


def steps_mm(cloth: Cloth, unit: Unit) -> tuple[float, float]:
    """Steps for metres and for yards: the cloth's own in the person's system, the usual one in the other."""
    return (METRIC_STEP_MM, cloth.step_mm) if unit is Unit.IN else (cloth.step_mm, INCH_STEP_MM)


def _require(project: Project, kind: str, asked: Sequence[str], known: Sequence[str]) -> None:
    for name in asked:
        if name not in known:
            listed = ", ".join(f"'{one}'" for one in known if one) or "none"
            raise BadInput.of(
                where=project.source or project.title,
                what=f"There is no {kind} called {quoted(name)}.",
                remedy=f"It has: {listed}.",
            )


def _in_order(sizes: Sequence[Project]) -> list[Project]:
    """Sizes that are numbers from small to large, others in the order of the file."""
    if all(one.size.isdecimal() for one in sizes):
        return sorted(sizes, key=lambda one: int(one.size))
    return list(sizes)


def _version(project: Project, name: str) -> Project:
    if name == PLAIN:
        return project
    return next(one for one in project.alternatives if one.version == name)


def _usual_widths(cloth: Cloth, unit: Unit) -> tuple[float, ...]:
    if cloth.tube:
        return (cloth.width_mm,)
    usual = INCH_WIDTHS_MM if unit is Unit.IN else METRIC_WIDTHS_MM
    return tuple(sorted({*usual, cloth.width_mm}))


def _naps(cloth: Cloth, asked: Sequence[Nap]) -> tuple[Nap, ...]:
    if replace(cloth, nap=Nap.EITHER_WAY).one_way:  # by its repeat
        return (Nap.ONE_WAY,)
    if cloth.turn is Turn.ANY:
        return (Nap.EITHER_WAY,)
    return tuple(nap for nap in Nap if nap in (asked or (Nap.EITHER_WAY, Nap.ONE_WAY)))


def _job(version: Project, cloth: Cloth, effort: Effort | None, seed: int) -> LayJob | None:
    """The job, or None where a piece is too wide for the cloth."""
    project = replace(version, cloths={cloth.key: cloth})
    if not version.pieces_in(cloth.key) or fit_findings(project):
        return None
    return LayJob.of(project, cloth.key, effort, seed)


def _holds_on(one: _PlannedRow, other: _PlannedRow) -> bool:
    """Whether a lay of one row is sound on the cloth of the other: no narrower, and no more one way.

    Said only of the plainest ways to lie: a lay from the near side up is the same on wider cloth.
    """
    mine, theirs = one.cloth, other.cloth
    return one is other or (
        (one.version, mine.key) == (other.version, theirs.key)
        and mine.width_mm <= theirs.width_mm
        and (mine.nap is Nap.ONE_WAY or theirs.nap in (mine.nap, Nap.EITHER_WAY))
        and (theirs.spread is Spread.BEST or theirs.spread.facts.plain)
        and not theirs.tube
        and theirs.repeat is None
    )


def _cell(
    job: LayJob | None,
    lenders: Sequence[LayJob | None],
    found: Mapping[str, ClothFigures],
    plan: ChartPlan,
    row: _PlannedRow,
) -> ChartCell:
    if job is None:
        return ChartCell(None, None, fits=False)
    own = found.get(job.key)
    if own is None:
        return ChartCell(None, None)
    lent = [found[one.key] for one in lenders if one is not None and one.key in found]
    metres, yards = (
        (
            asked_for_mm(own.unwashed_mm, row.cloth, step),
            min(asked_for_mm(one.unwashed_mm, row.cloth, step) for one in lent),
        )
        for step in steps_mm(row.cloth, plan.project.unit)
    )
    return ChartCell(
        min(metres),
        min(yards),
        early=own.interrupted,
        borrowed=min(metres) < metres[0] or min(yards) < yards[0],
    )
