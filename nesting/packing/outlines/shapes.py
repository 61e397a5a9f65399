"""Outlines as the engine sees them: whole numbers, centred on their box, equal shapes found once.

Terms
-----
unit
    The engine's grid: a power of two of a millimetre, so that outlines given on a coarser dyadic grid and all
    quarter turns stay exact. About ``2**SCALE_BITS`` units go to the largest measure of the problem. Corners
    lie on even units.
shape
    One item in one variant, its reference moved to the centre of its box.
flip
    ``(±1, ±1)``: what x and y are multiplied with. Half turns and mirrorings are flips about the box's
    centre; shapes that are flips of each other share their no-fit polygons.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, log2
from typing import Any

import numpy as np
import numpy.typing as npt

from nesting.errors import InvalidShape
from nesting.geometry import FloatArray, counter_clockwise, next_ones, previous_ones, signed_area

__all__ = [
    "SCALE_BITS",
    "IndexArray",
    "IntArray",
    "Shape",
    "checked_ring",
    "grid_of",
    "make_shape",
    "thinned",
    "units_per_mm",
]

IntArray = npt.NDArray[np.int64]
IndexArray = npt.NDArray[np.uint64]
"""Places in an array; unsigned, so that compiled code need not ask whether one counts from the end."""

SCALE_BITS = 34
"""Relative grid 6e-11, corners on 1.2e-10: far below what can be cut; products of lengths fit 128 bits."""

MANY = 200
"""Vertices from which an outline is thinned."""

THIN = 1e-4
"""Of the outline's size: 0.08 mm on a piece of 750 mm."""

ROUGHEST, DOUBLINGS = 4000.0, 13
"""How rough (`roughness`) an outline may be when it is laid; how often it is taken twice as loosely for
that before its box stands for it."""

FLIPS = ((1, 1), (-1, -1), (1, -1), (-1, 1))


def units_per_mm(largest_mm: float) -> float:
    """Grid units to a millimetre, a power of two."""
    return float(2.0 ** (SCALE_BITS - 1 - floor(log2(largest_mm))))


def grid_of(width_mm: float, gap_mm: float, rings: Iterable[FloatArray]) -> float:
    """Grid units to a millimetre for a strip, and rings (N, 2) in mm, that may lie on it in any turn."""
    extents = [float(np.hypot(*np.ptp(ring, axis=0))) for ring in rings]
    return units_per_mm(max([width_mm + 2 * gap_mm, *extents]))


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """An outline on the grid.

    Attributes
    ----------
    canon : (N, 2) int64 array
        Counter-clockwise, box centred on the origin, first of the four flips in a fixed order.
    key : bytes
        Equal for shapes that are flips of each other.
    flip : (int, int)
        ``flip * canon`` is this shape (as a set of points).
    centre : (2,) float64 array, mm
        Of the box, in the item's own (turned) coordinates: engine position = placement + centre.
    half : (2,) float64 array, mm
        Half the box.
    """

    canon: IntArray
    key: bytes
    flip: tuple[int, int]
    centre: FloatArray
    half: FloatArray


def checked_ring(outline: FloatArray, name: str) -> FloatArray:
    """The outline without repeated and straight-through points, counter-clockwise, if it is a polygon at all.

    Raises
    ------
    InvalidShape
        Wrong form, a coordinate that is no number, fewer than three corners, no area, or edges that cross.
    """
    ring = np.asarray(outline, dtype=np.float64)
    if ring.ndim != 2 or ring.shape[1:] != (2,):
        raise InvalidShape(f"'{name}': an outline is a table of x and y, not an array of shape {ring.shape}.")
    if not np.isfinite(ring).all():
        row = int(np.flatnonzero(~np.isfinite(ring).all(axis=1))[0])
        raise InvalidShape(f"'{name}': point {row + 1} of the outline is not a number.")
    ring = _without_idle_points(ring)
    flat = f"'{name}': the outline has no area; give at least three corners round an inside."
    if len(ring) < 3:
        raise InvalidShape(flat)
    from shapely import Polygon
    from shapely.validation import explain_validity

    polygon = Polygon(ring)
    if not polygon.is_valid and np.linalg.matrix_rank(ring - ring[0], tol=1e-9 * np.ptp(ring)) == 2:
        raise InvalidShape(f"'{name}': the outline crosses or touches itself ({explain_validity(polygon)}).")
    if abs(signed_area(ring)) <= 1e-9 * float(np.ptp(ring, axis=0).max()) ** 2:
        raise InvalidShape(flat)
    return counter_clockwise(ring)


def _without_idle_points(ring: FloatArray) -> FloatArray:
    """Drop points that repeat their neighbour or lie straight between their neighbours."""
    size = float(np.ptp(ring, axis=0).max()) if len(ring) else 0.0
    tolerance = 1e-9 * size
    while len(ring) >= 3:
        step = next_ones(ring) - ring
        keep = np.hypot(step[:, 0], step[:, 1]) > tolerance
        if keep.all():
            back = ring - previous_ones(ring)
            chord = step + back
            across = np.abs(back[:, 0] * step[:, 1] - back[:, 1] * step[:, 0])
            ahead = (back * step).sum(axis=1) > 0
            keep = (across > 1e-3 * tolerance * np.hypot(chord[:, 0], chord[:, 1])) | ~ahead
            if keep.all():
                break
            drop = np.flatnonzero(~keep)
            keep[:] = True
            keep[drop[0]] = False  # one at a time: its neighbours must be judged anew
        ring = ring[keep]
    return ring


