"""Which phases to try: what the matches leave open is chosen so that the lay begins without waste.

A group's own phase is free unless it lies on a main line or a fold settles it. Any number would do; tried are
those that let one of its pieces lie flush with the beginning of the cloth, or with a side, the largest pieces
first, since every other phase would leave cloth beside that piece. All groups take their first wish
together, then their second.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Yield
from nesting.cutting.plan.demand import Wanted
from nesting.cutting.plan.lines import SAME_PHASE_MM, Lines, Matching, across_line_mm, kept_back_mm
from nesting.packing.problem import Variant
from nesting.pattern.cut_shape import CutShape
from nesting.pattern.match import Axis, Hand
from nesting.pattern.phases import Group, Node, reference_mm, remainder_mm, whole
from nesting.pattern.piece import CutKind
from nesting.pattern.unfold import unfolded

__all__ = ["choices"]

_WISHES = 3
"""So many phases are tried along the cloth, and so many across it."""
_EVEN_STEPS = 12
"""Where no piece can lie flush with a side, phases are tried in so many steps of the repeat."""


def choices(matching: Matching | None, wants: Sequence[Wanted], spread: Spread) -> tuple[Lines | None, ...]:
    """The choices of phases to try in that spread, the most promising first.

    Returns
    -------
    tuple of Lines or None
        A single None where nothing is matched. Empty where no choice gives every piece a place.
    """
    if matching is None:
        return (None,)
    cloth = matching.cloth
    by_name: dict[str, list[Wanted]] = {}
    for want in wants:  # a piece has several where the garments of an order lie different ways up
        by_name.setdefault(want.piece.name, []).append(want)
    bare = Lines(
        cloth.repeat_mm(Axis.ALONG) if matching.along else None,
        cloth.repeat_mm(Axis.ACROSS) if matching.across else None,
        {},
        {},
        across_line_mm(cloth, spread),
        kept_back_mm(matching, spread),
    )
    along = list(_along(matching, by_name, bare.along_mm))
    across = list(_across(matching, by_name, spread, bare))
    if not across:
        return ()
    pairs = [(one, across[0]) for one in along] + [(along[0], one) for one in across[1:]]
    return tuple(replace(bare, along=one, across=other) for one, other in pairs)


def _along(
    matching: Matching, wants: Mapping[str, Sequence[Wanted]], repeat_mm: float | None
) -> Iterator[dict[Node, float]]:
    """T along the cloth: each group so that one of its pieces begins right at the line."""
    if repeat_mm is None:
        yield {}
        return
    wishes = [[0.0] if group.on_line else _flush_along(group, wants) for group in matching.along]
    for k in range(min(_WISHES, max(map(len, wishes)))):
        yield {
            node: (phases[min(k, len(phases) - 1)] + offset) % repeat_mm
            for group, phases in zip(matching.along, wishes, strict=True)
            for node, offset in group.offsets.items()
        }


def _flush_along(group: Group, wants: Mapping[str, Sequence[Wanted]]) -> list[float]:
    nodes = sorted(group.offsets, key=lambda node: -float(wants[node[0]][0].shape.cut_line[:, 0].max()))
    return [-group.offsets[node] for node in nodes]


def _across(
    matching: Matching, wants: Mapping[str, Sequence[Wanted]], spread: Spread, bare: Lines
) -> Iterator[dict[Node, float]]:
    """T across the cloth; nothing where some group has no phase at all."""
    repeat = bare.across_mm
    if repeat is None:
        yield {}
        return
    doubled = spread.facts.doubled
    width = matching.cloth.usable_width_mm / (2 if doubled else 1) - bare.kept_back_mm
    seen: list[dict[Node, float]] = []
    for k in range(_WISHES):
        chosen: dict[Node, float] = {}
        for group in matching.across:
            wishes = list(_wishes(group, matching, wants, doubled, width, bare, chosen))
            if not wishes:
                return
            phase = wishes[min(k, len(wishes) - 1)]
            chosen |= {node: (phase + offset) % repeat for node, offset in group.offsets.items()}
        if chosen not in seen:
            seen.append(chosen)
            yield chosen


def _wishes(
    group: Group,
    matching: Matching,
    wants: Mapping[str, Sequence[Wanted]],
    doubled: bool,
    width_mm: float,
    bare: Lines,
    chosen: Mapping[Node, float],
) -> Iterator[float]:
    """Phases of a group in which all its pieces have a place, and a fold is obeyed."""
    repeat = bare.across_mm or 1.0
    told = list(_told_by_fold(group, matching, repeat, chosen)) if doubled else []
    if group.on_line:
        told.append([0.0])
    if told:
        tried = [
            phase
            for phase in told[0]
            if all(any(abs(remainder_mm(phase - p, repeat)) <= SAME_PHASE_MM for p in one) for one in told)
        ]
    else:
        tried = [*_flush_across(group, wants, doubled, width_mm, bare)]
        tried += [k * repeat / _EVEN_STEPS for k in range(_EVEN_STEPS)]
    for phase in tried:
        phases = {node: (phase + offset) % repeat for node, offset in group.offsets.items()}
        trial = replace(bare, across=phases)
        every = [(want, hand) for name, hand in group.offsets for want in wants[name]]
        if all(_has_place(trial, want, hand, doubled, width_mm) for want, hand in every):
            yield phase


def _told_by_fold(
    group: Group, matching: Matching, repeat_mm: float, chosen: Mapping[Node, float]
) -> Iterator[list[float]]:
    """What a lengthwise fold on a line lets the group's phase be, piece by piece."""
    for (name, hand), offset in group.offsets.items():
        piece = matching.pieces[name]
        other = name, Hand.MIRRORED if hand is Hand.DRAWN else Hand.DRAWN
        if whole(piece, matching.cloth.key):
            yield [-offset]
        elif other in group.offsets:
            middle = -(offset + group.offsets[other]) / 2
            yield [middle, middle + repeat_mm / 2]
        elif other in chosen:
            yield [-chosen[other] - offset]


