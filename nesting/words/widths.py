"""How it is said what a wider cloth saves, and from where on a fold costs nothing."""

from __future__ import annotations

from nesting.estimate.overview.widths import FOLDED, WidthCurve
from nesting.units import format_buy, format_length

__all__ = ["widths_sentences"]


def widths_sentences(curve: WidthCurve) -> tuple[str, ...]:
    """Where the steps are, and what a fold costs."""
    unit = curve.project.unit
    told = [
        f"Between {format_length(step.before_mm, unit)} and {format_length(step.width_mm, unit)} it falls to "
        f"{format_buy(step.to_buy_mm, unit)}."
        for step in curve.steps
    ] or ["All these widths take the same."]
    if FOLDED in curve.to_buy_mm:
        pays = curve.fold_pays_mm
        told.append(
            "Even on the widest of these, in the lays found, a fold takes more than the open cloth."
            if pays is None
            else f"From {format_length(pays, unit)} on, in the lays found, a lengthwise fold pays: it takes "
            "no more than the open cloth, and is half the cutting."
        )
    if curve.early:
        told.append("Some of this was ended early or is missing; the same command goes on from there.")
    return tuple(told)
