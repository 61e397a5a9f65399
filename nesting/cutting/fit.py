"""Does every piece go on the cloth at all? Said before any search, for all pieces at once."""

from __future__ import annotations

from nesting.cloth.buying import width_to_buy_mm
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.plan import Order, Stretch, Wanted, plan, spreads_of, wanted
from nesting.errors import BadInput, Problem
from nesting.packing.problem import variant_outline
from nesting.pattern.piece import CutKind
from nesting.project import PLAIN, Project
from nesting.units import Unit, format_length

__all__ = ["FIT_TOLERANCE_MM", "across_mm", "fit_problems", "require_fit", "too_wide"]

FIT_TOLERANCE_MM = 1e-6
"""Float noise allowed when a piece is exactly as wide as the cloth."""


def across_mm(order: Order) -> float:
    """Least measure across the cloth over all the ways this shape may lie."""
    return min(
        float(placed[:, 1].max() - placed[:, 1].min())
        for placed in (variant_outline(order.shape.cut_line, variant) for variant in order.item.variants)
    )


def too_wide(stretches: tuple[Stretch, ...]) -> tuple[tuple[Order, Stretch], ...]:
    """The orders that no allowed turn brings onto their stretch of cloth."""
    return tuple(
        (order, stretch)
        for stretch in stretches
        for order in stretch.orders
        if across_mm(order) > stretch.problem.width_mm + FIT_TOLERANCE_MM
    )


def fit_problems(project: Project) -> tuple[Problem, ...]:
    """Every piece that is too wide for its cloth in every spread the cloth may lie in.

    Returns
    -------
    tuple of Problem
        Empty when each cloth has a spread that takes all its pieces.
    """
    problems: list[Problem] = []
    for cloth in project.cloths.values():
        wants = wanted(project, cloth)
        misfits = {spread: too_wide(plan(wants, cloth, spread)) for spread in spreads_of(cloth)}
        if not wants or not all(misfits.values()):
            continue
        # The spread to complain about: the one that turns away fewest pieces; among equals, the one that
        # could do with the narrowest cloth.
        for order, stretch in min(misfits.values(), key=_trouble):
            want = next(want for want in wants if want.piece.name == order.piece)
            problems.append(_problem(project, cloth, want, order, stretch))
    return tuple(dict.fromkeys(problems))


def require_fit(*versions: Project) -> None:
    """Raise `BadInput`, listing every piece of every version that is too wide for its cloth.

    What is wrong in an earlier version just the same is listed for that one only.
    """
    found: dict[tuple[str, str], Problem] = {}
    for version in versions:
        for problem in fit_problems(version):
            found.setdefault((problem.where.rpartition(", ")[2], problem.what), problem)
    if found:
        raise BadInput(tuple(found.values()))


def _trouble(misfits: tuple[tuple[Order, Stretch], ...]) -> tuple[int, float]:
    """How many pieces are turned away, and the usable width that would take them all."""
    widths = [across_mm(order) * stretch.layers for order, stretch in misfits]
    return len({order.piece for order, _ in misfits}), max(widths)


def _problem(project: Project, cloth: Cloth, want: Wanted, order: Order, stretch: Stretch) -> Problem:
    unit = project.unit
    across = across_mm(order)
    lies = "the folded cloth" if stretch.layers == 2 else "the cloth laid open"
    whole = ", opened out," if want.count.kind is CutKind.ON_FOLD and stretch.layers == 1 else ""
    what = (
        f"'{order.piece}'{whole} is {format_length(across, unit)} across; {lies} gives "
        f"{format_length(stretch.problem.width_mm, unit)}."
    )
    remedies = []
    if cloth.spread is Spread.LENGTHWISE_FOLD and not too_wide(plan((want,), cloth, Spread.OPEN)):
        remedies.append('open the cloth (spread = "open" or "best")')
    least = width_to_buy_mm(across * stretch.layers, cloth)
    remedies.append(f"choose one at least {_up(least, unit)} wide")
    if want.count.kind is CutKind.ON_FOLD:
        remedies.append("cut a seam where the fold is (on_fold = false)")
    else:
        remedies.append("cut a seam in the piece")
    source = f"{project.source}, " if project.source else ""
    if project.version != PLAIN:
        source += f"alternative '{project.version}', "
    return Problem(
        where=f"{source}piece '{order.piece}' in cloth '{cloth.key}'",
        what=what,
        remedy="Either " + ", or ".join(remedies) + ".",
    )


def _up(length_mm: float, unit: Unit) -> str:
    """A width to look for, rounded up so that it is really enough."""
    step = 25.4 if unit is Unit.IN else 10.0
    return format_length(-(-(length_mm - FIT_TOLERANCE_MM) // step) * step, unit)
