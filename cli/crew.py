"""Laying many cloths side by side, with a bar that tells how far it is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from types import TracebackType

from rich.console import Console
from rich.markup import escape
from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn, TimeRemainingColumn

from nesting.cutting.search.laying import Effort
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.crew import Crew, ProcessCrew, SchedulerCrew, cores
from nesting.estimate.many.jobs import LayJob, Store, work
from nesting.estimate.many.side_by_side import Watcher, lay_side_by_side, still_to_do
from nesting.units import Unit, format_length

from . import ctrl_c
from .progress import first_run

__all__ = ["lay_many"]


def lay_many(
    jobs: Sequence[LayJob],
    *,
    store: Store,
    workers: int | None,
    scheduler: str | None,
    name_of: Callable[[LayJob], str],
    unit: Unit,
) -> dict[str, ClothFigures]:
    """Lay what is not kept yet; after Ctrl-C with what there is until then.

    Raises
    ------
    EllwandError
        When there is no such scheduler, or a worker is lost.
    """
    found, left = still_to_do(jobs, store)
    if not left:
        return found
    crew: Crew = SchedulerCrew(scheduler) if scheduler else ProcessCrew(min(workers or cores(), len(left)))
    with crew, _Bar(left, name_of, unit) as bar:
        if found:
            bar.say(f"{len(found)} of {len(found) + len(left)} lays are kept from earlier.")
        if not scheduler:
            _prepare(left, bar)
        watcher = Watcher(bar.better, bar.done, bar.enough)
        return found | lay_side_by_side(left, crew, store, watcher)


def _prepare(jobs: Sequence[LayJob], bar: _Bar) -> None:
    """On a machine's first run have the search compiled before the workers start, or each would do it.

    The job of the least work, without search, makes this process compile what a first lay needs while another
    compiles the search. Where nothing is kept on disk that would help no worker.
    """
    from nesting.packing.jit import kept_in
    from nesting.packing.walks import preparing
    from nesting.packing.walks.separate import passes

    words = first_run()
    if words:
        bar.say(words)
        if kept_in(passes) is not None:
            with preparing.beside_the_first_lay():
                work(replace(jobs[-1], effort=Effort(evaluations_per_placement=0)))
                preparing.wait(bar.enough)


class _Bar:
    """A bar on a terminal; elsewhere a line for each cloth that is done."""

    def __init__(self, jobs: Sequence[LayJob], name_of: Callable[[LayJob], str], unit: Unit) -> None:
        self._pressed = False
        self._watched = ctrl_c.watched()
        self._name_of, self._unit = name_of, unit
        self._console = Console(stderr=True)
        self._bar = Progress(
            TextColumn("{task.completed:.0f} of {task.total:.0f} lays"),
            BarColumn(bar_width=24),
            TaskProgressColumn(),
            TimeRemainingColumn(compact=True),
            TextColumn("{task.description}"),
            console=self._console,
            disable=not self._console.is_terminal,
            speed_estimate_period=600.0,  # seconds; a single lay may take a minute
        )
        self._task = self._bar.add_task("", total=len(jobs))

    def __enter__(self) -> _Bar:
        self._watched.__enter__()
        ctrl_c.reach(ctrl_c.SIDE_BY_SIDE, self._stop)
        self._bar.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._watched.__exit__(None, None, None)
        self._bar.stop()

    def better(self, job: LayJob, length_mm: float) -> None:
        """Show the best lay so far of one that is being laid."""
        words = f"best so far: {self._name_of(job)} {format_length(length_mm, self._unit)}"
        self._bar.update(self._task, description=escape(words))

    def done(self, job: LayJob, figures: ClothFigures) -> None:
        """Go on by one."""
        self._bar.advance(self._task)
        if not self._console.is_terminal:
            self.say(f"{self._name_of(job)}: {format_length(figures.length_mm, self._unit)}")

    def say(self, words: str) -> None:
        """A line above the bar."""
        self._console.print(words, markup=False, highlight=False, soft_wrap=True)

    def enough(self) -> bool:
        """Whether Ctrl-C was pressed."""
        return self._pressed

    def _stop(self) -> None:
        self._pressed = True
