"""A machine's first run, played in a process of its own with an empty place for compiled code."""

import gc
import os
import shutil
import subprocess
import sys

import numba
import numpy as np
import pytest

from nesting.packing import Evaluations, Item, StripProblem, Variant, pack
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import blank_tables
from nesting.packing.walks import preparing

HOOK = np.array([[0.0, 0.0], [12.0, 0.0], [12.0, 4.0], [4.0, 4.0], [4.0, 9.0], [0.0, 9.0]])
FIRST_RUN = """
import numpy as np
from nesting.packing import Evaluations, Item, StripProblem
from nesting.packing.search import pack
from nesting.packing.walks import preparing

triangle = np.array([[0.0, 0.0], [3.0, 0.0], [0.0, 2.0]])
problem = StripProblem(4.0, (Item("triangle", triangle, 5),))
with preparing.beside_the_first_lay():
    found = pack(problem, stop=Evaluations(20_000), seed=1)
print(repr(found.length_mm), preparing._second.returncode)
"""


def run(code, cache):
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        env={**os.environ, "NUMBA_CACHE_DIR": str(cache)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    """A first run and the place where it kept its compiled code."""
    cache = tmp_path_factory.mktemp("kept")
    return run(FIRST_RUN, cache), cache


@pytest.mark.heavy
def test_the_first_run_has_the_search_compiled_beside_it_and_finds_the_same_lay(first):
    done, cache = first
    assert done.returncode == 0, done.stderr
    length, ended = done.stdout.split()
    assert ended == "0"
    assert list(cache.rglob("separate.passes.*.code"))
    later = run(FIRST_RUN.replace("preparing._second.returncode", "preparing._second"), cache)
    assert later.stdout.split() == [length, "None"]  # nothing left to prepare


@pytest.mark.heavy
def test_a_run_that_ends_before_the_compiling_does_leaves_nothing_running_and_says_nothing(first, tmp_path):
    shutil.copytree(first[1], tmp_path, dirs_exist_ok=True)
    for file in tmp_path.rglob("separate.*"):
        file.unlink()
    cut_short = FIRST_RUN.replace("20_000", "0").replace("returncode", "poll()")
    done = run(cut_short, tmp_path)
    assert done.returncode == 0
    assert done.stdout.split()[1] == "None"  # still compiling then
    assert done.stderr == ""
    assert not list(tmp_path.rglob("separate.passes.*.code"))  # it did not go on to its end


class StillCompiling:
    """A second process that has not ended, and need not be ended."""

    def poll(self):
        return None

    def kill(self):
        pass

    def wait(self):
        pass


@pytest.fixture
def first_on_the_machine(monkeypatch, tmp_path):
    """Nothing of the search is compiled, as far as one can see; the second processes that were started."""
    started = []

    def popen(command, **options):
        started.append(command)
        return StillCompiling()

    monkeypatch.setattr(preparing, "_second", None)
    monkeypatch.setattr(preparing, "is_loaded", lambda kernel: False)
    monkeypatch.setattr(preparing, "is_kept", lambda kernel: False)
    monkeypatch.setattr(preparing, "kept_in", lambda kernel: tmp_path)
    monkeypatch.setattr(preparing.subprocess, "Popen", popen)
    assert gc.isenabled()
    return started


def looked_for_rubbish_while_packing():
    """Whether Python did at the first lay, and at those that the search found."""
    seen = []
    pack(
        StripProblem(20.0, (Item("hook", HOOK, 7, (Variant(0), Variant(180))),)),
        stop=Evaluations(50_000),
        on_progress=lambda progress, best: seen.append(gc.isenabled()),
    )
    assert len(seen) > 1
    return seen


def test_packing_starts_no_process_and_stops_no_looking_for_rubbish_by_itself(first_on_the_machine):
    assert all(looked_for_rubbish_while_packing())
    assert first_on_the_machine == []


def test_who_asks_has_both_until_the_search_begins(first_on_the_machine, monkeypatch):
    monkeypatch.setattr(StillCompiling, "poll", lambda self: 0 if waits else None)
    waits = []
    monkeypatch.setattr(preparing.time, "sleep", waits.append)
    with preparing.beside_the_first_lay():
        first, *later = looked_for_rubbish_while_packing()
    assert not first
    assert all(later)
    assert len(first_on_the_machine) == len(waits) == 1
    with preparing.beside_the_first_lay():  # another lay of the same process
        assert all(looked_for_rubbish_while_packing())
    assert len(first_on_the_machine) == 1


def test_rubbish_is_looked_for_again_when_all_is_broken_off(first_on_the_machine):
    def interrupted():
        with preparing.beside_the_first_lay():
            assert not gc.isenabled()
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert gc.isenabled()


def test_who_has_switched_looking_for_rubbish_off_finds_it_so_afterwards(first_on_the_machine):
    gc.disable()
    try:
        with preparing.beside_the_first_lay():
            preparing.wait(lambda: True)
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_nothing_is_started_or_stopped_where_all_is_compiled(first_on_the_machine, monkeypatch):
    monkeypatch.setattr(preparing, "is_kept", lambda kernel: True)
    with preparing.beside_the_first_lay():
        assert gc.isenabled()
    assert first_on_the_machine == []


def test_waiting_ends_when_the_search_may_end(monkeypatch):
    monkeypatch.setattr(preparing, "_second", StillCompiling())
    asked = []

    def enough():
        asked.append(True)
        return len(asked) == 3

    preparing.wait(enough)
    assert len(asked) == 3


def test_the_search_is_compiled_for_the_very_types_that_a_problem_has():
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    built = build(StripProblem(2.5, (Item("square", square, 2),))).tables
    assert numba.typeof(blank_tables()) == numba.typeof(built)
