"""Alternatives that are asked for as a project is read, besides those in its file.

They are laid over the file's own tables, so they are checked, and told off, just like those written there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table
from nesting.files.tables.toml_text import parse_toml, read_text
from nesting.project import Project
from nesting.units import BadLength, Unit, format_length, parse_length

__all__ = ["ClothChange", "read_project_with"]


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


def read_project_with(path: Path, changes: Sequence[ClothChange]) -> tuple[Project, tuple[str, ...]]:
    """Read a project with more alternatives, one for each change.

    Returns
    -------
    Project
    names : tuple of str
        What the new alternatives are called, in the order of `changes`.

    Raises
    ------
    BadInput
        For faults of the file, and for changes that cannot be made.
    """
    raw = parse_toml(read_text(path), path.name)
    cloths = list(_table(raw, "cloth"))
    own = dict(_table(raw, "alternative"))
    names = []
    for change in changes:
        key, value = _key_and_value(change, cloths, path.name)
        name = f"{key} {_words(change.entry, value, raw)}"
        own[name] = {"cloth": {key: {change.entry: value}}}
        names.append(name)
    return project_from_table({**raw, "alternative": own}, source=path.name), tuple(dict.fromkeys(names))


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
            where=f"{source}, --{change.entry} {change.text}",
            what=f"There is no cloth '{key}'.",
            remedy=f"It has: {', '.join(cloths) or 'none'}.",
        )
    return key, value


def _words(entry: str, value: str, raw: Mapping[str, object]) -> str:
    """What the alternative is called: ``115 cm wide``, ``one way``."""
    if entry != "width":
        return value
    units = raw.get("units")
    unit = Unit(units) if isinstance(units, str) and units in list(Unit) else Unit.CM
    try:
        return f"{format_length(parse_length(value, unit), unit)} wide"
    except BadLength:
        return f"{value} wide"
