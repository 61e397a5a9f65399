"""The project file in: text → tables → pieces, cloths, sizes and alternatives, with every fault told at once.

`docs/project-file.md` describes the file for the person who writes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from nesting.errors import BadInput, Mistake
from nesting.files.project.alternatives import read_alternatives, read_sizes
from nesting.files.project.orders import ordered, read_order
from nesting.files.project.remnants import build_small_pieces
from nesting.files.project.version import Version, read_version
from nesting.files.tables.checking import checked
from nesting.files.tables.schema import ProjectTable
from nesting.files.tables.strayed import put_back
from nesting.files.tables.toml_text import parse_toml, read_text, told_name
from nesting.files.tables.wording import quoted
from nesting.project import PLAIN, Project
from nesting.units import Unit

__all__ = ["parse_project", "project_from_table", "read_project"]


def read_project(path: Path | str) -> Project:
    """Read a project file.

    Parameters
    ----------
    path : path or str

    Returns
    -------
    Project
        The plain version, with its alternatives and sizes.

    Raises
    ------
    BadInput
        With all mistakes of the file, in its order.
    """
    path = Path(path)
    return parse_project(read_text(path), source=told_name(path))


def parse_project(text: str, *, source: str = "project file") -> Project:
    """Read a project from its text; `source` is what messages call it. Raises as `read_project`."""
    raw, unreadable = parse_toml(text, source)
    return project_from_table(raw, source=source, unreadable=unreadable)


def project_from_table(
    raw: Mapping[str, object], *, source: str = "project", unreadable: Sequence[Mistake] = ()
) -> Project:
    """Read a project from the tables that the text would give. Raises as `read_project`.

    Parameters
    ----------
    raw : mapping
    source : str
        What messages call it.
    unreadable : sequence of Mistake
        What is wrong with the lines of the text; told with the rest.
    """
    raw, strayed = put_back(raw, source)
    unit = _unit_of(raw)
    head, mistakes = checked(ProjectTable, raw, source, unit)
    mistakes = [*unreadable, *strayed, *mistakes]
    plain = read_version(raw, source, unit)
    for table in ("cloth", "piece", "alternative", "size"):
        mistakes += _alike(_table(raw, table), table, source)
    mistakes += plain.mistakes
    mistakes += _missing_parts(raw, plain, source)
    mistakes += _drawn_again(raw, source)
    told = {(mistake.where.removeprefix(source), mistake.what) for mistake in mistakes}
    alternatives, found = read_alternatives(raw, plain, unit, source, told)
    mistakes += found
    told |= {(mistake.where.removeprefix(source), mistake.what) for mistake in found}
    sizes, found = read_sizes(raw, plain, unit, source, told)
    mistakes += found
    wishes, found = build_small_pieces(
        head.from_waste if head else (), _table(raw, "cloth"), unit or Unit.CM, source
    )
    mistakes += found
    drawn_size = [head.base_size] if head is not None and head.base_size else []
    order, found = read_order(raw, [*drawn_size, *_table(raw, "size")], source)
    mistakes += found
    if mistakes or head is None:
        raise BadInput(tuple(mistakes))

    def project(version: Version, size: str, name: str = PLAIN) -> Project:
        return Project(
            title=head.title or Path(source).stem,
            unit=head.units,
            currency=head.currency,
            cloths=version.cloths,
            pieces=version.pieces,
            version=name,
            notes=version.notes,
            source=source,
            size=size,
            table_mm=head.table_length,
            matches=version.matches,
            wishes=version.wishes,
            from_waste=wishes,
        )

    def with_alternatives(version: Version, size: str, alternatives: Mapping[str, Version]) -> Project:
        others = tuple(project(other, size, name) for name, other in alternatives.items())
        return replace(project(version, size), alternatives=others)

    drawn = with_alternatives(plain, head.base_size or "", alternatives)
    graded = [with_alternatives(size.version, name, size.alternatives) for name, size in sizes.items()]
    whole = replace(drawn, sizes=(*((drawn,) if graded and drawn.size else ()), *graded))
    return whole if order is None else ordered(whole, order)


def _unit_of(raw: Mapping[str, object]) -> Unit | None:
    units = raw.get("units")
    return Unit(units) if isinstance(units, str) and units in list(Unit) else None


def _table(raw: Mapping[str, object], key: str) -> dict[str, object]:
    """That table, or an empty one where it is missing or no table at all (which is told elsewhere)."""
    value = raw.get(key, {})
    return value if isinstance(value, dict) else {}


def _missing_parts(raw: Mapping[str, object], plain: Version, source: str) -> list[Mistake]:
    """What a project cannot do without."""
    mistakes = []
    if raw.get("cloth", {}) == {}:
        remedy = "Describe the cloth you cut from: [cloth.main] on a line of its own, below it width = 150."
        mistakes.append(Mistake(source, "There is no cloth.", remedy))
    if raw.get("piece", {}) == {} and not raw.get("strip"):
        remedy = "Describe each piece: [piece.back] on a line of its own, its points and edges below it."
        mistakes.append(Mistake(source, "There are no pieces.", remedy))
    elif not plain.mistakes and plain.pieces and not any(piece.cuts for piece in plain.pieces):
        remedy = "Say in each piece how many to cut in which cloth: cut = { main = 2 }."
        mistakes.append(Mistake(source, "No piece is cut from any cloth.", remedy))
    return mistakes


def _alike(names: Iterable[str], table: str, source: str) -> list[Mistake]:
    """Names that differ in capitals only, which people and file systems take for the same."""
    mistakes = []
    seen: dict[str, str] = {PLAIN: PLAIN} if table == "alternative" else {}
    for name in names:
        first = seen.setdefault(name.casefold(), name)
        if first == name and name != PLAIN:
            continue
        if table == "alternative" and first == PLAIN:
            what = f"An alternative is called {quoted(name)}, the name of the version without changes."
            remedy = "Give it another name."
        else:
            what = f"The names {quoted(first)} and {quoted(name)} differ in capitals only."
            remedy = "Give one of them another name."
        mistakes.append(Mistake(f"{source}, {table} {quoted(name)}", what, remedy))
    return mistakes


def _drawn_again(raw: Mapping[str, object], source: str) -> list[Mistake]:
    """A size table for the size that the file draws anyway."""
    drawn = raw.get("base_size")
    if not isinstance(drawn, str):
        return []
    return [
        Mistake(
            f"{source}, size {quoted(name)}",
            f"The size {quoted(drawn)} is the one that is drawn (base_size).",
            "Change its points where they are drawn, or give this size another name.",
        )
        for name in _table(raw, "size")
        if name.casefold() == drawn.casefold()
    ]
