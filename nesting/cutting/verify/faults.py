"""Judges a lay by itself: what would really come off the table, against what was asked for.

Nothing here uses the search, its no-fit polygons or the plan it was given. Every piece of cloth that cutting
would give is rebuilt from the placed outlines (`nesting.cutting.flat.rebuilding`), laid out flat on the
cloth, and compared with the paper (`nesting.cutting.verify.pieces`) and with the lines of the repeat
(`nesting.cutting.verify.lines`). What the lay says in words and numbers (face, turn, copies, layers, bound)
must be true of its outlines.

Every spread is told here once more, from the cloth's point of view (see `nesting.cutting.flat.opening`):
where on the flat cloth, right side up, each layer of each section comes from.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely import affinity

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.flat.opening import in_the_round, layers_of, stretch_faults, taken_mm
from nesting.cutting.flat.points import CutPoint, points_cut
from nesting.cutting.flat.rebuilding import CutPiece, blocked_areas, cut_pieces
from nesting.cutting.lay import Lay, LaySection, PlacedPiece, Yield
from nesting.cutting.verify.lines import line_faults, section_line_faults
from nesting.cutting.verify.pieces import label, one_way_faults, piece_faults, word_faults
from nesting.cutting.verify.wishes import wish_faults
from nesting.errors import LayRefused
from nesting.project import Project

__all__ = ["OVERLAP_TOLERANCE_MM", "faults", "require_sound"]

OVERLAP_TOLERANCE_MM = 0.01
"""Two pieces may run into each other by no more than this: a tenth of a chalk line's sharpness."""
ON_FOLD_MM = 1e-6
"""Rounding allowed where an edge lies on the fold."""


def require_sound(lay: Lay, project: Project) -> None:
    """Raise `LayRefused`, listing every fault, unless the lay is sound."""
    found = faults(lay, project)
    if found:
        raise LayRefused(
            f"The lay of '{lay.cloth.name}' did not pass verification and is not shown: " + "; ".join(found)
        )


def faults(lay: Lay, project: Project) -> tuple[str, ...]:
    """Everything wrong with a lay, in words; empty when it is sound.

    Parameters
    ----------
    lay : Lay
    project : Project
        What was asked for.
    """
    if lay.cloth != project.cloths.get(lay.cloth.key):
        return (f"the lay is on another cloth than the project's '{lay.cloth.key}'",)
    found = _spread_faults(lay, project.table_mm)
    pieces = {piece.name: piece for piece in project.pieces_in(lay.cloth.key)}
    end = flat_end = 0.0
    cut: list[CutPiece] = []
    points: list[CutPoint] = []
    for number, stretch in enumerate(lay.stretches, start=1):
        start, length = stretch[0].start_mm, stretch[0].length_mm
        if abs(start - end) > OVERLAP_TOLERANCE_MM:
            found.append(f"stretch {number} starts at {start:.2f} mm, not at {end:.2f} mm")
        end = start + length
        wrong = stretch_faults(stretch, lay.cloth, OVERLAP_TOLERANCE_MM)
        found += wrong
        for section in () if wrong else stretch:
            found += _section_faults(section, lay.cloth)
            found += section_line_faults(section, project, lay.cloth)
            layers = layers_of(section, stretch, flat_end, lay.cloth)
            for placed in section.placed:
                cut += cut_pieces(placed, layers, lay.cloth)
                if placed.piece in pieces:
                    points += points_cut(placed, section, layers, pieces[placed.piece], lay.cloth)
                    found += word_faults(placed, pieces[placed.piece], lay.cloth)
        flat_end += length if wrong else taken_mm(stretch, lay.cloth)
    if abs(flat_end - lay.length_mm) > OVERLAP_TOLERANCE_MM:
        found.append(f"the lay says {lay.length_mm:.2f} mm of cloth, opened out it is {flat_end:.2f} mm")
    found += _flat_faults(cut, flat_end, lay.cloth)
    found += _blocked_faults(lay, cut)
    found += _gap_faults(lay)
    found += line_faults(points, project, lay.cloth)
    for piece in pieces.values():
        found += piece_faults(piece, lay.cloth, [one for one in cut if one.piece == piece.name])
    found += one_way_faults(cut, pieces, lay.cloth)
    found += wish_faults([(one.piece, one.copy, one.cut.polygon) for one in cut], lay, project)
    found += [
        f"'{name}' is laid but not asked for" for name in sorted({one.piece for one in cut} - pieces.keys())
    ]
    return tuple(found)


