"""What one cloth's lay comes to in figures: small enough to send to another process and to keep on disk.

An `Estimate` holds the whole lay, which drawings need. Charts, comparisons and shopping lists need only
what is here; it holds values and no words.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from nesting.cloth.buying import price_of
from nesting.cloth.cloth import Cloth
from nesting.cutting.lay import Run
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.estimate.least import is_proven
from nesting.estimate.on_remnant import OnRemnant, on_remnant
from nesting.packing.result import StopReason
from nesting.project import Project

__all__ = ["ClothFigures", "ProjectFigures", "cost_of", "figures_of", "project_figures", "together"]


@dataclass(frozen=True, slots=True)
class ClothFigures:
    """One cloth's lay in figures; of a cloth in hand, all its remnants together.

    Attributes
    ----------
    length_mm, washed_mm, unwashed_mm, to_buy_mm, spare_mm, least_to_buy_mm, pieces_area_mm2 : float
        As in `Estimate` and its lay.
    cloth_area_mm2 : float
        Usable cloth bought or in hand, washed.
    pieces : int
        Pieces of cloth that are cut.
    runs : tuple of tuple of Run
        How the cloth lies from end to end; of several pieces in hand, each way once.
    stopped_because : StopReason
    in_hand : tuple of OnRemnant
        Of each piece in hand, whether all goes on; empty of a cloth to be bought.
    lacking_mm : float
        How much too short what is in hand is.
    rounds : int
        How many outlines are cut round, each through all layers that lie under it: a pair on a fold is one.
    """

    length_mm: float
    washed_mm: float
    unwashed_mm: float
    to_buy_mm: float
    spare_mm: float
    least_to_buy_mm: float
    pieces_area_mm2: float
    cloth_area_mm2: float
    pieces: int
    runs: tuple[tuple[Run, ...], ...]
    stopped_because: StopReason
    in_hand: tuple[OnRemnant, ...] = ()
    lacking_mm: float = 0.0
    rounds: int = field(kw_only=True)

    @property
    def interrupted(self) -> bool:
        """Whether the person ended the search: a sound lay, but perhaps not as short as it could be."""
        return self.stopped_because is StopReason.INTERRUPTED

    @property
    def proven(self) -> bool:
        """Whether the bounds show that no lay needs a shorter purchase."""
        return is_proven(self.to_buy_mm, self.least_to_buy_mm)


@dataclass(frozen=True, slots=True, eq=False)
class ProjectFigures:
    """Every cloth of one version of a project in figures.

    Attributes
    ----------
    project : Project
    cloths : Mapping of str to ClothFigures
        By key of the cloth, in the order of the file; cloths from which nothing is cut are left out.
    """

    project: Project
    cloths: Mapping[str, ClothFigures]

    @property
    def finished(self) -> bool:
        """Whether no search was ended by the person: other lays might take less cloth, or less work."""
        return not any(figures.interrupted for figures in self.cloths.values())

    @property
    def cost(self) -> float | None:
        """All cloths together; None unless every cloth has a price."""
        costs = [cost_of(figures, self.project.cloths[key]) for key, figures in self.cloths.items()]
        return None if None in costs else sum(cost for cost in costs if cost is not None)


def cost_of(figures: ClothFigures, cloth: Cloth) -> float | None:
    """What the cloth costs: nothing if it is in hand; None where it has no price."""
    if figures.in_hand:
        return 0.0
    return price_of(figures.to_buy_mm, cloth)


def figures_of(estimate: Estimate) -> ClothFigures:
    """The figures of one lay."""
    cloth, lay = estimate.lay.cloth, estimate.lay
    room = cloth.room_mm
    bought = estimate.to_buy_mm * cloth.kept_along
    return ClothFigures(
        length_mm=estimate.lay.length_mm,
        washed_mm=estimate.washed_mm,
        unwashed_mm=estimate.unwashed_mm,
        to_buy_mm=estimate.to_buy_mm,
        spare_mm=estimate.spare_mm,
        least_to_buy_mm=estimate.least_to_buy_mm,
        pieces_area_mm2=estimate.lay.pieces_area_mm2,
        cloth_area_mm2=cloth.usable_width_mm * (bought if room is None else max(room, lay.length_mm)),
        pieces=sum(tally.placed for tally in estimate.tallies),
        runs=(lay.runs,),
        stopped_because=lay.stopped_because,
        in_hand=(on_remnant(lay),) if estimate.in_hand else (),
        lacking_mm=estimate.lacking_mm,
        rounds=sum(len(section.placed) for section in lay.sections),
    )


def together(parts: Sequence[ClothFigures]) -> ClothFigures:
    """The figures of several pieces of one cloth as one; at least one."""
    if len(parts) == 1:
        return parts[0]
    reasons = [part.stopped_because for part in parts]
    return ClothFigures(
        length_mm=sum(part.length_mm for part in parts),
        washed_mm=sum(part.washed_mm for part in parts),
        unwashed_mm=sum(part.unwashed_mm for part in parts),
        to_buy_mm=sum(part.to_buy_mm for part in parts),
        spare_mm=sum(part.spare_mm for part in parts),
        least_to_buy_mm=sum(part.least_to_buy_mm for part in parts),
        pieces_area_mm2=sum(part.pieces_area_mm2 for part in parts),
        cloth_area_mm2=sum(part.cloth_area_mm2 for part in parts),
        pieces=sum(part.pieces for part in parts),
        runs=tuple(dict.fromkeys(runs for part in parts for runs in part.runs)),
        stopped_because=StopReason.INTERRUPTED if StopReason.INTERRUPTED in reasons else reasons[0],
        in_hand=tuple(one for part in parts for one in part.in_hand),
        lacking_mm=sum(part.lacking_mm for part in parts),
        rounds=sum(part.rounds for part in parts),
    )


def project_figures(result: ProjectEstimate) -> ProjectFigures:
    """The figures of every cloth of a project."""
    cloths = {estimate.lay.cloth.key: figures_of(estimate) for estimate in result.estimates}
    return ProjectFigures(result.project, MappingProxyType(cloths))
