"""Wishes of where pieces lie, made into what the engine keeps to: parts of the cloth's length, and places.

Pieces that are to lie together are given the same part of the length, at the beginning of the cloth: which
end that is, is open as yet. Where there are several such groups, one behind another is tried as well.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from nesting.cloth.cloth import Cloth
from nesting.geometry import FloatArray
from nesting.packing.problem import WHOLE_STRIP
from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.piece import CutKind, Piece
from nesting.pattern.wish import FromEnd, Pin, Together, Wish
from nesting.project import Project

__all__ = ["FREE", "Hold", "holds", "pin_point", "wishes_on"]

Window = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Hold:
    """What a copy of a piece is held to.

    Attributes
    ----------
    window_mm : (float, float)
        Along the cloth it lies between these two.
    pin : Pin or None
        Its place across is that on the strip.
    """

    window_mm: Window = WHOLE_STRIP
    pin: Pin | None = None

    @property
    def at_first(self) -> bool:
        """Whether only the first stretch of the cloth will do."""
        return self.pin is not None or math.isfinite(self.window_mm[1])


FREE = Hold()
"""Anywhere."""


def wishes_on(project: Project, cloth: Cloth) -> tuple[Wish, ...]:
    """The wishes that concern this cloth."""
    cut = {piece.name for piece in project.pieces_in(cloth.key)}
    return tuple(
        wish for wish in project.wishes if wish.cloth in (None, cloth.key) and cut.intersection(wish.pieces)
    )


def holds(project: Project, cloth: Cloth) -> tuple[Mapping[tuple[str, int], Hold], ...]:
    """For each piece and copy that is held what it is held to, in the few ways that are tried."""
    wishes = wishes_on(project, cloth)
    if not wishes:
        return ({},)
    groups = sum(isinstance(wish, Together) for wish in wishes) * max(1, len(project.garments))
    ways = [
        _holds(project, cloth, wishes, staggered=staggered) for staggered in (False, True)[: 1 + (groups > 1)]
    ]
    return tuple(ways)


def _holds(
    project: Project, cloth: Cloth, wishes: Sequence[Wish], *, staggered: bool
) -> dict[tuple[str, int], Hold]:
    pieces = {piece.name: piece for piece in project.pieces_in(cloth.key)}
    least: dict[str, float] = {}
    pins: dict[str, Pin] = {}
    for wish in wishes:
        for name in wish.pieces:
            if isinstance(wish, FromEnd):
                least[name] = max(least.get(name, 0.0), wish.distance_mm)
            elif isinstance(wish, Pin):
                pins[name] = wish
    windows: dict[tuple[str, int], Window] = {
        (name, copy): (low, math.inf)
        for name, low in least.items()
        if name in pieces
        for copy in pieces[name].cuts[cloth.key].copies
    }
    behind = 0.0
    for wish in wishes:
        if not isinstance(wish, Together):
            continue
        anchors = [_anchor_mm(wish, pins[name]) for name in wish.pieces if name in pins]
        first = max([*(least.get(name, 0.0) for name in wish.pieces), *anchors])
        for garment in range(1, max(1, len(project.garments)) + 1):
            low = first if anchors else first + behind
            for name, copy in _of_garment(wish, pieces, cloth, garment):
                before = windows.get((name, copy), WHOLE_STRIP)
                windows[name, copy] = max(before[0], low), min(before[1], low + wish.within_mm)
            behind += wish.within_mm if staggered else 0.0
    found = {key: Hold(window) for key, window in windows.items()}
    for name, pin in pins.items():
        if name in pieces:
            together = cloth.asked_double and pieces[name].cuts[cloth.key].kind is CutKind.PAIR
            for copy in (1, 2) if together else (1,):
                found[name, copy] = Hold(pin=replace(pin, across_mm=strip_y_mm(pin, cloth)))
    return found


def _anchor_mm(wish: Together, pin: Pin) -> float:
    """Where a group begins one of whose pieces is pinned: the pin in its middle."""
    return max(0.0, pin.along_mm - wish.within_mm / 2)


def _of_garment(wish: Wish, pieces: Mapping[str, Piece], cloth: Cloth, garment: int) -> list[tuple[str, int]]:
    """Pieces and copies that a wish concerns in one garment."""
    return [
        (name, copy)
        for name in wish.pieces
        if name in pieces
        for copy in pieces[name].cuts[cloth.key].copies
        if pieces[name].cuts[cloth.key].garment_of(copy) in (None, garment)
    ]


def pin_point(shape: CutShape, name: str) -> FloatArray | None:
    """Where on a shape the point is by which it is pinned, (2,); None for the middle of its box."""
    for feature in shape.features:
        named = feature.name == name and bool(name)
        if named and (feature.kind is FeatureKind.NOTCH or len(feature.vertices) == 1):
            point: FloatArray = np.asarray(feature.vertices[0], dtype=np.float64)
            return point
    return None


def strip_y_mm(pin: Pin, cloth: Cloth) -> float:
    """Where the point lies across the strip: it is measured from the fold, or from the selvedge's edge."""
    return pin.across_mm - (0.0 if cloth.asked_double else cloth.washed_selvedge_mm)
