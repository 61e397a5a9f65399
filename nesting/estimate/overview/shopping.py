"""What to ask for in the shop: the cloths of one or several projects together.

Terms
-----
article
    What the shop sells from one roll: cloths of the same name, width, price and cutting step. Several
    projects may be cut from one article; it is then bought in one length, and rounded up once.
margin
    What the rounding leaves over, as it lies on the table, washed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nesting.cloth.buying import asked_for_mm, price_of
from nesting.cloth.cloth import Cloth
from nesting.cutting.lay import Run
from nesting.estimate.figures import ClothFigures, ProjectFigures
from nesting.estimate.on_remnant import OnRemnant
from nesting.project import PLAIN, Project
from nesting.units import Unit

__all__ = ["ShoppingLine", "ShoppingList", "Use", "shopping_list"]


@dataclass(frozen=True, slots=True)
class Use:
    """What part of an article is for.

    Attributes
    ----------
    title : str
        Of the project, with its version where that is not the plain one.
    cloth : Cloth
        As that project has it: its shrinkage and nap are what the amount rests on.
    unit : Unit
        What that project measures in.
    to_buy_mm : float
        If bought for this alone.
    runs : tuple of tuple of Run
        How it lies, as in `ClothFigures`.
    """

    title: str
    cloth: Cloth
    unit: Unit
    to_buy_mm: float
    runs: tuple[tuple[Run, ...], ...]


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One article.

    Attributes
    ----------
    cloth : Cloth
        Of the first project that is cut from it.
    unit : Unit
    ask_mm : float
        Length to ask for, in one piece.
    cost : float or None
    currency : str
    margin_mm : float
    uses : tuple of Use
        At least one.
    """

    cloth: Cloth
    unit: Unit
    ask_mm: float
    cost: float | None
    currency: str
    margin_mm: float
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Every article, in the order of projects and files.

    Attributes
    ----------
    titles : tuple of str
    lines : tuple of ShoppingLine
    in_hand : tuple of (OnRemnant, Unit)
        Of each piece of cloth that there is already, whether all goes on; with what its project measures in.
    early : bool
        Whether a search was ended early, so that less cloth might do.
    """

    titles: tuple[str, ...]
    lines: tuple[ShoppingLine, ...]
    in_hand: tuple[tuple[OnRemnant, Unit], ...] = ()
    early: bool = False


def shopping_list(projects: Sequence[ProjectFigures]) -> ShoppingList:
    """Gather the cloths of projects by article.

    Parameters
    ----------
    projects : sequence of ProjectFigures
        At least one.
    """
    articles: dict[tuple[object, ...], list[tuple[Project, Cloth, ClothFigures]]] = {}
    for one in projects:
        for key, figures in one.cloths.items():
            if figures.in_hand:
                continue
            cloth = one.project.cloths[key]
            articles.setdefault(_article(one.project, cloth), []).append((one.project, cloth, figures))
    return ShoppingList(
        titles=tuple(dict.fromkeys(_title(one.project) for one in projects)),
        lines=tuple(_line(wanted) for wanted in articles.values()),
        in_hand=tuple(
            (on, one.project.unit)
            for one in projects
            for figures in one.cloths.values()
            for on in figures.in_hand
        ),
        early=any(figures.interrupted for one in projects for figures in one.cloths.values()),
    )


def _article(project: Project, cloth: Cloth) -> tuple[object, ...]:
    looks = cloth.name.casefold(), cloth.width_mm, cloth.tube, cloth.repeat
    return looks, cloth.step_mm, cloth.price_per_m, project.currency, project.unit


def _line(wanted: Sequence[tuple[Project, Cloth, ClothFigures]]) -> ShoppingLine:
    project, cloth, _ = wanted[0]
    ask = wanted[0][2].to_buy_mm
    margin = wanted[0][2].spare_mm
    if len(wanted) > 1:
        needed = sum(figures.unwashed_mm for _, _, figures in wanted)
        # In one length, what is wished to spare is left over once: as much as for the most careful use.
        ask = max(asked_for_mm(needed, its, cloth.step_mm) for _, its, _ in wanted)
        margin = max(0.0, (ask - needed) * min(one.kept_along for _, one, _ in wanted))
    return ShoppingLine(
        cloth=cloth,
        unit=project.unit,
        ask_mm=ask,
        cost=price_of(ask, cloth),
        currency=project.currency,
        margin_mm=margin,
        uses=tuple(
            Use(_title(one), its, one.unit, figures.to_buy_mm, figures.runs) for one, its, figures in wanted
        ),
    )


def _title(project: Project) -> str:
    return project.title if project.version == PLAIN else f"{project.title} ({project.version})"
