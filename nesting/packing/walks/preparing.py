"""A machine's first run: the search is compiled by a second process while the first lay is being made.

Compiling is mostly numba's own Python and holds the interpreter lock, so a thread would not help. The second
process leaves its compiled code on disk, where numba in this one finds it. Where nothing is kept on disk, or
the second process fails, this one compiles for itself and is only slower.
"""

from __future__ import annotations

import atexit
import gc
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np

from nesting.packing.jit import compile_for, is_kept, is_loaded, kept_in

__all__ = ["begin", "compile_search", "compiling", "wait"]

_LOOK_EVERY_S = 0.05

# One for the whole process, since it is the machine that is being prepared, not a problem.
_second: subprocess.Popen[bytes] | None = None


def begin() -> None:
    """Start the second process, unless it was started before or the compiled search is there already."""
    global _second
    from nesting.packing.walks.separate import passes

    if _second is not None or is_loaded(passes) or not sys.executable:
        return
    directory = kept_in(passes)
    if directory is None or not directory.is_dir() or is_kept(passes):
        return
    root = str(Path(__file__).parents[3])
    path = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
    _second = subprocess.Popen(
        [sys.executable, "-m", __name__],
        env={**os.environ, "PYTHONPATH": path},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    atexit.register(_end, _second)


@contextmanager
def compiling() -> Iterator[None]:
    """While this process compiles beside the second one: no looking for rubbish, a seventh of the time.

    That holds for all threads, as Python has one switch for all.
    """
    if _second is None or _second.poll() is not None or not gc.isenabled():
        yield
        return
    try:
        gc.disable()
        yield
    finally:
        gc.enable()


def _end(process: subprocess.Popen[bytes]) -> None:
    """End the second process and collect it, so that it neither outlives this one nor is warned of."""
    process.kill()
    process.wait()


def wait(enough: Callable[[], bool]) -> None:
    """Wait until the second process has ended, or until `enough` says so."""
    while _second is not None and _second.poll() is None and not enough():
        time.sleep(_LOOK_EVERY_S)


def compile_search() -> None:
    """Compile the search.

    What the first lay can do without comes first, so that the first process has time to keep most of what
    both need.
    """
    from nesting.packing.kernels.settle import settle
    from nesting.packing.kernels.sight import new_scratch
    from nesting.packing.outlines.tables import blank_tables
    from nesting.packing.walks.attempt import bring_onto
    from nesting.packing.walks.separate import elsewhere, passes, raise_weights
    from nesting.packing.walks.settings import ROAM
    from nesting.packing.walks.walk import new_walk

    tables = blank_tables()
    attempt = new_walk(tables, np.zeros((1, 2)), np.zeros(1, np.int64), 1.0, 1.0, 1).attempt
    scratch = new_scratch(tables, 1)
    compile_for(settle, tables, attempt.xy, attempt.shape, 1.0, attempt.used)
    compile_for(bring_onto, tables, attempt)
    compile_for(elsewhere, tables, attempt, scratch, 0, ROAM, 1.0)
    compile_for(raise_weights, tables, attempt, ROAM)
    compile_for(passes, tables, attempt, scratch, ROAM, 1)


if __name__ == "__main__":
    gc.disable()  # a fifth of the time, and this process ends before it matters
    compile_search()
