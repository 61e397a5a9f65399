"""A machine's first run: the search is compiled by a second process while the first lay is being made.

Only where it is asked for, with `beside_the_first_lay`: the commands do, `pack` by itself never. Compiling is
mostly numba's own Python and holds the interpreter lock, so a thread would not help. The second process
leaves its compiled code on disk, where numba in this one finds it. Where nothing is kept on disk, or the
second process fails, this one compiles for itself and is only slower.
"""

from __future__ import annotations

import atexit
import gc
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np

from nesting.packing.jit import compile_for, is_kept, is_loaded, kept_in

__all__ = ["beside_the_first_lay", "compile_search", "wait"]

_LOOK_EVERY_S = 0.05

# One for the whole process, since it is the machine that is being prepared, not a problem; and so is whether
# looking for rubbish was stopped here.
_second: subprocess.Popen[bytes] | None = None
_stopped_looking = False


@contextmanager
def beside_the_first_lay() -> Iterator[None]:
    """Have the search compiled by a second process, if it is not yet, while this one makes a first lay.

    Until that search begins, or the context ends, this process does not look for rubbish (`gc`), which is a
    seventh of the time to compile; that holds for all threads, as Python has one switch for all. The second
    process is ended with this one, if not before.

    Where all is compiled already, or can't be kept on disk, nothing is started or stopped.
    """
    global _stopped_looking
    _begin()
    if _is_compiling() and gc.isenabled():
        gc.disable()
        _stopped_looking = True
    try:
        yield
    finally:
        _look_again()


def wait(enough: Callable[[], bool]) -> None:
    """Wait until a second process that was asked for has ended, or until `enough` says so."""
    try:
        while _is_compiling() and not enough():
            time.sleep(_LOOK_EVERY_S)
    finally:
        _look_again()


def _begin() -> None:
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
    # Its other end is never closed here, so it is open until this process ends, however that is.
    seen_by_second, _ = os.pipe()
    _second = subprocess.Popen(
        [sys.executable, "-m", __name__],
        env={**os.environ, "PYTHONPATH": path},
        stdin=seen_by_second,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(seen_by_second)
    atexit.register(_end, _second)


def _is_compiling() -> bool:
    return _second is not None and _second.poll() is None


def _look_again() -> None:
    """Let Python look for rubbish again, if it was stopped here."""
    global _stopped_looking
    if _stopped_looking:
        _stopped_looking = False
        gc.enable()


def _end(process: subprocess.Popen[bytes]) -> None:
    """End the second process and collect it, so that it neither outlives this one nor is warned of."""
    process.kill()
    process.wait()


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


def _end_with_the_first() -> None:
    """End this process as soon as the one that started it has ended: that closes standard input."""
    while os.read(0, 1):  # not by sys.stdin, which Python locks and wants back as it ends
        pass
    os._exit(1)


if __name__ == "__main__":
    threading.Thread(target=_end_with_the_first, daemon=True).start()
    gc.disable()  # a fifth of the time, and this process ends before it matters
    compile_search()
