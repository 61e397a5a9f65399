"""How much a piece of cloth in hand falls short of a lay."""

from __future__ import annotations

from nesting.cutting.lay import Lay

__all__ = ["NOISE_MM", "lacking_mm"]

NOISE_MM = 1e-3
"""Less than this is lacking only in the arithmetic."""


def lacking_mm(lay: Lay) -> float:
    """How much longer a cloth in hand would have to be for this lay, washed; 0 if it goes on or is bought."""
    room = lay.cloth.room_mm
    if room is None or lay.length_mm <= room + NOISE_MM:
        return 0.0
    return lay.length_mm - room
