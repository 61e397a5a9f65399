"""How it is said what looks like a slip: where, what is seen, and what to ask oneself."""

from __future__ import annotations

from typing import assert_never

from nesting.doubts.kinds import (
    Doubt,
    DoubtKind,
    FarCurve,
    FarPoint,
    HighAllowance,
    LargePiece,
    LowAllowance,
    NearlyTouching,
    OddCloth,
    SharpBend,
    SlightShrinkage,
    Slip,
    SmallPieces,
)
from nesting.errors import Mistake
from nesting.project import PLAIN
from nesting.units import Unit, format_length, format_point

__all__ = ["doubt_hint", "doubt_mistake", "doubt_place", "doubt_words"]

_UNITS = "Is `units`, at the top of the file, right?"
_SMALL_MM = 10.0
"""Less than this is told in mm, whatever the person measures in."""


def doubt_words(kind: DoubtKind, unit: Unit) -> tuple[str, str]:
    """What is seen, and what to ask oneself about it; a sentence or two each.

    >>> doubt_words(SharpBend("neck", "B", (80.0, 602.0), 84.3), Unit.CM)[0]
    "At 'B', (8, 60.2) cm, the smooth curve bends by 84 degrees, as a corner does."
    """
    match kind:
        case NearlyTouching(edge, point, at, other, gap):
            near = "itself" if edge == other else f"edge {other!r}"
            return (
                f"Near {point!r}, at {format_point(at, unit)}, it comes within {_length(gap, unit)} of "
                f"{near}.",
                "Is a point there misplaced, or are the two numbers of one swapped?",
            )
        case SharpBend(_, point, at, bend):
            return (
                f"At {point!r}, {format_point(at, unit)}, the smooth curve bends by {bend:.0f} degrees, as a "
                "corner does.",
                "If it is one, end the edge there and begin another; if not, check the point.",
            )
        case FarCurve(_, point, following, _, beyond):
            return (
                f"Between {point!r} and {following!r} the smooth curve goes {_length(beyond, unit)} beyond "
                "all its points.",
                "Measure another point there; or is one of the two a corner, where an edge ends?",
            )
        case FarPoint(_, point, at, detour):
            return (
                f"{point!r}, {format_point(at, unit)}, lies far from its neighbours: the way over it is "
                f"{_length(detour, unit)} longer than the way past it.",
                _slip_words(kind, unit),
            )
        case HighAllowance(_, allowance, depth):
            return (
                f"The allowance is {_length(allowance, unit)}; the piece reaches {_length(depth, unit)} "
                "inwards from this edge.",
                "Is so much meant? Check the number and its unit.",
            )
        case LowAllowance(edge, allowance):
            what = "The allowance is" if edge else "Allowances are as narrow as"
            return f"{what} {allowance:.1f} mm, narrower than any seam.", _UNITS
        case LargePiece(wide, high):
            size = f"{format_length(wide, unit)} × {format_length(high, unit)}"
            return f"It measures {size}, more than the pieces of a garment do.", _UNITS
        case SmallPieces(longest):
            return f"The largest piece of all is {format_length(longest, unit)} long.", _UNITS
        case OddCloth(width, wide):
            usual = "wider than cloth is woven" if wide else "narrower than cloth usually is"
            return f"It is {format_length(width, unit)} wide, {usual}.", _UNITS
        case SlightShrinkage(pct):
            return (
                f"It is said to shrink by {pct:g} per cent, less than can be measured.",
                f"Shrinkage is in per cent: is {pct:g} a share, for {100 * pct:g} per cent?",
            )
    assert_never(kind)


def _edge_place(kind: DoubtKind) -> str:
    """Where on the piece: ``edge 'neck', point 'B'``; empty where it is about the whole."""
    match kind:
        case NearlyTouching() | SharpBend() | FarCurve() | FarPoint():
            return f"edge {kind.edge!r}, point {kind.point!r}"
        case HighAllowance() | LowAllowance():
            return f"edge {kind.edge!r}" if kind.edge else ""
        case LargePiece() | SmallPieces() | OddCloth() | SlightShrinkage():
            return ""
    assert_never(kind)


def doubt_place(doubt: Doubt) -> str:
    """Where in the file.

    >>> doubt_place(Doubt(OddCloth(3810.0, True), cloth="main", version="wide"))
    "alternative 'wide', cloth 'main'"
    """
    places = [f"size {doubt.size!r}"] if doubt.size else []
    places += [] if doubt.version == PLAIN else [f"alternative {doubt.version!r}"]
    places += [f"piece {doubt.piece!r}"] if doubt.piece else []
    places += [f"cloth {doubt.cloth!r}"] if doubt.cloth else []
    on_piece = _edge_place(doubt.kind)
    places += [on_piece] if on_piece else []
    return ", ".join(places) or "all pieces"


def doubt_mistake(kind: DoubtKind, here: str, unit: Unit) -> Mistake:
    """The same as a mistake, where it is the likely cause of what cannot be used.

    Parameters
    ----------
    kind : DoubtKind
    here : str
        The file and the piece.
    unit : Unit
    """
    return Mistake(f"{here}, {_edge_place(kind)}", *doubt_words(kind, unit))


def doubt_hint(number: int, command: str) -> str:
    """That there is something to look at, and what to type to see it.

    >>> doubt_hint(2, "ellwand check jacket.toml")
    'Look here: 2 things in the file look like a slip. To see them:  ellwand check jacket.toml'
    """
    things = "1 thing in the file looks" if number == 1 else f"{number} things in the file look"
    return f"Look here: {things} like a slip. To see {'it' if number == 1 else 'them'}:  {command}"


def _slip_words(kind: FarPoint, unit: Unit) -> str:
    meant = "" if kind.meant is None else format_point(kind.meant, unit)
    match kind.slip:
        case Slip.SWAPPED:
            return f"Are its numbers swapped? {meant} lies near the line of its neighbours."
        case Slip.DECIMAL:
            return f"Has a decimal point slipped? {meant} lies near the line of its neighbours."
        case Slip.UNKNOWN:
            return "Check its two numbers."
    assert_never(kind.slip)


def _length(mm: float, unit: Unit) -> str:
    return f"{mm:.1f} mm" if mm < _SMALL_MM else format_length(mm, unit)
