"""Garment-like pieces made up at random, the same for the same seed.

Each lay is a garment of a front, a back, sleeves and small parts with curved armholes and slanting sides,
measured in millimetres as a person's are (common practice, no source). On the fold the back and its facing
lie on the low side and everything else gives a pair; opened out there is a left and a right of each.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing import EdgeRule, Item, StripProblem, Variant

__all__ = ["garment_lay", "order"]

FACE_UP = (Variant(0.0), Variant(180.0))
FACE_DOWN = (Variant(0.0, True), Variant(180.0, True))


def _smooth(start: tuple[float, float], bend: tuple[float, float], end: tuple[float, float]) -> FloatArray:
    """(7, 2) points of a quadratic curve, its end left out."""
    t = np.linspace(0, 1, 8)[:-1, None]
    p, q, r = (np.array(point) for point in (start, bend, end))
    return np.asarray((1 - t) ** 2 * p + 2 * t * (1 - t) * q + t**2 * r)


def _body(rng: np.random.Generator) -> FloatArray:
    """Half a front or back: x along the grain from the hem, y from the centre to the side."""
    long, wide = rng.uniform(550, 750), rng.uniform(230, 320)
    depth, shoulder = rng.uniform(200, 250), rng.uniform(0.6, 0.75) * wide
    neck, flare = rng.uniform(60, 90), rng.uniform(0, 40)
    side = [[0.0, wide + flare], [0.45 * long, wide - rng.uniform(10, 35)]]
    armhole = _smooth((long - depth, wide), (long - 0.8 * depth, shoulder - 20), (long - 40, shoulder))
    hollow = rng.uniform(20, 90)
    neckline = _smooth((long - hollow, 0.0), (long - hollow, neck - 10), (long, neck))
    return np.concatenate([[[0.0, 0.0]], neckline, [[long, neck]], armhole[::-1], side[::-1]])


def _sleeve(rng: np.random.Generator) -> FloatArray:
    long, wide, wrist = rng.uniform(560, 650), rng.uniform(160, 350), rng.uniform(100, 220)
    cap = rng.uniform(90, 150)
    up = _smooth((long - cap, wide), (long - 0.3 * cap, 0.9 * wide), (long, 0.55 * wide))
    down = _smooth((long, 0.55 * wide), (long - 0.2 * cap, 0.15 * wide), (long - cap, 0.0))
    low = (wide - wrist) / 2
    return np.concatenate([[[0.0, low + wrist]], up, down, [[long - cap, 0.0], [0.0, low]]])[::-1]


def _strip(rng: np.random.Generator) -> FloatArray:
    long, wide = rng.uniform(300, 700), rng.uniform(60, 160)
    inner = _smooth((long, wide), (0.6 * long, 0.6 * wide), (0.0, wide))
    return np.concatenate([[[0.0, 0.0], [long, 0.0]], inner, [[0.0, wide]]])


def _small(rng: np.random.Generator) -> FloatArray:
    long, wide, cut = rng.uniform(120, 200), rng.uniform(90, 160), rng.uniform(10, 30)
    return np.array([[0, 0], [long, 0], [long, wide], [cut, wide], [0, wide - cut]], dtype=np.float64)


MAKERS: tuple[Callable[[np.random.Generator], FloatArray], ...] = (
    _body,
    _body,
    _sleeve,
    _strip,
    _small,
    _small,
)


def garment_lay(seed: int, placements: int, width_mm: float, *, folded: bool) -> StripProblem:
    """A lay of so many placements on cloth of this width, laid double on the fold or opened out."""
    rng = np.random.default_rng(seed)
    items: list[Item] = []
    number = 0
    while sum(item.demand for item in items) < placements:
        maker = MAKERS[number % len(MAKERS)]
        name, ring = f"{maker.__name__.strip('_')} {number + 1}", maker(rng)
        left = placements - sum(item.demand for item in items)
        if folded and number % len(MAKERS) == 1:
            items.append(Item(name, ring, 1, (FACE_UP[0], FACE_DOWN[1]), EdgeRule.LOW))
        elif folded:
            items.append(Item(name, ring, 1, FACE_UP + FACE_DOWN))
        else:
            items += [Item(name, ring, 1, ways) for ways in (FACE_UP, FACE_DOWN)[:left]]
        number += 1
    return StripProblem(width_mm / 2 if folded else width_mm, tuple(items))


def order(seed: int, garments: int) -> StripProblem:
    """One garment of ten placements, `garments` times, opened out at 1400 mm."""
    one = garment_lay(seed, 10, 1400.0, folded=False)
    return StripProblem(
        one.width_mm,
        tuple(Item(item.name, item.outline, garments, item.variants, item.edge) for item in one.items),
    )
