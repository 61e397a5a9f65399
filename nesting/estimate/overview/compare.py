"""Versions of a project side by side; `nesting.words.comparing` says what decides between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cutting.lay import Run
from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.figures import ProjectFigures, project_figures
from nesting.estimate.on_remnant import OnRemnant
from nesting.pattern.piece import CutKind
from nesting.project import Project

__all__ = ["Comparison", "Seam", "VersionRow", "compare"]


@dataclass(frozen=True, slots=True)
class Seam:
    """Where two halves of a piece are joined: `edge` is the one that lies on the fold elsewhere."""

    piece: str
    edge: str
    cloth: str


@dataclass(frozen=True, slots=True)
class VersionRow:
    """One version in figures.

    Attributes
    ----------
    version : str
    to_buy_mm : dict of str to float
        By key of the cloth, in file order; without what is in hand.
    in_hand : dict of str to OnRemnant
        Of each piece of cloth in hand, by its name, whether all goes on.
    lacking : bool
        Whether one of them is too short.
    cost : float or None
    wasted_mm2 : float
        Of the cloth bought or in hand, washed and without selvedges: what is in no piece.
    waste_pct : float
        The same as a share of that cloth.
    runs : dict of str to tuple of tuple of Run
        How each cloth lies, by its key, as in `ClothFigures`.
    pieces : int
        Pieces of cloth to cut, all cloths together.
    rounds : int
        Outlines to cut round, as in `ClothFigures`.
    seams : tuple of Seam
        Where this version joins a pair that another version cuts on the fold.
    proven : bool
        Whether the bounds show, for every cloth, that no lay needs a shorter purchase.
    """

    version: str
    to_buy_mm: dict[str, float]
    in_hand: dict[str, OnRemnant]
    lacking: bool
    cost: float | None
    wasted_mm2: float
    waste_pct: float
    runs: dict[str, tuple[tuple[Run, ...], ...]]
    pieces: int
    rounds: int
    seams: tuple[Seam, ...]
    proven: bool


@dataclass(frozen=True, slots=True, eq=False)
class Comparison:
    """Versions of a project.

    Attributes
    ----------
    project : Project
        The version that the others are measured against.
    rows : tuple of VersionRow
        In the order given, that version first; empty where that was not searched to the end.
    unfinished : tuple of str
        Versions whose search the person ended: what they take might be less, so they are not compared.
    """

    project: Project
    rows: tuple[VersionRow, ...]
    unfinished: tuple[str, ...] = ()


def compare(versions: Sequence[ProjectEstimate | ProjectFigures]) -> Comparison:
    """Set versions side by side; the first is the one the others are measured against.

    Parameters
    ----------
    versions : sequence of ProjectEstimate or ProjectFigures
        At least one; all of one project.
    """
    all_figures = [project_figures(one) if isinstance(one, ProjectEstimate) else one for one in versions]
    folds = {
        (piece.name, cloth): piece.on_fold
        for version in all_figures
        for piece in version.project.pieces
        for cloth, count in piece.cuts.items()
        if count.kind is CutKind.ON_FOLD and piece.on_fold is not None
    }
    finished = all_figures[0].finished
    rows = tuple(_row(version, folds) for version in all_figures if finished and version.finished)
    unfinished = tuple(version.project.version for version in all_figures if not version.finished)
    return Comparison(all_figures[0].project, rows, unfinished)


def _row(version: ProjectFigures, folds: dict[tuple[str, str], str]) -> VersionRow:
    project = version.project
    seams = tuple(
        Seam(piece.name, folds[piece.name, cloth], cloth)
        for piece in project.pieces
        for cloth, count in piece.cuts.items()
        if (piece.name, cloth) in folds and count.kind is CutKind.PAIR
    )
    bought = sum(figures.cloth_area_mm2 for figures in version.cloths.values())
    wasted = bought - sum(figures.pieces_area_mm2 for figures in version.cloths.values())
    return VersionRow(
        version=project.version,
        to_buy_mm={key: figures.to_buy_mm for key, figures in version.cloths.items() if not figures.in_hand},
        in_hand={one.name: one for figures in version.cloths.values() for one in figures.in_hand},
        lacking=any(figures.lacking_mm for figures in version.cloths.values()),
        cost=version.cost,
        wasted_mm2=wasted,
        waste_pct=100 * wasted / bought if bought else 0.0,
        runs={key: figures.runs for key, figures in version.cloths.items()},
        pieces=sum(figures.pieces for figures in version.cloths.values()),
        rounds=sum(figures.rounds for figures in version.cloths.values()),
        seams=seams,
        proven=all(figures.proven for figures in version.cloths.values()),
    )
