"""Many jobs at once: what is done is kept at once, and nothing that breaks loses it."""

from concurrent.futures import BrokenExecutor, Future

import pytest

from nesting.cutting.search.laying import Effort
from nesting.errors import EllwandError
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.jobs import LayJob
from nesting.estimate.many.side_by_side import Watcher, lay_side_by_side, still_to_do
from nesting.packing.result import StopReason
from tests.conftest import box, make_piece, make_project, pairs


class Shelf(dict):
    """A store in memory."""

    put = dict.__setitem__


class SlowHands:
    """A crew that does a job only when it is told to; the others wait."""

    lost = (BrokenExecutor,)

    def __init__(self, *, will_come=True):
        self.futures, self.will_come, self.stopped = {}, will_come, False

    def submit(self, job):
        self.futures[job.key] = Future()
        return self.futures[job.key]

    def better(self):
        return iter(())

    def stop(self):
        self.stopped = True
        if self.will_come:
            for future in self.futures.values():
                if future.running():
                    future.set_result(figures(StopReason.INTERRUPTED))
        return self.will_come


def figures(stopped=StopReason.TIME):
    return ClothFigures(1.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 2, (), stopped, rounds=1)


@pytest.fixture
def jobs():
    return [
        LayJob.of(make_project(make_piece("side", box(100 + n, 200), pairs(n))), "main", Effort())
        for n in (1, 2, 3)
    ]


def test_what_is_kept_is_not_asked_for_again_and_the_most_work_comes_first(jobs):
    shelf = Shelf({jobs[1].key: figures()})
    found, left = still_to_do(jobs, shelf)
    assert list(found) == [jobs[1].key]
    assert left == [jobs[2], jobs[0]]


@pytest.mark.parametrize("will_come", [True, False])
def test_ctrl_c_keeps_what_is_done_and_a_later_run_goes_on(jobs, will_come):
    crew, shelf = SlowHands(will_come=will_come), Shelf()

    def enough():
        first, second, _ = crew.futures.values()
        if not first.done():
            first.set_result(figures())
            second.set_running_or_notify_cancel()
            return False
        return True

    found = lay_side_by_side(jobs, crew, shelf, Watcher(enough=enough))
    assert crew.stopped
    assert list(shelf) == [jobs[0].key]  # the interrupted one is shown, but not kept
    assert list(found) == [job.key for job in jobs[: 2 if will_come else 1]]
    assert still_to_do(jobs, shelf)[1] == [jobs[2], jobs[1]]


def test_a_worker_that_is_lost_is_told_and_what_was_done_is_kept(jobs):
    crew, shelf = SlowHands(), Shelf()

    def enough():
        first, second, _ = crew.futures.values()
        if not first.done():
            first.set_result(figures())
        elif shelf:
            second.set_exception(BrokenExecutor("killed"))
        return False

    with pytest.raises(EllwandError, match=r"A worker was lost .*run the same again"):
        lay_side_by_side(jobs, crew, shelf, Watcher(enough=enough))
    assert list(shelf) == [jobs[0].key]
