"""What a person wishes of where pieces lie, beyond what the cloth itself asks."""

from __future__ import annotations

from dataclasses import dataclass, replace

__all__ = ["FromEnd", "Pin", "Together", "Wish", "renamed"]


@dataclass(frozen=True, slots=True)
class Together:
    """Pieces of one garment that come from the same length of the cloth, so that they are of one shade.

    Attributes
    ----------
    pieces : tuple of str
        Two or more.
    within_mm : float
        From the first of them to the last along the cloth, ends included, it is no farther.
    cloth : str or None
        Key of the one cloth that it is meant for; None for each that any of them is cut from.
    """

    pieces: tuple[str, ...]
    within_mm: float
    cloth: str | None = None


@dataclass(frozen=True, slots=True)
class FromEnd:
    """A piece that lies so far from the end at which the lay begins."""

    pieces: tuple[str, ...]
    distance_mm: float
    cloth: str | None = None


@dataclass(frozen=True, slots=True)
class Pin:
    """A piece that lies at one place, paper face up: where the motif of a large print is.

    Attributes
    ----------
    pieces : tuple of str
        One.
    along_mm, across_mm : float
        Where its point lies: from the straightened cut end, and from the fold of a lengthwise fold or the
        outer edge of the near selvedge.
    point : str
        A mark of one point, or a notch; empty for the middle of the box round the piece as it lies.
    turned : bool
        Its top lies towards the end at which the lay begins.
    cloth : str or None
    """

    pieces: tuple[str, ...]
    along_mm: float
    across_mm: float
    point: str = ""
    turned: bool = False
    cloth: str | None = None


Wish = Together | FromEnd | Pin


def renamed(wish: Wish, names: dict[str, str]) -> Wish:
    """The same wish of pieces called otherwise."""
    return replace(wish, pieces=tuple(names.get(name, name) for name in wish.pieces))
