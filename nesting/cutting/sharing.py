"""Which piece goes into which zone, and how deep a fold should be: settled by estimate, before any packing.

Terms
-----
estimate of a zone
    Midway between what the pieces' area alone would need and what their boxes need when each is put as near
    to the beginning as it goes, longest first, for interlocking outlines lie between the two; but no less
    than the fold pieces on one fold take, one after another.

A layout's estimate is the cloth that its stretches then take. Units are seated one after another where they
lengthen it least, the largest first; then single units are moved, and units of two zones exchanged, as long
as that helps. Only what has no other seat goes onto the opened-out length after a fold. No chance is in it:
the same demand is shared out in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.demand import Unit, Wanted, units_of
from nesting.cutting.flaws import halved_mm
from nesting.cutting.lay import Yield
from nesting.cutting.lines import Lines, Matching, kept_back_mm, why_not_held
from nesting.cutting.phasing import choices
from nesting.cutting.plan import Seat, ZoneOrders, fill, measures, seats
from nesting.cutting.spreading import Zone, layouts, opened_out
from nesting.packing.problem import EdgeRule
from nesting.packing.skyline_kernel import ANYWHERE, skyline_length
from nesting.pattern.piece import Turn

__all__ = ["Plan", "plans", "too_wide", "unlike", "why_not"]

_CELL_MM = 10.0
"""Boxes are put down on a grid across the cloth of about this step."""
_UNLIKE = 0.05
"""Of the usable width: folds whose depths differ by less make much the same lay."""
_OTHER_WAY = "the upper layer would run the other way"
"""Why one-way cloth is not folded crosswise."""
_MOST_TRIALS = 400
"""Sharings-out that are estimated for one layout,"""
_MANY_UNITS = 20
"""and the fewer, the more there are than this to share out: a chorus's costumes are not to take all day."""


@dataclass(frozen=True, slots=True, eq=False)
class Plan:
    """A spread with every unit on its seat, and the cloth it is estimated to take.

    Attributes
    ----------
    spread : Spread
    zones : tuple of ZoneOrders
    estimate_mm : float
    shared : bool
        Whether any unit could have lain in another zone, or a fold been made at another depth, or matched
        pieces been laid on other lines.
    lines : Lines or None
        What holds the matched pieces.
    wants : tuple of Wanted
        The demand that lies so.
    """

    spread: Spread
    zones: tuple[ZoneOrders, ...]
    estimate_mm: float
    shared: bool
    lines: Lines | None = None
    wants: tuple[Wanted, ...] = ()

    @property
    def begin_every_mm(self) -> float | None:
        """Stretches begin a multiple of this from the end of the cloth, where lines must run on in them."""
        later = any(
            order.item.x_lattice for one in self.zones if one.zone.stretch > 0 for order in one.orders
        )
        return self.lines.along_mm if self.lines is not None and later else None


def plans(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, lines: Lines | None = None
) -> tuple[Plan, ...]:
    """All ways to lay the demand in this spread, one for each layout, the most promising first.

    Parameters
    ----------
    wants : tuple of Wanted
    cloth : Cloth
    spread : Spread
    lines : Lines, optional
        One of `nesting.cutting.phasing.choices`, where anything is matched.

    Returns
    -------
    tuple of Plan
        Empty where `why_not` gives a reason.
    """
    units = units_of(wants, cloth)
    found = []
    tried = _layouts(wants, units, cloth, spread, 0.0 if lines is None else lines.kept_back_mm)
    for layout in tried:
        plan = plan_on(units, layout, cloth, spread, lines)
        if plan is not None:
            found.append(replace(plan, shared=plan.shared or len(tried) > 1, wants=wants))
    return tuple(sorted(found, key=lambda plan: plan.estimate_mm))


