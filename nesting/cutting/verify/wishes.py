"""Whether a lay keeps to what was wished of where pieces lie; written without what makes it do so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Lay, PlacedPiece
from nesting.pattern.piece import CutCount
from nesting.pattern.wish import FromEnd, Pin, Wish
from nesting.project import Project

__all__ = ["CutOut", "wish_faults"]

CutOut = tuple[str, int, shapely.Polygon]
"""Piece, copy, and where it is cut on the cloth opened out flat."""

TOLERANCE_MM = 0.01
_PINNED_MM = 0.05


def wish_faults(cut: Sequence[CutOut], lay: Lay, project: Project) -> list[str]:
    """Every wish that the lay does not keep to."""
    found = []
    counts = {piece.name: piece.cuts[lay.cloth.key] for piece in project.pieces_in(lay.cloth.key)}
    for wish in project.wishes:
        if wish.cloth in (None, lay.cloth.key) and set(wish.pieces) & set(counts):
            found += _faults(wish, cut, lay, counts)
    return found


def _faults(wish: Wish, cut: Sequence[CutOut], lay: Lay, counts: dict[str, CutCount]) -> list[str]:
    if isinstance(wish, Pin):
        return _pin_faults(wish, lay)
    found = []
    mine = [(name, copy, polygon.bounds) for name, copy, polygon in cut if name in wish.pieces]
    if isinstance(wish, FromEnd):
        return [
            f"'{name}' {copy} lies {bounds[0]:.2f} mm from the cut end, not {wish.distance_mm:.2f} mm"
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
            found.append(f"{of} lie over {span:.2f} mm of the cloth, not {wish.within_mm:.2f} mm")
    return found


def _pin_faults(wish: Pin, lay: Lay) -> list[str]:
    """A pinned piece must be where it was pinned with its first copy, face up, turned as wished."""
    from_selvedge = lay.cloth.washed_selvedge_mm if lay.spread is Spread.OPEN else 0.0
    for section in lay.sections:
        for placed in section.placed:
            if placed.piece not in wish.pieces or 1 not in placed.copies:
                continue
            at = _point(placed, wish.point) + np.array([section.start_mm, section.across_mm + from_selvedge])
            off = at - np.array([wish.along_mm, wish.across_mm])
            if float(np.abs(off).max()) > _PINNED_MM and not (
                placed.shape.fold_edge is not None and abs(off[0]) <= _PINNED_MM and abs(off[1]) <= 1.0
            ):
                return [f"'{placed.piece}' lies {np.hypot(*off):.2f} mm from where it is pinned"]
            if (placed.turned_deg % 360 == 180.0) is not wish.turned:
                return [f"'{placed.piece}' is pinned with its top the other way"]
            return []
    return [f"{wish.pieces[0]} is pinned and not laid"]


def _point(placed: PlacedPiece, name: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    for feature in placed.shape.features:
        if name and feature.name == name:
            return np.asarray(feature.vertices[0], dtype=np.float64)
    line = placed.shape.cut_line
    middle: np.ndarray[tuple[int, ...], np.dtype[np.float64]] = (line.min(axis=0) + line.max(axis=0)) / 2
    return middle
