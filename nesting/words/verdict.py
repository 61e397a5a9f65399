"""How good a lay is, in plain sentences: what could still be saved, and what other spreads need.

Only what bounds and lays prove is claimed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from nesting.cloth.spread import Spread
from nesting.cutting.lay import Lay, TriedSpread
from nesting.cutting.reasons import Barred
from nesting.estimate.better import shows_it
from nesting.estimate.estimate import Estimate
from nesting.estimate.least import least_to_buy_mm
from nesting.estimate.on_remnant import as_measured_mm, on_remnant
from nesting.project import Project
from nesting.units import Unit, format_buy, format_length, format_step
from nesting.words.cloth import one_way_words
from nesting.words.in_hand import goes_on_words, rounded_up
from nesting.words.matching import matching_sentences
from nesting.words.reasons import reason_words
from nesting.words.spreads import SPREAD_WORDS, better_words, folded_over_words

__all__ = ["barred_words", "still_to_save", "verdict"]


def verdict(estimate: Estimate, project: Project) -> str:
    """How good the lay of one cloth is.

    Parameters
    ----------
    estimate : Estimate
    project : Project
        The one that was estimated: `ProjectEstimate.project`.

    Returns
    -------
    str
        Of a cloth to be bought: what could still be saved, why this spread was taken, what the others need,
        and what matching costs. Of a cloth in hand: whether it all goes on, and what the others need.
    """
    sentences = _in_hand(estimate, project.unit) if estimate.in_hand else _to_buy(estimate, project)
    return " ".join(sentences)


def still_to_save(estimate: Estimate, unit: Unit) -> str:
    """How good a lay is, in a few words."""
    if estimate.in_hand:
        return f"{goes_on_words(on_remnant(estimate.lay), unit)}."
    step = format_step(estimate.lay.cloth.step_mm, unit)
    if estimate.proven:
        return f"as good as any; it is proven that no lay saves another {step}."
    at_most = format_step(estimate.to_buy_mm - estimate.least_to_buy_mm, unit)
    return f"looking longer might save {at_most}, not more."


def _to_buy(estimate: Estimate, project: Project) -> Iterator[str]:
    lay, unit, to_buy_mm = estimate.lay, project.unit, estimate.to_buy_mm
    ways = _ways(lay, tuple(least_to_buy_mm(lay)))
    if estimate.proven:
        yield f"Proven: {ways}, no lay can save another {format_step(lay.cloth.step_mm, unit)}."
    else:
        least_mm = estimate.least_to_buy_mm
        at_most = format_step(to_buy_mm - least_mm, unit)
        untried = any(tried.why_not is Barred.INTERRUPTED for tried in lay.tried)
        yield (
            f"No lay {ways} can do with less than {format_buy(least_mm, unit)}, so at most {at_most} could "
            f"still be saved{' that way' if untried else ''}; looking longer may find some of it."
        )
    if folded_over := folded_over_words(lay, unit):
        yield folded_over
    others = [tried for tried in lay.tried if tried.spread is not lay.spread and tried.to_buy_mm is not None]
    if others:
        yield _why(lay, to_buy_mm, others, unit)
        yield from _needs(others, lambda tried: format_buy(tried.to_buy_mm or 0.0, unit))
    yield from barred_words(lay)
    yield from _tilt(lay, unit)
    if one_way_words(lay.cloth):
        yield f"{one_way_words(lay.cloth)}."
    if estimate.matching is not None:
        yield from matching_sentences(to_buy_mm, estimate.matching, unit)


def _in_hand(estimate: Estimate, unit: Unit) -> Iterator[str]:
    lay = estimate.lay
    room = lay.cloth.room_mm or 0.0
    words = SPREAD_WORDS[lay.spread].name
    have, need = format_length(room, unit), format_length(lay.length_mm, unit)
    if not estimate.lacking_mm:
        yield f"It all goes on, {words}: the lay takes {need} of the {have} there are to lay on."
    else:
        short = rounded_up(as_measured_mm(estimate.lacking_mm, lay.cloth), unit)
        yield (
            f"It does not all go on: {words}, the shortest lay that was found takes {need}, and there are "
            f"{have} to lay on. The cloth is {short} too short for it."
        )
        if lay.spread.facts.lengths == 2 and lay.cloth.blocked:
            yield "That is of a longer cloth, folded where its own middle is."
        if lay.bound_mm > room:
            yield f"Proven: {words}, no lay does with less than {format_length(lay.bound_mm, unit)}."
        else:
            yield "That none goes on is not proven: looking longer (--seconds 60) may find one."
    others = [one for one in lay.tried if one.spread is not lay.spread and one.length_mm is not None]
    yield from _needs(others, lambda tried: format_length(tried.length_mm or 0.0, unit))
    yield from barred_words(lay)


def _needs(others: Sequence[TriedSpread], amount: Callable[[TriedSpread], str]) -> Iterator[str]:
    """What other spreads need: those that were searched, then those that got their first lay only."""
    for words, searched in (("The others", True), ("As first laid, not searched on", False)):
        needs = ", ".join(
            f"{SPREAD_WORDS[tried.spread].name} {amount(tried)}"
            for tried in others
            if tried.searched is searched
        )
        if needs:
            yield f"{words}: {needs}."


def barred_words(lay: Lay) -> Iterator[str]:
    """Why other spreads were not laid, in sentences."""
    barred = [tried for tried in lay.tried if tried.length_mm is None and tried.spread is not lay.spread]
    for reason in dict.fromkeys(tried.why_not for tried in barred if tried.why_not is not None):
        spreads = [tried.spread for tried in barred if tried.why_not == reason]
        if len(spreads) == len(lay.tried) - 1 > 1 and reason is not Barred.INTERRUPTED:
            yield f"In no other spread: {reason_words(reason)}."
        else:
            named = " or ".join(SPREAD_WORDS[spread].name for spread in spreads)
            yield f"Not {named}: {reason_words(reason)}."


def _tilt(lay: Lay, unit: Unit) -> Iterator[str]:
    """What a grain tolerance is worth, where one is granted."""
    if lay.straight_mm is None:
        return
    tilted = [one for section in lay.sections for one in section.placed if one.tilt_deg]
    if not tilted:
        yield "Off the grain, as you allow, no piece was found to save anything: all lie straight."
        return
    most = max(abs(one.tilt_deg) for one in tilted)
    pieces = f"{len(tilted)} piece{'' if len(tilted) == 1 else 's'}"
    saved = format_length(lay.straight_mm - lay.length_mm, unit)
    yield f"With {pieces} laid up to {most:g}° off the grain, as you allow, the lay is {saved} shorter."


def _why(lay: Lay, to_buy_mm: float, others: list[TriedSpread], unit: Unit) -> str:
    """Why the spread was taken: it needs least, or is the easiest to cut of those that do."""
    words = SPREAD_WORDS[lay.spread].name
    said = f"{words[0].upper()}{words[1:]} it takes {format_buy(to_buy_mm, unit)}"
    if any(tried.to_buy_mm == to_buy_mm for tried in others):
        return f"{said}; of the spreads that were found to take no more it is the least work."
    reason = better_words(lay, unit) if shows_it(lay) else ""
    return f"{said}, the least that was found{f': {reason}' if reason else ''}."


def _ways(lay: Lay, spreads: tuple[Spread, ...]) -> str:
    """All the ways of laying that the bounds of these spreads speak for."""
    ways = (
        " or ".join(SPREAD_WORDS[spread].name for spread in spreads)
        if len(spreads) < 3
        else "in any spread that was tried"
    )
    fixed = all(spread.facts.doubled for spread in spreads) and lay.least_mm is None
    if fixed and any(not section.spread.facts.doubled for section in lay.sections):
        # A bound of the open cloth holds for every other spread too; this one only for the lay's own plan.
        ways += " with all that can be cut double on it"
    return ways
