"""How small and how large every number of a project file may be.

Beyond these a number is a slip: no cloth is so wide, no seam so deep, no garment so dear. What the bounds are
set by is common practice, no source. `docs/project-file.md` tells them to the person.
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.pattern.counts import MOST
from nesting.pattern.outline import MAX_ALLOWANCE_MM

__all__ = [
    "ALLOWANCE",
    "CLOTH_WIDTH",
    "COPIES",
    "CUT",
    "DIAMETER",
    "END_ALLOWANCE",
    "FROM_CORNER",
    "GAP",
    "GARMENTS",
    "GRAIN",
    "IN_HAND",
    "KEEP_OFF",
    "LINE",
    "LONGEST_LINE",
    "LONGEST_NAME",
    "LONGEST_STRIP",
    "MOST_BYTES",
    "MOST_EDGES",
    "MOST_MARKS",
    "MOST_POINTS",
    "MOST_POINTS_OF_EDGE",
    "NOTHING_MM",
    "PLACE_ON_CLOTH",
    "PLACE_ON_EDGE",
    "PRICE",
    "REMNANT_WIDTH",
    "REPEAT_ACROSS",
    "REPEAT_ALONG",
    "SEAM_OF_STRIP",
    "SELVEDGE",
    "SHRINKAGE",
    "SPARE",
    "STEP",
    "STRIP_LENGTH",
    "STRIP_WIDTH",
    "TABLE_LENGTH",
    "TILT",
    "WISH_LENGTH",
    "Range",
]


@dataclass(frozen=True, slots=True)
class Range:
    """From the least to the most.

    Attributes
    ----------
    least, most : float
        Lengths in mm.
    above, below : bool
        Whether it has to be more than the least, less than the most.
    """

    least: float
    most: float
    above: bool = False
    below: bool = False

    def __contains__(self, number: float) -> bool:
        """Whether that number is within."""
        return (
            self.least <= number <= self.most
            and not (self.above and number == self.least)
            and not (self.below and number == self.most)
        )


# Lengths, mm.
NOTHING_MM = 1e-6
"""What is less is nothing: some steps of the reckoning would divide by it."""
ALLOWANCE = Range(0, MAX_ALLOWANCE_MM)
CLOTH_WIDTH = Range(100, 5000)
SELVEDGE = Range(0, 5000)
END_ALLOWANCE = Range(0, 1000)
GAP = Range(0, 200)
SPARE = Range(0, 2000)
STEP = Range(0, 10_000, above=True)
REPEAT_ALONG = Range(5, 10_000)
REPEAT_ACROSS = Range(5, 5000)
LINE = Range(0, 5000)
IN_HAND = Range(0, 1_000_000, above=True)
"""A whole roll at most."""
REMNANT_WIDTH = Range(50, 5000)
PLACE_ON_CLOTH = Range(0, 1_000_000)
"""Of a flaw, along the longest roll. Whether it is on this cloth is judged with the cloth."""
KEEP_OFF = Range(0, 100)
"""From a flaw to the nearest cutting line."""
DIAMETER = Range(0, 5000, above=True)
FROM_CORNER = Range(-20_000, 20_000)
"""Of a point, from the corner of the paper, to either side."""
PLACE_ON_EDGE = Range(0, 100_000)
TABLE_LENGTH = Range(100, 100_000)
WISH_LENGTH = Range(0, 100_000, above=True)
STRIP_WIDTH = Range(5, 2000)
STRIP_LENGTH = Range(10, 1_000_000)
LONGEST_STRIP = Range(20, 100_000)
SEAM_OF_STRIP = Range(0, 100)

# Other numbers.
PRICE = Range(0, 100_000)
"""Of a metre or a yard, in whatever money."""
SHRINKAGE = Range(0, 50, below=True)
"""Per cent."""
GRAIN = Range(-360, 360)
"""Degrees; once round."""
TILT = Range(0, 10)
"""Degrees off the warp: so little that the cloth still hangs nearly as it should."""
CUT = Range(0, MOST)
COPIES = Range(1, 500)
"""Of a small thing from the waste."""
GARMENTS = Range(0, 100)

# How much there may be.
LONGEST_NAME = 60
"""Characters; more cannot be printed on a piece."""
MOST_POINTS = 2000
"""Of a piece."""
MOST_POINTS_OF_EDGE = 1000
MOST_EDGES = 500
"""Of a piece."""
MOST_MARKS = 500
"""Of a piece: notches, and darts, and marks."""
LONGEST_LINE = 50_000
"""Characters: all points of a piece in braces."""
MOST_BYTES = 2_000_000
"""Of a project file: some fifty thousand points."""
