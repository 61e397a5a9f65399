"""Whether a lay does what others cannot in its spread; `nesting.words.spreads` says what that is."""

from __future__ import annotations

from typing import assert_never

import numpy as np

from nesting.cloth.spread import Spread, no_way_to_lie
from nesting.cutting.lay import Lay, Yield

__all__ = ["shows_it"]


def shows_it(lay: Lay) -> bool:
    """Whether the lay does what its spread is good for, as far as that can be read off it."""
    sections = lay.stretches[0]
    placed = [one for section in sections for one in section.placed]
    match lay.spread:
        case Spread.OPEN:
            return any(one.of > 1 for one in placed)
        case Spread.LENGTHWISE_FOLD:
            return all(one.yields is not Yield.ONE for one in placed)
        case Spread.PART_FOLD:
            return sections[0].spread is lay.spread
        case Spread.DOUBLE_FOLD:
            return all(any(one.yields is Yield.WHOLE_ON_FOLD for one in each.placed) for each in sections)
        case Spread.CROSSWISE_FOLD | Spread.TWO_LENGTHS:
            half = lay.cloth.usable_width_mm / 2
            return any(float(np.ptp(one.shape.cut_line[:, 1])) > half for one in placed)
        case Spread.TUBE:
            return sections[0].spread is lay.spread
        case Spread.BEST:
            no_way_to_lie(lay.spread)
        case _:
            assert_never(lay.spread)
