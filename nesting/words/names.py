"""How names stand in a sentence."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = ["names_text"]


def names_text(names: Iterable[str]) -> str:
    """Each in quotation marks, with commas between.

    >>> names_text(["cape", "collar"])
    "'cape', 'collar'"
    """
    return ", ".join(f"'{name}'" for name in names)
