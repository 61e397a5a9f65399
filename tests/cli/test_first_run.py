"""A machine's first run is told before it keeps a person waiting, in the same words by all commands."""

import signal
from pathlib import Path
from types import SimpleNamespace

import nesting.cli.crew
import pytest
from nesting.cli import progress
from nesting.cli.main import app

from nesting.estimate.many.jobs import work
from nesting.packing import jit
from nesting.packing.walks import preparing
from nesting.units import Unit
from tests.cli.running import SMALL, OneHand

ONCE = "Preparing the search. This is done once on a machine and may take a quarter of a minute."
EVERY_TIME = "Preparing the search. This may take half a minute."
LAID: list[str] = []  # who laid, in which order, since the last command
SIDE_BY_SIDE = [
    ["chart", "--width", "90", "--nap", "either way"],
    ["widths", "--from", "90", "--up-to", "90"],
]


@pytest.fixture
def compiled(monkeypatch):
    """Says what is kept of compiled code, and whether any can be."""

    def play(*, kept, keeping=True):
        monkeypatch.setattr(jit, "is_loaded", lambda kernel: False)
        monkeypatch.setattr(jit, "is_kept", lambda kernel: kernel.__name__ in kept)
        monkeypatch.setattr(jit, "kept_in", lambda kernel: Path("here") if keeping else None)

    return play


ALL = {"lay_in_order", "passes"}


def told(capsys):
    """What stands on standard error, however its lines are broken."""
    return " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize(
    ("kept", "keeping", "words"),
    [
        (set(), True, ONCE),
        ({"lay_in_order"}, True, ONCE),
        ({"passes"}, True, ONCE),  # a first run that was killed, but not the process beside it
        (ALL, True, ""),
        (set(), False, EVERY_TIME),  # "once" would contradict what `jit` has logged
    ],
)
def test_lay_tells_it_when_the_first_lay_is_long_in_coming(
    compiled, monkeypatch, capsys, kept, keeping, words
):
    compiled(kept=kept, keeping=keeping)
    monkeypatch.setattr(progress, "FIRST_LAY_SECONDS", 0.0)
    with progress.LayProgress(Unit.CM) as shown:
        shown._first_run_notice.join()
    assert told(capsys) == words


def test_lay_tells_nothing_when_the_first_lay_comes_soon(compiled, monkeypatch, capsys):
    compiled(kept=set())
    monkeypatch.setattr(progress, "FIRST_LAY_SECONDS", 3600.0)
    cloth = SimpleNamespace(key="main", name="canvas")
    with progress.LayProgress(Unit.CM) as shown:
        shown.tell(SimpleNamespace(lay=SimpleNamespace(cloth=cloth, spread="open", length_mm=1000.0)))
        shown._first_run_notice.join()
    assert "canvas" in (words := told(capsys))
    assert "Preparing" not in words


@pytest.mark.parametrize(
    "command",
    [["lay", "tote.toml"], ["compare", "tote.toml", "--width", "90"], ["shopping", "tote.toml"]],
    ids=lambda typed: typed[0],
)
def test_every_command_that_lays_asks_for_the_search_to_be_compiled_beside_its_first_lay(
    monkeypatch, tmp_path, command
):
    (tmp_path / "tote.toml").write_text(SMALL, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    asked = []
    monkeypatch.setattr(preparing, "_begin", lambda: asked.append("asked"))
    app([*command, "--seconds", "0.1"], standalone_mode=False)
    assert asked == ["asked"]


class Watched(OneHand):
    """One that writes down what it does."""

    def __init__(self, asked):
        LAID.clear()

    def submit(self, job):
        LAID.append("worker")
        return super().submit(job)


@pytest.fixture
def typed(monkeypatch, tmp_path, capsys):
    """Runs a command in this process, its workers being one; what was told, and who laid in which order."""
    (tmp_path / "tote.toml").write_text(SMALL, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(nesting.cli.crew, "ProcessCrew", Watched)
    monkeypatch.setattr(nesting.cli.crew, "SchedulerCrew", Watched)

    def work_here(job):
        LAID.append(f"here, {job.effort.evaluations_per_placement} evaluations")
        return work(job)

    monkeypatch.setattr(nesting.cli.crew, "work", work_here)

    def run(command, *options):
        app([command[0], "tote.toml", *command[1:], "--seconds", "0.1", *options], standalone_mode=False)
        return told(capsys), LAID

    return run


@pytest.mark.parametrize("command", SIDE_BY_SIDE, ids=lambda command: command[0])
def test_chart_and_widths_tell_it_and_compile_once_before_their_workers_start(
    compiled, typed, monkeypatch, command
):
    compiled(kept=set())
    monkeypatch.setattr(preparing, "_begin", lambda: LAID.append("begun"))
    monkeypatch.setattr(preparing, "wait", lambda enough: LAID.append("waited"))
    words, laid = typed(command)
    assert words.startswith(ONCE)
    assert words.count("Preparing") == 1
    assert laid[:4] == ["begun", "here, 0 evaluations", "waited", "worker"]
    assert set(laid[4:]) <= {"worker"}


@pytest.mark.parametrize("command", SIDE_BY_SIDE, ids=lambda command: command[0])
def test_where_nothing_is_kept_each_worker_compiles_for_itself_and_that_is_told(compiled, typed, command):
    compiled(kept=set(), keeping=False)
    words, laid = typed(command)
    assert words.startswith(EVERY_TIME)
    assert set(laid) == {"worker"}


@pytest.mark.parametrize("command", SIDE_BY_SIDE, ids=lambda command: command[0])
def test_nothing_is_told_when_all_is_compiled_or_others_lay(compiled, typed, command):
    compiled(kept=ALL)
    words, laid = typed(command)
    assert "Preparing" not in words
    assert set(laid) == {"worker"}
    compiled(kept=set())
    words, laid = typed(command, "--afresh", "--scheduler", "tcp://127.0.0.1:9")
    assert "Preparing" not in words
    assert set(laid) == {"worker"}


def test_ctrl_c_ends_the_waiting(compiled, typed, monkeypatch):
    def wait(enough):
        assert not enough()
        signal.raise_signal(signal.SIGINT)
        assert enough()

    compiled(kept=set())
    monkeypatch.setattr(preparing, "wait", wait)
    words, _ = typed(SIDE_BY_SIDE[0])
    assert words.startswith(f"{ONCE} Enough: what is worked out is kept")
