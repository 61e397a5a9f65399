"""What can be said of a lay in plain sentences: what could still be saved, and what other spreads need.

Only what bounds and lays prove is claimed.
"""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Spread
from nesting.cutting.flat.placing import folded_over_mm
from nesting.cutting.lay import Fold, Lay, TriedSpread, Yield
from nesting.cutting.plan.demand import allowed_turn
from nesting.estimate.matching import MatchingCost, one_way_words
from nesting.estimate.spread_names import SPREAD_WORDS
from nesting.packing.result import INTERRUPTED
from nesting.pattern.piece import Turn
from nesting.project import Project
from nesting.units import Unit, format_buy, format_length, format_step

__all__ = ["barred_words", "least_to_buy_mm", "verdict"]


def least_to_buy_mm(lay: Lay) -> dict[Spread, float]:
    """What the lower bound alone would need, for each spread that was laid."""
    least = {tried.spread: tried.least_to_buy_mm for tried in lay.tried if tried.least_to_buy_mm is not None}
    return least or {lay.spread: purchase(lay.bound_mm, lay.cloth).to_buy_mm}


def verdict(lay: Lay, to_buy_mm: float, project: Project, matching: MatchingCost | None = None) -> str:
    """What could still be saved, why this spread was taken, what the others need, and what matching costs."""
    unit = project.unit
    bounds = least_to_buy_mm(lay)
    least_mm = min(bounds.values())
    ways = _ways(lay, project, tuple(bounds))
    if to_buy_mm <= least_mm:
        sentences = [f"Proven: {ways}, no lay can save another {format_step(lay.cloth.step_mm, unit)}."]
    else:
        at_most = format_step(to_buy_mm - least_mm, unit)
        untried = any(INTERRUPTED in tried.why_not for tried in lay.tried)
        sentences = [
            f"No lay {ways} can do with less than {format_buy(least_mm, unit)}, so at most {at_most} could "
            f"still be saved{' that way' if untried else ''}; looking longer may find some of it."
        ]
    sentences += _folded_over(lay, unit)
    others = [tried for tried in lay.tried if tried.spread is not lay.spread and tried.to_buy_mm is not None]
    if others:
        sentences.append(_why(lay, to_buy_mm, others, unit))
        for words, searched in (("The others", True), ("As first laid, not searched on", False)):
            needs = ", ".join(_need(tried, unit) for tried in others if tried.searched is searched)
            if needs:
                sentences.append(f"{words}: {needs}.")
    sentences += barred_words(lay)
    sentences += _tilt(lay, unit)
    if one_way_words(lay.cloth):
        sentences.append(f"{one_way_words(lay.cloth)}.")
    if matching is not None:
        sentences += _matching(to_buy_mm, matching, unit)
    return " ".join(sentences)


def barred_words(lay: Lay) -> Iterator[str]:
    """Why other spreads were not laid, in sentences."""
    barred = [tried for tried in lay.tried if tried.length_mm is None and tried.spread is not lay.spread]
    for reason in dict.fromkeys(tried.why_not for tried in barred):
        spreads = [tried.spread for tried in barred if tried.why_not == reason]
        untried = INTERRUPTED in reason
        if len(spreads) == len(lay.tried) - 1 > 1 and not untried:
            yield f"In no other spread: {reason}."
        else:
            yield f"Not {' or '.join(SPREAD_WORDS[spread] for spread in spreads)}: {reason}."


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


def _matching(to_buy_mm: float, matching: MatchingCost, unit: Unit) -> Iterator[str]:
    """What the stripes cost, and what the trade's rules of thumb would have said."""
    plain = format_buy(matching.plain_to_buy_mm, unit)
    if matching.extra_mm > 0:
        more = format_step(matching.extra_mm, unit)
        yield (
            f"Matching costs {more}: the same cloth plain, laid and verified as well, would take {plain}, "
            f"this one {format_buy(to_buy_mm, unit)}."
        )
    else:
        yield f"Matching costs nothing: the same cloth plain was found to take {plain} as well."
    rules = "; ".join(f"{rule.words}, {format_buy(rule.to_buy_mm, unit)}" for rule in matching.rules)
    yield f"Rules of thumb would have bought: {rules}."


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


def _need(tried: TriedSpread, unit: Unit) -> str:
    return f"{SPREAD_WORDS[tried.spread]} {format_buy(tried.to_buy_mm or 0.0, unit)}"


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
