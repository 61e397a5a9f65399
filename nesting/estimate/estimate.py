"""What one cloth's lay means in the shop: metres, money, waste, counts, and how good the lay is.

Values only: what is said of them is in `nesting.words` (`nesting.words.verdict` on how good a lay is).
"""

from __future__ import annotations

from dataclasses import dataclass

from nesting.cloth.buying import has_no_room
from nesting.cutting.flat.meeting import Meeting
from nesting.cutting.lay import Lay
from nesting.cutting.left import LeftOver
from nesting.estimate.least import is_proven
from nesting.estimate.matching import MatchingCost
from nesting.estimate.remarks import Remark
from nesting.project import Project

__all__ = ["Estimate", "ProjectEstimate", "Tally"]


@dataclass(frozen=True, slots=True)
class Tally:
    """Cut count of one piece in one cloth.

    Attributes
    ----------
    piece : str
    asked, placed : int
        Pieces of cloth, not placements.
    face_up, face_down : int
        Of those placed, how many are cut with the paper's face up, and how many as its mirror image.
    on_fold : int
        Of those placed, how many are cut on the fold (they count as neither face).
    remarks : tuple of Remark
        How the count was read, and how the piece is cut.
    """

    piece: str
    asked: int
    placed: int
    face_up: int
    face_down: int
    on_fold: int
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Estimate:
    """One cloth, worked out.

    Attributes
    ----------
    lay : Lay
    washed_mm : float
        Length needed on the table: the lay and its two end allowances.
    unwashed_mm : float
        The same before washing.
    to_buy_mm : float
        Rounded up to the shop's step; 0 of a cloth in hand.
    spare_mm : float
        What the rounding leaves over, washed; of a cloth in hand, what is left at its end.
    least_to_buy_mm : float
        What the lower bounds alone would need, rounded the same way: in the spreads that were searched,
        nobody can buy less.
    cost : float or None
    utilisation_pct : float
        Area of the pieces over area of the usable cloth under the lay (what the trade calls efficiency).
    waste_pct : float
    waste_mm2 : float
        Cloth under the lay that is in no piece.
    above_bound_pct : float
        How far the lay's length can at most be from the best possible in its spread.
    tallies : tuple of Tally
    lacking_mm : float
        How much too short a cloth in hand is, washed; 0 where it all goes on or the cloth is bought.
    left : LeftOver or None
        What the lay leaves over, where that was asked for or the cloth is in hand and all goes on.
    meetings : tuple of Meeting
        Where on the repeat the matched points lie.
    matching : MatchingCost or None
        What matching costs, where the same cloth was laid plain too.
    """

    lay: Lay
    washed_mm: float
    unwashed_mm: float
    to_buy_mm: float
    spare_mm: float
    least_to_buy_mm: float
    cost: float | None
    utilisation_pct: float
    waste_pct: float
    waste_mm2: float
    above_bound_pct: float
    tallies: tuple[Tally, ...]
    lacking_mm: float = 0.0
    left: LeftOver | None = None
    meetings: tuple[Meeting, ...] = ()
    matching: MatchingCost | None = None

    @property
    def proven(self) -> bool:
        """Whether the bounds show that no lay needs a shorter purchase."""
        return is_proven(self.to_buy_mm, self.least_to_buy_mm)

    @property
    def no_room(self) -> bool:
        """Whether hardly anything is left over of what is bought, or of a cloth in hand that all goes on."""
        return not self.lacking_mm and has_no_room(self.spare_mm)

    @property
    def in_hand(self) -> bool:
        """Whether there is this cloth already, so that nothing is bought."""
        return bool(self.lay.cloth.remnants)


@dataclass(frozen=True, slots=True, eq=False)
class ProjectEstimate:
    """Every cloth of one version of a project, worked out, in the order of the file."""

    project: Project
    estimates: tuple[Estimate, ...]

    @property
    def cost(self) -> float | None:
        """All cloths together; None unless every cloth has a price."""
        costs = [estimate.cost for estimate in self.estimates]
        return None if None in costs else sum(cost for cost in costs if cost is not None)
