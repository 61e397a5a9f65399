"""From a piece's table to a `Piece`, and what is wrong with it as a whole."""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Mapping

from nesting.doubts.points import likely_slips
from nesting.errors import Mistake
from nesting.files.project.marks import build_darts, build_grain, build_marks, build_notches
from nesting.files.project.matches import build_matching
from nesting.files.project.outlines import build_edges, draft_of
from nesting.files.project.slips import point_slip, slip_mistake
from nesting.files.tables.schema import Outline, PieceTable
from nesting.files.tables.wording import choices, quoted
from nesting.pattern.counts import BadCount, read_count, with_fold, with_seam
from nesting.pattern.edges import extent_mm
from nesting.pattern.outline import piece_faults
from nesting.pattern.piece import CutCount, Piece
from nesting.pattern.shaping import cut_shape
from nesting.units import Unit, format_length
from nesting.words.counts import bad_count_words
from nesting.words.doubts import doubt_mistake
from nesting.words.pieces import piece_mistake

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
) -> tuple[Piece | None, list[Mistake]]:
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
    mistakes = _unknown_names(table, cloth_keys, here)

    def shaped(table: PieceTable) -> tuple[Piece | None, list[Mistake]]:
        return _shaped(
            name, table, default_allowance_mm, plain.on_fold if plain else None, matching or {}, unit, here
        )

    piece, wrong = shaped(table)
    if wrong:
        # Often one point is what is wrong with all of it: that is told first, alone where it explains all.
        slip = point_slip(table, lambda changed: shaped(changed)[1])
        likely = likely_slips(piece.draft) if piece is not None and piece.draft is not None else ()
        told = [slip_mistake(slip, wrong[0], here, unit)] if slip else []
        wrong = told or [*(doubt_mistake(one, here, unit) for one in likely), *wrong]
    mistakes = wrong + mistakes
    if mistakes or piece is None:
        return None, mistakes
    kept: dict[str, CutCount] = {}
    if plain is not None and (plain.on_fold is None) != (piece.on_fold is None):
        kept = {key: count for key, count in plain.cuts.items() if key not in counts_changed}
    cuts, mistakes = _cuts(piece, table, kept, here)
    return dataclasses.replace(piece, cuts=cuts), mistakes


def _shaped(
    name: str,
    table: PieceTable,
    default_allowance_mm: float,
    once_on_fold: str | None,
    matching: Mapping[str, str],
    unit: Unit,
    here: str,
) -> tuple[Piece | None, list[Mistake]]:
    """The piece without its counts, or nothing and what is wrong with its shape."""
    edges, mistakes = build_edges(
        table,
        default_allowance_mm=default_allowance_mm,
        once_on_fold=once_on_fold,
        unit=unit,
        where=here,
    )
    grain_deg, grain_line, grain_mistakes = build_grain(table, here)
    notches, notch_mistakes = build_notches(table, edges, unit, here) if not mistakes else ((), [])
    darts, dart_mistakes = build_darts(table, here)
    marks, mark_mistakes = build_marks(table, here)
    matched, match_mistakes = (
        build_matching(table, edges, notches, matching, here) if matching and not mistakes else ((), [])
    )
    mistakes += grain_mistakes + notch_mistakes + dart_mistakes + mark_mistakes + match_mistakes
    mistakes += _unknown_fold(table, here)
    if mistakes:
        return None, mistakes
    draft = draft_of(table)
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
        may_be_left_off=table.may_be_left_off,
        draft=draft,
        drawn=table.drawn,
    )
    mistakes = _size_mistakes(piece, table, unit, here)
    mistakes += [piece_mistake(fault, here, unit) for fault in piece_faults(piece)]
    return piece, mistakes


def _unknown_fold(table: PieceTable, where: str) -> list[Mistake]:
    if table.on_fold is None or table.on_fold in table.edges:
        return []
    what = f"There is no edge {quoted(table.on_fold)} to lie on the fold."
    return [Mistake(where, what, choices(table.on_fold, list(table.edges), "edge"))]


def _unknown_names(table: PieceTable, cloth_keys: Collection[str], where: str) -> list[Mistake]:
    mistakes = []
    for key in table.cut:
        if key not in cloth_keys:
            what = f"There is no cloth {quoted(key)}."
            mistakes.append(Mistake(f"{where}, cut", what, choices(key, list(cloth_keys), "cloth")))
    return mistakes


def _size_mistakes(piece: Piece, table: PieceTable, unit: Unit, where: str) -> list[Mistake]:
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
    return [Mistake(where, what, f"{guess} If it really is that long, add large = true to the piece.")]


def _cuts(
    piece: Piece, table: PieceTable, kept: Mapping[str, CutCount], where: str
) -> tuple[dict[str, CutCount], list[Mistake]]:
    """How many in each cloth; a count of 0 is the same as leaving the cloth out."""
    on_fold = piece.on_fold is not None
    symmetric = not on_fold and cut_shape(piece).symmetric
    cuts: dict[str, CutCount] = {}
    mistakes = []
    for key, written in table.cut.items():
        if written == 0:
            continue
        try:
            if key in kept:
                cuts[key] = with_fold(kept[key], piece.name) if on_fold else with_seam(kept[key], piece.name)
            else:
                cuts[key] = read_count(written, piece=piece.name, on_fold=on_fold, symmetric=symmetric)
        except BadCount as bad:
            mistakes.append(Mistake(f"{where}, cut", *bad_count_words(bad)))
    return cuts, mistakes
