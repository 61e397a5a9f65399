"""At which angles an outline that may be turned anyhow is worth trying, and how short it can be along.

As an outline turns, its extents along and across are those of its convex hull, and between two angles at
which an edge of the hull lies along or across the strip they are sine curves that bend down. So the least
extent along, among all angles at which the outline goes across, is had where an edge of the hull lies along
or across, or where the outline goes across exactly: all of these are looked at.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray, next_ones
from nesting.packing.problem import Item, Variant

__all__ = ["FEW", "every_variant", "faces", "least_along", "promising", "worth_trying"]

APART_DEG = 4.0
"""Edges whose directions differ by less, quarter turns aside, are laid flat only once."""

EVENLY_DEG = (45.0, 22.5, 67.5, 11.25, 33.75, 56.25, 78.75)
"""Between the angles at which it lies narrowest along and across: tried after the others."""

FEW = 8
"""Angles that an item is tried at beside its own, if not said otherwise."""

NEAR_DEG = 1.0
"""Nearer to each other than this, two are one: copies are turned by little later."""

FULL = 360.0


def faces(item: Item) -> tuple[bool, ...]:
    """Whether its variants are mirrored: one of each."""
    return tuple(dict.fromkeys(variant.mirrored for variant in item.variants))


def every_variant(item: Item, width_mm: float, most: int = FEW) -> tuple[Variant, ...]:
    """An item's own variants and, if it may be turned anyhow, `most` angles worth trying, either face up."""
    beside = promising(item, width_mm, most) if item.any_turn else ()
    return tuple(dict.fromkeys((*item.variants, *beside)))


def promising(item: Item, width_mm: float, most: int = FEW) -> tuple[Variant, ...]:
    """Of an item that may be turned anyhow, `most` angles worth trying, either face up."""
    variants: dict[Variant, None] = {}
    for mirrored in faces(item):
        ring = item.outline @ Variant(0.0, mirrored).matrix().T
        variants |= dict.fromkeys(Variant(angle, mirrored) for angle in worth_trying(ring, width_mm, most))
    return tuple(variants)


def least_along(ring: FloatArray, width_mm: float = np.inf) -> tuple[float, float]:
    """The least extent along x at any angle at which the extent along y is no more than `width_mm`.

    Returns
    -------
    along_mm, angle_deg : float
        Infinite and 0 where it goes across at no angle.
    """
    hull = _hull(ring)
    angles = _flat_angles(hull)
    angles = np.unique(
        np.concatenate([angles, *(_crossings(hull, a, b, width_mm) for a, b in _arcs(angles))])
    )
    extents = _extents(hull, angles)
    fits = extents[:, 1] <= width_mm * (1 + 1e-12) + 1e-9
    if not fits.any():
        return np.inf, 0.0
    along = np.where(fits, extents[:, 0], np.inf)
    best = int(np.argmin(along))
    return float(along[best]), float(angles[best])


def worth_trying(ring: FloatArray, width_mm: float, most: int) -> tuple[float, ...]:
    """Angles in degrees, `most` at most, those that promise most first.

    First those at which the outline takes least along and least across; then those at which a long edge of
    its hull, or the chord across a hollow, lies along a side of the strip or across it: where two outlines
    lie so, their edges lie flat against each other, too; then some evenly between. None depends on how the
    outline was drawn.
    """
    hull = _hull(ring)
    found: list[float] = []
    narrowest = least_along(ring)[1] + 90.0
    between = (narrowest + by for by in EVENLY_DEG)
    for angle in (least_along(ring, width_mm)[1], narrowest, *_by_length(hull), *between):
        for turn in (0.0, 180.0, 90.0, 270.0):
            way = (angle + turn) % FULL
            if all(abs((way - one + 180.0) % FULL - 180.0) > NEAR_DEG for one in found):
                found.append(way)
    return tuple(found[:most])


def _hull(ring: FloatArray) -> FloatArray:
    import shapely

    return shapely.get_coordinates(shapely.MultiPoint(ring).convex_hull)[:-1]


def _edges(hull: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Lengths of the hull's edges, and at which angle each lies along x."""
    ahead = next_ones(hull) - hull
    return np.hypot(ahead[:, 0], ahead[:, 1]), -np.rad2deg(np.arctan2(ahead[:, 1], ahead[:, 0]))


def _by_length(hull: FloatArray) -> list[float]:
    """Angles that lay an edge of the hull along x, the longest first, those alike only once."""
    lengths, flat = _edges(hull)
    kept: list[float] = []
    for angle in flat[np.argsort(-lengths, kind="stable")]:
        if all(abs((angle - one + 45.0) % 90.0 - 45.0) >= APART_DEG for one in kept):
            kept.append(float(angle))
    return kept


def _flat_angles(hull: FloatArray) -> FloatArray:
    """All angles in [0, 180) at which an edge of the hull lies along or across; extents repeat after that."""
    _, flat = _edges(hull)
    return np.unique(np.concatenate([flat, flat + 90.0]) % 180.0)


def _arcs(angles: FloatArray) -> list[tuple[float, float]]:
    return list(zip(angles.tolist(), [*angles[1:].tolist(), float(angles[0]) + 180.0], strict=True))


def _crossings(hull: FloatArray, begin: float, end: float, width_mm: float) -> FloatArray:
    """Angles of an arc without flat edges at which the extent across is just the width."""
    middle = np.deg2rad((begin + end) / 2)
    across = hull @ np.array([np.sin(middle), np.cos(middle)])
    span = hull[int(np.argmax(across))] - hull[int(np.argmin(across))]
    # At an angle t: span_x sin t + span_y cos t = width, that is far cos(t - at) = width.
    far, at = float(np.hypot(*span)), float(np.rad2deg(np.arctan2(span[0], span[1])))
    if far <= width_mm or not np.isfinite(width_mm):
        return np.zeros(0)
    off = float(np.rad2deg(np.arccos(width_mm / far)))
    found = np.array([at - off, at + off])
    found = begin + (found - begin) % FULL
    return found[found < end] % 180.0


def _extents(hull: FloatArray, angles_deg: FloatArray) -> FloatArray:
    """(N, 2): along and across at each angle."""
    t = np.deg2rad(angles_deg)[:, None]
    x = hull[:, 0] * np.cos(t) - hull[:, 1] * np.sin(t)
    y = hull[:, 0] * np.sin(t) + hull[:, 1] * np.cos(t)
    return np.column_stack([np.ptp(x, axis=1), np.ptp(y, axis=1)])
