"""Whether a lay keeps to what was wished of where pieces lie; written without what makes it do so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Lay, PlacedPiece
from nesting.fault import Fault, FaultKind
from nesting.geometry import FloatArray
from nesting.pattern.piece import CutCount
from nesting.pattern.wish import FromEnd, Pin, Wish
from nesting.project import Project

__all__ = ["PINNED_MM", "TOLERANCE_MM", "CutOut", "WishFault", "wish_faults"]

CutOut = tuple[str, int, shapely.Polygon]
"""Piece, copy, and where it is cut on the cloth opened out flat."""

TOLERANCE_MM = 0.01
"""Rounding allowed in how far pieces lie from the cut end, or over how much of the cloth."""
PINNED_MM = 0.05
"""A pinned piece lies where it was pinned to within this, half the width of a pencil line."""
_PINNED_TO_THE_FOLD_MM = 1.0
"""A piece on the fold lies there, though where it was pinned was measured so far off it."""


class WishFault(FaultKind):
    """What can be wrong with how a lay keeps to a wish."""

    NEAR_THE_END = "'{piece}' {copy} lies {from_end_mm:.2f} mm from the cut end, not {wished_mm:.2f} mm"
    FAR_APART = "{pieces} lie over {over_mm:.2f} mm of the cloth, not {within_mm:.2f} mm"
    OFF_ITS_PIN = "'{piece}' lies {off_mm:.2f} mm from where it is pinned"
    TURNED_ON_ITS_PIN = "'{piece}' is pinned with its top the other way"
    PINNED_AND_NOT_LAID = "{piece} is pinned and not laid"


def wish_faults(cut: Sequence[CutOut], lay: Lay, project: Project) -> list[Fault]:
    """Every wish that the lay does not keep to."""
    found = []
    counts = {piece.name: piece.cuts[lay.cloth.key] for piece in project.pieces_in(lay.cloth.key)}
    for wish in project.wishes:
        if wish.cloth in (None, lay.cloth.key) and set(wish.pieces) & set(counts):
            found += _faults(wish, cut, lay, counts)
    return found


def _faults(wish: Wish, cut: Sequence[CutOut], lay: Lay, counts: dict[str, CutCount]) -> list[Fault]:
    if isinstance(wish, Pin):
        return _pin_faults(wish, lay)
    found = []
    asked = set(wish.pieces) & set(counts)
    mine = [(name, copy, polygon.bounds) for name, copy, polygon in cut if name in asked]
    if isinstance(wish, FromEnd):
        return [
            WishFault.NEAR_THE_END.of(
                piece=name, copy=copy, from_end_mm=bounds[0], wished_mm=wish.distance_mm
            )
            for name, copy, bounds in mine
            if bounds[0] < wish.distance_mm - TOLERANCE_MM
        ]
    garments: dict[int, list[tuple[float, float]]] = {}
    for name, copy, (least, _, most, _) in mine:
        # Copies of a garment follow one another, as many for each.
        numbers = counts[name].garments or (0,)
        garment = numbers[(copy - 1) * len(numbers) // counts[name].pieces]
        garments.setdefault(garment, []).append((least, most))
    for garment, extents in garments.items():
        span = max(most for _, most in extents) - min(least for least, _ in extents)
        if span > wish.within_mm + TOLERANCE_MM:
            of = f"{', '.join(wish.pieces)} of garment {garment}" if garment else ", ".join(wish.pieces)
            found.append(WishFault.FAR_APART.of(pieces=of, over_mm=span, within_mm=wish.within_mm))
    return found


def _pin_faults(wish: Pin, lay: Lay) -> list[Fault]:
    """A pinned piece must be where it was pinned with its first copy, face up, turned as wished."""
    from_selvedge = lay.cloth.washed_selvedge_mm if lay.spread is Spread.OPEN else 0.0
    for section in lay.sections:
        for placed in section.placed:
            if placed.piece not in wish.pieces or 1 not in placed.copies:
                continue
            at = _point(placed, wish.point) + np.array([section.start_mm, section.across_mm + from_selvedge])
            off = at - np.array([wish.along_mm, wish.across_mm])
            if float(np.abs(off).max()) > PINNED_MM and not (
                placed.shape.fold_edge is not None
                and abs(off[0]) <= PINNED_MM
                and abs(off[1]) <= _PINNED_TO_THE_FOLD_MM
            ):
                return [WishFault.OFF_ITS_PIN.of(piece=placed.piece, off_mm=np.hypot(*off))]
            if (placed.turned_deg % 360 == 180.0) is not wish.turned:
                return [WishFault.TURNED_ON_ITS_PIN.of(piece=placed.piece)]
            return []
    return [WishFault.PINNED_AND_NOT_LAID.of(piece=wish.pieces[0])]


def _point(placed: PlacedPiece, name: str) -> FloatArray:
    for feature in placed.shape.features:
        if name and feature.name == name:
            return np.asarray(feature.vertices[0], dtype=np.float64)
    line = placed.shape.cut_line
    return np.asarray((line.min(axis=0) + line.max(axis=0)) / 2)
