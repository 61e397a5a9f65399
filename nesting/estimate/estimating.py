"""From a verified lay to what it means in the shop, and from a project to all its cloths."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import replace

from nesting.cloth.buying import price_of, purchase
from nesting.cloth.cloth import Cloth
from nesting.cloth.waste import SmallPiece
from nesting.cutting.fit.fitting import require_fit
from nesting.cutting.flat.meeting import meetings
from nesting.cutting.in_hand.lacking import lacking_mm
from nesting.cutting.in_hand.lay_in_hand import lay_in_hand
from nesting.cutting.in_hand.leftover import left_over
from nesting.cutting.lay import Lay, Yield
from nesting.cutting.search.laying import Effort, LayEvent, lay_cloth
from nesting.cutting.verify.leftover import require_free
from nesting.estimate.estimate import Estimate, ProjectEstimate, Tally
from nesting.estimate.least import least_to_buy_mm
from nesting.estimate.matching import matching_cost, plain_project
from nesting.estimate.remarks import remarks_on, up_and_down
from nesting.packing.result import StopReason
from nesting.packing.stop import StopRule
from nesting.project import Project

__all__ = ["estimate_lay", "lay_project"]


def lay_project(
    project: Project,
    *,
    effort: Effort | None = None,
    seed: int = 0,
    executor: Executor | None = None,
    on_lay: Callable[[LayEvent], None] | None = None,
    until: StopRule | None = None,
) -> ProjectEstimate:
    """Lay and work out every cloth of a project, in file order.

    Parameters
    ----------
    project : Project
    effort : Effort, optional
    seed : int
    executor : concurrent.futures.Executor, optional
    on_lay : callable, optional
        Told of every better verified lay.
    until : StopRule, optional
        Ends every search early, the best lays so far kept: a callable that looks at a
        `nesting.packing.result.Progress` and has a `reason`.

    Returns
    -------
    ProjectEstimate
        Cloths from which nothing is cut are left out.

    Raises
    ------
    CannotBeLaid
        Listing every piece, in every cloth, that is too wide for it.
    """
    require_fit(project)
    estimates: list[Estimate] = []
    for cloth in project.cloths.values():
        if not project.pieces_in(cloth.key):
            continue
        lays: tuple[Lay, ...]
        if cloth.remnants:
            on_it = lay_in_hand(
                project, cloth, effort=effort, seed=seed, executor=executor, on_lay=on_lay, until=until
            )
            project, lays = on_it.project, on_it.lays
        else:
            lays = (
                lay_cloth(
                    project, cloth, effort=effort, seed=seed, executor=executor, on_lay=on_lay, until=until
                ),
            )
        plain = None if cloth.remnants else _plain_lay(project, lays[0], effort, seed, executor, until)
        wishes = [wish for wish in project.from_waste if wish.cloth == cloth.key]
        estimates += _estimates(lays, project, wishes, plain)
        if any(lay.stopped_because is StopReason.INTERRUPTED for lay in lays):
            # Ctrl-C means "enough": the cloths still to come get their first lay only.
            effort = replace(effort or Effort(), evaluations_per_placement=0, seconds=None)
    return ProjectEstimate(project, tuple(estimates))


def _estimates(
    lays: Sequence[Lay], project: Project, wishes: Sequence[SmallPiece], plain: Lay | None
) -> Iterator[Estimate]:
    """Of one cloth; what does not come out of one remnant's waste is looked for in the next."""
    for lay in lays:
        done = estimate_lay(lay, project, wishes, plain)
        if done.left is not None:
            left = [(wish, wish.count - done.left.came_out(wish)) for wish in wishes]
            wishes = [replace(wish, count=count) for wish, count in left if count]
        yield done


def _plain_lay(
    project: Project,
    lay: Lay,
    effort: Effort | None,
    seed: int,
    executor: Executor | None,
    until: StopRule | None,
) -> Lay | None:
    """The same pieces on the same cloth plain, where anything is matched on it."""
    if not meetings(lay, project):
        return None
    other = plain_project(project, lay.cloth)
    half = (effort or Effort()).halved()
    if lay.stopped_because is StopReason.INTERRUPTED:
        half = replace(half, evaluations_per_placement=0, seconds=None)
    cloth = other.cloths[lay.cloth.key]
    return lay_cloth(other, cloth, effort=half, seed=seed, executor=executor, until=until)


def estimate_lay(
    lay: Lay, project: Project, wishes: Sequence[SmallPiece] = (), plain: Lay | None = None
) -> Estimate:
    """Work out one lay: metres, money, waste, counts, and how far it can be from the best.

    Efficiency is the trade's: area of the pieces over area of the lay, end allowances and
    selvedges left out of both.

    Parameters
    ----------
    lay : Lay
    project : Project
    wishes : sequence of SmallPiece
        Small pieces wanted from what is left of this cloth.
    plain : Lay, optional
        Of the same cloth without its stripes, to tell what matching costs.
    """
    done = _worked_out(lay, project, plain)
    lacking = lacking_mm(lay)
    if lacking or not (wishes or done.in_hand):
        return replace(done, lacking_mm=lacking)
    left = left_over(lay, done.spare_mm, wishes)
    require_free(lay, done.spare_mm, left)
    return replace(done, left=left)


def _worked_out(lay: Lay, project: Project, plain: Lay | None) -> Estimate:
    cloth = lay.cloth
    bought = purchase(lay.length_mm, cloth)
    room = cloth.room_mm
    if room is not None:
        bought = replace(bought, to_buy_mm=0.0, spare_mm=max(0.0, room - lay.length_mm))
    matching = None if plain is None else matching_cost(lay, plain, project)
    utilisation = 100 * lay.pieces_area_mm2 / lay.lay_area_mm2
    return Estimate(
        lay=lay,
        washed_mm=bought.washed_mm,
        unwashed_mm=bought.unwashed_mm,
        to_buy_mm=bought.to_buy_mm,
        spare_mm=bought.spare_mm,
        least_to_buy_mm=min(least_to_buy_mm(lay).values()) if room is None else 0.0,
        cost=_cost(cloth, bought.to_buy_mm),
        utilisation_pct=utilisation,
        waste_pct=100 - utilisation,
        waste_mm2=lay.lay_area_mm2 - lay.pieces_area_mm2,
        above_bound_pct=100 * (lay.length_mm / lay.bound_mm - 1),
        tallies=_tallies(lay, project),
        meetings=meetings(lay, project),
        matching=matching,
    )


def _cost(cloth: Cloth, to_buy_mm: float) -> float | None:
    """Nothing, of a cloth in hand; None without a price."""
    if cloth.remnants:
        return 0.0
    return price_of(to_buy_mm, cloth)


def _tallies(lay: Lay, project: Project) -> tuple[Tally, ...]:
    placed = [(section, one) for section in lay.sections for one in section.placed]
    tallies = []
    for piece in project.pieces_in(lay.cloth.key):
        mine = [(section, one) for section, one in placed if one.piece == piece.name]
        faces = [up_and_down(one) for _, one in mine]
        tallies.append(
            Tally(
                piece=piece.name,
                asked=piece.cuts[lay.cloth.key].pieces,
                placed=sum(len(one.copies) for _, one in mine),
                face_up=sum(up for up, _ in faces),
                face_down=sum(down for _, down in faces),
                on_fold=sum(1 for _, one in mine if one.yields is Yield.WHOLE_ON_FOLD),
                remarks=tuple(remarks_on(piece, lay, mine)),
            )
        )
    return tuple(tallies)
