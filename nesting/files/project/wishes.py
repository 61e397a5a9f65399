"""From ``[[wish]]`` to wishes of where pieces lie."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from nesting.cloth.cloth import Cloth
from nesting.errors import Problem
from nesting.files.tables.values import Name, Point, length
from nesting.files.tables.wording import choices, listed, quoted
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import Piece
from nesting.pattern.shaping import cut_shape
from nesting.pattern.wish import FromEnd, Pin, Together, Wish
from nesting.units import Unit, format_length

__all__ = ["WishTable", "build_wishes_for"]

_Length = Annotated[float, length(0, 100_000, zero_allowed=False)]


class WishTable(BaseModel):
    """``[[wish]]``: one of three kinds."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    together: list[Name] | None = Field(default=None, examples=['together = ["front", "back"]'])
    within: _Length | None = Field(default=None, examples=["within = 70"])
    piece: Name | None = Field(default=None, examples=['piece = "front"'])
    from_end: _Length | None = Field(default=None, examples=["from_end = 20"])
    pin: Point | None = Field(default=None, examples=["pin = [60, 45]"])
    point: Name | None = Field(default=None, examples=['point = "motif"'])
    turned: bool = Field(default=False, examples=["turned = true"])
    cloth: Name | None = Field(default=None, examples=['cloth = "main"'])


def build_wishes_for(
    tables: Sequence[WishTable],
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    piece_names: Collection[str],
    unit: Unit,
    where: str,
) -> tuple[tuple[Wish, ...], list[Problem], list[str]]:
    """The wishes, what is wrong with each by itself, and sentences on how they are understood.

    Whether they go together, and with the cloth, is judged by `nesting.cutting.plan.holds`.
    """
    known = {piece.name: piece for piece in pieces}
    wishes: list[Wish] = []
    problems: list[Problem] = []
    notes: list[str] = []
    for number, table in enumerate(tables, 1):
        here = f"{where}, wish {number}"
        found = _problems(table, cloths, known, piece_names, here)
        problems += found
        if not found:
            wishes.append(_wish(table))
            notes.append(f"wish {number}: {_words(table, unit)}")
    return tuple(wishes), problems, notes


def _wish(table: WishTable) -> Wish:
    if table.together is not None:
        return Together(tuple(table.together), table.within or 0.0, table.cloth)
    pieces = (table.piece or "",)
    if table.pin is not None:
        along, across = table.pin
        return Pin(pieces, along, across, table.point or "", table.turned, table.cloth)
    return FromEnd(pieces, table.from_end or 0.0, table.cloth)


def _words(table: WishTable, unit: Unit) -> str:
    if table.together is not None:
        within = format_length(table.within or 0.0, unit)
        return f"{listed(table.together)} lie within {within} of the cloth's length"
    if table.pin is not None:
        along, across = (format_length(mm, unit) for mm in table.pin)
        point = quoted(table.point) if table.point else "the middle"
        return f"{point} of {quoted(table.piece)} lies {along} along the cloth and {across} across it"
    return (
        f"{quoted(table.piece)} lies at least {format_length(table.from_end or 0.0, unit)} from the cut end"
    )


def _problems(
    table: WishTable,
    cloths: Mapping[str, Cloth],
    known: Mapping[str, Piece],
    names: Collection[str],
    where: str,
) -> list[Problem]:
    kinds = [kind for kind in ("together", "from_end", "pin") if getattr(table, kind) is not None]
    if len(kinds) != 1:
        what = f"It asks for {' and '.join(kinds)} at once." if kinds else "It asks for nothing."
        remedy = 'Write one of: together = ["front", "back"], from_end = 20, pin = [60, 45].'
        return [Problem(where, what, remedy)]
    problems = []
    if kinds == ["together"]:
        if table.within is None:
            remedy = "Write for example: within = 70."
            problems.append(Problem(where, "It does not say within how much of the cloth's length.", remedy))
        if len(set(table.together or ())) < 2:
            problems.append(Problem(where, "It keeps a piece together with none.", "Name two or more."))
    elif table.piece is None:
        problems.append(Problem(where, "'piece' is missing.", 'Write for example: piece = "front"'))
    pieces = table.together if table.together is not None else [table.piece] if table.piece else []
    for name in dict.fromkeys(pieces):
        if name not in names:
            problems.append(
                Problem(where, f"There is no piece {quoted(name)}.", choices(name, names, "piece"))
            )
    if table.cloth is not None and table.cloth not in cloths:
        what = f"There is no cloth {quoted(table.cloth)}."
        problems.append(Problem(where, what, choices(table.cloth, list(cloths), "cloth")))
    if problems:
        return problems
    there = [known[name] for name in pieces if name in known]
    for piece in there:
        if table.cloth is not None and table.cloth not in piece.cuts:
            what = f"Piece {quoted(piece.name)} is not cut from cloth {quoted(table.cloth)}."
            problems.append(Problem(where, what, "Name a cloth that it is cut from, or leave cloth out."))
    if table.pin is not None and there:
        problems += _pin_problems(table, there[0], where)
    return problems


def _pin_problems(table: WishTable, piece: Piece, where: str) -> list[Problem]:
    problems = []
    if table.cloth is None and len(piece.cuts) > 1:
        what = f"Piece {quoted(piece.name)} is cut from {listed(piece.cuts)}."
        problems.append(Problem(where, what, f'Say where it is pinned: cloth = "{next(iter(piece.cuts))}".'))
    if table.point:
        points = [
            feature.name
            for feature in cut_shape(piece).features
            if feature.name and (feature.kind is FeatureKind.NOTCH or len(feature.vertices) == 1)
        ]
        if table.point not in points:
            what = (
                f"Piece {quoted(piece.name)} has no notch, and no mark of one point, called "
                f"{quoted(table.point)}."
            )
            remedy = "Leave point out: its middle is meant."
            remedy = choices(table.point, points, "point") if points else remedy
            problems.append(Problem(where, what, remedy))
    return problems
