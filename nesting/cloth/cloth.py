"""What it is cut from: a cloth as the shop sells it.

Percentages are per cent, money is in the currency the project names, lengths are millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from nesting.cloth.remnant import Blocked, Remnant
from nesting.cloth.repeat import Repeat
from nesting.cloth.spread import Spread
from nesting.pattern.match import Axis
from nesting.pattern.piece import Turn

__all__ = ["Cloth", "Nap", "RightSide", "Spread"]


class Nap(StrEnum):
    """Whether the cloth has a direction."""

    EITHER_WAY = "either way"
    ONE_WAY = "one way"
    """All pieces with their tops towards the same end."""
    EACH_GARMENT = "each garment one way"
    """The pieces of one garment agree; of several garments, some may lie the other way."""


class RightSide(StrEnum):
    """Whether the two faces of the cloth differ."""

    ONE = "one-sided"
    BOTH = "two-sided"


@dataclass(frozen=True, slots=True)
class Cloth:
    """One cloth.

    Attributes
    ----------
    key : str
        What the pieces call it: ``main``, ``lining``.
    name : str
        What the person calls it in the shop.
    width_mm : float
        As sold, selvedges included; of a tube, as it lies flat in the shop: half of its round.
    selvedge_mm : float
        Not used, on each side. A tube has none.
    nap : Nap
    right_side : RightSide
    turn : Turn
        How far pieces may turn on this cloth; a nap forbids even the half turn.
    spread : Spread
    step_mm : float
        The shop cuts whole multiples of this.
    price_per_m : float or None
    shrinkage_along_pct, shrinkage_across_pct : float
    end_allowance_mm : float
        Kept at each cut end for straightening.
    spare_at_least_mm : float
        What must be left over of the length bought, washed: a wish for safety.
    gap_mm : float
        Kept between neighbouring placements; one that cuts a pair may still lie right up to the fold.
    tube : bool
        Knitted in the round.
    repeat : Repeat or None
        Of its stripe, check or print; None for a plain cloth.
    begins_on_line : bool
        Whether pieces are matched along the cloth: its end is then straightened along a main line, up to a
        whole repeat away from where it was cut.
    remnants : tuple of Remnant
        The pieces of it in hand, if it is not to be bought.
    part_pairs : bool
        Whether a left and its right may come from different remnants.
    grain_tolerance_deg : float
        How far a grain line may lie off the warp where that shortens a lay.
    """

    key: str
    name: str
    width_mm: float
    selvedge_mm: float = 10.0
    nap: Nap = Nap.EITHER_WAY
    right_side: RightSide = RightSide.ONE
    turn: Turn = Turn.HALF
    spread: Spread = Spread.BEST
    step_mm: float = 100.0
    price_per_m: float | None = None
    shrinkage_along_pct: float = 0.0
    shrinkage_across_pct: float = 0.0
    end_allowance_mm: float = 20.0
    spare_at_least_mm: float = 0.0
    gap_mm: float = 0.0
    tube: bool = False
    repeat: Repeat | None = None
    begins_on_line: bool = False
    remnants: tuple[Remnant, ...] = ()
    part_pairs: bool = False
    grain_tolerance_deg: float = 0.0

    @property
    def one_way(self) -> bool:
        """Whether every piece must lie with its top towards the same end."""
        return self.nap is Nap.ONE_WAY or (self.repeat is not None and bool(self.repeat.uneven))

    def repeat_mm(self, axis: Axis) -> float | None:
        """The repeat in that direction as it lies on the table, washed; None where there is none."""
        length = None if self.repeat is None else self.repeat.length_mm(axis)
        kept = self.kept_along if axis is Axis.ALONG else self.kept_across
        return None if length is None else length * kept

    @property
    def in_hand(self) -> Remnant | None:
        """The one piece of it that there is; None of cloth to be bought, or in several remnants."""
        return self.remnants[0] if len(self.remnants) == 1 else None

    @property
    def blocked(self) -> tuple[Blocked, ...]:
        """Where on the one piece in hand nothing can lie, as measured."""
        return () if self.in_hand is None else self.in_hand.blocked

    @property
    def asked_double(self) -> bool:
        """Whether the person asks for a spread in which it lies double; not where the best is looked for."""
        return self.spread is not Spread.BEST and self.spread.facts.doubled

    @property
    def kept_along(self) -> float:
        """What washing leaves of a length along it: 0.96 where it shrinks by 4 per cent."""
        return 1 - self.shrinkage_along_pct / 100

    @property
    def kept_across(self) -> float:
        """What washing leaves of a width across it."""
        return 1 - self.shrinkage_across_pct / 100

    @property
    def room_mm(self) -> float | None:
        """Length to lay on of a cloth in hand: washed, between its straightened ends; None if to be bought.

        Of several remnants it is the sum, each with ends of its own.
        """
        if not self.remnants:
            return None
        ends = 2 * self.end_allowance_mm
        return sum(remnant.length_mm * self.kept_along - ends for remnant in self.remnants)

    @property
    def usable_width_mm(self) -> float:
        """Width to lay pieces on when the cloth lies in one layer: washed, without selvedges.

        Of a tube it is the whole round, as when it is cut open.
        """
        flat = (self.width_mm - 2 * self.selvedge_mm) * self.kept_across
        return 2 * flat if self.tube else flat

    @property
    def washed_selvedge_mm(self) -> float:
        """Breadth of one selvedge as it lies on the table."""
        return self.selvedge_mm * self.kept_across
