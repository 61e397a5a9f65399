"""A machine's first run, played in a process of its own with an empty place for compiled code."""

import gc
import os
import shutil
import subprocess
import sys

import numba
import numpy as np
import pytest

from nesting.packing import Item, StripProblem
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import blank_tables
from nesting.packing.walks import preparing

FIRST_RUN = """
import numpy as np
from nesting.packing import Evaluations, Item, StripProblem
from nesting.packing.search import pack
from nesting.packing.walks import preparing

triangle = np.array([[0.0, 0.0], [3.0, 0.0], [0.0, 2.0]])
problem = StripProblem(4.0, (Item("triangle", triangle, 5),))
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
    assert list(cache.rglob("separate.passes-*.nbi"))
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
    assert not list(tmp_path.rglob("separate.passes-*.nbi"))  # it did not go on to its end


class StillCompiling:
    """A second process that has not ended."""

    def poll(self):
        return None


def test_rubbish_is_not_looked_for_while_compiling_and_is_again_afterwards(monkeypatch):
    monkeypatch.setattr(preparing, "_second", None)
    with preparing.compiling():
        assert gc.isenabled()  # no first run
    monkeypatch.setattr(preparing, "_second", StillCompiling())

    def interrupted():
        with preparing.compiling():
            assert not gc.isenabled()
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert gc.isenabled()


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
