"""From ``[[match]]`` to points that meet on the same line of a repeat, and what cannot be."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import numpy as np
import shapely

from nesting.cloth.cloth import Cloth
from nesting.errors import Mistake
from nesting.files.project.marks import ON_OUTLINE_MM
from nesting.files.tables.schema import MatchTable, Outline, PieceTable
from nesting.files.tables.wording import choices, listed, quoted
from nesting.pattern.edges import outline_ring
from nesting.pattern.match import Axis, Match
from nesting.pattern.phases import Clash, groups
from nesting.pattern.piece import Edge, Mark, Notch, Piece
from nesting.units import Unit, format_length

__all__ = ["build_matches", "build_matching", "points_of"]


def points_of(piece: str, tables: Sequence[MatchTable]) -> dict[str, str]:
    """The points of a piece that matches name, each with the first match that does."""
    found: dict[str, str] = {}
    for number, table in enumerate(tables, 1):
        if piece in table.points:
            found.setdefault(table.points[piece], _called(table, number))
    return found


def build_matching(
    table: PieceTable,
    edges: Sequence[Edge],
    notches: Sequence[Notch],
    wanted: Mapping[str, str],
    where: str,
) -> tuple[tuple[Mark, ...], list[Mistake]]:
    """The matching points of one piece, on its seam line.

    Parameters
    ----------
    table : PieceTable
    edges : sequence of Edge
    notches : sequence of Notch
    wanted : Mapping[str, str]
        Names of points, each with its match, for messages.
    where : str
        File and piece.
    """
    marks: list[Mark] = []
    mistakes: list[Mistake] = []
    for name, match in wanted.items():
        place = f"{where}, match {quoted(match)}"
        found = _places(name, table, notches)
        if not found:
            known = list(
                dict.fromkeys([*(notch.name for notch in notches if notch.name), *_single_marks(table)])
            )
            what = f"The piece has no notch, mark or point {quoted(name)}."
            remedy = choices(name, [*known, *table.points], "matching point")
            mistakes.append(Mistake(place, what, remedy))
            continue
        if len(found) > 1:
            what = f"{len(found)} notches or marks of the piece are called {quoted(name)}."
            mistakes.append(Mistake(place, what, "Give each a name of its own, so that one can be meant."))
            continue
        marks.append(Mark(name, (found[0],)))
        if table.outline is Outline.CUTTING and _on_outline(found[0], edges, table.on_fold):
            what = f"{quoted(name)} lies on the cutting line, for this piece is drawn with its allowance."
            remedy = "Points are matched on the stitching line: measure one there, and name that."
            mistakes.append(Mistake(place, what, remedy))
    return tuple(marks), mistakes


def build_matches(
    tables: Sequence[MatchTable],
    cloths: Mapping[str, Cloth],
    pieces: Mapping[str, Piece],
    piece_names: Collection[str],
    unit: Unit,
    where: str,
) -> tuple[tuple[Match, ...], list[Mistake], list[str]]:
    """Every match, what is wrong with them, and notes on what holds only nearly or not at all.

    Parameters
    ----------
    tables : sequence of MatchTable
    cloths : Mapping[str, Cloth]
    pieces : Mapping[str, Piece]
        Those that could be built.
    piece_names : collection of str
        All that the file has.
    unit : Unit
    where : str
        File and version.
    """
    matches: list[Match] = []
    mistakes: list[Mistake] = []
    for number, table in enumerate(tables, 1):
        match = Match(
            _called(table, number),
            tuple(table.points.items()),
            () if table.repeat is None else table.repeat.axes,
            table.on_line,
            table.cloth,
        )
        place = f"{where}, match {quoted(match.name)}"
        matches.append(match)
        mistakes += _name_mistakes(match, cloths, piece_names, place)
        if all(name in pieces for name, _ in match.points):
            mistakes += _cloth_mistakes(match, cloths, pieces, place)
    notes: list[str] = []
    if not mistakes and all(name in pieces for match in matches for name, _ in match.points):
        for cloth in cloths.values():
            found, told = _clash_mistakes(matches, cloth, pieces, unit, where)
            mistakes += found
            notes += told
    if matches and not any(cloth.repeat for cloth in cloths.values()):
        notes.append("no cloth has a repeat, so nothing is matched")
    return tuple(matches), mistakes, notes


def _called(table: MatchTable, number: int) -> str:
    """The match's name, or one made of its pieces."""
    return table.name or " and ".join(table.points) or str(number)


def _single_marks(table: PieceTable) -> dict[str, str]:
    """Marks that are one point, by name, with the name of that point."""
    return {mark.name: mark.through[0] for mark in table.marks if mark.name and len(mark.through) == 1}


def _places(name: str, table: PieceTable, notches: Sequence[Notch]) -> list[tuple[float, float]]:
    """Where the notches and marks of that name are, or, when there is none, the point."""
    found = [notch.at for notch in notches if notch.name == name]
    found += [
        table.points[mark.through[0]]
        for mark in table.marks
        if mark.name == name and len(mark.through) == 1 and mark.through[0] in table.points
    ]
    if not found and name in table.points:
        found = [table.points[name]]
    return found


def _on_outline(point: tuple[float, float], edges: Sequence[Edge], on_fold: str | None) -> bool:
    """Whether a point is on an edge that is cut."""
    at = shapely.Point(point)
    return (
        any(
            at.distance(shapely.LineString(np.asarray(edge.vertices))) <= ON_OUTLINE_MM
            for edge in edges
            if edge.name != on_fold
        )
        and shapely.LinearRing(outline_ring(edges)).distance(at) <= ON_OUTLINE_MM
    )


