"""Does every piece go on the cloth at all? Said before any search, for all pieces at once."""

from __future__ import annotations

from collections.abc import Iterator

from nesting.cloth.buying import width_to_buy_mm
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.findings import (
    CannotBeLaid,
    Finding,
    Hindrance,
    LongerThanTable,
    NotEvenOpen,
    SpreadBarred,
    TooWide,
)
from nesting.cutting.fit.in_hand import too_large
from nesting.cutting.fit.wishes import wish_hindrances
from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import FIT_TOLERANCE_MM, least_along_mm, measures
from nesting.cutting.plan.demand import Wanted, lots_of, wanted
from nesting.cutting.plan.holds import holds
from nesting.cutting.plan.lines import kept_back_mm, matching_of
from nesting.cutting.plan.sharing import too_wide, why_not
from nesting.cutting.plan.spreading import spreads_of
from nesting.cutting.reasons import SpreadReason
from nesting.pattern.piece import CutKind
from nesting.project import Project

__all__ = ["finding", "fit_findings", "require_fit"]


def fit_findings(project: Project) -> tuple[Finding, ...]:
    """Every piece too wide for its cloth however that may lie, and every spread that its pieces rule out.

    Returns
    -------
    tuple of Finding
        Empty when each cloth has a spread that takes all its pieces.
    """
    return tuple(
        finding(project, cloth, hindrance)
        for cloth in project.cloths.values()
        for hindrance in dict.fromkeys(_hindrances(project, cloth))
    )


def finding(project: Project, cloth: Cloth, hindrance: Hindrance) -> Finding:
    """What is wrong with a cloth of that project."""
    return Finding(project.source, project.version, cloth.key, project.unit, hindrance)


def require_fit(*versions: Project) -> None:
    """See that every piece of every version goes on its cloth.

    What is wrong in an earlier version just the same is listed for that one only.

    Raises
    ------
    CannotBeLaid
        Listing all that is wrong.
    """
    found: dict[tuple[str, Hindrance], Finding] = {}
    for version in versions:
        for one in fit_findings(version):
            found.setdefault((one.cloth, one.hindrance), one)
    if found:
        raise CannotBeLaid(tuple(found.values()))


def _hindrances(project: Project, cloth: Cloth) -> Iterator[Hindrance]:
    yield from _beyond_the_table(project, cloth)
    contrary = wish_hindrances(project, cloth)
    yield from contrary
    if contrary:
        return
    if cloth.remnants:
        small = too_large(project, cloth)
        yield from small
        if small:
            return
    wants = wanted(project, cloth, (), holds(project, cloth)[0])
    matching = matching_of(project, cloth)
    reasons: dict[Spread, SpreadReason] = {}
    for spread in spreads_of(cloth):
        reason = why_not(wants, cloth, spread, matching)
        if reason is None:
            return
        reasons[spread] = reason
    if not wants:
        return
    # What does not go on the open cloth goes on it in no way; only a fold that is asked for is stricter.
    spread = Spread.OPEN if Spread.OPEN in reasons else cloth.spread
    barred = too_wide(wants, cloth, spread, matching)
    for want in barred:
        yield _too_wide(cloth, want, spread, kept_back_mm(matching, spread))
    if barred:
        return
    if cloth.spread in (Spread.BEST, Spread.OPEN):
        yield NotEvenOpen(reasons[spread])
        return
    across = cloth.spread.facts.fold_across
    two_lengths_do = across and why_not(wants, cloth, Spread.TWO_LENGTHS, matching) is None
    yield SpreadBarred(cloth.spread, reasons[spread], two_lengths_do)


def _beyond_the_table(project: Project, cloth: Cloth) -> Iterator[Hindrance]:
    """Every piece longer than the table, however it is turned."""
    if project.table_mm is None:
        return
    for want in wanted(project, cloth):
        least = least_along_mm(want, cloth.usable_width_mm)
        if least is not None and least > project.table_mm + FIT_TOLERANCE_MM:
            yield LongerThanTable(want.piece.name, least, project.table_mm)


def _too_wide(cloth: Cloth, want: Wanted, spread: Spread, kept_back_mm: float) -> Hindrance:
    on_fold = want.count.kind is CutKind.ON_FOLD
    doubled = spread.facts.strict and _lies_double(want, cloth)
    yields = Yield.ONE if not doubled else Yield.WHOLE_ON_FOLD if on_fold else Yield.PAIR
    layers = 2 if doubled else 1
    across = measures(want, yields)[1]
    opened = measures(want, Yield.ONE)[1]
    return TooWide(
        piece=want.piece.name,
        across_mm=across,
        usable_mm=cloth.usable_width_mm / layers - kept_back_mm,
        on_fold=on_fold,
        doubled=doubled,
        on_stripe=bool(kept_back_mm),
        open_does=doubled and opened <= cloth.usable_width_mm + FIT_TOLERANCE_MM,
        least_width_mm=width_to_buy_mm((across + kept_back_mm) * layers, cloth),
    )


def _lies_double(want: Wanted, cloth: Cloth) -> bool:
    return any(lot.pair or lot.on_fold for lot in lots_of((want,), cloth))
