"""Puts a command's files down, all or none; Ctrl-C waits until they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from nesting.files.results.writing import write_together

from .ctrl_c import WRITING, WRITTEN, reach

__all__ = ["put_down"]


def put_down(files: Mapping[Path, bytes], others: Iterable[Path] = ()) -> None:
    """Write a set of files; what an earlier run left there is kept, what it left under `others` set aside.

    Raises
    ------
    NotWritten
        With the reason and what to do; all is as it was before.
    """
    reach(WRITING)
    write_together(files, others)
    reach(WRITTEN)
