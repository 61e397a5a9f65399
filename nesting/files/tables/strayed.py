"""Lines below a heading that is not theirs: told, and put where they belong, so that the rest can be judged.

A line belongs to the heading above it. Written below the edges, the count of a piece is taken for an edge;
below a cloth, `units` for an entry of the cloth, and then it is missing at the top.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from pydantic import BaseModel

from nesting.errors import Mistake
from nesting.files.tables.in_hand import RemnantTable
from nesting.files.tables.overlay import overlaid
from nesting.files.tables.schema import (
    AlternativeTable,
    ClothTable,
    DartTable,
    MarkTable,
    NotchTable,
    OrderTable,
    PieceTable,
    ProjectTable,
    RepeatTable,
    ShrinkageTable,
    SizeTable,
)
from nesting.files.tables.wording import did_you_mean, listed, quoted
from nesting.lettering import shortened

__all__ = ["put_back"]

_HEAD = ("title", "units", "currency", "seam_allowance", "table_length", "base_size")
"""Entries of the whole file that are one line each."""
_BARE = re.compile(r"[A-Za-z0-9_-]+")
"""A name that needs no quotation marks (TOML 1.0, bare keys)."""
_KINDS = ("cloth", "piece", "alternative", "size")
_SHOWN_BY: Mapping[str, frozenset[str]] = {
    "piece": frozenset(("points", "edges")),
    "cloth": frozenset(("width",)),
}
"""What a table without its kind is known by."""
_EXAMPLE = {"piece": "back", "cloth": "main"}
_OF_CLOTH: Mapping[str, type[BaseModel]] = {
    "shrinkage": ShrinkageTable,
    "repeat": RepeatTable,
    "remnant": RemnantTable,
}
_OF_PIECE: Mapping[str, type[BaseModel]] = {"notches": NotchTable, "darts": DartTable, "marks": MarkTable}

_Table: TypeAlias = dict[str, object]
_Own: TypeAlias = Callable[[str, object], bool]
"""Whether an entry, by its name and value, is one of the table it stands in."""


@dataclass(frozen=True, slots=True)
class _Home:
    """A table that lines may have strayed from.

    Attributes
    ----------
    table : dict
        To put them back into.
    entries : tuple of str
        What may stand in it.
    where : str
        What messages call it.
    remedy : str
        How to move a line there.
    """

    table: _Table
    entries: tuple[str, ...]
    where: str
    remedy: str


def put_back(raw: Mapping[str, object], source: str) -> tuple[_Table, list[Mistake]]:
    """The tables with every strayed line where it belongs, and a mistake for each.

    Parameters
    ----------
    raw : mapping
        The whole file's table; it is not changed.
    source : str
        Name of the file.
    """
    whole = dict(raw)
    remedy = "Move that line to the top of the file, above the first heading."
    head = _Home(whole, _HEAD, "the whole file", remedy)
    mistakes: list[Mistake] = []
    mistakes += _named(whole, source)
    for key, cloth in _copied(whole, "cloth"):
        mistakes += _of_cloth(cloth, head, key, f"{source}, cloth {quoted(key)}")
    for key, piece in _copied(whole, "piece"):
        mistakes += _of_piece(piece, head, whole.get("cloth"), key, f"{source}, piece {quoted(key)}")
    missing = replace(head, entries=tuple(name for name in _HEAD if name not in whole))
    for kind, model in (("alternative", AlternativeTable), ("size", SizeTable)):
        for key, version in _copied(whole, kind):
            below = f"below the heading of {kind} {quoted(key)}"
            mistakes += _moved(version, _fields(model), (missing,), f"{source}, {kind} {quoted(key)}", below)
    for order in _inner(whole, "order"):
        below = "below the heading of the order"
        mistakes += _moved(order, _fields(OrderTable), (head,), f"{source}, order", below)
    return whole, mistakes


def _named(whole: _Table, source: str) -> list[Mistake]:
    """Put back tables by their headings.

    One may lack its kind, ``[tie]``, or its name, ``[piece]``, misspell one, or stand in quotation marks as a
    whole, ``["piece.tie"]``.
    """
    mistakes = []
    for name, table in list(whole.items()):
        if name in ProjectTable.model_fields or not isinstance(table, dict):
            continue
        first, *names = name.split(".")
        if first in _KINDS and names and all(names):
            what = f"The heading {quoted(name)} stands in quotation marks as a whole."
            heading = shortened(_heading(first, names))
            remedy = f"Put each name that needs them in marks of its own: [{heading}]."
            mistakes.append(Mistake(source, what, remedy))
            for one in reversed(names):
                table = {one: table}
            whole[first] = overlaid(_tables(whole, first), table)
            del whole[name]
            continue
        meant = next((kind for kind in _KINDS if did_you_mean(name, [kind])), None)
        if meant is not None and all(isinstance(one, dict) for one in table.values()):
            what = f"There is no heading that begins with {quoted(name)}."
            mistakes.append(Mistake(source, what, f"Did you mean {quoted(meant)}?"))
            whole[meant] = overlaid(_tables(whole, meant), table)
            del whole[name]
            continue
        kind = next((kind for kind, marks in _SHOWN_BY.items() if marks & table.keys()), None)
        if kind is not None and name not in PieceTable.model_fields:
            what = f"The heading {quoted(name)} does not say what that is."
            remedy = f"Write what it is before the name: [{kind}.{name}]."
            mistakes.append(Mistake(source, what, remedy))
            whole[kind] = overlaid(_tables(whole, kind), {name: table})
            del whole[name]
    for kind, marks in _SHOWN_BY.items():
        tables = _tables(whole, kind)
        fields = (PieceTable if kind == "piece" else ClothTable).model_fields
        own = {
            name: value
            for name, value in tables.items()
            if name in fields and not (isinstance(value, dict) and marks & value.keys())
        }
        if marks & own.keys():
            what = f"A heading [{kind}] has no name of its own behind it."
            mistakes.append(Mistake(source, what, f"Write for example [{kind}.{_EXAMPLE[kind]}]."))
            others = {name: value for name, value in tables.items() if name not in own}
            whole[kind] = {_EXAMPLE[kind]: own, **others}
    return mistakes


def _heading(kind: str, names: Sequence[str]) -> str:
    """The names of a heading joined by dots, each in quotation marks that needs them.

    >>> _heading("piece", ["side front", "edges"])
    'piece."side front".edges'
    """
    return ".".join((kind, *(one if _BARE.fullmatch(one) else f'"{one}"' for one in names)))


def _tables(whole: Mapping[str, object], kind: str) -> _Table:
    value = whole.get(kind, {})
    return value if isinstance(value, dict) else {}


def _of_cloth(cloth: _Table, head: _Home, key: str, where: str) -> list[Mistake]:
    mistakes = _moved(cloth, _fields(ClothTable), (head,), where, f"among the lines of cloth {quoted(key)}")
    remedy = (
        f"Move that line up to the other lines of the cloth, right below the heading of cloth {quoted(key)}."
    )
    home = _Home(cloth, tuple(ClothTable.model_fields), f"cloth {quoted(key)}", remedy)
    for name, model in _OF_CLOTH.items():
        for inner in _inner(cloth, name):
            below = f"below the heading of its {name}"
            mistakes += _moved(inner, _fields(model), (home, head), f"{where}, {name}", below)
    return mistakes


def _of_piece(piece: _Table, head: _Home, cloths: object, key: str, where: str) -> list[Mistake]:
    mistakes = _moved(piece, _fields(PieceTable), (head,), where, f"among the lines of piece {quoted(key)}")
    mistakes += _bare(piece, key, where)
    points = next(iter(_inner(piece, "points")), {})
    judged: list[tuple[str, _Own, str]] = [
        ("edges", _edge_of(points), "the heading of its edges"),
        ("points", _point, "the heading of its points"),
        ("cut", _count_in(cloths), "the heading of its cut"),
        *((name, _fields(model), f"the first heading of its {name}") for name, model in _OF_PIECE.items()),
    ]
    for name, own, heading in judged:
        remedy = f"Move that line up to the other lines of the piece, above {heading}."
        home = _Home(piece, tuple(PieceTable.model_fields), "the piece itself", remedy)
        for inner in _inner(piece, name):
            mistakes += _moved(inner, own, (home, head), f"{where}, {name}", f"below a heading of its {name}")
    return mistakes


def _bare(piece: _Table, key: str, where: str) -> list[Mistake]:
    """Points and edges right below the heading of the piece, and put into their tables."""
    mistakes = []
    unknown = {name: value for name, value in piece.items() if name not in PieceTable.model_fields}
    points = {
        name: value for name, value in unknown.items() if _point(name, value) and len(_list(value)) == 2
    }
    if points:
        what = f"{_stand(points)} there without 'points.' before the name."
        mistakes.append(Mistake(where, what, f"Write points.{next(iter(points))} = [0, 0]."))
        piece["points"] = {**_tables(piece, "points"), **points}
    is_edge = _edge_of(_tables(piece, "points"))
    edges = {name: value for name, value in unknown.items() if name not in points and is_edge(name, value)}
    if len(edges) == 1 and did_you_mean(next(iter(edges)), list(PieceTable.model_fields)):
        edges = {}  # an entry of the piece, misspelt
    if edges:
        what = f"{_stand(edges)} there without the heading of the edges."
        mistakes.append(Mistake(where, what, f"Write it above them: [piece.{key}.edges]."))
        piece["edges"] = {**_tables(piece, "edges"), **edges}
    for name in (*points, *edges):
        del piece[name]
    return mistakes


def _stand(names: Collection[str]) -> str:
    return f"{listed(names)} {'stands' if len(names) == 1 else 'stand'}"


def _list(value: object) -> list[object]:
    return value if isinstance(value, list) else []


def _moved(table: _Table, own: _Own, homes: tuple[_Home, ...], where: str, below: str) -> list[Mistake]:
    """Put back what has strayed into this table, and tell it."""
    mistakes = []
    for name in list(table):
        home = next((home for home in homes if name in home.entries), None)
        if home is None or own(name, table[name]):
            continue
        what = f"{quoted(name)} stands {below}, but it belongs to {home.where}."
        remedy = home.remedy
        if name in home.table:
            remedy = f"It is there already: leave this one out. Otherwise: {remedy}"
        mistakes.append(Mistake(where, what, remedy))
        home.table.setdefault(name, table.pop(name))
    return mistakes


def _copied(whole: _Table, kind: str) -> list[tuple[str, _Table]]:
    """The tables of that kind, by name; copies that stand in the whole now."""
    tables = whole.get(kind)
    if not isinstance(tables, dict):
        return []
    copies = {key: dict(table) if isinstance(table, dict) else table for key, table in tables.items()}
    whole[kind] = copies
    return [(key, table) for key, table in copies.items() if isinstance(table, dict)]


def _inner(table: _Table, entry: str) -> list[_Table]:
    """The tables that stand there, one or a list of them; copies that stand in the table now."""
    value = table.get(entry)
    if isinstance(value, dict):
        table[entry] = copy = dict(value)
        return [copy]
    if isinstance(value, list):
        copies = [dict(one) if isinstance(one, dict) else one for one in value]
        table[entry] = copies
        return [one for one in copies if isinstance(one, dict)]
    return []


def _fields(model: type[BaseModel]) -> _Own:
    return lambda name, value: name in model.model_fields


def _edge_of(points: Mapping[str, object]) -> _Own:
    """Whether this might be an edge: one may well be called "turn"."""

    def own(_: str, value: object) -> bool:
        through = value.get("through") if isinstance(value, dict) else value
        names = through.split() if isinstance(through, str) else through
        if not isinstance(names, list) or not names:
            return False
        return all(isinstance(name, str) and name in points for name in names)

    return own


def _point(_: str, value: object) -> bool:
    """Whether this might be a point: two numbers, or lengths."""
    return isinstance(value, list) and bool(value) and all(isinstance(x, int | float | str) for x in value)


def _count_in(cloths: object) -> _Own:
    """Whether this might be a count: its name is that of a cloth."""
    return lambda name, _: isinstance(cloths, dict) and name in cloths