def plan_on(
    units: Sequence[Unit], layout: Sequence[Zone], cloth: Cloth, spread: Spread, lines: Lines | None
) -> Plan | None:
    """The units shared out among these zones; None where one has no place, or nothing would lie double."""
    choices = _choices(units, layout, cloth, spread, lines)
    if not all(choices) or not _worth(spread, cloth, layout, choices):
        return None
    sharing = _Sharing(units, layout, choices)
    seated = sharing.best()
    if spread is not Spread.OPEN and not _worth(spread, cloth, layout, [(seat,) for seat in seated]):
        return None
    shared = any(len(choice) > 1 for choice in choices) or lines is not None
    zones = fill(units, seated, layout, cloth, lines)
    return Plan(spread, zones, sharing.estimate(seated), shared, lines)


def unlike(found: Sequence[Plan], number: int, cloth: Cloth) -> tuple[Plan, ...]:
    """So many of the plans, the most promising first, their folds not all but equally deep."""
    apart = _UNLIKE * cloth.usable_width_mm
    kept: list[Plan] = []
    for plan in found:
        depth = plan.zones[0].zone.width_mm
        if len(kept) < number and all(abs(depth - one.zones[0].zone.width_mm) > apart for one in kept):
            kept.append(plan)
    return tuple(kept)


def too_wide(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None = None
) -> tuple[Wanted, ...]:
    """The pieces for which this spread has no place because of how wide they are."""
    never = _never_double(wants, cloth, spread)
    units = [unit for unit in units_of(wants, cloth) if unit.want not in never]
    barred: dict[int, Wanted] = {}
    for layout in _layouts(wants, units, cloth, spread, kept_back_mm(matching, spread))[-1:]:
        for unit, choice in zip(units, _choices(units, layout, cloth, spread), strict=True):
            if not choice:
                barred[id(unit.want)] = unit.want
    return tuple(barred.values())


def why_not(wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None = None) -> str:
    """Why this spread cannot be used, in words; empty where it can."""
    never = _never_double(wants, cloth, spread)
    if never and spread is Spread.CROSSWISE_FOLD and cloth.one_way:
        return _OTHER_WAY
    if never:
        return (
            "with a flaw in it the cloth lies double across as a whole, and there "
            f"{_names(never)} cannot be cut double"
        )
    held = _held_apart(wants, cloth, spread)
    if held:
        return held
    barred = too_wide(wants, cloth, spread, matching)
    if barred:
        return f"too narrow for {_names(barred)}"
    reason = _why_not_double(wants, cloth, spread, matching) or why_not_held(matching, cloth, spread)
    if reason or matching is None:
        return reason
    apart = _off_the_fold(wants, cloth, spread, matching)
    if apart:
        return f"{_names(apart)} would lie opened out, where no fold holds the lines across"
    if not choices(matching, wants, spread):
        return f"too narrow for {_names([want for want in wants if want.matched])} on the lines they meet on"
    return ""


def _held_apart(wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread) -> str:
    """Why what the person wishes of where pieces lie rules out a spread; empty where it does not."""
    held = [want for want in wants if want.hold.at_first]
    if spread.lengths == 2 and held:
        return "what is to lie together or at a place would come from both halves of the cloth"
    if spread in (Spread.OPEN, Spread.PART_FOLD):
        return ""
    single = [unit.want for unit in units_of(tuple(held), cloth) if not (unit.pair or unit.on_fold)]
    return f"{_names(single)} would lie opened out, away from where wished" if single else ""


def _never_double(wants: Sequence[Wanted], cloth: Cloth, spread: Spread) -> list[Wanted]:
    """What cannot be cut double where a flawed cloth lies double as a whole; nothing on other cloths."""
    if halved_mm(cloth, spread) is None:
        return []
    turned = spread is Spread.CROSSWISE_FOLD
    return [
        unit.want
        for unit in units_of(tuple(wants), cloth)
        if unit.on_fold or not unit.pair or (turned and unit.want.turn is Turn.NONE)
    ]


def _off_the_fold(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching
) -> list[Wanted]:
    """What is matched across but could only lie beside or after the fold."""
    if spread is Spread.OPEN:
        return []
    every = units_of(wants, cloth)
    units = [unit for unit in every if unit.want.handed]
    (layout, *_) = _layouts(wants, every, cloth, spread, kept_back_mm(matching, spread))
    chosen = _choices(units, layout, cloth, spread)
    return [
        unit.want
        for unit, choice in zip(units, chosen, strict=True)
        if all(layout[seat.zone].layers == 1 for seat in choice)
    ]


