"""Has many jobs done side by side; what is done is kept at once, so that no interruption loses it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from dataclasses import dataclass

from nesting.errors import EllwandError
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.crew import Crew
from nesting.estimate.many.jobs import LayJob, Store

__all__ = ["Watcher", "lay_side_by_side", "still_to_do"]

LOOK_EVERY_S = 0.1


@dataclass(frozen=True)
class Watcher:
    """Who looks on.

    Attributes
    ----------
    better : callable
        Told the job and the length of each better lay.
    done : callable
        Told each job with its figures, as they come.
    enough : callable
        Asked again and again whether to stop.
    """

    better: Callable[[LayJob, float], None] = lambda job, length_mm: None
    done: Callable[[LayJob, ClothFigures], None] = lambda job, figures: None
    enough: Callable[[], bool] = lambda: False


def still_to_do(jobs: Iterable[LayJob], store: Store) -> tuple[dict[str, ClothFigures], list[LayJob]]:
    """What is kept already, by key, and what is not, each once, the most work first."""
    found: dict[str, ClothFigures] = {}
    left: dict[str, LayJob] = {}
    for job in jobs:
        if job.key in found or job.key in left:
            continue
        kept = store.get(job.key)
        if kept is None:
            left[job.key] = job
        else:
            found[job.key] = kept
    # The long ones first, so that at the end no one waits long for the last.
    return found, sorted(left.values(), key=lambda job: -job.placements)


def lay_side_by_side(
    jobs: Iterable[LayJob], crew: Crew, store: Store, watcher: Watcher
) -> dict[str, ClothFigures]:
    """Lay jobs that are not alike.

    Parameters
    ----------
    jobs : iterable of LayJob
    crew : Crew
        Entered already.
    store : Store
        Each result is kept as soon as it is there, unless its search was interrupted.
    watcher : Watcher

    Returns
    -------
    dict of str to ClothFigures
        By key of the job; after an interruption without those that were not begun.

    Raises
    ------
    EllwandError
        When a worker is lost; what was done until then is kept.
    """
    found: dict[str, ClothFigures] = {}
    left: dict[Future[ClothFigures], LayJob] = {crew.submit(job): job for job in jobs}
    by_key = {job.key: job for job in left.values()}
    stopped = False
    while left:
        ready, _ = wait(left, timeout=LOOK_EVERY_S, return_when=FIRST_COMPLETED)
        for key, length_mm in crew.better():
            watcher.better(by_key[key], length_mm)
        for future in ready:
            job = left.pop(future)
            figures = _figures(future, crew)
            if figures is None:
                continue
            found[job.key] = figures
            if not figures.interrupted:
                store.put(job.key, figures)
            watcher.done(job, figures)
        if watcher.enough() and not stopped:
            stopped = True
            will_come = crew.stop()
            left = {future: job for future, job in left.items() if not future.cancel() and will_come}
    return found


def _figures(future: Future[ClothFigures], crew: Crew) -> ClothFigures | None:
    """What came of it; None where it was taken back before it was begun."""
    try:
        return future.result()
    except CancelledError:
        return None
    except crew.lost as error:
        raise EllwandError(
            f"A worker was lost ({type(error).__name__}: {error}); perhaps the memory was not enough. All "
            "lays finished until then are kept: run the same again to go on from there."
        ) from error
