"""How good a lay is, in plain sentences: what could still be saved, and what other spreads need.

Only what bounds and lays prove is claimed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from nesting.cloth.cloth import Spread
from nesting.cutting.flat.placing import folded_over_mm
from nesting.cutting.lay import Fold, Lay, TriedSpread, Yield
from nesting.cutting.plan.demand import allowed_turn
from nesting.cutting.reasons import Barred
from nesting.estimate.estimate import Estimate
from nesting.estimate.least import least_to_buy_mm
from nesting.estimate.on_remnant import as_measured_mm, on_remnant
from nesting.pattern.piece import Turn
from nesting.project import Project
from nesting.units import Unit, format_buy, format_length, format_step
from nesting.words.cloth import one_way_words
from nesting.words.in_hand import goes_on_words, rounded_up
from nesting.words.matching import matching_sentences
from nesting.words.reasons import reason_words
from nesting.words.spread_names import SPREAD_WORDS

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
    ways = _ways(lay, project, tuple(least_to_buy_mm(lay)))
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
    yield from _folded_over(lay, unit)
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
    words = SPREAD_WORDS[lay.spread]
    have, need = format_length(room, unit), format_length(lay.length_mm, unit)
    if not estimate.lacking_mm:
        yield f"It all goes on, {words}: the lay takes {need} of the {have} there are to lay on."
    else:
        short = rounded_up(as_measured_mm(estimate.lacking_mm, lay.cloth), unit)
        yield (
            f"It does not all go on: {words}, the shortest lay that was found takes {need}, and there are "
            f"{have} to lay on. The cloth is {short} too short for it."
        )
        if lay.spread.lengths == 2 and lay.cloth.blocked:
            yield "That is of a longer cloth, folded where its own middle is."
        if lay.bound_mm > room:
            yield f"Proven: {words}, no lay does with less than {format_length(lay.bound_mm, unit)}."
    others = [one for one in lay.tried if one.spread is not lay.spread and one.length_mm is not None]
    yield from _needs(others, lambda tried: format_length(tried.length_mm or 0.0, unit))
    yield from barred_words(lay)


def _needs(others: Sequence[TriedSpread], amount: Callable[[TriedSpread], str]) -> Iterator[str]:
    """What other spreads need: those that were searched, then those that got their first lay only."""
    for words, searched in (("The others", True), ("As first laid, not searched on", False)):
        needs = ", ".join(
            f"{SPREAD_WORDS[tried.spread]} {amount(tried)}" for tried in others if tried.searched is searched
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
            named = " or ".join(SPREAD_WORDS[spread] for spread in spreads)
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


def _folded_over(lay: Lay, unit: Unit) -> Iterator[str]:
    """How deep the folds are, where that was found by trying."""
    depth = folded_over_mm(lay)
    if depth is None:
        return
    told = f"Fold the selvedge over by {format_length(depth, unit)}"
    if lay.spread is Spread.DOUBLE_FOLD:
        last = lay.stretches[0][-1]
        told += f", the other by {format_length(last.across_mm + last.width_mm - depth, unit)}"
    yield f"{told}."


def _why(lay: Lay, to_buy_mm: float, others: list[TriedSpread], unit: Unit) -> str:
    """Why the spread was taken: it needs least, or is the easiest to cut of those that do."""
    words = SPREAD_WORDS[lay.spread]
    said = f"{words[0].upper()}{words[1:]} it takes {format_buy(to_buy_mm, unit)}"
    if any(tried.to_buy_mm == to_buy_mm for tried in others):
        return f"{said}; of the spreads that were found to take no more it is the least work."
    reasons = "; ".join(_reasons(lay, unit))
    return f"{said}, the least that was found{f': {reasons}' if reasons else ''}."


def _reasons(lay: Lay, unit: Unit) -> Iterator[str]:
    """What this lay does that others cannot, as far as it can be read off it."""
    sections = lay.stretches[0]
    placed = [one for section in sections for one in section.placed]
    if lay.spread is Spread.OPEN and any(one.of > 1 for one in placed):
        yield "in one layer the two of a pair need not lie over each other and go into different gaps"
    if lay.spread is Spread.LENGTHWISE_FOLD and all(one.yields is not Yield.ONE for one in placed):
        yield "what is cut double lies closer on half the width than its halves do in one layer"
    depth = folded_over_mm(lay)
    if lay.spread is Spread.PART_FOLD and depth is not None:
        beside = sum(len(one.copies) for one in sections[-1].placed)
        pieces = f"{beside} piece{'' if beside == 1 else 's'}"
        yield f"folded over by {format_length(depth, unit)} and no more, it leaves {pieces} room in one layer"
    if lay.spread is Spread.DOUBLE_FOLD:
        on_folds = [any(one.yields is Yield.WHOLE_ON_FOLD for one in section.placed) for section in sections]
        if all(on_folds):
            yield "pieces on the fold lie side by side, one on each of its two folds"
    if lay.spread.lengths == 2:
        half = lay.cloth.usable_width_mm / 2
        widest = max(float(one.shape.cut_line[:, 1].max() - one.shape.cut_line[:, 1].min()) for one in placed)
        if widest > half:
            yield "pieces wider than half the cloth are cut double over its full width"
    if lay.spread is Spread.TUBE and sections[0].fold is Fold.BOTH:
        yield "it need not be cut open"


def _ways(lay: Lay, project: Project, spreads: tuple[Spread, ...]) -> str:
    """All the ways of laying that the bounds of these spreads speak for."""
    ways = (
        " or ".join(SPREAD_WORDS[spread] for spread in spreads)
        if len(spreads) < 3
        else "in any spread that was tried"
    )
    fixed = Spread.OPEN not in spreads and lay.least_mm is None
    if fixed and any(section.spread is Spread.OPEN for section in lay.sections):
        # A bound of the open cloth holds for every other spread too; this one only for the lay's own plan.
        ways += " with all that can be cut double on it"
    if Turn.ANY in {allowed_turn(piece, lay.cloth) for piece in project.pieces_in(lay.cloth.key)}:
        ways += ", pieces turned in eighths"
    return ways