def _why_not_double(
    wants: tuple[Wanted, ...], cloth: Cloth, spread: Spread, matching: Matching | None
) -> str:
    if spread is Spread.OPEN or spread is cloth.spread is Spread.LENGTHWISE_FOLD:
        return ""
    units = units_of(wants, cloth)
    tried = _layouts(wants, units, cloth, spread, kept_back_mm(matching, spread))
    if any(_worth(spread, cloth, one, _choices(units, one, cloth, spread)) for one in tried):
        return ""
    double = [unit for unit in units if unit.pair or (unit.on_fold and spread.lengths == 1)]
    if not double:
        return "nothing can be cut double"
    if spread is Spread.CROSSWISE_FOLD:
        return _OTHER_WAY
    return f"too narrow for {_names([unit.want for unit in double])}"


def _names(wants: Sequence[Wanted]) -> str:
    return ", ".join(dict.fromkeys(f"'{want.piece.name}'" for want in wants))


def _layouts(
    wants: Sequence[Wanted], units: Sequence[Unit], cloth: Cloth, spread: Spread, kept_back_mm: float
) -> tuple[tuple[Zone, ...], ...]:
    """The spread's zones, with the opened-out length after them."""
    doubled = {id(u.want): measures(u.want, _double(u))[1] for u in units if u.pair or u.on_fold}
    single = [measures(want, Yield.ONE)[1] for want in wants]
    found = layouts(cloth, spread, sorted(set(doubled.values())), sorted(set(single)), kept_back_mm)
    if spread is Spread.OPEN or halved_mm(cloth, spread) is not None:
        return found
    return tuple((*layout, opened_out(cloth, stretch=1)) for layout in found)


def _double(unit: Unit) -> Yield:
    return Yield.WHOLE_ON_FOLD if unit.on_fold else Yield.PAIR


def _choices(
    units: Sequence[Unit],
    layout: Sequence[Zone],
    cloth: Cloth,
    spread: Spread,
    lines: Lines | None = None,
) -> list[tuple[Seat, ...]]:
    """The seats each unit may choose from.

    The opened-out length is for what has no other. A person who asks for a lengthwise fold means it: what
    could be cut double but is too wide for it is not opened out.
    """
    forced = spread is cloth.spread is Spread.LENGTHWISE_FOLD
    found = []
    for unit in units:
        every = seats(unit, layout, cloth, lines)
        first = tuple(seat for seat in every if layout[seat.zone].stretch == 0)
        may_open = not (forced and (unit.pair or unit.on_fold))
        found.append(first or (every if may_open else ()))
    return found


def _worth(spread: Spread, cloth: Cloth, layout: Sequence[Zone], choices: Sequence[tuple[Seat, ...]]) -> bool:
    """Whether anything is cut double; of a lengthwise fold that was asked for, this is not required."""
    if spread is Spread.OPEN or spread is cloth.spread is Spread.LENGTHWISE_FOLD:
        return True
    return any(layout[seat.zone].layers == 2 for choice in choices for seat in choice)


