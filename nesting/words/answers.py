"""What would make a pattern go on a cloth in hand, in sentences and in rows of a table."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.cloth import Cloth
from nesting.cutting.in_hand.asking import Answer, TriedChange
from nesting.estimate.on_remnant import as_measured_mm
from nesting.units import Unit, format_length
from nesting.words.changes import change_words, how_to, why_no_figure
from nesting.words.in_hand import rounded_up

__all__ = ["answer_words", "figure_words"]


def figure_words(tried: TriedChange, cloth: Cloth, unit: Unit) -> str:
    """``all goes on``, ``6 cm too short``, or why there is no figure."""
    if tried.lacking_mm is None:
        return why_no_figure(tried)
    if tried.goes_on:
        return "all goes on"
    if tried.least_mm > 0:
        return f"at least {format_length(as_measured_mm(tried.least_mm, cloth), unit)} too short"
    return f"{rounded_up(as_measured_mm(tried.lacking_mm, cloth), unit)} too short"


def answer_words(answer: Answer, cloth: Cloth, unit: Unit) -> Iterator[str]:
    """The cheapest change that helps and how to make it, what fits with one piece left off."""
    helps = [one for one in answer.changes if one.goes_on]
    if helps:
        what, how = change_words(helps[0].change), how_to(helps[0].change)
        yield f"What would make it go, the cheapest first: {what}. To do so: {how}."
    elif any(one.lacking_mm is not None for one in answer.changes):
        nearest = min(
            (one for one in answer.changes if one.lacking_mm is not None),
            key=lambda one: (one.least_mm, one.lacking_mm or 0.0),
        )
        figure = figure_words(nearest, cloth, unit)
        yield (
            "No single change that was tried makes it go; nearest comes: "
            f"{change_words(nearest.change)}, {figure}."
        )
    else:
        yield "There is no single change to try."
    for one in answer.without:
        if one.goes_on:
            yield f"What fits: {change_words(one.change)}, and the rest goes on."
            return
    if not answer.without and not helps:
        yield (
            "Is there a piece without which the garment is only less (a facing, a patch, a loop)? Write "
            "may_be_left_off = true into it, and it is tried to leave it off."
        )
    if answer.without:
        names = ", or ".join(change_words(one.change) for one in answer.without)
        yield f"To {names} is not enough."
