"""The first lines of the command: from here on Ctrl-C ends it with a sentence, and never with a traceback.

All else takes a third of a second to load, and an exception out of the midst of an import tells a person
nothing. So this module loads nothing. Later stages: `ctrl_c`.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys

__all__ = ["NOTHING_YET", "STOPPED", "leave", "main"]

NOTHING_YET = "Stopped: nothing was found yet, and nothing was written."
STOPPED = 130
"""Exit code of what Ctrl-C ended, as shells have it: 128 and the number of the signal."""
_SHOW_CURSOR = b"\x1b[?25h"  # DECTCEM; it is hidden while something turns


def main() -> None:
    """Run the command."""
    # A shell's script has it ignored by what it starts in the background: it is meant for others then.
    if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:
        signal.signal(signal.SIGINT, lambda number, frame: leave(NOTHING_YET))
    _open_the_three()
    from .main import main as run

    try:
        run()
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is said and done


def leave(words: str) -> None:
    """End this process at once with a sentence; it is not asked in the midst of what it is."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(Exception):  # it may be just the one that was interrupted
            stream.flush()
    with contextlib.suppress(OSError):
        before = b"\r\x1b[K" + _SHOW_CURSOR if os.isatty(2) else b""
        os.write(2, before + words.encode() + b"\n")
    os._exit(STOPPED)


def _open_the_three() -> None:
    """What was closed of standard input, output and error goes nowhere; else a sheet would take its place."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the lowest number that is free
