"""How it is said what matching costs, and what rules of thumb would have bought."""

from __future__ import annotations

from collections.abc import Iterator
from typing import assert_never

from nesting.estimate.estimate import Estimate
from nesting.estimate.matching import (
    AQuarterMore,
    ARepeatEach,
    AYardsPartMore,
    MatchingCost,
    RuleOfThumb,
)
from nesting.units import Unit, format_buy, format_step

__all__ = ["matching_sentences", "matching_words", "rule_words"]


def rule_words(rule: RuleOfThumb) -> str:
    """What a rule adds: ``a quarter more``.

    >>> rule_words(RuleOfThumb(ARepeatEach(3), 1800.0))
    'a repeat for each of 3 matched pieces end to end'
    """
    match rule.adds:
        case AQuarterMore():
            return "a quarter more"
        case AYardsPartMore(half):
            return f"{'half' if half else 'a quarter of'} a yard more"
        case ARepeatEach(pieces):
            return f"a repeat for each of {pieces} matched pieces end to end"
    assert_never(rule.adds)


def matching_words(estimate: Estimate, unit: Unit) -> str:
    """What matching costs, in a few words; empty where nothing is matched."""
    matching = estimate.matching
    if matching is None:
        return ""
    if matching.extra_mm <= 0:
        return "Matching its pattern costs nothing."
    more = format_step(matching.extra_mm, unit)
    return f"Matching its pattern costs {more} against the same cloth plain."


def matching_sentences(to_buy_mm: float, matching: MatchingCost, unit: Unit) -> Iterator[str]:
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
    rules = "; ".join(f"{rule_words(rule)}, {format_buy(rule.to_buy_mm, unit)}" for rule in matching.rules)
    yield f"Rules of thumb would have bought: {rules}."