def _name_mistakes(
    match: Match, cloths: Mapping[str, Cloth], piece_names: Collection[str], where: str
) -> list[Mistake]:
    mistakes = []
    if not match.points:
        remedy = 'Name a piece and a point of it: points = { front = "waist", back = "waist" }.'
        mistakes.append(Mistake(where, "It names no points.", remedy))
    for name, _ in match.points:
        if name not in piece_names:
            what = f"There is no piece {quoted(name)}."
            mistakes.append(Mistake(where, what, choices(name, list(piece_names), "piece")))
    if match.cloth is not None and match.cloth not in cloths:
        what = f"There is no cloth {quoted(match.cloth)}."
        mistakes.append(Mistake(where, what, choices(match.cloth, list(cloths), "cloth")))
    return mistakes


def _cloth_mistakes(
    match: Match, cloths: Mapping[str, Cloth], pieces: Mapping[str, Piece], where: str
) -> list[Mistake]:
    """Pieces that are not cut from the cloth that they are matched on, and repeats that it has not."""
    mistakes: list[Mistake] = []
    repeating = [cloth for cloth in cloths.values() if cloth.repeat is not None]
    meant = [cloth for cloth in repeating if match.cloth in (None, cloth.key)]
    if match.cloth in cloths and not meant and repeating:
        what = f"Cloth {quoted(match.cloth)} has no repeat on which anything could meet."
        remedy = f"Give it one: repeat = {{ along = 8 }}. Or name {listed(cloth.key for cloth in repeating)}."
        return [Mistake(where, what, remedy)]
    cut = [name for name, _ in match.points if pieces[name].cuts]
    held = [cloth for cloth in meant if any(cloth.key in pieces[name].cuts for name in cut)]
    for cloth in held:
        if len(cloth.remnants) > 1:
            what = (
                f"Cloth {quoted(cloth.key)} is in several remnants, and no line runs on from one to another."
            )
            remedy = "Write the one remnant that is to be matched on, or lay them plain: repeat = false."
            mistakes.append(Mistake(where, what, remedy))
        for name in cut:
            if cloth.key not in pieces[name].cuts:
                what = f"{quoted(name)} is not cut from cloth {quoted(cloth.key)}, where the others are."
                remedy = f"Take it out of the match, or cut it there: cut = {{ {cloth.key} = 1 }}."
                mistakes.append(Mistake(where, what, remedy))
        for axis in match.axes:
            if cloth.repeat is not None and cloth.repeat.length_mm(axis) is None:
                what = f"Cloth {quoted(cloth.key)} has no repeat {axis}."
                remedy = f"Give it one, repeat = {{ {axis} = 8 }}, or leave that direction out of the match."
                mistakes.append(Mistake(where, what, remedy))
    if meant and cut and not held:
        what = f"None of its pieces is cut from {listed(cloth.key for cloth in meant)}, which has the repeat."
        mistakes.append(Mistake(where, what, "Take the match out, or cut its pieces from that cloth."))
    return mistakes


def _clash_mistakes(
    matches: Sequence[Match], cloth: Cloth, pieces: Mapping[str, Piece], unit: Unit, where: str
) -> tuple[list[Mistake], list[str]]:
    """Matches that cannot all be kept on that cloth, and notes on those that are kept nearly."""
    mistakes: list[Mistake] = []
    notes: list[str] = []
    for axis in Axis:
        repeat = cloth.repeat_mm(axis)
        if repeat is None:
            continue
        cut = [name for name, piece in pieces.items() if cloth.key in piece.cuts]
        left = [match.among(cut) for match in matches if match.holds(axis, cloth.key)]
        held = [match for match in left if match is not None]
        for clash in groups(axis, repeat, held, pieces, cloth.key)[1]:
            off = f"{clash.off_mm:.1f} mm"
            if not clash.grave:
                notes.append(
                    f"match {quoted(clash.match.name)}: {_what_meets(clash)} to within {off} on the "
                    f"repeat {axis} of {quoted(cloth.key)}; what the file names before decides"
                )
                continue
            what = (
                f"On cloth {quoted(cloth.key)}, {_what_misses(clash)} by {off} {axis} the cloth once what "
                f"the file names before it meets: distances on two pieces may differ by whole repeats of "
                f"{format_length(repeat, unit)} only."
            )
            ways = [
                "Leave out one of the points that do not go together (what is to prevail stays)",
                f"move one on the paper by {off}",
            ]
            if cloth.repeat_mm(_other(axis)) is not None:
                ways.append(f'match them in the other direction only (repeat = "{_other(axis)}")')
            remedy = f"{', or '.join(ways)}."
            mistakes.append(Mistake(f"{where}, match {quoted(clash.match.name)}", what, remedy))
    return mistakes, notes


def _what_meets(clash: Clash) -> str:
    return f"{quoted(clash.second[1])} of {quoted(clash.second[0])} meets {_the_first(clash)}"


def _what_misses(clash: Clash) -> str:
    return f"{quoted(clash.second[1])} of {quoted(clash.second[0])} would miss {_the_first(clash)}"


def _the_first(clash: Clash) -> str:
    """What the point should meet."""
    piece, point = clash.first
    if not piece:
        return "the main line"
    return "its mirror image" if piece == clash.second[0] else f"{quoted(point)} of {quoted(piece)}"


def _other(axis: Axis) -> Axis:
    return Axis.ACROSS if axis is Axis.ALONG else Axis.ALONG
