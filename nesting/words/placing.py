"""How a placement is said: which copies of its piece it gives, and how the paper lies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from nesting.cutting.lay import Face, PlacedPiece, Yield
from nesting.pattern.piece import Side

__all__ = ["copies_text", "garments_text", "how_all_lie", "how_text", "which_text"]


def copies_text(placed: PlacedPiece, side: Side | None = None) -> str:
    """Which of the pieces asked for this placement gives, as `which_text`; of an order, for which garment."""
    return ", ".join(filter(None, (which_text(placed, side), garments_text(placed))))


def which_text(placed: PlacedPiece, side: Side | None = None) -> str:
    """Which of the pieces asked for this placement gives, where known of which side: ``1 of 2, left``."""
    which = f"{'+'.join(map(str, placed.copies))} of {placed.of}"
    return which if side is None else f"{which}, {side}"


def garments_text(placed: PlacedPiece) -> str:
    """For which garment of an order it is; empty for a single garment."""
    if not placed.garments:
        return ""
    several = "s" if len(placed.garments) > 1 else ""
    return f"garment{several} {'+'.join(map(str, placed.garments))}"


def how_text(placed: PlacedPiece) -> str:
    """How the paper lies, in words."""
    said = _straight(placed)
    return f"{said}, {abs(placed.tilt_deg):g}° off the grain" if placed.tilt_deg else said


def how_all_lie(placed: Sequence[PlacedPiece]) -> str:
    """How several placements of a piece lie, each as `how_text` says it: ``pair, face up``; ``2 face up``."""
    counts = Counter(map(_straight, placed)).items()
    if any(one.yields is Yield.PAIR for one in placed):
        return "; ".join(
            said if times == 1 else f"{times} {said.replace('pair', 'pairs', 1)}" for said, times in counts
        )
    return ", ".join(f"{times} {said}" for said, times in counts)


def _straight(placed: PlacedPiece) -> str:
    """How it lies, its angle left out."""
    if placed.yields is Yield.WHOLE_ON_FOLD:
        return f"on the fold, {placed.face}" if placed.face is Face.DOWN else "on the fold"
    return f"pair, {placed.face}" if placed.yields is Yield.PAIR else str(placed.face)
