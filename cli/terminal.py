"""How the commands speak: tables and sentences on standard output."""

from __future__ import annotations

import shlex
import shutil
import sys
from collections.abc import Iterable
from pathlib import Path

from rich.console import Console, RenderableType

from nesting.lettering import left_to_right

__all__ = ["show", "typed"]


def typed(command: str, file: Path) -> str:
    """A command to type: the program's bare name where the shell finds that, else as it was called now."""
    called = Path(sys.argv[0])
    bare = called.stem != "ellwand" or shutil.which("ellwand") is not None
    return f"{'ellwand' if bare else shlex.quote(str(called))} {command} {shlex.quote(str(file))}"


def show(*things: RenderableType, items: Iterable[str] = ()) -> None:
    """Print tables and sentences, then `items` as a list.

    Sentences are wrapped by words on a terminal, and left whole where the output goes into a file or
    another program. Nothing in them is taken for markup.
    """
    console = Console(highlight=False)
    for thing in (*things, *(f"- {item}" for item in items)):
        whole = isinstance(thing, str) and not console.is_terminal
        words = left_to_right(thing) if isinstance(thing, str) else thing
        console.print(words, markup=False, soft_wrap=whole)
