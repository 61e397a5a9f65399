"""What is taken for granted of a cloth: in short phrases (`..._words`) and in sentences (`..._fact`)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nesting.cloth.cloth import Cloth, Nap, RightSide
from nesting.cloth.remnant import Blocked
from nesting.pattern.match import Axis
from nesting.pattern.piece import Turn
from nesting.units import Unit, format_length

__all__ = [
    "blocked_fact",
    "direction_fact",
    "direction_words",
    "nap_words",
    "one_way_words",
    "repeat_fact",
    "repeat_words",
    "selvedge_words",
    "shrinkage_fact",
    "shrinkage_words",
    "width_fact",
    "width_words",
]


def blocked_fact(blocked: Sequence[Blocked], unit: Unit) -> str:
    """How far the cutting lines keep off each flaw, and over what no piece lies.

    >>> blocked_fact([Blocked("stain", (), keep_off_mm=5.0), Blocked("", (), missing=True)], Unit.CM)
    "Every cutting line keeps 0.5 cm clear of 'stain'. No piece lies over 'cut away'."
    """
    sentences = []
    for keep_off_mm in dict.fromkeys(one.keep_off_mm for one in blocked):
        names = ", ".join(f"'{one.words}'" for one in blocked if one.keep_off_mm == keep_off_mm)
        clear = f"Every cutting line keeps {format_length(keep_off_mm, unit)} clear of {names}."
        sentences.append(clear if keep_off_mm > 0 else f"No piece lies over {names}.")
    return " ".join(sentences)


def width_words(cloth: Cloth, unit: Unit) -> str:
    """Its width as sold.

    >>> width_words(Cloth("rib", "rib", 600.0, tube=True), Unit.CM)
    '60 cm wide, a tube lying flat'
    """
    return f"{format_length(cloth.width_mm, unit)} wide{', a tube lying flat' if cloth.tube else ''}"


def selvedge_words(cloth: Cloth, unit: Unit) -> str:
    """How much of its width is not laid on."""
    return f"{format_length(cloth.selvedge_mm, unit)} of selvedge on each side not used"


def width_fact(cloth: Cloth, unit: Unit) -> str:
    """Its width as sold and as laid on.

    >>> width_fact(Cloth("main", "wool", 1500.0, selvedge_mm=0.0), Unit.CM)
    '150 cm wide as sold; 150 cm to lay on.'
    """
    width = f"{format_length(cloth.width_mm, unit)} wide as sold"
    if cloth.selvedge_mm > 0:
        width += f", {selvedge_words(cloth, unit)}"
    return f"{width}; {format_length(cloth.usable_width_mm, unit)} to lay on."


def shrinkage_words(cloth: Cloth) -> str:
    """What it loses in the first wash.

    >>> shrinkage_words(Cloth("main", "wool", 1500.0, shrinkage_along_pct=3.0))
    'shrinks 3 % along, 0 % across'
    """
    along, across = cloth.shrinkage_along_pct, cloth.shrinkage_across_pct
    return f"shrinks {along:g} % along, {across:g} % across" if along or across else "no shrinkage"


def shrinkage_fact(cloth: Cloth) -> str:
    """What it loses in the first wash."""
    along, across = cloth.shrinkage_along_pct, cloth.shrinkage_across_pct
    if not along and not across:
        return "No shrinkage is reckoned with."
    return f"It is taken to shrink {along:g} % along and {across:g} % across in the first wash."


def direction_words(cloth: Cloth) -> str:
    """Whether its pieces may lie either way up.

    >>> direction_words(Cloth("main", "velvet", 1500.0, nap=Nap.ONE_WAY))
    'with nap, all tops one way'
    """
    if cloth.nap is Nap.ONE_WAY:
        return "with nap, all tops one way"
    if cloth.nap is Nap.EACH_GARMENT:
        return "with nap, the tops of each garment one way"
    return "uneven repeat, all tops one way" if cloth.one_way else "without nap, either way up"


def direction_fact(cloth: Cloth) -> str:
    """Whether its pieces may lie either way up, and whether its faces differ."""
    nap = {
        Nap.ONE_WAY: "One way: every top lies towards the same end",
        Nap.EACH_GARMENT: "One way within each garment: all its tops lie towards the same end",
        Nap.EITHER_WAY: "It lies either way up",
    }[cloth.nap]
    side = "the two faces differ" if cloth.right_side is RightSide.ONE else "both faces are alike"
    return f"{one_way_words(cloth) or nap}; {side}."


def nap_words(cloth: Cloth) -> str:
    """With nap or without, as a chart of requirements has it; empty where pieces may turn any way."""
    if cloth.turn is Turn.ANY:
        return ""
    if cloth.nap is Nap.EACH_GARMENT:
        return str(Nap.EACH_GARMENT)
    return "with nap" if cloth.one_way else "without nap"


def repeat_words(cloth: Cloth, unit: Unit) -> Iterator[str]:
    """Its repeat, where it has one."""
    if cloth.repeat is not None:
        for axis in cloth.repeat.axes:
            yield f"repeat {axis} {format_length(cloth.repeat.length_mm(axis) or 0.0, unit)}"


def repeat_fact(cloth: Cloth, unit: Unit) -> str:
    """How far the pattern goes before it comes again, as sold; empty for a plain cloth."""
    if cloth.repeat is None:
        return ""
    lengths = ((axis, cloth.repeat.length_mm(axis)) for axis in cloth.repeat.axes)
    every = " and ".join(f"{format_length(mm or 0.0, unit)} {axis}" for axis, mm in lengths)
    return f"Its pattern comes again every {every}."


def one_way_words(cloth: Cloth) -> str:
    """Why an uneven pattern lets pieces lie one way only; empty for other cloths."""
    uneven = () if cloth.repeat is None else cloth.repeat.uneven
    if not uneven:
        return ""
    ways = " and ".join(uneven)
    said = f"Its pattern is uneven {ways} the cloth: it reads one way only, so every top lies towards the "
    said += "same end"
    if Axis.ACROSS in uneven:
        said += ", in a single layer, as the upper layer of a fold would show it the other way round"
    return said
