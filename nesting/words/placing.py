"""How a placement is said: which copies of its piece it gives, and how the paper lies."""

from __future__ import annotations

from nesting.cutting.lay import Face, PlacedPiece, Yield

__all__ = ["copies_text", "how_text"]


def copies_text(placed: PlacedPiece) -> str:
    """Which of the pieces asked for this placement gives: ``3+4 of 4``; of an order, for which garment."""
    copies = f"{'+'.join(map(str, placed.copies))} of {placed.of}"
    if not placed.garments:
        return copies
    several = "s" if len(placed.garments) > 1 else ""
    return f"{copies}, garment{several} {'+'.join(map(str, placed.garments))}"


def how_text(placed: PlacedPiece) -> str:
    """How the paper lies, in words."""
    if placed.yields is Yield.WHOLE_ON_FOLD:
        return f"on the fold, {placed.face}" if placed.face is Face.DOWN else "on the fold"
    said = f"pair, {placed.face}" if placed.yields is Yield.PAIR else str(placed.face)
    return f"{said}, {abs(placed.tilt_deg):g}° off the grain" if placed.tilt_deg else said
