"""What lines drawn across the strip prove about its length: areas counted in steps, not in millimetres.

Proof
-----
A line at x across the strip (of width W) meets the placed items in intervals that do not overlap, so their
lengths c_1, c_2, ... add up to W at most. A function u on [0, 1] is *dual feasible* when
u(a_1) + u(a_2) + ... <= 1 for all numbers with a_1 + a_2 + ... <= 1. So ``sum u(c / W) <= 1`` on every line,
and integrated along the strip ::

    L >= sum over items of the integral over x of sum u(c(x) / W)

whose right side does not depend on where the items lie, only on how they are turned: take the least over an
item's variants. With u(a) = a this is the area bound; with u = 1 above one half and 0 below, a stretch of an
item taller than half the strip counts for the full width.

The same holds for lines along a strip of length L: if
``sum over items of the integral over y of sum u(c(y) / L)`` exceeds W, no lay of length L exists, nor a
shorter one (it would be one of length L, too). So every L found out in this way is a bound, wherever one
looks.

Where items A and B may overlap by a depth d (B shifted by some v no longer than d only touches A), they do
not once each has lost a rim of d/2: if the disc of a greater radius about p lay in A and in B, then p + v/2
would be inside A and inside B + v. So chords are shortened at both ends, by d/2 measured at right angles to
the edge, and d/2 on both sides of a corner is left out: farther from all corners only these two edges are
near.

The functions used, and that they are dual feasible: Fekete and Schepers, "New classes of fast lower bounds
for bin packing problems" (Mathematical Programming 91, 2001) and "A general framework for bounds for
higher-dimensional orthogonal packing problems" (Math. Methods of Operations Research 60, 2004), both from
memory, there used on rectangles; `tests` tries them on random numbers. That they may be used line by line
on any shape is the three lines above. All are non-decreasing, so lengths rounded down keep the bound true.
"""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray, next_ones
from nesting.packing.bounds.treatment import Treated, Treatment
from nesting.packing.problem import Item, StripProblem, Variant, variant_outline

__all__ = ["TREATED", "Slices", "dual_feasible", "slice_bound"]

_ANYWHERE = (Treatment.IGNORED, "a chord has the same length wherever its item lies")
TREATED: Treated = {
    "Item.name": (Treatment.IGNORED, "a word"),
    "Item.outline": (Treatment.LOOSENED, "lengths of chords are rounded down, and a rim is taken off"),
    "Item.demand": (Treatment.OBEYED, ""),
    "Item.variants": (Treatment.LOOSENED, "the one that needs least, of those that fit across"),
    "Item.edge": _ANYWHERE,
    "Item.x_lattice": _ANYWHERE,
    "Item.y_lattice": _ANYWHERE,
    "Item.x_window_mm": _ANYWHERE,
    "Item.any_turn": (Treatment.LOOSENED, "items that may lie at any angle are left out"),
    "StripProblem.width_mm": (Treatment.OBEYED, ""),
    "StripProblem.items": (Treatment.OBEYED, ""),
    "StripProblem.gap_mm": (Treatment.IGNORED, "items that keep apart do not overlap"),
    "StripProblem.obstacles": (Treatment.IGNORED, "without them there is more room"),
}
"""How each field is treated, and why the bound is one all the same."""

BINS = 600
"""Steps into which lengths are rounded down, to the longest."""

STRIPS = 200
"""Lines by which an item is cut at least, besides those through its corners."""

THRESHOLDS = 40
MULTIPLES = 5

FIRST_STEP, CLOSE = 0.16, 1e-3
"""Relative: how much longer the first length tried is, and when to be content."""

GRAIN = 1e-9
"""Relative: lengths are taken this much shorter, so that lays exact to rounding stay possible."""


def dual_feasible(share: FloatArray) -> FloatArray:
    """(F, N) float64: F dual feasible functions of numbers in [0, 1], N of them.

    For ``0 < e <= 1/2``: ``U(a) = 0`` below e, a between, 1 above ``1 - e``; ``P(a) = 0`` below e,
    ``1 / floor(1/e)`` up to one half, ``1 - floor((1 - a) / e) / floor(1/e)`` above. For a whole number k:
    ``F(a) = floor((k + 1) a) / k``, one step less where ``(k + 1) a`` is whole; and U of F.
    """
    a = share[None, :]
    e = np.linspace(0.0, 0.5, THRESHOLDS + 1)[1:, None]
    # Rounding must never raise a value: what is nearly a whole number is taken for the worse of the two.
    parts = np.floor(1.0 / e + GRAIN)
    above = np.maximum(0.0, 1.0 - np.floor((1.0 - a) / e + GRAIN) / parts)
    found = [_step(e, a), np.where(a > 0.5 + GRAIN, above, np.where(a > e + GRAIN, 1.0 / parts, 0.0))]
    for k in range(1, MULTIPLES + 1):
        multiple = np.maximum(0.0, np.floor((k + 1) * a - GRAIN)) / k
        found.append(multiple)
        found.append(_step(e[4::5], multiple))
    return np.concatenate(found)


def _step(e: FloatArray, a: FloatArray) -> FloatArray:
    return np.where(a > 1.0 - e + GRAIN, 1.0, np.where(a < e + GRAIN, 0.0, a))


