"""What Ctrl-C does, by how far a command has come: that is decided here and nowhere else.

It raises nothing: an exception would come out of the midst of an import, of a drawing or of a file half
written. It is told to the search, which ends by itself, or the process ends with a sentence that says what
was kept. From the first verified lay on a person presses twice to lose it; while files take their places
the command cannot be ended at all.
"""

from __future__ import annotations

import shutil
import signal
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from types import FrameType

from .start import NOTHING_YET, leave

__all__ = [
    "CHECKED",
    "COMPARING",
    "DRAWING",
    "FIRST_LAY",
    "LOST",
    "PRINTING",
    "SEARCHING",
    "SIDE_BY_SIDE",
    "STARTING",
    "TAKEN_UP_AGAIN",
    "WRITING",
    "WRITTEN",
    "Stage",
    "reach",
    "watched",
]

_NARROWEST = 20
"""Letters; a terminal that shows fewer breaks the lines itself."""
LOST = "Stopped: nothing was written, and the lays found so far are lost."
TAKEN_UP_AGAIN = (
    "Stopped: nothing was written; lays that were finished are kept, and the same command goes on from them."
)


@dataclass(frozen=True, slots=True)
class Stage:
    """How far a command has come.

    Attributes
    ----------
    first : str
        Said at the first press, after which it goes on; empty where it ends at once.
    last : str
        Said as it ends; empty where it cannot be ended.
    """

    first: str
    last: str

    def with_last(self, words: str) -> Stage:
        """The same, of a command that keeps something else."""
        return Stage(self.first, words)


STARTING = Stage("", NOTHING_YET)
FIRST_LAY = Stage("Enough: nothing was found yet, so every cloth gets its first lay only.", NOTHING_YET)
SEARCHING = Stage(
    "Enough: the best lays so far are kept; what is still to come gets its first lay only.", LOST
)
SIDE_BY_SIDE = Stage(
    "Enough: what is worked out is kept; the same command goes on from here.", TAKEN_UP_AGAIN
)
COMPARING = Stage(
    "Enough: what was searched to the end is compared, and kept for the next time.", TAKEN_UP_AGAIN
)
DRAWING = Stage("All is laid; the sheets are being drawn. Ctrl-C once more ends without them.", LOST)
CHECKED = Stage("", "Stopped: nothing was written.")
"""What is drawn is no lay, and as quickly drawn again."""
WRITING = Stage("The sheets are being written; that takes a moment.", "")
WRITTEN = Stage("", "Stopped: all sheets are written.")
PRINTING = Stage("", "Stopped: lays that were finished are kept.")


class _Now:
    """A stage, and whether Ctrl-C was pressed in it."""

    def __init__(self, stage: Stage, enough: Callable[[], None], pressed: bool) -> None:
        self.stage, self.enough, self.pressed = stage, enough, pressed


def _nothing() -> None:
    """Nothing has to be told."""


# One for the whole process, since there is one Ctrl-C.
_now = _Now(STARTING, _nothing, False)


def reach(stage: Stage, enough: Callable[[], None] = _nothing, *, pressed: bool = False) -> None:
    """Say how far the command is.

    Parameters
    ----------
    stage : Stage
    enough : callable
        Called at the first press: has the work come to an end by itself.
    pressed : bool
        Whether the next press counts as the second.
    """
    global _now
    _now = _Now(stage, enough, pressed)


@contextmanager
def watched() -> Iterator[None]:
    """Have Ctrl-C do what is said here, and afterwards what it did before."""
    before = signal.getsignal(signal.SIGINT)
    if before is signal.SIG_IGN:  # not meant for this process, see `start`
        yield
        return
    if before is not _press:
        reach(STARTING)
        signal.signal(signal.SIGINT, _press)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _press(number: int, frame: FrameType | None) -> None:
    now = _now
    if now.stage.first and not now.pressed:
        now.pressed = True
        now.enough()
        _say(now.stage.first)
    elif now.stage.last:
        leave(now.stage.last)


def _say(words: str) -> None:
    """A sentence of its own on standard error, over what may be turning there."""
    if sys.stderr.isatty():
        words = "\r\x1b[K" + textwrap.fill(words, max(_NARROWEST, shutil.get_terminal_size().columns - 1))
    with suppress(RuntimeError):  # this very stream was interrupted in writing: it is done all the same
        print(words, file=sys.stderr, flush=True)
