"""Judges a sharing-out by itself: every piece asked for is cut, once, from some remnant there is.

Looks only at what was asked for and at what each remnant is to give, not at how it was shared out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from nesting.cloth.cloth import Cloth
from nesting.errors import LayRefused
from nesting.fault import Fault, FaultKind
from nesting.pattern.piece import CutCount, CutKind
from nesting.project import Project

__all__ = ["SharingFault", "require_shared", "sharing_faults"]


class SharingFault(FaultKind):
    """What can be wrong with how pieces are shared out among remnants."""

    NO_SUCH_REMNANT = "there is no remnant '{name}' as it is laid"
    OTHER_NUMBER = "'{piece}': {asked} asked for, {given} given"
    PARTED = "a pair of '{piece}' is parted"


def require_shared(asked: Project, cloth: Cloth, parts: Project) -> None:
    """Raise `LayRefused`, listing every fault, unless the remnants together give what is asked."""
    found = sharing_faults(asked, cloth, parts)
    if found:
        raise LayRefused(f"The sharing-out of '{cloth.name}' is not shown: " + "; ".join(found))


def sharing_faults(asked: Project, cloth: Cloth, parts: Project) -> tuple[Fault, ...]:
    """Everything wrong with a sharing-out, in words.

    Parameters
    ----------
    asked : Project
        What was asked for.
    cloth : Cloth
        The one that was shared out.
    parts : Project
        The same with the cloth replaced by its remnants.
    """
    if len(cloth.remnants) < 2:
        return ()
    found: list[Fault] = []
    given = {piece.name: piece for piece in parts.pieces}
    keys = set(parts.cloths) - set(asked.cloths)
    for key in sorted(keys):
        (remnant,) = parts.cloths[key].remnants
        known = [
            one
            for one in cloth.remnants
            if (one.name, one.length_mm, one.blocked) == (remnant.name, remnant.length_mm, remnant.blocked)
        ]
        if not known or parts.cloths[key].width_mm != (known[0].width_mm or cloth.width_mm):
            found.append(SharingFault.NO_SUCH_REMNANT.of(name=remnant.name))
    for piece in asked.pieces:
        if cloth.key not in piece.cuts:
            continue
        cuts = given[piece.name].cuts if piece.name in given else {}
        wanted, got = _hands(piece.cuts, {cloth.key}), _hands(cuts, keys)
        if wanted != got:
            found.append(SharingFault.OTHER_NUMBER.of(piece=piece.name, asked=dict(wanted), given=dict(got)))
        parted = len([key for key in keys if key in cuts]) > 1
        single = any(cuts[key].kind is CutKind.SINGLE for key in keys if key in cuts)
        if piece.cuts[cloth.key].kind is CutKind.PAIR and parted and single and not cloth.part_pairs:
            found.append(SharingFault.PARTED.of(piece=piece.name))
    return tuple(found)


def _hands(cuts: Mapping[str, CutCount], keys: set[str]) -> Counter[str]:
    """How many wholes, lefts and rights those cloths give."""
    hands: Counter[str] = Counter()
    for key, count in cuts.items():
        if key not in keys:
            continue
        kinds = {
            CutKind.ON_FOLD: ("whole",),
            CutKind.PAIR: ("left", "right"),
            CutKind.SINGLE: ("right" if count.mirrored else "left",),
        }[count.kind]
        for garment in count.garments or (0,):
            for kind in kinds:
                label = f"{kind} of garment {garment}" if garment else kind
                hands[label] += count.number // max(1, len(count.garments))
    return hands
