"""Alternatives that are asked for as a project is read, besides those in its file.

They are laid over the file's own tables, so they are checked, and told off, just like those written there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from nesting.cloth.cloth import Nap, Spread
from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table
from nesting.files.tables.toml_text import parse_toml, read_text, told_name
from nesting.lettering import quoted
from nesting.project import Project
from nesting.units import BadLength, Unit, format_length, parse_length

__all__ = ["Asked", "ClothChange", "read_project_with"]

_USUAL = {"nap": Nap.EITHER_WAY.value, "spread": Spread.BEST.value}
"""How a cloth is where its table does not say."""


@dataclass(frozen=True, slots=True)
class ClothChange:
    """Another width, nap or spread of one cloth.

    Attributes
    ----------
    entry : str
        ``"width"``, ``"nap"`` or ``"spread"``.
    text : str
        What was typed: ``"115"``, or ``"lining=115"`` with the key of the cloth.
    """

    entry: str
    text: str


@dataclass(frozen=True, slots=True)
class Asked:
    """What became of the changes.

    Attributes
    ----------
    names : tuple of str
        What the new alternatives are called, in their order, each once.
    unnamed : tuple of ClothChange
        Those that name no cloth.
    taken_for : str or None
        The cloth that these are taken for; None where there are none.
    the_same : tuple of (str, ClothChange)
        With the key of the cloth, those left out since the file says just that.
    """

    names: tuple[str, ...]
    unnamed: tuple[ClothChange, ...] = ()
    taken_for: str | None = None
    the_same: tuple[tuple[str, ClothChange], ...] = ()


def read_project_with(path: Path, changes: Sequence[ClothChange]) -> tuple[Project, Asked]:
    """Read a project with more alternatives, one for each change.

    Raises
    ------
    BadInput
        For faults of the file, and for changes that cannot be made.
    """
    source = told_name(path)
    raw, unreadable = parse_toml(read_text(path), source)
    cloths = _table(raw, "cloth")
    own = dict(_table(raw, "alternative"))
    names: list[str] = []
    the_same = []
    for change in changes:
        key, value = _key_and_value(change, list(cloths), source)
        if _is_so(change.entry, value, _table(cloths, key), raw):
            the_same.append((key, change))
            continue
        name = f"{key} {_words(change.entry, value, raw)}"
        own[name] = {"cloth": {key: {change.entry: value}}}
        names.append(name)
    project = project_from_table({**raw, "alternative": own}, source=source, unreadable=unreadable)
    unnamed = tuple(change for change in changes if "=" not in change.text)
    first = next(iter(cloths)) if unnamed and cloths else None
    return project, Asked(tuple(dict.fromkeys(names)), unnamed, first, tuple(the_same))


def _is_so(entry: str, value: str, cloth: Mapping[str, object], raw: Mapping[str, object]) -> bool:
    """Whether the file says that of the cloth already."""
    if entry != "width":
        return cloth.get(entry, _USUAL[entry]) == value
    unit, width = _unit(raw), cloth.get("width")
    if not isinstance(width, str | int | float):
        return False
    try:
        return parse_length(value, unit) == parse_length(width, unit)
    except BadLength:
        return False  # which the reading tells


def _table(raw: Mapping[str, object], key: str) -> dict[str, object]:
    value = raw.get(key, {})
    return value if isinstance(value, dict) else {}


def _key_and_value(change: ClothChange, cloths: Sequence[str], source: str) -> tuple[str, str]:
    """Which cloth, and what; the first cloth of the file where none is named."""
    key, sign, value = (part.strip() for part in change.text.partition("="))
    if not sign:
        return (cloths[0] if cloths else ""), key
    if key not in cloths:
        raise BadInput.of(
            where=f"{source}, --{change.entry}",
            what=f"There is no cloth {quoted(key)}.",
            remedy=f"It has: {', '.join(cloths) or 'none'}.",
        )
    return key, value


def _words(entry: str, value: str, raw: Mapping[str, object]) -> str:
    """What the alternative is called: ``115 cm wide``, ``one way``."""
    if entry != "width":
        return value
    unit = _unit(raw)
    try:
        return f"{format_length(parse_length(value, unit), unit)} wide"
    except BadLength:
        return f"{value} wide"


def _unit(raw: Mapping[str, object]) -> Unit:
    units = raw.get("units")
    return Unit(units) if isinstance(units, str) and units in list(Unit) else Unit.CM
