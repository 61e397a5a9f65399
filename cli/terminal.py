"""How the commands speak: tables and sentences on standard output."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console, RenderableType

__all__ = ["show"]


def show(*things: RenderableType, items: Iterable[str] = ()) -> None:
    """Print tables and sentences, then `items` as a list.

    Sentences are wrapped by words on a terminal, and left whole where the output goes into a file or
    another program. Nothing in them is taken for markup.
    """
    console = Console(highlight=False)
    for thing in (*things, *(f"- {item}" for item in items)):
        whole = isinstance(thing, str) and not console.is_terminal
        console.print(thing, markup=False, soft_wrap=whole)
