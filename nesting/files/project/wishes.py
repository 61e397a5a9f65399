"""From ``[[wish]]`` to wishes of where pieces lie."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from nesting.cloth.cloth import Cloth
from nesting.errors import Mistake
from nesting.files.tables.wish import WishTable
from nesting.files.tables.wording import choices, listed, quoted
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import Piece
from nesting.pattern.shaping import cut_shape
from nesting.pattern.wish import FromEnd, Pin, Together, Wish
from nesting.units import Unit, format_length

__all__ = ["build_wishes_for"]


def build_wishes_for(
    tables: Sequence[WishTable],
    cloths: Mapping[str, Cloth],
    pieces: Sequence[Piece],
    piece_names: Collection[str],
    unit: Unit,
    where: str,
) -> tuple[tuple[Wish, ...], list[Mistake], list[str]]:
    """The wishes, what is wrong with each by itself, and sentences on how they are understood.

    Whether they go together, and with the cloth, is judged by `nesting.cutting.plan.holds`.
    """
    known = {piece.name: piece for piece in pieces}
    wishes: list[Wish] = []
    mistakes: list[Mistake] = []
    notes: list[str] = []
    for number, table in enumerate(tables, 1):
        here = f"{where}, wish {number}"
        found = _mistakes(table, cloths, known, piece_names, here)
        mistakes += found
        if not found:
            wishes.append(_wish(table))
            notes.append(f"wish {number}: {_words(table, unit)}")
    return tuple(wishes), mistakes, notes


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


def _mistakes(
    table: WishTable,
    cloths: Mapping[str, Cloth],
    known: Mapping[str, Piece],
    names: Collection[str],
    where: str,
) -> list[Mistake]:
    kinds = [kind for kind in ("together", "from_end", "pin") if getattr(table, kind) is not None]
    if len(kinds) != 1:
        what = f"It asks for {' and '.join(kinds)} at once." if kinds else "It asks for nothing."
        remedy = 'Write one of: together = ["front", "back"], from_end = 20, pin = [60, 45].'
        return [Mistake(where, what, remedy)]
    mistakes = []
    if kinds == ["together"]:
        if table.within is None:
            remedy = "Write for example: within = 70."
            mistakes.append(Mistake(where, "It does not say within how much of the cloth's length.", remedy))
        if len(set(table.together or ())) < 2:
            mistakes.append(Mistake(where, "It keeps a piece together with none.", "Name two or more."))
    elif table.piece is None:
        mistakes.append(Mistake(where, "'piece' is missing.", 'Write for example: piece = "front"'))
    pieces = table.together if table.together is not None else [table.piece] if table.piece else []
    for name in dict.fromkeys(pieces):
        if name not in names:
            mistakes.append(
                Mistake(where, f"There is no piece {quoted(name)}.", choices(name, names, "piece"))
            )
    if table.cloth is not None and table.cloth not in cloths:
        what = f"There is no cloth {quoted(table.cloth)}."
        mistakes.append(Mistake(where, what, choices(table.cloth, list(cloths), "cloth")))
    if mistakes:
        return mistakes
    there = [known[name] for name in pieces if name in known]
    for piece in there:
        if table.cloth is not None and table.cloth not in piece.cuts:
            what = f"Piece {quoted(piece.name)} is not cut from cloth {quoted(table.cloth)}."
            mistakes.append(Mistake(where, what, "Name a cloth that it is cut from, or leave cloth out."))
    if table.pin is not None and there:
        mistakes += _pin_mistakes(table, there[0], where)
    return mistakes


def _pin_mistakes(table: WishTable, piece: Piece, where: str) -> list[Mistake]:
    mistakes = []
    if table.cloth is None and len(piece.cuts) > 1:
        what = f"Piece {quoted(piece.name)} is cut from {listed(piece.cuts)}."
        mistakes.append(Mistake(where, what, f'Say where it is pinned: cloth = "{next(iter(piece.cuts))}".'))
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
            mistakes.append(Mistake(where, what, remedy))
    return mistakes
