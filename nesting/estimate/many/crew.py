"""Who lays jobs side by side: processes of this machine, or the workers of a running Dask scheduler.

Both are `concurrent.futures` executors behind one small face. A job runs in a single thread and does not
depend on the clock, so the figures are the same to the last digit whoever lays it.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import socket
import threading
from collections import deque
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from types import TracebackType
from typing import TYPE_CHECKING, Protocol
from uuid import uuid4

from nesting.cutting.search.laying import LayEvent
from nesting.errors import EllwandError
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.jobs import LayJob, work
from nesting.packing.result import Progress, StopReason

if TYPE_CHECKING:
    from multiprocessing.queues import SimpleQueue
    from multiprocessing.synchronize import Event

__all__ = ["Crew", "ProcessCrew", "SchedulerCrew", "cores"]

Better = tuple[str, float]
"""Key of a job, and the length of its best verified lay so far."""

CONNECT_SECONDS = 10
USUAL_PORT = 8786
"""Where a Dask scheduler listens, if it is not told otherwise."""


class Crew(Protocol):
    """Lays jobs side by side; used in a ``with`` statement."""

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """What a job raises when its worker is gone or cannot work."""
        ...

    def __enter__(self) -> Crew:
        """Make ready."""
        ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Send everyone home."""
        ...

    def submit(self, job: LayJob) -> Future[ClothFigures]:
        """Have a job done."""
        ...

    def better(self) -> Iterator[Better]:
        """Better lays that were told since the last call."""
        ...

    def stop(self) -> bool:
        """End the jobs that are being done early; whether their best lays so far will come."""
        ...


def cores() -> int:
    """How many jobs this machine can do at once."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class ProcessCrew:
    """Processes of this machine.

    Parameters
    ----------
    workers : int
        At least 1.
    """

    lost: tuple[type[BaseException], ...] = (BrokenExecutor,)

    def __init__(self, workers: int) -> None:
        # Fresh processes, not copies of this one: copies of a process that has threads may hang.
        context = multiprocessing.get_context("spawn")
        self._told: SimpleQueue[Better] = context.SimpleQueue()
        self._enough = context.Event()
        self._pool = ProcessPoolExecutor(
            workers, mp_context=context, initializer=_begin, initargs=(_Line(self._told, self._enough),)
        )

    def __enter__(self) -> ProcessCrew:
        """Nothing to be done: each process starts with its first job."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the processes; what they are doing is ended early."""
        self._enough.set()
        self._pool.shutdown(cancel_futures=True)
        self._told.close()

    def submit(self, job: LayJob) -> Future[ClothFigures]:
        """Have a job done."""
        with _ctrl_c_held():
            return self._pool.submit(_work_here, job)

    def better(self) -> Iterator[Better]:
        """Better lays told since the last call."""
        while not self._told.empty():
            yield self._told.get()

    def stop(self) -> bool:
        """End the jobs early; their best lays so far will come."""
        self._enough.set()
        return True


