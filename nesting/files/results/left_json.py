"""A cloth in hand, and what a lay leaves over, as entries of the JSON; described in ``docs/json.md``."""

from __future__ import annotations

from nesting.cloth.cloth import Cloth
from nesting.cutting.left import LeftOver
from nesting.geometry import FloatArray

__all__ = ["left_entries", "remnant_entries"]

_DECIMALS = 3

Json = dict[str, object]


def remnant_entries(cloth: Cloth) -> list[Json]:
    """The pieces of a cloth in hand, as measured."""
    return [
        {
            "name": remnant.name,
            "length_mm": _rounded(remnant.length_mm),
            "blocked": [
                {
                    "name": one.name,
                    "missing": one.missing,
                    "keep_off_mm": _rounded(one.keep_off_mm),
                    "outline_mm": [[_rounded(x), _rounded(u)] for x, u in one.outline],
                }
                for one in remnant.blocked
            ],
        }
        for remnant in cloth.remnants
    ]


def left_entries(left: LeftOver | None) -> Json | None:
    """What is left, on the cloth opened out; None where nothing was asked of it."""
    if left is None:
        return None
    x0, u0, x1, u1 = left.limits
    return {
        "from_mm": [_rounded(x0), _rounded(u0)],
        "to_mm": [_rounded(x1), _rounded(u1)],
        "pieces": [{"name": one.name, "outline_mm": _ring(one.outline)} for one in left.pieces],
        "rectangles": [
            {
                "from_mm": [_rounded(one.x0), _rounded(one.u0)],
                "along_mm": _rounded(one.along_mm),
                "across_mm": _rounded(one.across_mm),
            }
            for one in left.rectangles
        ],
        "from_waste": [
            {
                "name": small.name,
                "width_mm": _rounded(small.width_mm),
                "length_mm": _rounded(small.length_mm),
                "round": small.round,
                "lie": small.lie.value,
                "asked": small.count,
                "placed": left.came_out(small),
                "outlines_mm": [_ring(one.outline) for one in left.placed if one.small is small],
            }
            for small in left.asked
        ],
    }


def _rounded(value: float) -> float:
    return round(float(value), _DECIMALS) + 0.0


def _ring(outline: FloatArray) -> list[list[float]]:
    return [[_rounded(x), _rounded(u)] for x, u in outline.tolist()]
