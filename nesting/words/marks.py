"""What is written on a piece beside its lines: allowances in figures; names of notches, darts and marks.

Where a name finds no room, a letter stands for it, and a list of the piece says which. What is of one kind
and one name has one letter.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_lowercase

import numpy as np

from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.units import Unit, format_length

__all__ = ["Marked", "allowance_figure", "allowance_words", "mark_words", "marked"]

_NAMED = (FeatureKind.NOTCH, FeatureKind.DART, FeatureKind.MARK)
_SAME_MM = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Marked:
    """Notches, darts or marks of one name.

    Attributes
    ----------
    letter : str
        ``a``, ``b``, ... in the order of the piece.
    kind : FeatureKind
    name : str
        May be empty.
    features : tuple of Feature
        At least one.
    """

    letter: str
    kind: FeatureKind
    name: str
    features: tuple[Feature, ...]


def marked(shape: CutShape) -> tuple[Marked, ...]:
    """All that is marked on a piece, notches first, then darts, then marks.

    The two slits of a notch on a fold that is opened out, one to either side of its place, are one notch.
    """
    found: dict[tuple[FeatureKind, str], list[Feature]] = {}
    for kind in _NAMED:
        for feature in shape.features:
            if feature.kind is kind:
                alike = found.setdefault((kind, feature.name), [])
                if kind is not FeatureKind.NOTCH or not any(_one_place(feature, one) for one in alike):
                    alike.append(feature)
    return tuple(
        Marked(_letter(k), kind, name, tuple(features))
        for k, ((kind, name), features) in enumerate(found.items())
    )


def _one_place(slit: Feature, other: Feature) -> bool:
    return float(np.abs(slit.vertices[0] - other.vertices[0]).max()) < _SAME_MM


def allowance_figure(allowance_mm: float, unit: Unit) -> str:
    """A seam allowance without its unit: ``1``, ``0.6``, ``5/8``.

    >>> allowance_figure(15.0, Unit.CM), allowance_figure(15.875, Unit.IN)
    ('1.5', '5/8')
    """
    return format_length(allowance_mm, unit).removesuffix(f" {unit.value}")


def allowance_words(shape: CutShape, unit: Unit) -> str:
    """All allowances of a piece, the one of most of its outline first: ``1 cm; hem 4 cm; neck 0.6 cm``."""
    lengths: dict[str, float] = {}
    edges: dict[str, list[str]] = {}
    for seam in shape.seams:
        told = format_length(seam.allowance_mm, unit)
        run = float(np.linalg.norm(np.diff(seam.vertices, axis=0), axis=1).sum())
        lengths[told] = lengths.get(told, 0.0) + run
        edges.setdefault(told, []).append(seam.name)
    if not edges:
        return "on the paper"
    most = max(lengths, key=lambda told: lengths[told])
    others = (f"{', '.join(dict.fromkeys(names))} {told}" for told, names in edges.items() if told != most)
    return "; ".join((most, *others))


def mark_words(marks: Sequence[Marked]) -> str:
    """The letters of a piece and what they mean: ``notches: a waist, b front; darts: c bust``."""
    said = []
    for kind in _NAMED:
        of_kind = [one for one in marks if one.kind is kind]
        if of_kind:
            plural = {FeatureKind.NOTCH: "notches"}.get(kind, f"{kind}s")
            names = (f"{one.letter} {one.name}".strip() + _times(one) for one in of_kind)
            said.append(f"{plural}: {', '.join(names)}")
    return "; ".join(said)


def _times(one: Marked) -> str:
    return f" ({len(one.features)})" if len(one.features) > 1 else ""


def _letter(k: int) -> str:
    """A to z, then aa, ab and so on.

    >>> _letter(0), _letter(27)
    ('a', 'ab')
    """
    more, last = divmod(k, len(ascii_lowercase))
    return (_letter(more - 1) if more else "") + ascii_lowercase[last]
