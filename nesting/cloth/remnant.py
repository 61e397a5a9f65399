"""A piece of cloth in hand: how long it is, and where nothing can be cut from it.

All is written down as it is measured now, with the cloth right side up, its first cut end on the left: along
from that end, across from the outer edge of the near selvedge; of a tube cut open, from the near cut edge.
What the cloth will still shrink (`Cloth.shrinkage_along_pct`, `Cloth.shrinkage_across_pct`) it shrinks with
its flaws; of cloth that is washed already these are 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["KEEP_OFF_MM", "Blocked", "Remnant", "part_keys"]

KEEP_OFF_MM = 5.0
"""From a flaw to the nearest cutting line, unless the person says otherwise: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Blocked:
    """A part of the cloth in which no piece may lie.

    Attributes
    ----------
    name : str
        What is there: ``moth hole``; may be empty.
    outline : tuple of (along, across), mm
        As measured, not closed.
    missing : bool
        True where the cloth is cut away already, False where it is flawed.
    keep_off_mm : float
        No cutting line comes nearer than this, on the cloth as it is cut: it does not shrink.
    """

    name: str
    outline: tuple[tuple[float, float], ...]
    missing: bool = False
    keep_off_mm: float = 0.0

    @property
    def words(self) -> str:
        """What to call it on a drawing."""
        return self.name or ("cut away" if self.missing else "flaw")


@dataclass(frozen=True, slots=True)
class Remnant:
    """One piece of cloth in hand.

    Attributes
    ----------
    name : str
        Empty where it is the only one.
    length_mm : float
        As measured, cut end to cut end.
    width_mm : float or None
        As measured, where it is narrower than the cloth was sold.
    blocked : tuple of Blocked
    """

    name: str
    length_mm: float
    width_mm: float | None = None
    blocked: tuple[Blocked, ...] = ()


def part_keys(cloth_key: str, remnants: Sequence[Remnant]) -> tuple[str, ...]:
    """The keys of the cloths that a cloth's remnants become; its own where it is in one piece.

    >>> part_keys("main", (Remnant("end", 600.0), Remnant("long piece", 1400.0)))
    ('main end', 'main long piece')
    """
    if len(remnants) < 2:
        return (cloth_key,)
    return tuple(f"{cloth_key} {remnant.name}" for remnant in remnants)
