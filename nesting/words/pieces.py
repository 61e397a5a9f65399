"""How it is said what is wrong with a piece as drawn, where, and what to do about it."""

from __future__ import annotations

import math
from typing import assert_never

from nesting.errors import Mistake
from nesting.pattern.faults import (
    AllowanceBelowNothing,
    AllowanceOverHalf,
    AllowanceTooWide,
    BesideFold,
    Crossing,
    EdgeOfNoLength,
    EdgeTwice,
    FoldAtAPoint,
    FoldBent,
    FoldOffGrain,
    Gap,
    NoArea,
    NoEdges,
    NotchOffEdge,
    NotchWithoutEdge,
    NotSimple,
    OverFold,
    PieceFault,
    PointOutside,
    UnknownFoldEdge,
)
from nesting.units import Unit, format_length, format_off, format_point

__all__ = ["piece_mistake"]

_ACROSS_DEG = 80.0
"""A fold edge that runs so far off the grain may have the numbers of its points the wrong way round."""
_SEAM = "set on_fold = false, and cut a pair with a seam there."
_CHECK = "Check the number and its unit."


def piece_mistake(fault: PieceFault, here: str, unit: Unit) -> Mistake:
    """A fault as the person is told it.

    Parameters
    ----------
    fault : PieceFault
    here : str
        The file and the piece.
    unit : Unit
        What places on the paper are told in, and how far something is off.
    """
    what, remedy = _said(fault, unit)
    return Mistake(f"{here}{_place(fault)}", what, remedy)


def _place(fault: PieceFault) -> str:
    """Where on the piece."""
    match fault:
        case NoEdges() | NoArea() | NotSimple():
            return ""
        case UnknownFoldEdge():
            return ", on_fold"
        case NotchWithoutEdge(notch):
            return f", notch {notch!r}"
        case NotchOffEdge(notch, edge):
            return f", edge {edge!r}, notch {notch!r}"
        case PointOutside(kind, name):
            return f", {kind.value} {name!r}"
        case (
            EdgeTwice()
            | EdgeOfNoLength()
            | AllowanceBelowNothing()
            | AllowanceTooWide()
            | AllowanceOverHalf()
            | Gap()
            | Crossing()
            | FoldAtAPoint()
            | FoldBent()
            | FoldOffGrain()
            | OverFold()
            | BesideFold()
        ):
            return f", edge {fault.edge!r}"
    assert_never(fault)


def _said(fault: PieceFault, unit: Unit) -> tuple[str, str]:
    """What is wrong, and what to do about it."""
    match fault:
        case NoEdges():
            return "There are no edges.", "Write the outline down, edge by edge."
        case EdgeTwice(_, times):
            return f"{times} edges have this name.", "Give each edge a name of its own."
        case EdgeOfNoLength():
            return "The edge has no length.", "Give it at least two different points, or leave it out."
        case AllowanceBelowNothing(_, allowance):
            told = format_length(allowance, unit) if math.isfinite(allowance) else str(allowance)
            return (
                f"The seam allowance is {told}.",
                "Write 0 or more; 0 is for an edge that is cut as drawn.",
            )
        case AllowanceTooWide(_, allowance, most):
            told = format_length(allowance, unit) if math.isfinite(allowance) else str(allowance)
            return f"The seam allowance is {told}, more than {format_length(most, unit)}.", _CHECK
        case AllowanceOverHalf(_, allowance, size):
            return (
                f"The seam allowance, {format_length(allowance, unit)}, is more than half the piece, "
                f"{format_length(size, unit)}.",
                _CHECK,
            )
        case Gap():
            return (
                _gap(fault, unit),
                "Begin each edge at the point where the one before ended, all the way round.",
            )
        case NoArea():
            return (
                "The outline has no area: its points lie on one line.",
                "Check the points; x is first, then y.",
            )
        case Crossing(edge, other, place):
            what = "itself" if edge == other else f"edge {other!r}"
            return (
                f"The edge crosses or touches {what} at {format_point(place, unit)}.",
                "Check the points near there and the order in which they are joined.",
            )
        case NotSimple(reason):
            return f"The outline is not a simple one ({reason}).", "Check the points near there."
        case NotchWithoutEdge(_, edge, edges):
            return f"There is no edge {edge!r}.", _edges(edges)
        case NotchOffEdge(_, _, at, off, lies_on):
            return (
                f"The notch at {format_point(at, unit)} is {format_off(off, unit)} off the edge.",
                f"It lies on edge {lies_on!r}: name that one." if lies_on else "Put it on the outline.",
            )
        case PointOutside(_, _, point, off):
            return (
                f"Its point {format_point(point, unit)} lies {format_off(off, unit)} outside the outline.",
                "Check the point; marks lie on the outline or inside it.",
            )
        case UnknownFoldEdge(edge, edges):
            return f"There is no edge {edge!r}.", _edges(edges)
        case FoldAtAPoint():
            return "The fold edge ends where it begins.", "A fold edge is one straight line."
        case FoldBent(_, off, place):
            return (
                f"The fold edge is not straight: {format_off(off, unit)} off at {format_point(place, unit)}.",
                f"Draw it straight (an alternative that lays it on the fold may move its points), or {_SEAM}",
            )
        case FoldOffGrain(_, turn, end):
            return (
                f"The fold edge is {turn:.1f} degrees off the grain line: {format_off(end, unit)} from end "
                "to end.",
                _onto_the_grain(swapped=turn > _ACROSS_DEG),
            )
        case OverFold(_, over, beyond, place):
            return (
                f"The piece crosses its fold line: edge {over!r} lies {format_off(beyond, unit)} beyond it "
                f"at {format_point(place, unit)}.",
                f"Draw only the half on one side of the fold, or {_SEAM}",
            )
        case BesideFold(_, fold):
            return (
                f"The edge lies on the fold line too, beside {fold!r}.",
                f"Let {fold!r} run on over it, or {_SEAM}",
            )
    assert_never(fault)


def _gap(fault: Gap, unit: Unit) -> str:
    end, begin = (format_point(place, unit) for place in (fault.end, fault.begin))
    what = (
        f"The outline is not closed: this last edge ends at {end}, the first"
        if fault.closing
        else f"The edge ends at {end}, the next"
    )
    return f"{what}, {fault.following!r}, begins at {begin}, {format_off(fault.gap_mm, unit)} away."


def _edges(names: tuple[str, ...]) -> str:
    return f"The edges are {', '.join(map(repr, names))}."


def _onto_the_grain(*, swapped: bool) -> str:
    remedy = "The fold runs along the grain: change the grain line or the edge, or set on_fold = false."
    if swapped:
        remedy += (
            " Or are the numbers of its points the wrong way round? First how far to the right, then how far "
            "up."
        )
    return remedy