class SchedulerCrew:
    """The workers of a running Dask scheduler.

    Parameters
    ----------
    address : str
        Where it listens: ``tcp://127.0.0.1:8786``.

    Raises
    ------
    EllwandError
        When the extra is not installed, nothing answers there, or it has no workers.
    """

    def __init__(self, address: str) -> None:
        try:
            from distributed import Client
            from distributed.client import FutureCancelledError
            from distributed.comm import parse_host_port
            from distributed.comm.addressing import parse_address
            from distributed.comm.core import CommClosedError
            from distributed.comm.registry import get_backend
            from distributed.scheduler import KilledWorker
        except ImportError:
            raise EllwandError(
                "A scheduler is asked for, but Dask is not installed. Install it with: "
                "pip install 'ellwand[distributed]', or leave --scheduler out."
            ) from None
        self.lost: tuple[type[BaseException], ...] = (
            KilledWorker,
            CommClosedError,
            FutureCancelledError,
            ImportError,
        )
        try:  # before it is tried, for that takes its time and ends with words of Dask's own
            scheme, place = parse_address(address)
            get_backend(scheme)
            if scheme != "inproc":
                host, port = parse_host_port(place, USUAL_PORT)
                socket.getaddrinfo(host or "", port)
        except (ValueError, OSError) as error:
            why = getattr(error, "strerror", None) or error
            raise EllwandError(
                f"{address} is no address of a scheduler ({why}). Write it as the scheduler tells it when it "
                "starts, for example: --scheduler tcp://127.0.0.1:8786"
            ) from None
        try:
            self._client = Client(address, timeout=CONNECT_SECONDS, set_as_default=False)
        except (OSError, ValueError) as error:
            raise EllwandError(
                f"No scheduler answers at {address} ({error}). Start one with: dask scheduler"
            ) from None
        if not self._client.scheduler_info()["workers"]:
            self._client.close()
            raise EllwandError(
                f"The scheduler at {address} has no workers. Start some: dask worker {address}"
            )
        self._pool = self._client.get_executor(pure=False)
        self._topic = f"ellwand-{uuid4().hex}"
        self._told: deque[Better] = deque()
        self._client.subscribe_topic(self._topic, self._hear)

    def __enter__(self) -> SchedulerCrew:
        """Connected already."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Take back what is not done, and leave the scheduler to itself."""
        self._pool.shutdown(wait=False)
        self._client.close()

    def submit(self, job: LayJob) -> Future[ClothFigures]:
        """Have a job done."""
        future: Future[ClothFigures] = self._pool.submit(_work_elsewhere, job, job.key, self._topic)
        return future

    def better(self) -> Iterator[Better]:
        """Better lays told since the last call."""
        while self._told:
            yield self._told.popleft()

    def stop(self) -> bool:
        """Nothing: a job that a worker has begun it also ends, and its figures are not waited for."""
        return False

    def _hear(self, event: tuple[float, Better]) -> None:
        """What a worker tells, with the scheduler's time; called in a thread of the client's own."""
        key, length_mm = event[1]
        self._told.append((key, length_mm))


@contextmanager
def _ctrl_c_held() -> Iterator[None]:
    """Hold Ctrl-C back while a process is started, which inherits that; here it comes a moment late."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


@dataclass(frozen=True)
class _Line:
    """How a process talks with the one that started it; also the rule that stops its searches."""

    told: SimpleQueue[Better]
    enough: Event
    reason = StopReason.INTERRUPTED

    def __call__(self, progress: Progress) -> bool:
        return self.enough.is_set()


# One for the whole process, since an initializer can hand its jobs nothing else.
_line: _Line | None = None


def _begin(line: _Line) -> None:
    """Make a process ready; Ctrl-C, which a terminal sends to all, is left to the one that started it."""
    global _line
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_the_first, name="end with the first", daemon=True).start()
    _line = line


def _end_with_the_first() -> None:
    """End this process as soon as the one that started it has ended, however that was.

    Waiting for its next job it would wait for ever: it holds the queue's other end too, so that never closes.
    """
    first = multiprocessing.parent_process()
    if first is not None:
        first.join()
        os._exit(1)


def _work_here(job: LayJob) -> ClothFigures:
    line = _line
    if line is None:
        return work(job)

    def tell(event: LayEvent) -> None:
        line.told.put((job.key, event.lay.length_mm))

    return work(job, on_lay=tell, until=line)


def _work_elsewhere(job: LayJob, key: str, topic: str) -> ClothFigures:
    if replace(job).key != key:  # the copy's is worked out anew, by the program that is here
        raise EllwandError(
            "A worker of the scheduler runs another version of the program or of its libraries, so its lays "
            "could differ. Install the same there as here."
        )
    from distributed import get_worker

    worker = get_worker()

    def tell(event: LayEvent) -> None:
        worker.log_event(topic, (key, event.lay.length_mm))

    return work(job, on_lay=tell)
