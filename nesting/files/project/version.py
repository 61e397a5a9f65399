"""One version of a project, plain or with the changes of a size or an alternative: its cloths and pieces."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from pydantic import BaseModel

from nesting.cloth.cloth import Cloth
from nesting.errors import Mistake
from nesting.files.project.cloths import build_cloth
from nesting.files.project.matches import build_matches, points_of
from nesting.files.project.pieces import build_piece
from nesting.files.project.remnants import line_mistakes, name_mistakes
from nesting.files.project.strips import build_strip
from nesting.files.project.wishes import build_wishes_for
from nesting.files.tables.checking import checked
from nesting.files.tables.schema import ClothTable, DefaultsTable, MatchTable, PieceTable
from nesting.files.tables.strip import StripTable
from nesting.files.tables.wish import WishTable
from nesting.files.tables.wording import quoted
from nesting.pattern.match import Axis, Match
from nesting.pattern.piece import Piece
from nesting.pattern.wish import Wish
from nesting.units import Unit
from nesting.words.counts import count_note

__all__ = ["Version", "read_version"]

_M = TypeVar("_M", bound=BaseModel)


@dataclass(frozen=True, slots=True, eq=False)
class Version:
    """What was read.

    Attributes
    ----------
    cloths : dict of str to Cloth
    pieces : tuple of Piece
    notes : tuple of str
        How things were understood.
    mistakes : list of Mistake
        With any of them the version is not complete.
    tables : dict
        Everything as checked, defaults filled in: two versions with equal tables are the same.
    entries : dict
        The pieces' tables as they came: what a later version leaves as it is need not be read again.
    matches : tuple of Match
    wishes : tuple of Wish
    """

    cloths: dict[str, Cloth]
    pieces: tuple[Piece, ...]
    notes: tuple[str, ...]
    mistakes: list[Mistake]
    tables: dict[tuple[str, str], object]
    entries: dict[str, object]
    matches: tuple[Match, ...] = ()
    wishes: tuple[Wish, ...] = ()


def read_version(
    raw: Mapping[str, object],
    where: str,
    unit: Unit | None,
    *,
    plain: Version | None = None,
    changes: Mapping[str, object] | None = None,
) -> Version:
    """Read the cloths and pieces of one version.

    Parameters
    ----------
    raw : mapping
        The whole file's table, changes made.
    where : str
        File and alternative, for messages.
    unit : Unit or None
        None while it is unknown: then only the entries themselves are judged, no sizes.
    plain, changes : optional
        For a size or an alternative: the version it changes, and what was laid over it.
    """
    mistakes: list[Mistake] = []
    cloths: dict[str, Cloth] = {}
    pieces: list[Piece] = []
    tables: dict[tuple[str, str], object] = {}
    defaults = _defaults(raw, unit)
    cloth_tables = _entries(raw, "cloth")
    for key, entry in cloth_tables.items():
        place = f"{where}, cloth {quoted(key)}"
        table, found = checked(ClothTable, entry, place, unit)
        mistakes += found
        if table is not None and unit is not None:
            cloth, found = build_cloth(
                key, table, unit, place, outright=plain is None, spare_at_least_mm=defaults.spare_at_least
            )
            mistakes += found
            cloths[key] = cloth
            tables["cloth", key] = cloth
    mistakes += name_mistakes(cloths.values(), where)
    allowance = defaults.seam_allowance
    match_tables = _readable(raw, "match", MatchTable, unit)
    plain_pieces = {piece.name: piece for piece in plain.pieces} if plain else {}
    entries = _entries(raw, "piece")
    for name, entry in entries.items():
        if plain is not None and plain.entries.get(name) is entry and _same_default(plain, name, allowance):
            tables["piece", name] = plain.tables["piece", name]
            pieces += [plain_pieces[name]] if name in plain_pieces else []
            continue
        place = f"{where}, piece {quoted(name)}"
        piece_table, found = checked(PieceTable, entry, place, unit)
        mistakes += found
        if piece_table is None or unit is None:
            continue
        tables["piece", name] = (piece_table.model_dump(), allowance)
        piece, found = build_piece(
            name,
            piece_table,
            cloth_keys=list(cloth_tables),
            default_allowance_mm=allowance,
            unit=unit,
            where=where,
            plain=plain_pieces.get(name),
            counts_changed=_entries(_entries(_entries(changes or {}, "piece"), name), "cut"),
            matching=points_of(name, match_tables),
        )
        mistakes += found
        if piece is not None:
            pieces.append(piece)
    strip_notes: list[str] = []
    for strip in _readable(raw, "strip", StripTable, unit):
        if unit is None:
            break
        names = [*entries, *(piece.name for piece in pieces)]
        piece, found, note = build_strip(strip, cloths, names, unit, where)
        mistakes += found
        strip_notes += [note] if note else []
        pieces += [] if piece is None else [piece]
    notes = (*_notes(cloths, tuple(pieces), plain_pieces), *strip_notes)
    matches: tuple[Match, ...] = ()
    if match_tables and unit is not None:
        built = {piece.name: piece for piece in pieces}
        matches, found, nearly = build_matches(match_tables, cloths, built, list(entries), unit, where)
        mistakes += found
        notes = (*notes, *nearly)
        cloths = {key: _begun(cloth, matches, pieces) for key, cloth in cloths.items()}
        for key, cloth in cloths.items():
            mistakes += line_mistakes(cloth, f"{where}, cloth {quoted(key)}")
    wishes: tuple[Wish, ...] = ()
    wish_tables = _readable(raw, "wish", WishTable, unit)
    if wish_tables and unit is not None:
        names = [*entries, *(piece.name for piece in pieces if piece.name not in entries)]
        wishes, found, told = build_wishes_for(wish_tables, cloths, pieces, names, unit, where)
        mistakes += found
        notes = (*notes, *told)
    return Version(cloths, tuple(pieces), notes, mistakes, tables, entries, matches, wishes)


def _readable(raw: Mapping[str, object], key: str, model: type[_M], unit: Unit | None) -> list[_M]:
    """The tables of a list that can be read; what is wrong with others is told where the head is checked."""
    written = raw.get(key, [])
    found = [checked(model, one, "", unit)[0] for one in (written if isinstance(written, list) else [])]
    return [one for one in found if one is not None]


def _begun(cloth: Cloth, matches: Sequence[Match], pieces: Sequence[Piece]) -> Cloth:
    """The cloth, its end straightened along a line where anything is matched along it."""
    cut = {piece.name for piece in pieces if cloth.key in piece.cuts}
    along = any(match.holds(Axis.ALONG, cloth.key) and match.among(cut) for match in matches)
    return replace(cloth, begins_on_line=along and cloth.repeat_mm(Axis.ALONG) is not None)


def _same_default(plain: Version, name: str, allowance: float) -> bool:
    """Whether that piece was read with this seam allowance for edges without one of their own."""
    table = plain.tables.get(("piece", name))
    return isinstance(table, tuple) and table[1] == allowance


def _entries(raw: Mapping[str, object], key: str) -> dict[str, object]:
    value = raw.get(key, {})
    return value if isinstance(value, dict) else {}


def _defaults(raw: Mapping[str, object], unit: Unit | None) -> DefaultsTable:
    """What holds where nothing else is said; what is wrong with it is told where the head is checked."""
    written = {key: raw[key] for key in DefaultsTable.model_fields if key in raw}
    table, _ = checked(DefaultsTable, written, "", unit)
    return table or DefaultsTable()


def _notes(
    cloths: Mapping[str, Cloth], pieces: tuple[Piece, ...], plain: Mapping[str, Piece]
) -> tuple[str, ...]:
    """How counts were understood, and what is written down but used nowhere."""
    notes = [
        count_note(count.reading)
        for piece in pieces
        for count in piece.cuts.values()
        if count.reading is not None
    ]
    notes += [
        f"{quoted(piece.name)}: edge {quoted(piece.on_fold)} is laid on the fold as it is drawn; "
        "take off first what seam allowance the paper has there"
        for piece in pieces
        if piece.allowance_included
        and piece.name in plain
        and piece.on_fold not in (None, plain[piece.name].on_fold)
    ]
    notes += [f"piece {quoted(piece.name)} is cut from no cloth" for piece in pieces if not piece.cuts]
    used = {key for piece in pieces for key in piece.cuts}
    notes += [f"no piece is cut from cloth {quoted(key)}" for key in cloths if key not in used]
    return tuple(dict.fromkeys(notes))
