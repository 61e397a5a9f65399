"""Judges a lay by itself: what would really come off the table, against what was asked for.

Nothing here uses the search, its no-fit polygons or the plan it was given, nor what makes a cut line of a
paper. Every piece of cloth that cutting would give is rebuilt from the placed outlines
(`nesting.cutting.flat.rebuilding`), laid out flat on the cloth, and compared with the paper
(`nesting.cutting.verify.pieces`, `paper`) and with the lines of the repeat (`nesting.cutting.verify.lines`).
What the lay says in words and numbers (face, turn, copies, layers, bound) must be true of its outlines.

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
from nesting.fault import Fault, FaultKind
from nesting.project import Project

__all__ = ["ON_FOLD_MM", "OVERLAP_TOLERANCE_MM", "LayFault", "faults", "require_sound"]

OVERLAP_TOLERANCE_MM = 0.01
"""Two pieces may run into each other by no more than this: a tenth of a chalk line's sharpness."""
ON_FOLD_MM = 1e-6
"""Rounding allowed where an edge lies on the fold."""


class LayFault(FaultKind):
    """What can be wrong with a lay as a whole, and with where its pieces lie."""

    OTHER_CLOTH = "the lay is on another cloth than the project's '{key}'"
    NOT_WHERE_THE_LAST_ENDS = "stretch {number} starts at {start_mm:.2f} mm, not at {end_mm:.2f} mm"
    NOT_ASKED_FOR = "'{piece}' is laid but not asked for"
    OTHER_SPREAD = "the cloth lies '{spread}', but '{asked}' is asked for"
    OTHER_STRETCH = "a stretch of the cloth lies '{spread}', not '{lay}'"
    NO_TABLE = "the cloth lies in {number} lengths, with no table to go on"
    LONGER_THAN_THE_TABLE = "stretch {number}, {end_mm:.2f} mm, is longer than the table, {table_mm:.2f} mm"
    SHORTER_THAN_ITS_BOUND = "the lay, {length_mm:.2f} mm, is shorter than its bound, {bound_mm:.2f} mm"
    OTHER_LENGTH = "the lay says {said_mm:.2f} mm of cloth, opened out it is {flat_mm:.2f} mm"
    OUTSIDE = "{called} reaches outside the cloth"
    CANNOT_GIVE = "{called} cannot give {yields} from {layers} layer(s)"
    OFF_THE_FOLD = "{called} does not lie on the fold"
    OFF_THE_FLAT_CLOTH = "'{piece}' {copy} is not all on the cloth, opened out"
    OVERLAP = "'{piece}' {copy} and '{other}' {other_copy} overlap"
    TUBE_WITH_FLAWS = "a tube with flaws, which are measured with it cut open, is not laid open"
    OVER_A_FLAW = "'{piece}' {copy} lies over '{flaw}'"
    NEAR_A_FLAW = (
        "'{piece}' {copy} is cut {apart_mm:.2f} mm from '{flaw}', not {keep_off_mm:g} mm clear of it"
    )
    TOO_NEAR = "{called} and {other} are closer than {gap_mm:g} mm"


def require_sound(lay: Lay, project: Project) -> None:
    """Raise `LayRefused`, listing every fault, unless the lay is sound."""
    found = faults(lay, project)
    if found:
        raise LayRefused(
            f"The lay of '{lay.cloth.name}' did not pass verification and is not shown: " + "; ".join(found)
        )


def faults(lay: Lay, project: Project) -> tuple[Fault, ...]:
    """Everything wrong with a lay, in words; empty when it is sound.

    Parameters
    ----------
    lay : Lay
    project : Project
        What was asked for.
    """
    if lay.cloth != project.cloths.get(lay.cloth.key):
        return (LayFault.OTHER_CLOTH.of(key=lay.cloth.key),)
    found = _spread_faults(lay, project.table_mm)
    pieces = {piece.name: piece for piece in project.pieces_in(lay.cloth.key)}
    end = flat_end = 0.0
    cut: list[CutPiece] = []
    points: list[CutPoint] = []
    for number, stretch in enumerate(lay.stretches, start=1):
        start, length = stretch[0].start_mm, stretch[0].length_mm
        if abs(start - end) > OVERLAP_TOLERANCE_MM:
            found.append(LayFault.NOT_WHERE_THE_LAST_ENDS.of(number=number, start_mm=start, end_mm=end))
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
        found.append(LayFault.OTHER_LENGTH.of(said_mm=lay.length_mm, flat_mm=flat_end))
    found += _flat_faults(cut, flat_end, lay.cloth)
    found += _blocked_faults(lay, cut)
    found += _gap_faults(lay)
    found += line_faults(points, project, lay.cloth)
    for piece in pieces.values():
        found += piece_faults(piece, lay.cloth, [one for one in cut if one.piece == piece.name])
    found += one_way_faults(cut, pieces, lay.cloth)
    found += wish_faults([(one.piece, one.copy, one.cut.polygon) for one in cut], lay, project)
    found += [
        LayFault.NOT_ASKED_FOR.of(piece=name) for name in sorted({one.piece for one in cut} - pieces.keys())
    ]
    return tuple(found)


