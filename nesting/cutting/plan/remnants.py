"""Several remnants of one cloth: which piece is cut from which.

Each remnant becomes a cloth of its own with its share of the counts, so that all that follows (lay, sheets,
cut list) sees nothing new. What is shared out is a whole on the fold, a pair, or a single; a pair comes from
one remnant, unless the person allows it (`Cloth.part_pairs`, for pieces of which one pair is cut): remnants
that look alike may differ in shade when they lie side by side in daylight.

How much of a remnant a share takes is estimated (`nesting.cutting.plan.sharing`) until it has been laid; then
the lay is taken. The largest piece is seated first, each where least is then lacking; then single ones are
moved, and two exchanged, as long as that helps; then every remnant is laid. Where one turns out too short,
all is shared out again by what is known then.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.remnant import part_keys
from nesting.cutting.lay import Lay, Yield
from nesting.cutting.plan.batches import FIT_TOLERANCE_MM, least_along_mm, measures
from nesting.cutting.plan.demand import ANGLES_DEG, Wanted, wanted
from nesting.cutting.plan.sharing import plans, too_wide
from nesting.geometry import signed_area
from nesting.packing.problem import Variant, variant_outline
from nesting.pattern.piece import CutCount, CutKind, Piece
from nesting.pattern.unfold import unfolded
from nesting.project import Project

__all__ = ["Share", "boxes", "goes_on", "remnant_cloths", "share_out", "shared"]

_ROUNDS = 6
"""So often all is shared out anew at most."""
_MOST_TRIALS = 600
"""Sharings-out that are estimated in a round."""


@dataclass(frozen=True, slots=True)
class Share:
    """What one remnant gives: of each piece so many, by the hand where a pair is parted.

    Attributes
    ----------
    counts : mapping of str to CutCount
    """

    counts: Mapping[str, CutCount]


@dataclass(frozen=True, slots=True)
class _Element:
    """What cannot be divided any further.

    `hand` is 0 for all of it, 1 for a left, 2 for a right; `garment` is the number of the garment of an order
    for which it is cut, all that this takes of the piece together.
    """

    want: int
    hand: int = 0
    garment: int | None = None


def remnant_cloths(cloth: Cloth) -> tuple[Cloth, ...]:
    """Each remnant as a cloth of its own; the cloth itself where it is in one piece."""
    if len(cloth.remnants) < 2:
        return (cloth,)
    return tuple(
        replace(
            cloth,
            key=key,
            name=f"{cloth.name}, {remnant.name}",
            width_mm=remnant.width_mm or cloth.width_mm,
            remnants=(replace(remnant, width_mm=None),),
            # A garment may be cut from several remnants, and still lies one way.
            nap=Nap.ONE_WAY if cloth.nap is Nap.EACH_GARMENT else cloth.nap,
        )
        for key, remnant in zip(part_keys(cloth.key, cloth.remnants), cloth.remnants, strict=True)
    )


def goes_on(want: Wanted, part: Cloth) -> bool:
    """Whether a remnant is large enough for one of this piece by itself."""
    along = least_along_mm(want, part.usable_width_mm)
    boxed = along is not None and along <= (part.room_mm or 0.0) + FIT_TOLERANCE_MM
    return boxed and not (part.spread is not Spread.BEST and too_wide((want,), part, part.spread))


def boxes(want: Wanted) -> tuple[tuple[float, float], ...]:
    """Along and across the cloth, mm, in every turn that the piece is allowed, opened out."""
    shape = unfolded(want.shape) if want.count.kind is CutKind.ON_FOLD else want.shape
    placed = [variant_outline(shape.cut_line, Variant(angle)) for angle in ANGLES_DEG[want.turn]]
    return tuple((float(np.ptp(one[:, 0])), float(np.ptp(one[:, 1]))) for one in placed)


def shared(project: Project, cloth: Cloth, shares: Sequence[Share]) -> Project:
    """The project with the cloth replaced by those of its remnants from which anything is cut, in order."""
    if len(cloth.remnants) < 2:
        return project
    parts = [(part, share) for part, share in zip(remnant_cloths(cloth), shares, strict=True) if share.counts]
    cloths: dict[str, Cloth] = {}
    for key, one in project.cloths.items():
        cloths |= {part.key: part for part, _ in parts} if key == cloth.key else {key: one}

    def counted(piece: Piece) -> Piece:
        kept = {key: count for key, count in piece.cuts.items() if key != cloth.key}
        given = {part.key: share.counts[piece.name] for part, share in parts if piece.name in share.counts}
        return replace(piece, cuts={**kept, **given})

    used = {part.key for part, _ in parts}
    spare = [part.name for part in remnant_cloths(cloth) if part.key not in used]
    return replace(
        project,
        cloths=cloths,
        pieces=tuple(counted(piece) for piece in project.pieces),
        not_needed=(*project.not_needed, *spare),
    )


def share_out(
    project: Project, cloth: Cloth, lay: Callable[[Project, Cloth], Lay]
) -> tuple[tuple[Share, ...], float]:
    """The shares with which least is lacking, and how much that is.

    Parameters
    ----------
    project : Project
    cloth : Cloth
        With remnants.
    lay : callable
        Lays one remnant of a project whose cloth has been replaced.
    """
    sharing_out = _SharingOut(wanted(project, cloth), remnant_cloths(cloth), cloth)
    best: tuple[float, tuple[Share, ...]] | None = None
    seen: set[tuple[int, ...]] = set()
    for _ in range(_ROUNDS):
        seated = sharing_out.seated()
        if seated in seen:
            break
        seen.add(seated)
        shares = sharing_out.shares(seated)
        parts = shared(project, cloth, shares)
        lacking = 0.0
        for number, part in enumerate(sharing_out.cloths):
            if not shares[number].counts:
                continue
            length = lay(parts, part).length_mm
            sharing_out.known[number, sharing_out.lying(seated, number)] = length
            lacking += max(0.0, length - sharing_out.rooms[number])
        if best is None or lacking < best[0]:
            best = lacking, shares
        if not lacking:
            break
    if best is None:
        raise ValueError("nothing is cut from this cloth")
    return best[1], best[0]


@dataclass
class _SharingOut:
    """One cloth's pieces being shared out among its remnants."""

    wants: Sequence[Wanted]
    cloths: Sequence[Cloth]
    cloth: Cloth
    known: dict[tuple[int, tuple[_Element, ...]], float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.rooms = [cloth.room_mm or 0.0 for cloth in self.cloths]
        self.elements = [
            element for index, want in enumerate(self.wants) for element in self._elements(index, want)
        ]
        self.choices = [self._choices(element) for element in self.elements]

    def _elements(self, index: int, want: Wanted) -> list[_Element]:
        count = want.count
        alone = count.kind is CutKind.PAIR and count.number == 1 and not count.garments
        if self.cloth.part_pairs and alone:
            return [_Element(index, 1), _Element(index, 2)]
        if count.garments:
            return [_Element(index, garment=garment) for garment in count.garments]
        return [_Element(index)] * count.number

    def _choices(self, element: _Element) -> tuple[int, ...]:
        want = self.wants[element.want]
        return tuple(number for number, part in enumerate(self.cloths) if goes_on(want, part))

    def seated(self) -> tuple[int, ...]:
        """A remnant for every element."""
        area = [abs(signed_area(want.shape.cut_line)) for want in self.wants]
        order = sorted(
            range(len(self.elements)), key=lambda k: (len(self.choices[k]), -area[self.elements[k].want])
        )
        chosen: dict[int, int] = {}
        for k in order:

            def cost(number: int, k: int = k) -> tuple[float, ...]:
                return self._cost({**chosen, k: number})

            chosen[k] = min(self.choices[k], key=cost)
        trials, better = 0, True
        while better:
            better = False
            before = self._cost(chosen)
            for trial in self._changes(chosen):
                trials += 1
                if trials > _MOST_TRIALS:
                    break
                if self._cost(trial) < before:
                    chosen, better = trial, True
                    break
        return tuple(chosen[k] for k in range(len(self.elements)))

    def _changes(self, chosen: Mapping[int, int]) -> Iterator[dict[int, int]]:
        for k, choices in enumerate(self.choices):
            for number in choices:
                if number != chosen[k]:
                    yield {**chosen, k: number}
        for a, b in combinations(range(len(self.elements)), 2):
            if chosen[a] != chosen[b] and chosen[b] in self.choices[a] and chosen[a] in self.choices[b]:
                yield {**chosen, a: chosen[b], b: chosen[a]}

    def _cost(self, chosen: Mapping[int, int]) -> tuple[float, ...]:
        """What is lacking; pairs that are parted; remnants begun; cloth taken."""
        lengths = [self._taken_mm(number, self._lying(chosen, number)) for number in range(len(self.cloths))]
        lacking = sum(max(0.0, length - room) for length, room in zip(lengths, self.rooms, strict=True))
        return round(lacking, 3), self._parted(chosen), sum(length > 0 for length in lengths), sum(lengths)

    def _parted(self, chosen: Mapping[int, int]) -> int:
        hands: dict[int, set[int]] = {}
        for k, number in chosen.items():
            hands.setdefault(self.elements[k].want, set()).add(number if self.elements[k].hand else -1)
        return sum(len(numbers) > 1 for numbers in hands.values())

    def lying(self, seated: Sequence[int], number: int) -> tuple[_Element, ...]:
        """What lies on that remnant."""
        return self._lying(dict(enumerate(seated)), number)

    def _lying(self, chosen: Mapping[int, int], number: int) -> tuple[_Element, ...]:
        found = (self.elements[k] for k, at in chosen.items() if at == number)
        return tuple(sorted(found, key=lambda one: (one.want, one.hand, one.garment or 0)))

    def _taken_mm(self, number: int, lying: tuple[_Element, ...]) -> float:
        if not lying:
            return 0.0
        if (number, lying) not in self.known:
            self.known[number, lying] = self._estimate_mm(self.cloths[number], lying)
        return self.known[number, lying]

    def _estimate_mm(self, part: Cloth, lying: tuple[_Element, ...]) -> float:
        counts = self._counts(lying)
        wants = tuple(
            replace(want, count=counts[k], copies=counts[k].copies)
            for k, want in enumerate(self.wants)
            if k in counts
        )
        spread = Spread.OPEN if part.spread is Spread.BEST else part.spread
        found = plans(wants, part, spread)
        if not found:  # on this remnant that spread has no room for them
            return 2 * max(self.rooms) + sum(measures(want, Yield.ONE)[0] for want in wants)
        flawed = sum(abs(signed_area(np.array(one.outline))) for one in part.blocked)
        return found[0].estimate_mm + flawed / part.usable_width_mm

    def _counts(self, lying: Sequence[_Element]) -> dict[int, CutCount]:
        counts: dict[int, CutCount] = {}
        for index in dict.fromkeys(one.want for one in lying):
            mine = [one for one in lying if one.want == index]
            asked = self.wants[index].count
            if not mine[0].hand:
                each = asked.number // len(asked.garments) if asked.garments else 1
                garments = tuple(one.garment for one in mine if one.garment is not None)
                counts[index] = replace(asked, number=each * len(mine), garments=garments)
            elif len(mine) == 2:
                counts[index] = asked
            else:
                counts[index] = CutCount(CutKind.SINGLE, 1, asked.reading, mirrored=mine[0].hand == 2)
        return counts

    def shares(self, seated: Sequence[int]) -> tuple[Share, ...]:
        """For every remnant, how many of each piece."""
        return tuple(
            Share(
                {
                    self.wants[index].piece.name: count
                    for index, count in self._counts(self.lying(seated, number)).items()
                }
            )
            for number in range(len(self.cloths))
        )
