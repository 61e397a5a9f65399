"""Sizes and alternatives: versions of a project that change part of it, read again with the change made."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from nesting.errors import Mistake
from nesting.files.project.version import Version, read_version
from nesting.files.tables.checking import checked
from nesting.files.tables.overlay import overlaid
from nesting.files.tables.schema import AlternativeTable, SizeTable
from nesting.files.tables.wording import choices, quoted
from nesting.units import Unit

__all__ = ["SizeRead", "read_alternatives", "read_sizes"]

_NAMES_POINTS = ("edges", "notches", "darts", "marks", "grain")
"""Entries of a piece that may use a point which only a size has."""


@dataclass(frozen=True, slots=True, eq=False)
class SizeRead:
    """A size as read, and its alternatives by name."""

    version: Version
    alternatives: dict[str, Version]


def read_alternatives(
    raw: Mapping[str, object],
    plain: Version,
    unit: Unit | None,
    where: str,
    told: Collection[tuple[str, str]],
) -> tuple[dict[str, Version], list[Mistake]]:
    """Every alternative of a file, and what is wrong with them.

    Parameters
    ----------
    raw : mapping
        The whole file's table.
    plain : Version
        What they change.
    unit : Unit or None
    where : str
        File and size, for messages.
    told : collection of tuple of str
        Problems of the plain version, as place below `where` and what was found: each is in every
        alternative too, and told once is enough.
    """
    versions: dict[str, Version] = {}
    mistakes: list[Mistake] = []
    for name, changes in _table(raw, "alternative").items():
        here = f"{where}, alternative {quoted(name)}"
        version, found = _alternative(changes, raw, plain, unit, here)
        mistakes += [p for p in found if (p.where.removeprefix(here), p.what) not in told]
        if version is not None:
            versions[name] = version
    return versions, mistakes


def read_sizes(
    raw: Mapping[str, object],
    plain: Version,
    unit: Unit | None,
    where: str,
    told: Collection[tuple[str, str]],
) -> tuple[dict[str, SizeRead], list[Mistake]]:
    """Every size that a file adds to the one it draws; parameters as for `read_alternatives`.

    A size's alternatives are read only while all else is sound: most of their faults would be told twice.
    """
    sizes: dict[str, SizeRead] = {}
    mistakes: list[Mistake] = []
    for name, changes in _table(raw, "size").items():
        here = f"{where}, size {quoted(name)}"
        version, found = _size(changes, raw, plain, unit, here)
        found = [p for p in found if (p.where.removeprefix(here), p.what) not in told]
        mistakes += found
        if version is None or found or told or not isinstance(changes, dict):
            continue
        sized = overlaid(raw, changes)
        alternatives, found = read_alternatives(sized, version, unit, here, ())
        mistakes += found
        sizes[name] = SizeRead(version, alternatives)
    return sizes, mistakes


def _table(raw: object, key: str) -> dict[str, object]:
    """That table, or an empty one where it is missing or no table at all (which is told elsewhere)."""
    value = raw.get(key, {}) if isinstance(raw, Mapping) else {}
    return value if isinstance(value, dict) else {}


def _unknown(kind: str, changed: Collection[str], raw: Mapping[str, object], where: str) -> list[Mistake]:
    known = list(_table(raw, kind))
    return [
        Mistake(
            where,
            f"It changes {kind} {quoted(key)}, but there is no such {kind}.",
            choices(key, known, kind),
        )
        for key in changed
        if key not in known
    ]


def _alternative(
    changes: object, raw: Mapping[str, object], plain: Version, unit: Unit | None, where: str
) -> tuple[Version | None, list[Mistake]]:
    """The plain version with one alternative's changes made."""
    table, mistakes = checked(AlternativeTable, changes, where, unit)
    if table is None or not isinstance(changes, dict):
        return None, mistakes
    mistakes = [*_unknown("cloth", table.cloth, raw, where), *_unknown("piece", table.piece, raw, where)]
    if mistakes:
        return None, mistakes
    version = read_version(overlaid(raw, changes), where, unit, plain=plain, changes=changes)
    if unit is not None and not version.mistakes and version.tables == plain.tables:
        remedy = "Leave it out, or write what differs: piece.back.on_fold = false."
        return None, [Mistake(where, "It changes nothing.", remedy)]
    if not version.mistakes and any(p.cuts for p in plain.pieces) and not any(p.cuts for p in version.pieces):
        remedy = "Let it cut at least one piece."
        return None, [Mistake(where, "It leaves no piece that is cut from any cloth.", remedy)]
    return version, version.mistakes


def _size(
    changes: object, raw: Mapping[str, object], plain: Version, unit: Unit | None, where: str
) -> tuple[Version | None, list[Mistake]]:
    """The size that is drawn, with another one's changes made."""
    table, mistakes = checked(SizeTable, changes, where, unit)
    if table is None or not isinstance(changes, dict):
        return None, mistakes
    mistakes = _unknown("piece", table.piece, raw, where)
    for name, piece in _table(raw, "piece").items():
        here = f"{where}, piece {quoted(name)}"
        mistakes += _unknown_points(table.piece.get(name, {}), piece, here)
    if mistakes:
        return None, mistakes
    version = read_version(overlaid(raw, changes), where, unit, plain=plain, changes=changes)
    if unit is not None and not version.mistakes and version.tables == plain.tables:
        remedy = "Leave it out, or write which points differ: piece.back.points = { A = [0, -1] }."
        return None, [Mistake(where, "It is the same as the size that is drawn.", remedy)]
    return version, version.mistakes


def _unknown_points(change: Mapping[str, object], piece: object, where: str) -> list[Mistake]:
    """Points that a size moves and that nothing goes through: their names are misspelt."""
    known = list(_table(piece, "points"))
    if any(entry in change for entry in _NAMES_POINTS):
        return []
    return [
        Mistake(
            where,
            f"It moves point {quoted(name)}, but there is no such point.",
            choices(name, known, "point"),
        )
        for name in _table(change, "points")
        if name not in known
    ]
