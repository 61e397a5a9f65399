"""What one cloth's lay comes to in figures: small enough to send to another process and to keep on disk.

An `Estimate` holds the whole lay, which drawings need. Charts, comparisons and shopping lists need only
what is here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from nesting.cloth.cloth import Cloth
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.packing.result import INTERRUPTED
from nesting.project import Project

__all__ = ["ClothFigures", "ProjectFigures", "cost_of", "figures_of", "project_figures"]


@dataclass(frozen=True, slots=True)
class ClothFigures:
    """One cloth's lay in figures; the first seven are as in `Estimate` and its lay.

    Attributes
    ----------
    length_mm, washed_mm, unwashed_mm, to_buy_mm, spare_mm, least_to_buy_mm, pieces_area_mm2 : float
    pieces : int
        Pieces of cloth that are cut.
    lies : str
        How the cloth lies: ``"lengthwise fold, then opened out"``.
    stopped_because : str
    """

    length_mm: float
    washed_mm: float
    unwashed_mm: float
    to_buy_mm: float
    spare_mm: float
    least_to_buy_mm: float
    pieces_area_mm2: float
    pieces: int
    lies: str
    stopped_because: str

    @property
    def interrupted(self) -> bool:
        """Whether the person ended the search: a sound lay, but perhaps not as short as it could be."""
        return self.stopped_because == INTERRUPTED

    @property
    def proven(self) -> bool:
        """Whether the bounds show that no lay needs a shorter purchase."""
        return self.to_buy_mm <= self.least_to_buy_mm


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
    def cost(self) -> float | None:
        """All cloths together; None unless every cloth has a price."""
        costs = [cost_of(figures, self.project.cloths[key]) for key, figures in self.cloths.items()]
        return None if None in costs else sum(cost for cost in costs if cost is not None)


def cost_of(figures: ClothFigures, cloth: Cloth) -> float | None:
    """What the cloth costs, or None where it has no price."""
    return None if cloth.price_per_m is None else cloth.price_per_m * figures.to_buy_mm / 1000


def figures_of(estimate: Estimate) -> ClothFigures:
    """The figures of one cloth."""
    return ClothFigures(
        length_mm=estimate.lay.length_mm,
        washed_mm=estimate.washed_mm,
        unwashed_mm=estimate.unwashed_mm,
        to_buy_mm=estimate.to_buy_mm,
        spare_mm=estimate.spare_mm,
        least_to_buy_mm=estimate.least_to_buy_mm,
        pieces_area_mm2=estimate.lay.pieces_area_mm2,
        pieces=sum(tally.placed for tally in estimate.tallies),
        lies=estimate.lay.lies,
        stopped_because=estimate.lay.stopped_because,
    )


def project_figures(result: ProjectEstimate) -> ProjectFigures:
    """The figures of every cloth of a project."""
    cloths = {estimate.lay.cloth.key: figures_of(estimate) for estimate in result.estimates}
    return ProjectFigures(result.project, MappingProxyType(cloths))
