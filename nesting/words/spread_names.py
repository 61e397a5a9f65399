"""Each spread as it stands in a sentence: on a lengthwise fold."""

from __future__ import annotations

from nesting.cloth.cloth import Spread

__all__ = ["SPREAD_WORDS"]

SPREAD_WORDS = {
    Spread.OPEN: "laid open",
    Spread.LENGTHWISE_FOLD: "on a lengthwise fold",
    Spread.PART_FOLD: "on a part fold",
    Spread.DOUBLE_FOLD: "on a double fold",
    Spread.CROSSWISE_FOLD: "on a crosswise fold",
    Spread.TWO_LENGTHS: "in two lengths",
    Spread.TUBE: "as a tube",
}
