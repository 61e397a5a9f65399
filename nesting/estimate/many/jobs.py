"""One cloth to be laid, as a job: it can be sent to another process, and its result kept and found again."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType
from typing import Protocol

from nesting.cutting.search.laying import Effort, LayEvent
from nesting.estimate.estimating import lay_project
from nesting.estimate.figures import ClothFigures, ProjectFigures, figures_of, together
from nesting.estimate.many.fingerprint import fingerprint, program_mark
from nesting.packing.result import StopReason
from nesting.packing.stop import StopRule
from nesting.project import PLAIN, Project, only_cloths

__all__ = ["LayJob", "NothingKept", "Store", "jobs_of", "lay_figures", "work"]


class Store(Protocol):
    """Where results are kept by the key of their job."""

    def get(self, key: str) -> ClothFigures | None:
        """What was kept, or None."""
        ...

    def put(self, key: str, figures: ClothFigures) -> None:
        """Keep a result."""
        ...


class NothingKept:
    """A store that keeps nothing."""

    def get(self, key: str) -> ClothFigures | None:
        """None."""
        return None

    def put(self, key: str, figures: ClothFigures) -> None:
        """Forget it."""


@dataclass(frozen=True, eq=False)
class LayJob:
    """One cloth to be laid.

    Attributes
    ----------
    project : Project
        With this one cloth, and of its pieces those that are cut from it.
    effort : Effort
    seed : int
    """

    project: Project
    effort: Effort
    seed: int

    @classmethod
    def of(cls, project: Project, cloth_key: str, effort: Effort | None = None, seed: int = 0) -> LayJob:
        """The job of one cloth of a project; all that does not bear on it is left behind."""
        alone = only_cloths(project, {cloth_key})
        pieces = tuple(replace(piece, draft=None) for piece in alone.pieces)
        alone = replace(alone, pieces=pieces, alternatives=(), sizes=(), notes=(), from_waste=())
        return cls(alone, effort or Effort(), seed)

    @property
    def cloth_key(self) -> str:
        """Key of the cloth."""
        (key,) = self.project.cloths
        return key

    @cached_property
    def key(self) -> str:
        """A fingerprint of everything that the result depends on; prices are no part of it.

        Nor is the name of a cloth, unless it is in hand: then the result names its pieces.
        """
        cloth = self.project.cloths[self.cloth_key]
        cloth = replace(cloth, name=cloth.name if cloth.remnants else "", price_per_m=None)
        nameless = replace(
            self.project,
            title="",
            currency="",
            version=PLAIN,
            size="",
            source="",
            cloths={self.cloth_key: cloth},
        )
        return fingerprint(program_mark(), nameless, self.effort, self.seed)

    @property
    def placements(self) -> int:
        """About how much work it is: how many pieces of cloth are cut."""
        return sum(piece.cuts[self.cloth_key].pieces for piece in self.project.pieces)


def jobs_of(project: Project, effort: Effort | None = None, seed: int = 0) -> dict[str, LayJob]:
    """The jobs of all cloths that something is cut from, by key of the cloth."""
    return {key: LayJob.of(project, key, effort, seed) for key in project.cloths if project.pieces_in(key)}


def work(
    job: LayJob, *, on_lay: Callable[[LayEvent], None] | None = None, until: StopRule | None = None
) -> ClothFigures:
    """Lay the cloth in a single thread, so that jobs side by side do not take each other's cores.

    Raises
    ------
    CannotBeLaid
        When a piece is too wide for the cloth.
    """
    with ThreadPoolExecutor(1) as one:
        return _laid(job, one, on_lay, until)


def _laid(
    job: LayJob,
    executor: Executor | None,
    on_lay: Callable[[LayEvent], None] | None,
    until: StopRule | None,
) -> ClothFigures:
    done = lay_project(
        job.project, effort=job.effort, seed=job.seed, executor=executor, on_lay=on_lay, until=until
    )
    return together([figures_of(estimate) for estimate in done.estimates])


def lay_figures(
    project: Project,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    store: Store | None = None,
    on_lay: Callable[[LayEvent], None] | None = None,
    until: StopRule | None = None,
) -> ProjectFigures:
    """Lay every cloth of a project here, one after the other; what is kept already is taken from there.

    Parameters
    ----------
    project : Project
    effort : Effort, optional
    seed : int
    store : Store, optional
        Interrupted searches are not kept in it.
    on_lay : callable, optional
        Told of every better verified lay.
    until : StopRule, optional
        Ends every search early; the cloths still to come get their first lay only.

    Raises
    ------
    CannotBeLaid
        When a piece is too wide for its cloth.
    """
    store = NothingKept() if store is None else store
    found: dict[str, ClothFigures] = {}
    first_only = replace(effort or Effort(), evaluations_per_placement=0, seconds=None)
    enough = False
    for cloth_key, job in jobs_of(project, effort, seed).items():
        figures = store.get(job.key)
        if figures is None:
            asked = replace(job, effort=first_only) if enough else job
            figures = _laid(asked, None, on_lay, until)
            if enough:
                figures = replace(figures, stopped_because=StopReason.INTERRUPTED)  # it was hardly searched
            enough = enough or figures.interrupted
            if not enough:
                store.put(job.key, figures)
        found[cloth_key] = figures
    return ProjectFigures(project, MappingProxyType(found))
