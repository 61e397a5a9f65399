"""Progress on the terminal: the best verified lay so far, cloth by cloth, on standard error."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from types import TracebackType
from typing import TYPE_CHECKING

from rich.console import Console
from rich.markup import escape
from rich.status import Status

from nesting.packing.result import Progress, StopReason
from nesting.units import Unit, format_length

from . import ctrl_c

if TYPE_CHECKING:  # it loads the compiler, which drawing does without
    from nesting.cutting.search.laying import LayEvent

__all__ = ["FIRST_LAY_SECONDS", "CtrlC", "LayProgress", "SheetProgress", "first_run"]

FIRST_LAY_SECONDS = 1.5
"""A first lay that takes longer than this may mean that the search is being compiled: the person is told."""


def first_run() -> str:
    """What to tell while the search is compiled; empty where it has been already."""
    from nesting.packing.jit import is_kept, is_loaded, kept_in
    from nesting.packing.walks.construct import lay_in_order
    from nesting.packing.walks.separate import passes

    if all(is_loaded(kernel) or is_kept(kernel) for kernel in (lay_in_order, passes)):
        return ""
    if kept_in(passes) is None:  # that it is done on every start, `jit` has said
        return "Preparing the search. This may take half a minute."
    return "Preparing the search. This is done once on a machine and may take a quarter of a minute."


class CtrlC:
    """A stop rule: the person has pressed Ctrl-C."""

    reason = StopReason.INTERRUPTED

    def __init__(self) -> None:
        self.pressed = False

    def __call__(self, progress: Progress) -> bool:
        """Whether to stop now."""
        return self.pressed


class LayProgress:
    """Shows each better lay while in use; on a terminal in one changing line, else one line a cloth.

    Parameters
    ----------
    unit : Unit
    searching : Stage
        What Ctrl-C does once a lay was found.

    Attributes
    ----------
    until : CtrlC
        To be handed to the search: with Ctrl-C it ends and keeps what it has.
    version : str
        Named before each lay where there are several versions.
    """

    def __init__(self, unit: Unit, searching: ctrl_c.Stage = ctrl_c.SEARCHING) -> None:
        self.until = CtrlC()
        self._searching = searching
        self._watched = ctrl_c.watched()
        self.version = ""
        self._unit = unit
        self._console = Console(stderr=True)
        self._status: Status | None = None
        self._seen: set[tuple[str, str]] = set()
        self._start = time.perf_counter()
        self._first_run_notice = threading.Timer(FIRST_LAY_SECONDS, self._say_first_run)
        self._first_run_notice.daemon = True

    def __enter__(self) -> LayProgress:
        self._first_run_notice.start()
        self._watched.__enter__()
        ctrl_c.reach(ctrl_c.FIRST_LAY, self._enough)
        self._status = self._console.status("laying ...")
        self._status.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._watched.__exit__(None, None, None)
        self._first_run_notice.cancel()
        if self._status is not None:
            self._status.stop()

    def tell(self, event: LayEvent) -> None:
        """Show one better lay."""
        self._first_run_notice.cancel()
        if not self._seen:
            ctrl_c.reach(self._searching, self._enough, pressed=self.until.pressed)
        lay = event.lay
        before = f"{self.version}: " if self.version else ""
        text = f"{before}{lay.cloth.name}, {lay.spread}: {format_length(lay.length_mm, self._unit)}"
        seconds = time.perf_counter() - self._start
        if (self.version, lay.cloth.key) not in self._seen:
            self._seen.add((self.version, lay.cloth.key))
            self._console.print(f"{text} (first verified lay after {seconds:.1f} s)", markup=False)
        if self._status is not None:
            self._status.update(f"{escape(text)} so far; Ctrl-C keeps it")

    def say(self, text: str) -> None:
        """Tell something that stays."""
        self._console.print(text, markup=False)
        if self._status is not None:
            self._status.update("trying ...; Ctrl-C keeps what is known")

    def _enough(self) -> None:
        self.until.pressed = True

    def _say_first_run(self) -> None:
        if words := first_run():
            self._console.print(words)


class SheetProgress:
    """Tells on a terminal what is being drawn; elsewhere nothing."""

    def __init__(self) -> None:
        self._status = Console(stderr=True).status("drawing the sheets ...")

    def __enter__(self) -> SheetProgress:
        self._status.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._status.stop()

    def at(self, name: str) -> Callable[[int, int], None]:
        """What is told, sheet by sheet, while `name` is drawn at true size."""

        def tell(number: int, of: int) -> None:
            self._status.update(f"{escape(name)}: drawing sheet {number} of {of} at true size")

        return tell
