"""Whether it all goes on a cloth in hand, and how much is lacking.

One piece is laid like any cloth, round its flaws; among several remnants all is first shared out. The answer
is a verified lay of every remnant used. A cloth that is too short is laid as if it went on at its far end, so
that what is lacking can be measured.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, replace

from nesting.cloth.cloth import Cloth
from nesting.cutting.in_hand.lacking import NOISE_MM, lacking_mm
from nesting.cutting.lay import Lay
from nesting.cutting.plan.remnants import Share, remnant_cloths, share_out, shared
from nesting.cutting.search.laying import Effort, LayEvent, lay_cloth
from nesting.cutting.verify.sharing import require_shared
from nesting.packing.result import StopReason
from nesting.packing.stop import StopRule
from nesting.project import Project

__all__ = ["InHand", "lay_in_hand"]

_SHARING_EFFORT = 0.25
"""Of the whole effort, for laying a remnant while the pieces are still being shared out."""


@dataclass(frozen=True, slots=True, eq=False)
class InHand:
    """All of a cloth's pieces laid on what there is of it.

    Attributes
    ----------
    project : Project
        What was asked for, the cloth replaced by its remnants where it has several.
    lays : tuple of Lay
        One for each remnant that is used.
    shared : bool
        Whether there were several remnants to share the pieces out among.
    """

    project: Project
    lays: tuple[Lay, ...]
    shared: bool = False

    @property
    def lacking_mm(self) -> float:
        """Length lacking, washed, all remnants together; 0 where it all goes on."""
        return sum(lacking_mm(lay) for lay in self.lays)

    @property
    def least_lacking_mm(self) -> float:
        """Lacking in every lay, by the bounds; 0 of several remnants: they speak for one sharing-out only."""
        if self.shared:
            return 0.0
        return sum(max(0.0, lay.bound_mm - (lay.cloth.room_mm or 0.0) - NOISE_MM) for lay in self.lays)


def lay_in_hand(
    project: Project,
    cloth: Cloth,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    executor: Executor | None = None,
    on_lay: Callable[[LayEvent], None] | None = None,
    until: StopRule | None = None,
    only_whether: bool = False,
) -> InHand:
    """Lay all that is cut from a cloth on the pieces of it in hand.

    Parameters
    ----------
    project, effort, seed, executor, on_lay, until
        As for `nesting.cutting.search.laying.lay_cloth`.
    cloth : Cloth
        One of the project's, with remnants.
    only_whether : bool
        Whether any lay that goes on is good enough.

    Raises
    ------
    CannotBeLaid
        When a piece goes on none of the remnants.
    LayRefused
        When the verifier finds a fault: a defect of the program.
    """
    effort = effort or Effort()

    def lay(parts: Project, part: Cloth, how_hard: Effort, goal_mm: float | None) -> Lay:
        return lay_cloth(
            parts,
            part,
            effort=how_hard,
            seed=seed,
            executor=executor,
            on_lay=on_lay,
            until=until,
            goal_mm=goal_mm,
        )

    shares: tuple[Share, ...] = ()
    if len(cloth.remnants) > 1:
        less = int(effort.evaluations_per_placement * _SHARING_EFFORT)
        light = replace(effort, evaluations_per_placement=less)
        shares, _ = share_out(project, cloth, lambda parts, part: lay(parts, part, light, part.room_mm))
    parts = shared(project, cloth, shares)
    require_shared(project, cloth, parts)
    lays: list[Lay] = []
    for part in remnant_cloths(cloth):
        if parts.pieces_in(part.key):
            lays.append(lay(parts, part, effort, part.room_mm if only_whether else None))
            if lays[-1].stopped_because is StopReason.INTERRUPTED:
                effort = replace(effort, evaluations_per_placement=0, seconds=None)
    return InHand(parts, tuple(lays), shared=len(cloth.remnants) > 1)