@dataclass
class _Sharing:
    """One layout's units being shared out."""

    units: Sequence[Unit]
    layout: Sequence[Zone]
    choices: Sequence[tuple[Seat, ...]]
    trials: int = 0
    known: dict[tuple[int, tuple[tuple[int, Seat], ...]], float] = field(default_factory=dict)

    def best(self) -> tuple[Seat, ...]:
        """A seat for each unit."""
        seated: list[Seat | None] = [None] * len(self.units)
        for k in sorted(range(len(self.units)), key=self._hardest_first):

            def with_seat(seat: Seat, k: int = k) -> tuple[float, float]:
                return self._cost([*seated[:k], seat, *seated[k + 1 :]])

            seated[k] = min(self.choices[k], key=with_seat)
        chosen = [seat for seat in seated if seat is not None]
        cost = self._cost(chosen)
        most = _MOST_TRIALS * min(1.0, _MANY_UNITS / max(1, len(self.units)))
        better = True
        while better:
            better = False
            for trial in self._changes(chosen):
                self.trials += 1
                if self.trials > most:
                    return tuple(chosen)
                if self._cost(trial) < cost:
                    chosen, cost, better = trial, self._cost(trial), True
                    break
        return tuple(chosen)

    def estimate(self, seated: Sequence[Seat]) -> float:
        """Cloth that this sharing-out is estimated to take."""
        return self._cost(seated)[0]

    def _hardest_first(self, k: int) -> tuple[int, float]:
        first = self.choices[k][0]
        return len(self.choices[k]), -measures(self.units[k].want, first.yields)[2]

    def _changes(self, seated: list[Seat]) -> Iterator[list[Seat]]:
        """Each unit on each other seat, then each two of different pieces with each other's."""
        for k, choice in enumerate(self.choices):
            for seat in choice:
                if seat != seated[k]:
                    yield [*seated[:k], seat, *seated[k + 1 :]]
        for a, b in combinations(range(len(seated)), 2):
            zones = seated[a].zone, seated[b].zone
            if zones[0] != zones[1] and self.units[a].want is not self.units[b].want:
                for seat_a in (seat for seat in self.choices[a] if seat.zone == zones[1]):
                    for seat_b in (seat for seat in self.choices[b] if seat.zone == zones[0]):
                        changed = list(seated)
                        changed[a], changed[b] = seat_a, seat_b
                        yield changed

    def _cost(self, seated: Sequence[Seat | None]) -> tuple[float, float]:
        """Cloth taken; then, to tell equals apart, the zones' lengths together."""
        lengths = [self._zone_mm(index, seated) for index in range(len(self.layout))]
        stretches: dict[int, float] = {}
        for zone, length in zip(self.layout, lengths, strict=True):
            taken = zone.spread.lengths * length
            stretches[zone.stretch] = max(stretches.get(zone.stretch, 0.0), taken)
        return sum(stretches.values()), sum(lengths)

    def _zone_mm(self, index: int, seated: Sequence[Seat | None]) -> float:
        lying = tuple(
            sorted(
                (id(unit.want), seat)
                for unit, seat in zip(self.units, seated, strict=True)
                if seat is not None and seat.zone == index
            )
        )
        if (index, lying) not in self.known:
            boxes = [
                (*measures(unit.want, seat.yields), seat.edge)
                for unit, seat in zip(self.units, seated, strict=True)
                if seat is not None and seat.zone == index
                for _ in range(len(unit.copies) if seat.yields is Yield.ONE else 1)
            ]
            self.known[index, lying] = _estimate_mm(boxes, self.layout[index].width_mm)
        return self.known[index, lying]


def _estimate_mm(boxes: Sequence[tuple[float, float, float, EdgeRule]], width_mm: float) -> float:
    """Length that a zone is estimated to need for boxes of (along, across, area, which fold)."""
    if not boxes:
        return 0.0
    cells = max(1, int(width_mm / _CELL_MM))
    on_folds = dict.fromkeys((EdgeRule.LOW, EdgeRule.HIGH), 0.0)
    order = sorted(boxes, key=lambda box: (box[3] is EdgeRule.FREE, -box[0], -box[1]))
    wide = [min(cells, max(1, round(box[1] / width_mm * cells))) for box in order]
    at = [
        {EdgeRule.LOW: 0, EdgeRule.HIGH: cells - taken}.get(box[3], ANYWHERE)
        for box, taken in zip(order, wide, strict=True)
    ]
    for along, _, _, edge in order:
        if edge in on_folds:
            on_folds[edge] += along
    by_boxes = skyline_length(
        np.array([box[0] for box in order]), np.array(wide), np.array(at), np.zeros(cells)
    )
    by_area = sum(box[2] for box in boxes) / width_mm
    at_least = max(*on_folds.values(), *(box[0] for box in boxes))
    return max(at_least, (by_area + by_boxes) / 2)
