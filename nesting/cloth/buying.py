"""How many metres to ask for, given the length needed on the table.

The washed length is the lay and an end allowance at each cut end, and a repeat where the end is straightened
along a main line of the pattern: the shop cuts anywhere, and the next line may be a whole repeat away.
Cloth that shrinks by s along its length leaves 1 - s of what was bought, so the length before washing is
``washed / (1 - s)`` (adding s instead falls short). That is rounded up, once, to the step in which the shop
cuts. What is wished to spare (`Cloth.spare_at_least_mm`) is added before, so that a step more is bought only
where the rounding leaves less.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nesting.cloth.cloth import Cloth
from nesting.pattern.match import Axis
from nesting.units import MM_PER_YARD

__all__ = [
    "INCH_STEP_MM",
    "METRIC_STEP_MM",
    "NO_ROOM_MM",
    "ROUNDING_TOLERANCE_MM",
    "Purchase",
    "asked_for_mm",
    "has_no_room",
    "price_of",
    "purchase",
    "rounded_up_mm",
    "to_first_line_mm",
    "width_to_buy_mm",
]

METRIC_STEP_MM = 100.0
INCH_STEP_MM = MM_PER_YARD / 8
"""Steps in which shops cut by the metre and by the yard, where none is named (common practice, no source)."""

ROUNDING_TOLERANCE_MM = 1e-3
"""An exact multiple of the step stays one: less than this over it is float noise, not cloth."""


NO_ROOM_MM = 10.0
"""Less left over than this is no room to spare: a cut end that is pulled true may take it (no source)."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """What one lay asks for in the shop.

    Attributes
    ----------
    washed_mm : float
        Needed on the table: the lay, its two end allowances, and a repeat where it begins on a line of it.
    unwashed_mm : float
        The same before washing.
    to_buy_mm : float
        Rounded up to the shop's step.
    spare_mm : float
        What the rounding leaves over, washed.
    """

    washed_mm: float
    unwashed_mm: float
    to_buy_mm: float
    spare_mm: float


def purchase(lay_length_mm: float, cloth: Cloth) -> Purchase:
    """What to buy for a lay of that length.

    >>> cloth = Cloth(key="main", name="flannel", width_mm=1500, shrinkage_along_pct=4, end_allowance_mm=20)
    >>> purchase(1400.0, cloth).to_buy_mm
    1500.0
    """
    washed = lay_length_mm + 2 * cloth.end_allowance_mm + to_first_line_mm(cloth)
    unwashed = washed / cloth.kept_along
    to_buy = asked_for_mm(unwashed, cloth, cloth.step_mm)
    return Purchase(washed, unwashed, to_buy, max(0.0, to_buy * cloth.kept_along - washed))


def asked_for_mm(unwashed_mm: float, cloth: Cloth, step_mm: float) -> float:
    """What to ask for when so much is needed before washing: what is wished to spare added, rounded up.

    >>> cloth = Cloth(key="main", name="velvet", width_mm=1150, spare_at_least_mm=20)
    >>> asked_for_mm(1459.0, cloth, 100.0), asked_for_mm(1489.0, cloth, 100.0)
    (1500.0, 1600.0)
    """
    return rounded_up_mm(unwashed_mm + cloth.spare_at_least_mm / cloth.kept_along, step_mm)


def has_no_room(spare_mm: float) -> bool:
    """Whether hardly anything is left over.

    >>> has_no_room(0.4), has_no_room(10.0)
    (True, False)
    """
    return spare_mm < NO_ROOM_MM - ROUNDING_TOLERANCE_MM


def price_of(length_mm: float, cloth: Cloth) -> float | None:
    """What so much of it costs in the shop; None where it has no price.

    >>> price_of(1500.0, Cloth(key="main", name="flannel", width_mm=1500, price_per_m=12.0))
    18.0
    """
    return None if cloth.price_per_m is None else cloth.price_per_m * length_mm / 1000


def rounded_up_mm(length_mm: float, step_mm: float) -> float:
    """A length rounded up to whole steps of the shop.

    >>> rounded_up_mm(1459.0, 100.0), rounded_up_mm(1500.0, 100.0)
    (1500.0, 1500.0)
    """
    return math.ceil((length_mm - ROUNDING_TOLERANCE_MM) / step_mm) * step_mm


def to_first_line_mm(cloth: Cloth) -> float:
    """What straightening the end along a main line of the repeat may take, washed: 0 for other cloths."""
    return (cloth.repeat_mm(Axis.ALONG) or 0.0) if cloth.begins_on_line else 0.0


def width_to_buy_mm(strip_mm: float, cloth: Cloth) -> float:
    """Width of cloth to look for so that `strip_mm` is usable after washing, selvedges added.

    Of a tube, the flat width that has `strip_mm` in the round.
    """
    unwashed = strip_mm / cloth.kept_across + 2 * cloth.selvedge_mm
    return unwashed / 2 if cloth.tube else unwashed
