"""From a piece's table to a `Piece`, and what is wrong with it as a whole."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping

from nesting.errors import Problem
from nesting.files.project.marks import build_darts, build_grain, build_marks, build_notches
from nesting.files.project.matches import build_matching
from nesting.files.project.outlines import build_edges
from nesting.files.tables.schema import Outline, PieceTable
from nesting.files.tables.wording import choices, quoted
from nesting.pattern.counts import BadCount, read_count, with_fold, with_seam
from nesting.pattern.edges import extent_mm
from nesting.pattern.outline import piece_problems
from nesting.pattern.piece import CutCount, Piece
from nesting.pattern.shaping import cut_shape
from nesting.units import Unit, format_length

__all__ = ["build_piece"]

LARGE_MM = 2000.0
"""A piece longer than this is believed only where the person says so."""


def build_piece(
    name: str,
    table: PieceTable,
    *,
    cloth_keys: Collection[str],
    default_allowance_mm: float,
    unit: Unit,
    where: str,
    plain: Piece | None = None,
    counts_changed: Collection[str] = (),
    matching: Mapping[str, str] | None = None,
) -> tuple[Piece | None, list[Problem]]:
    """The piece, or nothing and all that is wrong with it.

    Parameters
    ----------
    name : str
    table : PieceTable
    cloth_keys : collection of str
        The cloths there are.
    default_allowance_mm : float
    unit : Unit
    where : str
        File and alternative, for messages.
    plain : Piece, optional
        For an alternative: the piece as it is in the plain version.
    counts_changed : collection of str
        Cloths whose counts the alternative gives anew. Where it takes a fold away or adds one, the
        others stay counts of the same garment: a whole becomes a pair, or a pair a whole.
    matching : Mapping[str, str], optional
        Points of it that are matched, each with the name of a match that does.
    """
    here = f"{where}, piece {quoted(name)}"
    edges, problems = build_edges(
        table,
        default_allowance_mm=default_allowance_mm,
        once_on_fold=plain.on_fold if plain else None,
        unit=unit,
        where=here,
    )
    grain_deg, grain_line, grain_problems = build_grain(table, here)
    notches, notch_problems = build_notches(table, edges, unit, here) if not problems else ((), [])
    darts, dart_problems = build_darts(table, here)
    marks, mark_problems = build_marks(table, here)
    matched, match_problems = (
        build_matching(table, edges, notches, matching, here) if matching and not problems else ((), [])
    )
    problems += grain_problems + notch_problems + dart_problems + mark_problems + match_problems
    problems += _unknown_names(table, cloth_keys, here)
    if problems:
        return None, problems
    piece = Piece(
        name=name,
        edges=edges,
        grain_deg=grain_deg,
        cuts={},
        on_fold=table.on_fold,
        allowance_included=table.outline is Outline.CUTTING,
        notches=notches,
        darts=darts,
        marks=marks,
        turn=table.turn,
        grain_tolerance_deg=table.grain_tolerance,
        grain_line=grain_line,
        matching=matched,
    )
    problems = [*_size_problems(piece, table, unit, here), *piece_problems(piece, where, unit=unit)]
    if problems:
        return None, problems
    kept: dict[str, CutCount] = {}
    if plain is not None and (plain.on_fold is None) != (piece.on_fold is None):
        kept = {key: count for key, count in plain.cuts.items() if key not in counts_changed}
    cuts, problems = _cuts(piece, table, kept, here)
    return dataclasses.replace(piece, cuts=cuts), problems


def _unknown_names(table: PieceTable, cloth_keys: Collection[str], where: str) -> list[Problem]:
    problems = []
    if table.on_fold is not None and table.on_fold not in table.edges:
        what = f"There is no edge {quoted(table.on_fold)} to lie on the fold."
        problems.append(Problem(where, what, choices(table.on_fold, list(table.edges), "edge")))
    for key in table.cut:
        if key not in cloth_keys:
            what = f"There is no cloth {quoted(key)}."
            problems.append(Problem(f"{where}, cut", what, choices(key, list(cloth_keys), "cloth")))
    return problems


def _size_problems(piece: Piece, table: PieceTable, unit: Unit, where: str) -> list[Problem]:
    longest = extent_mm(piece)
    if longest <= LARGE_MM or table.large:
        return []
    smaller = {Unit.CM: "mm", Unit.IN: "cm"}.get(unit)
    guess = (
        f'Are the numbers in {smaller}? Then write units = "{smaller}" at the top.'
        if smaller
        else "Check its points."
    )
    what = f"It is {format_length(longest, unit)} long."
    return [Problem(where, what, f"{guess} If it really is that long, add large = true to the piece.")]


def _cuts(
    piece: Piece, table: PieceTable, kept: Mapping[str, CutCount], where: str
) -> tuple[dict[str, CutCount], list[Problem]]:
    """How many in each cloth; a count of 0 is the same as leaving the cloth out."""
    on_fold = piece.on_fold is not None
    symmetric = not on_fold and cut_shape(piece).symmetric
    cuts: dict[str, CutCount] = {}
    problems = []
    for key, written in table.cut.items():
        if written == 0:
            continue
        try:
            if key in kept:
                cuts[key] = with_fold(kept[key]) if on_fold else with_seam(kept[key])
            else:
                cuts[key] = read_count(written, piece=piece.name, on_fold=on_fold, symmetric=symmetric)
        except BadCount as error:
            what, _, remedy = str(error).partition(". ")
            problems.append(Problem(f"{where}, cut", f"{what}.", remedy))
    return cuts, problems