def _spread_faults(lay: Lay, table_mm: float | None) -> list[Fault]:
    """A cloth spread as it may not be, or beyond the table, and lengths that cannot be true."""
    found = []
    if lay.spread is Spread.BEST or lay.cloth.spread not in {Spread.BEST, lay.spread}:
        found.append(LayFault.OTHER_SPREAD.of(spread=lay.spread, asked=lay.cloth.spread))
    # What follows a fold lies opened out; a fold on which nothing can be cut may be left out altogether.
    spreads = [stretch[0].spread for stretch in lay.stretches]
    folded = sum(spread is lay.spread for spread in spreads)
    for number, spread in enumerate(spreads):
        if spread is not (lay.spread if number < folded else Spread.OPEN):
            found.append(LayFault.OTHER_STRETCH.of(spread=spread, lay=lay.spread))
    if table_mm is None and (folded > 1 or len(spreads) - folded > 1):
        found.append(LayFault.NO_TABLE.of(number=len(spreads)))
    for number, stretch in enumerate(lay.stretches if table_mm is not None else (), start=1):
        ends = [float(one.shape.cut_line[:, 0].max()) for section in stretch for one in section.placed]
        if table_mm is not None and max(ends, default=0.0) > table_mm + OVERLAP_TOLERANCE_MM:
            found.append(
                LayFault.LONGER_THAN_THE_TABLE.of(number=number, end_mm=max(ends), table_mm=table_mm)
            )
    if lay.bound_mm > lay.length_mm + OVERLAP_TOLERANCE_MM:
        found.append(LayFault.SHORTER_THAN_ITS_BOUND.of(length_mm=lay.length_mm, bound_mm=lay.bound_mm))
    return found


def _section_faults(section: LaySection, cloth: Cloth) -> list[Fault]:
    """Pieces that cross a line where the layers change, or off the fold they belong on."""
    found = []
    tolerance = OVERLAP_TOLERANCE_MM
    ground = shapely.box(-tolerance, -tolerance, section.length_mm + tolerance, section.width_mm + tolerance)
    for placed in section.placed:
        called = label(placed)
        if not ground.covers(shapely.Polygon(placed.shape.cut_line)):
            found.append(LayFault.OUTSIDE.of(called=called))
        expected = {1: {Yield.ONE}, 2: {Yield.PAIR, Yield.WHOLE_ON_FOLD}}[section.layers]
        if placed.yields not in expected:
            found.append(LayFault.CANNOT_GIVE.of(called=called, yields=placed.yields, layers=section.layers))
        if placed.yields is Yield.WHOLE_ON_FOLD and _fold_mm(placed, section) is None:
            found.append(LayFault.OFF_THE_FOLD.of(called=called))
    return found


def _flat_faults(cut: list[CutPiece], flat_mm: float, cloth: Cloth) -> list[Fault]:
    """Pieces of cloth that would be cut out of each other, out of a selvedge, or beyond an end."""
    tolerance = OVERLAP_TOLERANCE_MM
    selvedge = cloth.washed_selvedge_mm
    low, high = selvedge, selvedge + cloth.usable_width_mm
    if cloth.tube:
        low, high = -high, high  # round and round: half of it, opened either way from the fold
    whole = shapely.box(-tolerance, low - tolerance, flat_mm + tolerance, high + tolerance)
    found = [
        LayFault.OFF_THE_FLAT_CLOTH.of(piece=one.piece, copy=one.copy)
        for one in cut
        if not whole.covers(one.cut.polygon)
    ]
    if not cut:
        return found
    # Shrinking both by half the tolerance leaves an overlap only where they run in deeper than that.
    cores = [one.cut.polygon.buffer(-tolerance / 2, join_style="mitre") for one in cut]
    for i, j in shapely.STRtree(cores).query(cores, predicate="intersects").T:
        if i < j:
            found.append(
                LayFault.OVERLAP.of(
                    piece=cut[i].piece, copy=cut[i].copy, other=cut[j].piece, other_copy=cut[j].copy
                )
            )
    return found


def _blocked_faults(lay: Lay, cut: list[CutPiece]) -> list[Fault]:
    """Pieces of cloth with a flaw in them or too near, or where there is no cloth."""
    areas = blocked_areas(lay.cloth)
    if areas and any(map(in_the_round, lay.stretches)):
        return [LayFault.TUBE_WITH_FLAWS.of()]
    found = []
    for (name, area), blocked in zip(areas, lay.cloth.blocked, strict=True):
        for one in cut:
            apart = one.cut.polygon.distance(area)
            if one.cut.polygon.buffer(-OVERLAP_TOLERANCE_MM, join_style="mitre").intersects(area):
                found.append(LayFault.OVER_A_FLAW.of(piece=one.piece, copy=one.copy, flaw=name))
            elif apart < blocked.keep_off_mm - OVERLAP_TOLERANCE_MM:
                found.append(
                    LayFault.NEAR_A_FLAW.of(
                        piece=one.piece,
                        copy=one.copy,
                        apart_mm=apart,
                        flaw=name,
                        keep_off_mm=blocked.keep_off_mm,
                    )
                )
    return found


def _gap_faults(lay: Lay) -> list[Fault]:
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
        LayFault.TOO_NEAR.of(called=label(placed[i][1]), other=label(placed[j][1]), gap_mm=gap)
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
