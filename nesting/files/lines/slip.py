"""A line that cannot be read: where `tomllib` gave up, and what is told of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

__all__ = ["END", "NUMBER", "UNIT", "At", "Judge", "Slip", "shown"]


LONGEST_SHOWN = 60
"""Characters of a line that a remedy repeats."""
NUMBER = r"[-+]?\d+(?:\.\d+)?"
UNIT = r"(?:mm|cm|m|inches|inch|in|yards|yard|yd|\"|″|'')"
END = r"\s*(?=[,}\]#]|$)"
"""What may follow a value: the end of the line, or a sign that ends it."""


@dataclass(frozen=True, slots=True)
class Slip:
    """One thing that makes a file unreadable.

    Attributes
    ----------
    what, remedy : str
    line : int
        From 1.
    mended : mapping of int to str
        Lines, by number, as they were meant; none where that is not certain.
    """

    what: str
    remedy: str
    line: int
    mended: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class At:
    """Where `tomllib` gave up: before the sign with that index, from 0, of line `number`, from 1."""

    lines: Sequence[str]
    number: int
    column: int

    @property
    def line(self) -> str:
        """The whole line."""
        return self.lines[self.number - 1]

    @property
    def before(self) -> str:
        """What was read of it."""
        return self.line[: self.column]

    @property
    def rest(self) -> str:
        """What was not."""
        return self.line[self.column :]

    def slip(self, what: str, remedy: str, mended: str | None = None) -> Slip:
        """One of this line."""
        return Slip(what, remedy, self.number, {} if mended is None else {self.number: mended})


Judge: TypeAlias = Callable[[At], Slip | None]
"""Tells a slip, if that place shows it."""


def shown(text: str) -> str:
    """Part of a line, not too much of it."""
    text = "".join(sign if sign.isprintable() else " " for sign in text.strip())
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 1]}…"