def roughness(ring: FloatArray) -> float:
    """Vertices times full turns made by the boundary, to and fro.

    The convolution with another outline grows with it: at each vertex one edge of the other is added for each
    of its directions that the turn takes in. 4 for a box, at most 36 on seven open instances, up to half the
    square of the vertices for teeth like needles.
    """
    ahead = next_ones(ring) - ring
    towards = np.arctan2(ahead[:, 1], ahead[:, 0])
    turns = (towards - previous_ones(towards) + np.pi) % (2 * np.pi) - np.pi
    return float(len(ring) * np.abs(turns).sum() / (2 * np.pi))


def is_thinned(ring: FloatArray) -> bool:
    """Whether another outline stands for this one where it meets others (`thinned`)."""
    return len(ring) >= MANY or roughness(ring) > ROUGHEST


def thinned(ring: FloatArray) -> FloatArray:
    """A ring of `MANY` vertices or more with fewer, round all of the old one, about `THIN` of its size away.

    One that is rougher than `ROUGHEST` then, or of fewer vertices from the start, is taken more and more
    loosely until it is not; at worst its box stands for it. The no-fit polygon of two saw blades of some
    hundred teeth could not be waited for.
    """
    away = 0.5 * THIN * float(np.ptp(ring, axis=0).max())
    fewer = _round_of(ring, away, join_style="mitre", mitre_limit=5.0) if len(ring) >= MANY else ring
    if fewer is None or len(fewer) > len(ring):
        fewer = ring
    for _ in range(DOUBLINGS):
        if roughness(fewer) <= ROUGHEST:
            break
        away *= 2.0
        # Of the outline so far, whose narrow gaps are closed; round, for sharp teeth would grow sharp spikes.
        looser = _round_of(fewer, away, join_style="round", quad_segs=2)
        fewer = fewer if looser is None else looser
    if roughness(fewer) <= ROUGHEST:
        return fewer
    (left, low), (right, high) = ring.min(axis=0), ring.max(axis=0)
    return np.array([[left, low], [right, low], [right, high], [left, high]])


def _round_of(ring: FloatArray, away: float, **joined: Any) -> FloatArray | None:
    """The outline simplified (Douglas and Peucker, as shapely does it), then made larger by what it cut off.

    None if some of the whole is outside even so. Two segments to a quarter circle reach out 0.92 of `away`
    at least, which is more than the 0.9 that simplifying may cut off.
    """
    from shapely import Polygon

    whole = Polygon(ring)
    outer = getattr(whole.simplify(0.9 * away).buffer(away, **joined), "exterior", None)
    if outer is None or not Polygon(outer).covers(whole):
        return None
    return counter_clockwise(np.array(outer.coords)[:-1])


def _even(units: FloatArray) -> FloatArray:
    """The nearest even numbers; those of ``-units`` are their negatives."""
    return 2.0 * np.rint(0.5 * units)


def make_shape(
    ring: FloatArray, scale: float, outer: FloatArray | None = None, name: str = "an outline"
) -> Shape:
    """Put a ring (mm, counter-clockwise) on the grid and find its canonical flip.

    `outer`, if given, stands for the ring wherever it meets others; its box stays the ring's own.

    Raises
    ------
    InvalidShape
        A ring so small or thin that nothing of it is left on the grid; `name` is for the message.
    """
    # On even units, so that the box has a whole centre whichever way the shape is turned or mirrored.
    low, high = _even(ring.min(axis=0) * scale), _even(ring.max(axis=0) * scale)
    centre = (low + high) / 2
    whole = (_even((ring if outer is None else outer) * scale) - centre).astype(np.int64)
    whole = whole[(whole != previous_ones(whole)).any(axis=1)]  # corners on one grid point are one
    if len(whole) < 3 or not signed_area((whole - whole[0]).astype(np.float64)):
        raise InvalidShape(
            f"'{name}' is thinner than {2 / scale:.1g} mm, the finest that is told apart beside the rest. "
            "Leave it out, or check its measures."
        )
    best: tuple[bytes, IntArray, tuple[int, int]] | None = None
    for flip in FLIPS:
        points = whole * np.array(flip)
        if flip[0] * flip[1] < 0:
            points = points[::-1]
        start = np.lexsort((points[:, 1], points[:, 0]))[0]
        points = np.ascontiguousarray(np.roll(points, -start, axis=0))
        key = points.tobytes()
        if best is None or key < best[0]:
            best = (key, points, flip)
    assert best is not None
    return Shape(best[1], best[0], best[2], centre / scale, (high - low) / (2 * scale))
