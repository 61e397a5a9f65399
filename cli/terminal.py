"""How the commands speak: tables and sentences on standard output."""

from __future__ import annotations

import io
import shlex
import shutil
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from rich.cells import cell_len
from rich.console import Console, RenderableType
from rich.table import Table

from nesting.lettering import left_to_right

__all__ = ["LONGEST_WORD", "show", "typed"]

LONGEST_WORD = 14
"""Letters; a longer word may be broken in the columns of a narrow terminal that allow it."""


def typed(command: str, file: Path) -> str:
    """A command to type: the program's bare name where the shell finds that, else as it was called now."""
    called = Path(sys.argv[0])
    bare = called.stem != "ellwand" or shutil.which("ellwand") is not None
    return f"{'ellwand' if bare else shlex.quote(str(called))} {command} {shlex.quote(str(file))}"


def show(*things: RenderableType, items: Iterable[str] = ()) -> None:
    """Print tables and sentences, then `items` as a list.

    Sentences are wrapped by words on a terminal, and left whole where the output goes into a file or
    another program. Nothing in them is taken for markup. A table that is too wide for the terminal, so that
    columns would be missing, is shown as a list.
    """
    console = Console(highlight=False, emoji=False)
    for thing in (*things, *(f"- {item}" for item in items)):
        if isinstance(thing, Table) and not _has_room(thing, console.width):
            for line in _as_list(thing):
                console.print(line, markup=False, soft_wrap=not console.is_terminal)
            continue
        whole = isinstance(thing, str) and not console.is_terminal
        words = left_to_right(thing) if isinstance(thing, str) else thing
        console.print(words, markup=False, soft_wrap=whole)


def _has_room(table: Table, width: int) -> bool:
    """Whether a table shows every word whole, long ones aside, in so many letters a line."""
    drawn = io.StringIO()
    bare = Console(file=drawn, width=width, emoji=False, force_terminal=False, color_system=None)
    bare.print(table, markup=False)
    shown = set(drawn.getvalue().split())
    texts = (str(text) for column in table.columns for text in (column.header, *column.cells))
    return all(word in shown for text in texts for word in text.split() if cell_len(word) <= LONGEST_WORD)


def _as_list(table: Table) -> Iterator[str]:
    """Each row as lines of its own: what it is about, then a line for each amount with its heading."""
    if table.title:
        yield f"{table.title}:"
    heads = [str(column.header) for column in table.columns]
    for row in zip(*(column.cells for column in table.columns), strict=True):
        first, *others = (" ".join(str(cell).split()) for cell in row)
        if first:
            yield f"- {first}"
        yield from (f"  {head}: {cell}" for head, cell in zip(heads[1:], others, strict=True) if cell)
    yield ""
