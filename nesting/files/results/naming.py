"""What the sheets of a lay are called: decided for the whole set at once, so that no two names are the same.

A cloth may be called anything, so ``main-full-size`` would be one cloth's true-size picture and another's
drawing. The later in the file is numbered then: ``main-full-size-2``. What is asked for does not matter, so
that a sheet is called the same whatever is drawn beside it.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from pathlib import Path

from nesting.cloth.remnant import part_keys
from nesting.project import Project

__all__ = ["SheetNames", "sheet_names"]

_WHOLE = (".pdf", "-cut-list.csv", "-lay.json", "-in-hand.json")
_CLOTH = (".png", ".svg", "-full-size.pdf", "-full-size.png", "-left.png")


@dataclass(frozen=True, slots=True)
class SheetNames:
    """The paths of one set.

    Attributes
    ----------
    book, cut_list, data, answer : Path
        The PDF, the list for spreadsheets, the lay for other programs, and what would make it go.
    """

    book: Path
    cut_list: Path
    data: Path
    answer: Path
    _stems: dict[str, Path]

    def of_cloth(self, key: str, ending: str) -> Path:
        """A sheet of one cloth; `ending` as ``-full-size.pdf``."""
        if ending not in _CLOTH:
            raise ValueError(f"no sheet of a cloth ends in {ending}")
        stem = self._stems[key]
        return stem.with_name(stem.name + ending)

    def all(self) -> tuple[Path, ...]:
        """Every path that may be written."""
        cloths = (self.of_cloth(key, ending) for key in self._stems for ending in _CLOTH)
        return (self.book, self.cut_list, self.data, self.answer, *cloths)


def sheet_names(folder: Path, stem: str, project: Project) -> SheetNames:
    """The names of all that may be written of a project's lay.

    Parameters
    ----------
    folder : Path
    stem : str
        First part of every name.
    project : Project
        Each of its cloths, and each piece of one in hand, gets a name.
    """
    taken = {_seen(stem + ending) for ending in _WHOLE}
    parts = [key for cloth in project.cloths.values() for key in part_keys(cloth.key, cloth.remnants)]
    stems = {key: folder / _free(f"{stem}-{key}", taken) for key in parts}
    book, cut_list, data, answer = (folder / (stem + ending) for ending in _WHOLE)
    return SheetNames(book, cut_list, data, answer, stems)


def _free(name: str, taken: set[str]) -> str:
    """That name, numbered if it must be; its sheets are taken from now on."""
    number, chosen = 1, name
    while not taken.isdisjoint(sheets := {_seen(chosen + ending) for ending in _CLOTH}):
        number += 1
        chosen = f"{name}-{number}"
    taken |= sheets
    return chosen


def _seen(name: str) -> str:
    """As a disk sees it that tells neither capitals nor ways to write an accent apart."""
    return unicodedata.normalize("NFC", name.casefold())