def _flush_across(
    group: Group, wants: Mapping[str, Sequence[Wanted]], doubled: bool, width_mm: float, bare: Lines
) -> Iterator[float]:
    """Phases that put one of the pieces, turned or not, against a side."""
    line = bare.line_mm or 0.0
    for name, hand in sorted(group.offsets, key=lambda node: -_extent_mm(wants[node[0]][0], doubled)):
        want = wants[name][0]
        shape = _laid(want, doubled)
        for variant in _variants(want, hand, False):
            ring = shape.cut_line @ variant.matrix().T
            sign = -1.0 if variant.angle_deg else 1.0
            at = float((np.array([0.0, reference_mm(shape)]) @ variant.matrix().T)[1])
            for shift in (-ring[:, 1].min(), width_mm - ring[:, 1].max()):
                if sign > 0 or bare.line_mm is not None:
                    yield sign * (float(shift) + at - line) - group.offsets[name, hand]


def _has_place(lines: Lines, want: Wanted, hand: Hand, doubled: bool, width_mm: float) -> bool:
    yields = Yield.ONE
    if doubled:
        yields = Yield.WHOLE_ON_FOLD if want.count.kind is CutKind.ON_FOLD else Yield.PAIR
    return lines.has_place(_laid(want, doubled), yields, _variants(want, hand, doubled), width_mm)


def _variants(want: Wanted, hand: Hand, doubled: bool) -> list[Variant]:
    """How the hand lies in one layer; where the cloth lies double, either face up."""
    faces = (False, True) if doubled else (hand is Hand.MIRRORED,)
    return [Variant(angle, face) for angle in want.angles_deg for face in faces]


def _laid(want: Wanted, doubled: bool) -> CutShape:
    return unfolded(want.shape) if want.count.kind is CutKind.ON_FOLD and not doubled else want.shape


def _extent_mm(want: Wanted, doubled: bool) -> float:
    return float(np.ptp(_laid(want, doubled).cut_line[:, 1]))
