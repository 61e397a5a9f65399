"""The program, run as a person does: in this process, which is quick, or in one of its own.

Both take what is typed and give back what a shell would see. A process of its own is for what only that
shows; `test_processes` holds each command to the same there and here.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
from concurrent.futures import Future
from pathlib import Path

import nesting.cli.crew
import pytest
from nesting.cli.main import main

from nesting.estimate.many.jobs import work

ROOT = Path(__file__).parents[2]
PROGRAM = [sys.executable, "-m", "nesting.cli"]

SMALL = """
title = "tote"
units = "cm"

[cloth.main]
name = "canvas"
width = 100
price = 12

[piece.side]
points = { A = [0, 0], B = [40, 0], C = [44, 38], D = [0, 42] }
cut = { main = 2 }
[piece.side.edges]
bottom = "A B"
right = "B C"
top = { through = "C D", allowance = 3 }
left = "D A"

[piece.base]
points = { A = [0, 0], B = [15, 0], C = [15, 36], D = [0, 36] }
on_fold = "middle"
cut = { main = 1 }
[piece.base.edges]
front = "A B"
side = "B C"
back = "C D"
middle = "D A"

[alternative."seam in the base"]
piece.base.on_fold = false
"""


class OneHand:
    """The workers of ``chart`` and ``widths``, being this process: each job is done at once."""

    lost = ()

    def __init__(self, asked):
        pass

    def __enter__(self):
        return self

    def __exit__(self, *error):
        pass

    def submit(self, job):
        future = Future()
        future.set_result(work(job))
        return future

    def better(self):
        return iter(())

    def stop(self):
        return False


def ellwand(*arguments, cwd, stdout=None):
    """Run a command in this process; what it ended with, and all that it printed.

    Parameters
    ----------
    stdout : file of text, optional
        Where to print instead; nothing of that is given back.
    """
    printed, told = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8") for _ in range(2))
    with pytest.MonkeyPatch.context() as shell:
        shell.chdir(cwd)
        shell.setenv("XDG_CACHE_HOME", str(cwd / "cache"))
        shell.setattr(nesting.cli.crew, "ProcessCrew", OneHand)
        shell.setattr(sys, "argv", ["ellwand", *map(str, arguments)])
        shell.setattr(sys, "stdout", stdout or printed)
        shell.setattr(sys, "stderr", told)
        with pytest.raises(SystemExit) as end:
            main()
        sys.stdout.flush()  # as a process does at its end
        sys.stderr.flush()
    texts = (stream.buffer.getvalue().decode() for stream in (printed, told))
    return subprocess.CompletedProcess(arguments, end.value.code or 0, *texts)


def environment(cwd):
    """That of a process of its own: this tree's program, wherever another is installed, and its own cache.

    Python keeps what it compiled, as it does for a person, so that only the first process waits for that.
    """
    path = os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH"))))
    kept = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPATH": path, "XDG_CACHE_HOME": str(cwd / "cache")}


def alone(*arguments, cwd, **changes):
    """Run a command in a process of its own, with changes to the environment."""
    return subprocess.run(
        [*PROGRAM, *map(str, arguments)],
        cwd=cwd,
        env=environment(cwd) | changes,
        capture_output=True,
        text=True,
        check=False,
    )
