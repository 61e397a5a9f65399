"""Whether all goes on a piece of cloth in hand.

What is lacking is told as the person measures the cloth now: what it has yet to shrink is added. What is left
is there only after washing, and is told washed, as the lay draws it.
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.cloth.cloth import Cloth
from nesting.cutting.in_hand.lacking import lacking_mm
from nesting.cutting.lay import Lay

__all__ = ["OnRemnant", "as_measured_mm", "on_remnant"]


@dataclass(frozen=True, slots=True)
class OnRemnant:
    """What came of laying on one piece of cloth in hand.

    Attributes
    ----------
    name : str
        Of the piece of cloth.
    lacking_mm : float
        How much too short it is for the lay that was found, before washing; 0 where all goes on.
    left_mm : float
        What is left at its end, washed; 0 where it is too short.
    """

    name: str
    lacking_mm: float
    left_mm: float


def as_measured_mm(length_mm: float, cloth: Cloth) -> float:
    """A washed length along the cloth, before washing."""
    return length_mm / cloth.kept_along


def on_remnant(lay: Lay) -> OnRemnant:
    """Of a lay on cloth in hand."""
    cloth, lacking = lay.cloth, lacking_mm(lay)
    if lacking:
        return OnRemnant(cloth.name, as_measured_mm(lacking, cloth), 0.0)
    return OnRemnant(cloth.name, 0.0, (cloth.room_mm or 0.0) - lay.length_mm)