def slice_bound(problem: StripProblem, least: float, loose_mm: float = 0.0) -> float:
    """The best bound from lines across and along the strip, in mm.

    Parameters
    ----------
    problem : StripProblem
        Checked.
    least : float, mm
        A bound already known.
    loose_mm : float
        Depth by which items may overlap.
    """
    slices = Slices(problem, loose_mm)
    best, step = max(least, slices.across()), FIRST_STEP
    if best <= 0:  # nothing to begin with: items as thin as what is allowed for
        return best
    while step > CLOSE:  # look further as long as that proves something, then closer
        if slices.refutes(best * (1 + step)):
            best *= 1 + step
        else:
            step /= 2
    return best


class Slices:
    """The items of a checked problem, sliced both ways: how much of them has chords of which length."""

    def __init__(self, problem: StripProblem, loose_mm: float = 0.0) -> None:
        widest = problem.width_mm * (1 + 1e-8) + loose_mm
        classes = [_classes(item, widest) for item in problem.items]
        rings = [ring for some in classes for ring in some]
        self._width = problem.width_mm
        self._demand = np.array([item.demand for item in problem.items], dtype=np.float64)
        self._first = np.cumsum([0] + [len(some) for some in classes])[:-1]
        self._across = _histogram([_chords(ring, loose_mm / 2) for ring in rings])
        self._along = _histogram([_chords(ring[:, ::-1], loose_mm / 2) for ring in rings])

    def across(self) -> float:
        """Length needed, in mm, as lines across the strip show."""
        return self._needed(*self._across, self._width)

    def refutes(self, length: float) -> bool:
        """Whether lines along the strip show that it must be longer than `length` mm."""
        return self._needed(*self._along, length) > self._width * (1 + GRAIN)

    def _needed(self, lengths: FloatArray, widths: FloatArray, room: float) -> float:
        value = dual_feasible(np.minimum(1.0, lengths / room))
        # a product of vectors at a time: small ones of matrices are slow where several threads share them
        by_class = np.stack([value @ column for column in widths.T])
        return float((self._demand @ np.minimum.reduceat(by_class, self._first)).max())


def _classes(item: Item, widest: float) -> list[FloatArray]:
    """Outlines of the variants that fit across, those once that are flips of each other."""
    found: dict[float, FloatArray] = {}
    for variant in item.variants:
        name = round((-variant.angle_deg if variant.mirrored else variant.angle_deg) % 180.0, 9) % 180.0
        if name not in found:
            ring = variant_outline(item.outline, Variant(name))
            if np.ptp(ring[:, 1]) <= widest:
                found[name] = ring
    return list(found.values())


def _chords(ring: FloatArray, rim: float) -> tuple[FloatArray, FloatArray]:
    """Lengths and widths of the slices of a polygon between lines x = constant, each at its shorter side.

    Of what is left of the polygon without a rim of that many mm.
    """
    x, y = ring[:, 0], ring[:, 1]
    lines = np.unique(np.concatenate([x, np.linspace(x.min(), x.max(), STRIPS + 1)]))
    lines = lines[np.concatenate([[True], np.diff(lines) > 1e-9 * np.ptp(x)])]
    left, right = lines[:-1, None], lines[1:, None]
    middle = (left + right) / 2
    ax, bx, ay, by = x, next_ones(x), y, next_ones(y)
    meets = (np.minimum(ax, bx) < middle) & (middle < np.maximum(ax, bx))
    # An edge that meets no slice needs no slope: it is upright, or nearly so.
    slope = (by - ay) / np.where(meets.any(axis=0), bx - ax, 1.0)
    at = np.where(meets, ay + slope * (middle - ax), np.inf)
    order = np.argsort(at, axis=1)
    count = int(meets.sum(axis=1).max())
    order = order[:, :count]
    tilt = np.take_along_axis(np.broadcast_to(slope, meets.shape), order, axis=1)
    at = np.take_along_axis(at, order, axis=1)
    half = (right - left) / 2
    # what is left between the corner last passed and the next one
    near, corners = 1e-8 * np.ptp(x), np.sort(x)
    behind = corners[np.searchsorted(corners, left + near, side="right") - 1]
    ahead = corners[np.minimum(np.searchsorted(corners, right - near), len(corners) - 1)]
    width = np.maximum(0.0, np.minimum(right, ahead - rim) - np.maximum(left, behind + rim))
    lower, upper = slice(0, count - count % 2, 2), slice(1, None, 2)
    with np.errstate(invalid="ignore"):
        opening = np.abs(tilt[:, upper] - tilt[:, lower])
        chord = at[:, upper] - at[:, lower] - opening * half
        chord -= rim * (np.hypot(1.0, tilt[:, upper]) + np.hypot(1.0, tilt[:, lower]))
    real = np.isfinite(chord) & (chord > 0)
    return chord[real], np.broadcast_to(width, chord.shape)[real]


def _histogram(slices: list[tuple[FloatArray, FloatArray]]) -> tuple[FloatArray, FloatArray]:
    """(N,) lengths, rounded down, that occur; and (N, C) how much of each outline has them."""
    longest = max(float(lengths.max(initial=0.0)) for lengths, _ in slices)
    if longest == 0.0:  # items thinner than what is allowed for
        return np.zeros(1), np.zeros((1, len(slices)))
    columns: list[FloatArray] = []
    for lengths, widths in slices:
        step = (lengths * (BINS / longest)).astype(np.int64)
        columns.append(np.bincount(step, weights=widths, minlength=BINS + 1).astype(np.float64))
    table = np.stack(columns, axis=1)
    occurs = table.any(axis=1)
    rounded: FloatArray = np.arange(BINS + 1, dtype=np.float64) * (longest / BINS) * (1 - GRAIN)
    return rounded[occurs], table[occurs]
