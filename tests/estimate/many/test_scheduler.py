"""A running Dask scheduler in place of processes of our own: the same figures."""

import builtins

import pytest
from distributed import LocalCluster

from nesting.cutting.search.laying import Effort
from nesting.errors import EllwandError
from nesting.estimate.many import crew as crews
from nesting.estimate.many.crew import SchedulerCrew
from nesting.estimate.many.jobs import LayJob, NothingKept, work
from nesting.estimate.many.side_by_side import Watcher, lay_side_by_side

LITTLE = Effort(evaluations_per_placement=1_000)


@pytest.fixture
def address():
    options = {"dashboard_address": None, "worker_dashboard_address": None, "silence_logs": 50}
    with LocalCluster(n_workers=1, threads_per_worker=2, processes=False, **options) as cluster:
        yield cluster.scheduler_address


def test_the_scheduler_gives_what_this_process_gives(address, jacket_like):
    jobs = [LayJob.of(jacket_like, "main", LITTLE, seed) for seed in (0, 1)]
    told = []
    with SchedulerCrew(address) as crew:
        watcher = Watcher(better=lambda job, length_mm: told.append((job.key, length_mm)))
        found = lay_side_by_side(jobs, crew, NothingKept(), watcher)
    assert found == {job.key: work(job) for job in jobs}
    assert {key for key, _ in told} == set(found)
    assert all(length_mm >= found[key].length_mm for key, length_mm in told)


def test_a_worker_with_another_program_is_refused(jacket_like, monkeypatch):
    job = LayJob.of(jacket_like, "main", LITTLE)
    key = job.key
    monkeypatch.setattr("nesting.estimate.many.jobs.program_mark", lambda: "another")
    with pytest.raises(EllwandError, match="another version of the program"):
        crews._work_elsewhere(job, key, "topic")


def test_nobody_answers(monkeypatch):
    monkeypatch.setattr(crews, "CONNECT_SECONDS", 0.2)
    with pytest.raises(EllwandError, match=r"No scheduler answers at tcp://127\.0\.0\.1:9"):
        SchedulerCrew("tcp://127.0.0.1:9")


def test_without_the_extra_it_is_said_how_to_get_it(monkeypatch):
    plain_import = builtins.__import__

    def without_dask(name, *rest, **more):
        if name.startswith("distributed"):
            raise ImportError(name)
        return plain_import(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", without_dask)
    with pytest.raises(EllwandError, match=r"pip install 'ellwand\[distributed\]'"):
        SchedulerCrew("tcp://127.0.0.1:8786")


@pytest.mark.parametrize("address", ["foo://x", "tcp://", "tcp://127.0.0.1:eight", "tcp://[", "a b"])
def test_what_is_no_address_is_told_at_once_and_nobody_is_called(address, monkeypatch):
    """To try took 20 s, and Dask ended it with a traceback."""
    distributed = pytest.importorskip("distributed")
    monkeypatch.setattr(distributed, "Client", None)
    with pytest.raises(EllwandError, match=r"is no address of a scheduler \(.+\)\. Write it as"):
        SchedulerCrew(address)
