"""The page of sixty mistakes: each made in a sound file, and what the program says first.

    python -m benchmarks.mistakes

writes the table of `docs/mistakes.md` anew. The mistakes stand in `tests/data/mistakes.toml`, each with the
cause that has to be named.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from benchmarks.parts import DOCS, write_parts
from nesting.errors import BadInput, Mistake
from nesting.files.project.reading import parse_project

__all__ = ["SOUND", "Made", "all_made", "table"]

_FILE = Path(__file__).parent.parent / "tests/data/mistakes.toml"
_DATA = tomllib.loads(_FILE.read_text(encoding="utf-8"))
SOUND = _DATA["sound"]
"""The file as it is before."""


@dataclass(frozen=True, slots=True)
class Made:
    """A mistake that was made, and what was told.

    Attributes
    ----------
    name, was, becomes, cause, where : str
        As in the data: what was changed, and what has to be said, and of which place.
    told : tuple of Mistake
    """

    name: str
    was: str
    becomes: str
    cause: str
    where: str
    told: tuple[Mistake, ...]

    @property
    def names_cause(self) -> bool:
        """Whether what is told first is the cause, at its place."""
        return bool(self.told) and self.cause in self.told[0].what and self.where in self.told[0].where


def all_made() -> list[Made]:
    """Every mistake of the data, made.

    Raises
    ------
    ValueError
        Where the sound file does not have what is to be changed.
    """
    return [_made(**mistake) for mistake in _DATA["mistake"]]


def _made(*, name: str, was: str, becomes: str, cause: str, where: str) -> Made:
    if was not in SOUND:
        raise ValueError(f"{name}: the sound file has no {was!r}")
    try:
        parse_project(SOUND.replace(was, becomes, 1), source="tunic.toml")
    except BadInput as error:
        return Made(name, was, becomes, cause, where, error.mistakes)
    return Made(name, was, becomes, cause, where, ())


def table(made: list[Made]) -> list[str]:
    """The mistakes as lines of a table."""
    lines = ["| mistake | as written | what is said first | names the cause |", "|---|---|---|---|"]
    for one in made:
        first = one.told[0]
        place = first.where.removeprefix("tunic.toml").removeprefix(", ")
        said = f"*{place}*: {first.what}" if place else first.what
        cells = (one.name, _code(one.becomes), said, "yes" if one.names_cause else "no")
        lines.append(f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |")
    return lines


def _code(text: str) -> str:
    """What was written, in one line."""
    shown = " ⏎ ".join(line for line in text.strip("\n").split("\n") if line)
    return f"`{shown}`" if shown else "(nothing)"


def main(docs: Path = DOCS) -> None:
    """Write the table into the page in that folder."""
    write_parts(docs / "mistakes.md", {"mistakes": table(all_made())})


if __name__ == "__main__":
    main()
