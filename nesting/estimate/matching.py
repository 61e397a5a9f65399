"""What matching costs: a cloth with its stripes matched, beside the same cloth plain and really laid.

Rules of thumb
--------------
Said beside it, so that the two can be compared:

- at least a quarter more (The Sewtionary: An A to Z Guide to 101 Sewing Techniques, p. 257);
- at least a quarter of a yard, half a yard to a yard where the repeat is large or uneven (Stitch magazine,
  Fall 2010);
- one repeat for each piece that lies end to end with others, none for those side by side (teaching pages on
  the web, unnamed, taken for their figures only).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from nesting.cloth.buying import asked_for_mm, purchase
from nesting.cloth.cloth import Cloth
from nesting.cutting.lay import Lay
from nesting.pattern.match import Axis
from nesting.project import Project
from nesting.units import MM_PER_YARD

__all__ = [
    "AQuarterMore",
    "ARepeatEach",
    "AYardsPartMore",
    "MatchingCost",
    "RuleOfThumb",
    "end_to_end",
    "matching_cost",
    "plain_project",
]

_HAIR_MM = 1.0


@dataclass(frozen=True, slots=True)
class AQuarterMore:
    """A quarter more than the plain cloth takes."""


@dataclass(frozen=True, slots=True)
class AYardsPartMore:
    """A quarter of a yard more; `half` a yard of an uneven pattern."""

    half: bool


@dataclass(frozen=True, slots=True)
class ARepeatEach:
    """A repeat more for each of so many matched pieces that lie end to end."""

    pieces: int


@dataclass(frozen=True, slots=True)
class RuleOfThumb:
    """What the trade would buy without a lay.

    Attributes
    ----------
    adds : AQuarterMore, AYardsPartMore or ARepeatEach
        To what the plain cloth takes.
    to_buy_mm : float
        Rounded up to the shop's step.
    """

    adds: AQuarterMore | AYardsPartMore | ARepeatEach
    to_buy_mm: float


@dataclass(frozen=True, slots=True)
class MatchingCost:
    """A matched cloth beside the same cloth plain.

    Attributes
    ----------
    plain_length_mm, plain_to_buy_mm : float
        Of the shortest lay of the plain cloth that was found, the matched one counted among them.
    extra_mm : float
        What more is bought for matching.
    rules : tuple of RuleOfThumb
    """

    plain_length_mm: float
    plain_to_buy_mm: float
    extra_mm: float
    rules: tuple[RuleOfThumb, ...]


def plain_project(project: Project, cloth: Cloth) -> Project:
    """The project with that cloth only, plain."""
    plain = replace(cloth, repeat=None, begins_on_line=False)
    pieces = tuple(replace(piece, matching=()) for piece in project.pieces)
    return replace(project, cloths={cloth.key: plain}, pieces=pieces, matches=())


def matching_cost(matched: Lay, plain: Lay, project: Project) -> MatchingCost:
    """Compare two verified lays of the same pieces.

    Parameters
    ----------
    matched : Lay
    plain : Lay
        Of `plain_project`.
    project : Project
        The matched one.
    """
    # A lay with its stripes matched is a lay of the plain cloth too.
    length = min(plain.length_mm, matched.length_mm)
    plain_to_buy = purchase(length, plain.cloth).to_buy_mm
    extra = purchase(matched.length_mm, matched.cloth).to_buy_mm - plain_to_buy
    return MatchingCost(length, plain_to_buy, extra, tuple(_rules(plain, plain_to_buy, matched, project)))


def end_to_end(lay: Lay, pieces: set[str]) -> int:
    """The most of these pieces that lie one after another along the cloth."""
    most = 0
    for section in lay.sections:
        sides = [
            (float(one.shape.cut_line[:, 1].min()), float(one.shape.cut_line[:, 1].max()))
            for one in section.placed
            if one.piece in pieces
        ]
        # Seen a hair inside each piece, for those that touch side by side are not in line.
        lines = [low + _HAIR_MM for low, _ in sides]
        most = max([most, *(sum(low < line < high for low, high in sides) for line in lines)])
    return most


def _rules(plain: Lay, plain_mm: float, matched: Lay, project: Project) -> Iterator[RuleOfThumb]:
    cloth = matched.cloth
    repeat = None if cloth.repeat is None else cloth.repeat.length_mm(Axis.ALONG)
    uneven = cloth.repeat is not None and bool(cloth.repeat.uneven)

    def rule(adds: AQuarterMore | AYardsPartMore | ARepeatEach, needed_mm: float) -> RuleOfThumb:
        return RuleOfThumb(adds, asked_for_mm(needed_mm, cloth, cloth.step_mm))

    yield rule(AQuarterMore(), 1.25 * plain_mm)
    yield rule(AYardsPartMore(half=uneven), plain_mm + MM_PER_YARD / (2 if uneven else 4))
    if repeat is not None and cloth.begins_on_line:
        named = {piece for match in project.matches for piece, _ in match.points}
        number = end_to_end(plain, named)
        yield rule(ARepeatEach(number), plain_mm + number * repeat)
