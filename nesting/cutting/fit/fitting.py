"""Does every piece go on the cloth at all? Said before any search, for all pieces at once."""

from __future__ import annotations

from nesting.cloth.buying import width_to_buy_mm
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.fit.in_hand import too_large
from nesting.cutting.fit.wishes import wish_mistakes
from nesting.cutting.lay import Yield
from nesting.cutting.plan.batches import FIT_TOLERANCE_MM, least_along_mm, measures
from nesting.cutting.plan.demand import Wanted, lots_of, wanted
from nesting.cutting.plan.holds import holds
from nesting.cutting.plan.lines import LINE_UNKNOWN, kept_back_mm, matching_of
from nesting.cutting.plan.sharing import too_wide, why_not
from nesting.cutting.plan.spreading import spreads_of
from nesting.errors import BadInput, Mistake
from nesting.pattern.piece import CutKind
from nesting.project import PLAIN, Project
from nesting.units import Unit, format_length

__all__ = ["fit_mistakes", "require_fit"]


def fit_mistakes(project: Project) -> tuple[Mistake, ...]:
    """Every piece too wide for its cloth however that may lie, and every spread that its pieces rule out.

    Returns
    -------
    tuple of Mistake
        Empty when each cloth has a spread that takes all its pieces.
    """
    mistakes: list[Mistake] = []
    for cloth in project.cloths.values():
        mistakes += _beyond_the_table(project, cloth)
        contrary = wish_mistakes(project, cloth, _source(project))
        mistakes += contrary
        if contrary:
            continue
        if cloth.remnants:
            small = too_large(project, cloth, _source(project))
            if small:
                mistakes += small
                continue
        wants = wanted(project, cloth, (), holds(project, cloth)[0])
        matching = matching_of(project, cloth)
        reasons = {spread: why_not(wants, cloth, spread, matching) for spread in spreads_of(cloth)}
        if not wants or not all(reasons.values()):
            continue
        # What does not go on the open cloth goes on it in no way; only a fold that is asked for is stricter.
        spread = Spread.OPEN if Spread.OPEN in reasons else cloth.spread
        barred = too_wide(wants, cloth, spread, matching)
        kept_back = kept_back_mm(matching, spread)
        mistakes += [_too_wide(project, cloth, want, spread, kept_back) for want in barred]
        if not barred:
            two_lengths = not why_not(wants, cloth, Spread.TWO_LENGTHS, matching)
            mistakes.append(_useless(project, cloth, reasons[spread], two_lengths=two_lengths))
    return tuple(dict.fromkeys(mistakes))


def require_fit(*versions: Project) -> None:
    """Raise `BadInput`, listing every piece of every version that is too wide for its cloth.

    What is wrong in an earlier version just the same is listed for that one only.
    """
    found: dict[tuple[str, str], Mistake] = {}
    for version in versions:
        for mistake in fit_mistakes(version):
            found.setdefault((mistake.where.rpartition(", ")[2], mistake.what), mistake)
    if found:
        raise BadInput(tuple(found.values()))


def _beyond_the_table(project: Project, cloth: Cloth) -> list[Mistake]:
    """Every piece longer than the table, however it is turned."""
    unit, table_mm = project.unit, project.table_mm
    if table_mm is None:
        return []
    found = []
    for want in wanted(project, cloth):
        least = least_along_mm(want, cloth.usable_width_mm)
        if least is not None and least > table_mm + FIT_TOLERANCE_MM:
            found.append(
                Mistake(
                    f"{_source(project)}piece '{want.piece.name}' in cloth '{cloth.key}'",
                    f"It is {format_length(least, unit)} long, the table {format_length(table_mm, unit)}.",
                    f"Give a table_length of at least {_up(least, unit)} (two tables, or the floor), or cut "
                    "a seam in the piece.",
                )
            )
    return found


def _too_wide(project: Project, cloth: Cloth, want: Wanted, spread: Spread, kept_back_mm: float) -> Mistake:
    unit = project.unit
    on_fold = want.count.kind is CutKind.ON_FOLD
    doubled = spread is Spread.LENGTHWISE_FOLD and _lies_double(want, cloth)
    yields = Yield.ONE if not doubled else Yield.WHOLE_ON_FOLD if on_fold else Yield.PAIR
    layers = 2 if doubled else 1
    across = measures(want, yields)[1]
    lies = "the folded cloth" if doubled else "the cloth laid open"
    whole = ", opened out," if on_fold and not doubled else ""
    what = (
        f"'{want.piece.name}'{whole} is {format_length(across, unit)} across; {lies} gives "
        f"{format_length(cloth.usable_width_mm / layers - kept_back_mm, unit)}"
        f"{', for its fold has to lie on a stripe' if kept_back_mm else ''}."
    )
    remedies = []
    if doubled and measures(want, Yield.ONE)[1] <= cloth.usable_width_mm + FIT_TOLERANCE_MM:
        remedies.append('open the cloth (spread = "open" or "best")')
    least = width_to_buy_mm((across + kept_back_mm) * layers, cloth)
    remedies.append(f"choose one at least {_up(least, unit)} wide")
    if on_fold:
        remedies.append("cut a seam where the fold is (on_fold = false)")
    else:
        remedies.append("cut a seam in the piece")
    return Mistake(
        where=f"{_source(project)}piece '{want.piece.name}' in cloth '{cloth.key}'",
        what=what,
        remedy="Either " + ", or ".join(remedies) + ".",
    )


def _useless(project: Project, cloth: Cloth, reason: str, *, two_lengths: bool) -> Mistake:
    """A spread that was asked for and rules the pieces out, or a cloth that they rule out altogether."""
    where = f"{_source(project)}cloth '{cloth.key}'"
    if cloth.spread in (Spread.BEST, Spread.OPEN):
        remedy = (
            "Measure from the outer edge of a selvedge to the middle of the first main line and write it in "
            "the repeat, line = 2.5; or leave on_line out of what is matched."
            if reason == LINE_UNKNOWN
            else "Match fewer points, or choose a wider cloth."
        )
        return Mistake(where, f"Even laid open it cannot take its pieces: {reason}.", remedy)
    remedies = [f'spread = "{Spread.BEST}"', f'spread = "{Spread.OPEN}"']
    if cloth.spread is Spread.CROSSWISE_FOLD and two_lengths:
        remedies.append(f'spread = "{Spread.TWO_LENGTHS}" (cut through at the fold, one half turned round)')
    return Mistake(
        where=where,
        what=f"The spread '{cloth.spread}' is asked for, but {reason}.",
        remedy="Write " + " or ".join(remedies) + ".",
    )


def _lies_double(want: Wanted, cloth: Cloth) -> bool:
    return any(lot.pair or lot.on_fold for lot in lots_of((want,), cloth))


def _source(project: Project) -> str:
    source = f"{project.source}, " if project.source else ""
    return source if project.version == PLAIN else f"{source}alternative '{project.version}', "


def _up(length_mm: float, unit: Unit) -> str:
    """A width to look for, rounded up so that it is really enough."""
    step = 25.4 if unit is Unit.IN else 10.0
    return format_length(-(-(length_mm - FIT_TOLERANCE_MM) // step) * step, unit)
