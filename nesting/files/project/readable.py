"""The pieces of a file that cannot be used yet, as far as they can be read: to be looked at, not laid."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from nesting.errors import BadInput, Mistake
from nesting.files.project.marks import build_darts, build_grain, build_marks, build_notches
from nesting.files.project.outlines import build_edges, draft_of
from nesting.files.tables.checking import checked
from nesting.files.tables.schema import DefaultsTable, Outline, PieceTable
from nesting.files.tables.strayed import put_back
from nesting.files.tables.toml_text import parse_toml, read_text
from nesting.pattern.edges import outline_ring
from nesting.pattern.piece import Piece
from nesting.project import Project
from nesting.units import Unit

__all__ = ["readable_pieces"]

_FEWEST_CORNERS = 3


def readable_pieces(path: Path) -> Project | None:
    """A project of the pieces whose points and edges can be read, whatever else is wrong with the file.

    Returns
    -------
    Project or None
        Without cloths; its pieces are cut from nothing and may cross themselves. None where not one can be
        read.
    """
    try:
        raw, _ = parse_toml(read_text(path), path.name)
    except BadInput:
        return None
    raw, _ = put_back(raw, path.name)
    written = raw.get("units")
    if written not in list(Unit):
        return None
    unit = Unit(str(written))
    default_mm = _seam_allowance(raw, unit)
    entries = raw.get("piece")
    tables = entries if isinstance(entries, dict) else {}
    found = (_piece(str(name), entry, default_mm, unit) for name, entry in tables.items())
    pieces = tuple(piece for piece in found if piece is not None)
    title = raw.get("title")
    return (
        Project(
            title=title if isinstance(title, str) and title else path.stem,
            unit=unit,
            currency="",
            cloths={},
            pieces=pieces,
        )
        if pieces
        else None
    )


def _piece(name: str, entry: object, default_mm: float, unit: Unit) -> Piece | None:
    table, _ = checked(PieceTable, entry, "", unit)
    if table is None:
        return None
    mistakes: list[Mistake]
    edges, mistakes = build_edges(table, default_allowance_mm=default_mm, unit=unit, where="")
    if mistakes or len(outline_ring(edges)) < _FEWEST_CORNERS:
        return None
    grain_deg, grain_line, _ = build_grain(table, "")
    return Piece(
        name=name,
        edges=edges,
        grain_deg=grain_deg,
        grain_line=grain_line,
        cuts={},
        on_fold=table.on_fold if table.on_fold in table.edges else None,
        allowance_included=table.outline is Outline.CUTTING,
        notches=build_notches(table, edges, unit, "")[0],
        darts=build_darts(table, "")[0],
        marks=build_marks(table, "")[0],
        draft=draft_of(table),
    )


def _seam_allowance(raw: Mapping[str, object], unit: Unit) -> float:
    written = {"seam_allowance": raw["seam_allowance"]} if "seam_allowance" in raw else {}
    table, _ = checked(DefaultsTable, written, "", unit)
    return (table or DefaultsTable()).seam_allowance
