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

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nesting.cloth.buying import rounded_up_mm
from nesting.cloth.cloth import Cloth
from nesting.estimate.cloth_words import direction_words, repeat_words, shrinkage_words, width_words
from nesting.estimate.figures import ClothFigures, ProjectFigures
from nesting.project import PLAIN, Project
from nesting.units import Unit, format_buy, format_length, format_money, format_step

__all__ = ["CAUTION", "ShoppingLine", "ShoppingList", "Use", "amount_text", "shopping_list"]

CAUTION = (
    "Measure the width of the real cloth before it is cut. If it is narrower than here, or has a direction "
    "that is not reckoned with, this amount does not hold."
)


@dataclass(frozen=True, slots=True)
class Use:
    """What part of an article is for.

    Attributes
    ----------
    title : str
        Of the project, with its version where that is not the plain one.
    cloth : str
        What the project calls it: ``main``.
    to_buy_mm : float
        If bought for this alone.
    rests_on : tuple of str
        Short phrases: width, shrinkage, nap, how it lies.
    """

    title: str
    cloth: str
    to_buy_mm: float
    rests_on: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One article.

    Attributes
    ----------
    name, width : str
    unit : Unit
    ask_mm : float
        Length to ask for, in one piece.
    cost : float or None
    currency : str
    margin_mm : float
    step_mm : float
    uses : tuple of Use
        At least one.
    """

    name: str
    width: str
    unit: Unit
    ask_mm: float
    cost: float | None
    currency: str
    margin_mm: float
    step_mm: float
    uses: tuple[Use, ...]

    @property
    def amount(self) -> str:
        """What to ask for, in words."""
        return amount_text(self.ask_mm, self.unit)

    @property
    def price(self) -> str:
        """What it costs, or that it is not known."""
        return "no price" if self.cost is None else format_money(self.cost, self.currency)

    @property
    def margin(self) -> str:
        """How much the rounding leaves over, in words."""
        return (
            f"{format_length(self.margin_mm, self.unit)} over after washing, as the shop cuts in steps of "
            f"{format_step(self.step_mm, self.unit)}"
        )

    @property
    def shares(self) -> str:
        """How the length is divided among several uses; empty for one."""
        if len(self.uses) == 1:
            return ""
        each = ", ".join(f"{use.title} {amount_text(use.to_buy_mm, self.unit)}" for use in self.uses)
        return f"in one length; each bought by itself: {each}"


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """Every article, in the order of projects and files.

    Attributes
    ----------
    titles : tuple of str
    lines : tuple of ShoppingLine
    in_hand : tuple of str
        Of each cloth that there is already, whether all goes on.
    early : bool
        Whether a search was ended early, so that less cloth might do.
    """

    titles: tuple[str, ...]
    lines: tuple[ShoppingLine, ...]
    in_hand: tuple[str, ...] = ()
    early: bool = False

    @property
    def remarks(self) -> tuple[str, ...]:
        """What is in hand, and what an early end means."""
        owned = tuple(f"In hand: {words}" for words in self.in_hand)
        if not self.early:
            return owned
        return (*owned, "The search was ended early: with more time less cloth might do.")

    @property
    def totals(self) -> tuple[str, ...]:
        """What all with a price cost together, and what has none."""
        sums: dict[str, float] = {}
        for line in self.lines:
            if line.cost is not None:
                sums[line.currency] = sums.get(line.currency, 0.0) + line.cost
        missing = [line.name for line in self.lines if line.cost is None]
        known = " and ".join(format_money(amount, currency) for currency, amount in sums.items())
        if not self.lines:
            return ("Nothing has to be bought.",)
        if not known:
            return ("No prices are written down.",)
        if not missing:
            return (f"All together: {known}",)
        return (f"Together, as far as prices are known: {known}", f"Without a price: {', '.join(missing)}")


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
            f"{name}: {words}"
            for one in projects
            for figures in one.cloths.values()
            for name, words in figures.in_hand
        ),
        early=any(figures.interrupted for one in projects for figures in one.cloths.values()),
    )


def amount_text(mm: float, unit: Unit) -> str:
    """A length to ask for: metres, or yards with the metres in brackets.

    >>> amount_text(1600.0, Unit.CM), amount_text(1485.9, Unit.IN)
    ('1.60 m', '1 5/8 yd (1.49 m)')
    """
    return f"{format_buy(mm, unit)} ({format_buy(mm, Unit.CM)})" if unit is Unit.IN else format_buy(mm, unit)


def _article(project: Project, cloth: Cloth) -> tuple[object, ...]:
    looks = cloth.name.casefold(), cloth.width_mm, cloth.tube, cloth.repeat
    return looks, cloth.step_mm, cloth.price_per_m, project.currency, project.unit


def _line(wanted: Sequence[tuple[Project, Cloth, ClothFigures]]) -> ShoppingLine:
    project, cloth, _ = wanted[0]
    ask = wanted[0][2].to_buy_mm
    margin = wanted[0][2].spare_mm
    if len(wanted) > 1:
        ask = rounded_up_mm(sum(figures.unwashed_mm for _, _, figures in wanted), cloth.step_mm)
        over = ask - sum(figures.unwashed_mm for _, _, figures in wanted)
        margin = max(0.0, over * min(one.kept_along for _, one, _ in wanted))
    return ShoppingLine(
        name=cloth.name,
        width=width_words(cloth, project.unit),
        unit=project.unit,
        ask_mm=ask,
        cost=None if cloth.price_per_m is None else cloth.price_per_m * ask / 1000,
        currency=project.currency,
        margin_mm=margin,
        step_mm=cloth.step_mm,
        uses=tuple(
            Use(_title(one), its.key, figures.to_buy_mm, tuple(_rests_on(its, figures, one.unit)))
            for one, its, figures in wanted
        ),
    )


def _title(project: Project) -> str:
    return project.title if project.version == PLAIN else f"{project.title} ({project.version})"


def _rests_on(cloth: Cloth, figures: ClothFigures, unit: Unit) -> Iterator[str]:
    """What the amount rests on, in short phrases."""
    width = width_words(cloth, unit)
    if cloth.selvedge_mm:
        width += f" with selvedges of {format_length(cloth.selvedge_mm, unit)}"
    yield width
    yield shrinkage_words(cloth)
    yield direction_words(cloth)
    yield from repeat_words(cloth, unit)
    yield f"laid: {figures.lies}"
