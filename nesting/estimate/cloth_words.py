"""What is taken for granted of a cloth, in short phrases."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.cloth import Cloth, Nap
from nesting.units import Unit, format_length

__all__ = ["direction_words", "repeat_words", "shrinkage_words", "width_words"]


def width_words(cloth: Cloth, unit: Unit) -> str:
    """Its width as sold.

    >>> width_words(Cloth("rib", "rib", 600.0, tube=True), Unit.CM)
    '60 cm wide, a tube lying flat'
    """
    return f"{format_length(cloth.width_mm, unit)} wide{', a tube lying flat' if cloth.tube else ''}"


def shrinkage_words(cloth: Cloth) -> str:
    """What it loses in the first wash.

    >>> shrinkage_words(Cloth("main", "wool", 1500.0, shrinkage_along_pct=3.0))
    'shrinks 3 % along, 0 % across'
    """
    along, across = cloth.shrinkage_along_pct, cloth.shrinkage_across_pct
    return f"shrinks {along:g} % along, {across:g} % across" if along or across else "no shrinkage"


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


def repeat_words(cloth: Cloth, unit: Unit) -> Iterator[str]:
    """Its repeat, where it has one."""
    if cloth.repeat is not None:
        for axis in cloth.repeat.axes:
            yield f"repeat {axis} {format_length(cloth.repeat.length_mm(axis) or 0.0, unit)}"
