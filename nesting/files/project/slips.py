"""Whether one slip in the numbers of one point explains all that is wrong with a piece.

A point whose numbers are swapped lies somewhere else, and what is then found wrong is a dart outside the
outline, or two edges that cross. So each point is tried with its numbers the other way round, with another
sign, and with the decimal point elsewhere. If the piece is sound with one of these, and its points lie nearer
to each other, that is most likely what was meant. Where no point by itself explains everything,
`doubts.points` tells which are likely.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from nesting.errors import Mistake
from nesting.files.tables.schema import PieceTable
from nesting.files.tables.wording import quoted
from nesting.units import Unit, format_point

__all__ = ["Judge", "PointSlip", "SlipKind", "point_slip", "slip_mistake"]

MOST_TRIED = 60
"""Points; a paper measured by hand has no more, and each is tried in seven ways."""

Place = tuple[float, float]
Judge = Callable[[PieceTable], Sequence[Mistake]]
"""What is wrong with a piece."""


class SlipKind(Enum):
    """What was done to the numbers."""

    SWAPPED = "swapped"
    SIGN = "sign"
    DECIMAL = "decimal"


_SAID = {
    SlipKind.SWAPPED: "Its two numbers seem to be the wrong way round",
    SlipKind.SIGN: "It seems to have a minus sign too many, or one too few",
    SlipKind.DECIMAL: "The decimal point in one of its numbers seems to be forgotten, or in the wrong place",
}


@dataclass(frozen=True, slots=True)
class PointSlip:
    """A point that was most likely meant elsewhere."""

    kind: SlipKind
    point: str
    meant: Place


_TRIED = (
    (SlipKind.SWAPPED, 1.0),
    (SlipKind.SIGN, 1.0),
    (SlipKind.DECIMAL, 1.0),
    (SlipKind.SWAPPED, 1.25),
)
"""One after another, and how far from each other the points may lie then, as a share of what they do as
written: nearer; last, swapped numbers that were nearer as written."""


def point_slip(table: PieceTable, judge: Judge) -> PointSlip | None:
    """The slip that explains what is wrong, if one does.

    Of several of a kind, the one that leaves the points nearest to each other.

    Parameters
    ----------
    table : PieceTable
        With something wrong.
    judge : Judge
    """
    if not 0 < len(table.points) <= MOST_TRIED:
        return None
    as_written = _spread(table, table.points)
    on_edges = {name for edge in table.edges.values() for name in edge.through}
    for kind, at_most in _TRIED:
        sound: list[tuple[float, PointSlip]] = []
        for name, place in table.points.items():
            if kind is SlipKind.DECIMAL and name not in on_edges:
                continue  # somewhere in the piece it would be sound anyway
            for meant in _ways(kind, place):
                points = {**table.points, name: meant}
                spread = _spread(table, points)
                if spread < at_most * as_written and not judge(table.model_copy(update={"points": points})):
                    sound.append((spread, PointSlip(kind, name, meant)))
        if sound:
            return min(sound, key=lambda one: one[0])[1]
    return None


def slip_mistake(slip: PointSlip, consequence: Mistake, where: str, unit: Unit) -> Mistake:
    """The slip as it is told: the cause first, and then what it does.

    Parameters
    ----------
    slip : PointSlip
    consequence : Mistake
        What was found wrong.
    where : str
        File and piece.
    unit : Unit
    """
    meant = format_point(slip.meant, unit)
    place = consequence.where.removeprefix(where).removeprefix(", ")
    told = f"{place}: {consequence.what}" if place else consequence.what
    if slip.kind is SlipKind.DECIMAL:  # a piece that is longer than others may be right as it is
        told = f"{told} {consequence.remedy}"
    order = ": first how far to the right, then how far up" if slip.kind is SlipKind.SWAPPED else ""
    return Mistake(
        f"{where}, point {quoted(slip.point)}",
        f"{_SAID[slip.kind]}: at {meant} nothing is wrong with this piece.",
        f"If so, write it as [{meant.partition(')')[0].removeprefix('(')}]{order}. As it stands: {told}",
    )


def _ways(kind: SlipKind, place: Place) -> Iterator[Place]:
    """Where a point may have been meant."""
    x, y = place
    if kind is SlipKind.SWAPPED:
        yield from [(y, x)] if x != y else []
    elif kind is SlipKind.SIGN:
        yield from [(-x, y)] if x else []
        yield from [(x, -y)] if y else []
    else:
        for factor in (0.1, 10.0):
            yield from [(x * factor, y)] if x else []
            yield from [(x, y * factor)] if y else []


def _spread(table: PieceTable, points: Mapping[str, Place]) -> float:
    """How far it is from point to point along all edges, and from each point to the middle of all, mm."""
    places = np.array(list(points.values())).reshape(-1, 2)
    total = float(np.hypot(*(places - np.median(places, axis=0)).T).sum())
    for edge in table.edges.values():
        run = np.array([points[name] for name in edge.through if name in points]).reshape(-1, 2)
        total += float(np.hypot(*np.diff(run, axis=0).T).sum())
    return total