def _spread_faults(lay: Lay, table_mm: float | None) -> list[str]:
    """A cloth spread as it may not be, or beyond the table, and lengths that cannot be true."""
    found = []
    if lay.spread is Spread.BEST or lay.cloth.spread not in {Spread.BEST, lay.spread}:
        found.append(f"the cloth lies '{lay.spread}', but '{lay.cloth.spread}' is asked for")
    # What follows a fold lies opened out; a fold on which nothing can be cut may be left out altogether.
    spreads = [stretch[0].spread for stretch in lay.stretches]
    folded = sum(spread is lay.spread for spread in spreads)
    for number, spread in enumerate(spreads):
        if spread is not (lay.spread if number < folded else Spread.OPEN):
            found.append(f"a stretch of the cloth lies '{spread}', not '{lay.spread}'")
    if table_mm is None and (folded > 1 or len(spreads) - folded > 1):
        found.append(f"the cloth lies in {len(spreads)} lengths, with no table to go on")
    for number, stretch in enumerate(lay.stretches if table_mm is not None else (), start=1):
        ends = [float(one.shape.cut_line[:, 0].max()) for section in stretch for one in section.placed]
        if table_mm is not None and max(ends, default=0.0) > table_mm + OVERLAP_TOLERANCE_MM:
            found.append(f"stretch {number}, {max(ends):.2f} mm, is longer than the table, {table_mm:.2f} mm")
    if lay.bound_mm > lay.length_mm + OVERLAP_TOLERANCE_MM:
        found.append(f"the lay, {lay.length_mm:.2f} mm, is shorter than its bound, {lay.bound_mm:.2f} mm")
    return found


def _section_faults(section: LaySection, cloth: Cloth) -> list[str]:
    """Pieces that cross a line where the layers change, or off the fold they belong on."""
    found = []
    tolerance = OVERLAP_TOLERANCE_MM
    ground = shapely.box(-tolerance, -tolerance, section.length_mm + tolerance, section.width_mm + tolerance)
    for placed in section.placed:
        called = label(placed)
        if not ground.covers(shapely.Polygon(placed.shape.cut_line)):
            found.append(f"{called} reaches outside the cloth")
        expected = {1: {Yield.ONE}, 2: {Yield.PAIR, Yield.WHOLE_ON_FOLD}}[section.layers]
        if placed.yields not in expected:
            found.append(f"{called} cannot give {placed.yields} from {section.layers} layer(s)")
        if placed.yields is Yield.WHOLE_ON_FOLD and _fold_mm(placed, section) is None:
            found.append(f"{called} does not lie on the fold")
    return found


def _flat_faults(cut: list[CutPiece], flat_mm: float, cloth: Cloth) -> list[str]:
    """Pieces of cloth that would be cut out of each other, out of a selvedge, or beyond an end."""
    tolerance = OVERLAP_TOLERANCE_MM
    selvedge = cloth.washed_selvedge_mm
    low, high = selvedge, selvedge + cloth.usable_width_mm
    if cloth.tube:
        low, high = -high, high  # round and round: half of it, opened either way from the fold
    whole = shapely.box(-tolerance, low - tolerance, flat_mm + tolerance, high + tolerance)
    found = [
        f"'{one.piece}' {one.copy} is not all on the cloth, opened out"
        for one in cut
        if not whole.covers(one.cut.polygon)
    ]
    if not cut:
        return found
    # Shrinking both by half the tolerance leaves an overlap only where they run in deeper than that.
    cores = [one.cut.polygon.buffer(-tolerance / 2, join_style="mitre") for one in cut]
    for i, j in shapely.STRtree(cores).query(cores, predicate="intersects").T:
        if i < j:
            found.append(f"'{cut[i].piece}' {cut[i].copy} and '{cut[j].piece}' {cut[j].copy} overlap")
    return found


def _blocked_faults(lay: Lay, cut: list[CutPiece]) -> list[str]:
    """Pieces of cloth with a flaw in them, or where there is no cloth."""
    areas = blocked_areas(lay.cloth)
    if areas and any(map(in_the_round, lay.stretches)):
        return ["a tube with flaws, which are measured with it cut open, is not laid open"]
    return [
        f"'{one.piece}' {one.copy} lies over '{name}'"
        for name, area in areas
        for one in cut
        if one.cut.polygon.buffer(-OVERLAP_TOLERANCE_MM, join_style="mitre").intersects(area)
    ]


def _gap_faults(lay: Lay) -> list[str]:
    """Papers that lie too near each other, over the whole table."""
    gap = lay.cloth.gap_mm
    if gap <= 0:
        return []
    placed = [(section, one) for section in lay.sections for one in section.placed]
    polygons = [
        affinity.translate(shapely.Polygon(one.shape.cut_line), section.start_mm, section.across_mm)
        for section, one in placed
    ]
    near = shapely.STRtree(polygons).query(
        polygons, predicate="dwithin", distance=max(0.0, gap - OVERLAP_TOLERANCE_MM)
    )
    return [
        f"{label(placed[i][1])} and {label(placed[j][1])} are closer than {gap:g} mm"
        for i, j in near.T
        if i < j
    ]


def _fold_mm(placed: PlacedPiece, section: LaySection) -> float | None:
    """The fold that the piece's fold edge lies on, nothing of the piece beyond it: its y, or None."""
    edge = placed.shape.fold_edge
    if edge is None:
        return None
    folds = [0.0] * section.fold.low + [section.width_mm] * section.fold.high
    return next((fold for fold in folds if np.abs(edge[:, 1] - fold).max() <= ON_FOLD_MM), None)
