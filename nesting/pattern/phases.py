"""Which cut pieces must lie at the same place of a repeat, worked out from the points that meet.

Terms
-----
phase
    Where in the repeat something lies: a distance from a main line, taken modulo the repeat, counted the way
    the pattern reads on the garment: upwards, and to the left as one looks at the right side.
reading
    How far a matching point lies from its piece's reference point, counted the same way.
whole
    A piece whose paper is half of it, cut on the fold. Its reference across is its fold line; a matching
    point off that line is there twice, once on either half.

Geometry
--------
Turning a piece by half turns the way it reads, and the same is counted backwards on the cloth; turning the
paper over does not, as the cloth stays right side up: only the readings across change sign. So if T is
the phase of a piece's reference, each match says ``T_a + reading_a = T_b + reading_b`` modulo the repeat:
along the cloth for the pieces, across it for the two hands of each piece by themselves, since the left front
is sewn to the left back. A piece matched alone has its two hands joined: that is its centre seam.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from nesting.pattern.cut_shape import CutShape, FeatureKind
from nesting.pattern.match import Axis, Hand, Match
from nesting.pattern.piece import CutKind, Piece
from nesting.pattern.shaping import cut_shape

__all__ = [
    "MEET_TOLERANCE_MM",
    "Clash",
    "Group",
    "Node",
    "groups",
    "reading_mm",
    "reference_mm",
    "remainder_mm",
    "whole",
]

MEET_TOLERANCE_MM = 1.0
"""Points that miss each other by no more are held to meet: paper is measured to a millimetre."""

Node = tuple[str, Hand]
"""A piece and its hand; along the cloth, and of a whole piece, always `Hand.DRAWN`."""

_LINE: Node = ("", Hand.DRAWN)
"""Stands for the main line of the cloth, whose phase is 0."""


@dataclass(frozen=True, slots=True)
class Group:
    """Cut pieces whose phases hang together.

    Attributes
    ----------
    offsets : Mapping[Node, float]
        The phase of each reference, in mm, less the group's own.
    on_line : bool
        Whether the group's own phase is 0; else it may be chosen.
    """

    offsets: Mapping[Node, float]
    on_line: bool


@dataclass(frozen=True, slots=True)
class Clash:
    """Two points that cannot meet because others do.

    Attributes
    ----------
    match : Match
    first, second : (str, str)
        Piece and point; an empty piece stands for the main line of the cloth.
    off_mm : float
        How far they then lie apart on the repeat.
    """

    match: Match
    first: tuple[str, str]
    second: tuple[str, str]
    off_mm: float

    @property
    def grave(self) -> bool:
        """Whether that is more than paper is measured to."""
        return self.off_mm > MEET_TOLERANCE_MM


@dataclass(frozen=True, slots=True)
class _Instance:
    """A matching point as it is on one hand of a piece."""

    point: tuple[str, str]
    hand: Hand
    node: Node
    reading_mm: float


def remainder_mm(length_mm: float, repeat_mm: float) -> float:
    """What is over the nearest whole number of repeats, from ``-repeat / 2`` to ``repeat / 2``.

    >>> remainder_mm(95.0, 30.0)
    5.0
    >>> remainder_mm(85.0, 30.0)
    -5.0
    """
    return length_mm - repeat_mm * round(length_mm / repeat_mm)


def whole(piece: Piece, cloth_key: str) -> bool:
    """Whether it is cut on the fold from that cloth."""
    return piece.cuts[cloth_key].kind is CutKind.ON_FOLD


def reading_mm(piece: Piece, point: str, axis: Axis) -> float:
    """How far a matching point lies from the reference of the piece, paper face up, top towards +x."""
    shape = cut_shape(piece)
    x, y = _place(shape, point)
    return x if axis is Axis.ALONG else y - reference_mm(shape)


def reference_mm(shape: CutShape) -> float:
    """Where across a shape its reference lies: on its fold line, if it has one, opened out or not."""
    folds = (feature for feature in shape.features if feature.kind is FeatureKind.FOLD)
    return next((float(fold.vertices[0, 1]) for fold in folds), 0.0)


def groups(
    axis: Axis, repeat_mm: float, matches: Sequence[Match], pieces: Mapping[str, Piece], cloth_key: str
) -> tuple[tuple[Group, ...], tuple[Clash, ...]]:
    """The groups of pieces that matches in this direction make, and what of them cannot be.

    Parameters
    ----------
    axis : Axis
    repeat_mm : float
        Washed.
    matches : sequence of Match
        Those that hold in this direction. Where two cannot both be, the earlier prevails.
    pieces : Mapping[str, Piece]
        All that they name, each cut from the cloth.
    cloth_key : str

    Returns
    -------
    groups : tuple of Group
    clashes : tuple of Clash
        Points that do not meet exactly, grave or not.
    """
    joined = _Joined(repeat_mm)
    clashes = []
    for match in matches:
        for first, second in _relations(match, axis, pieces, cloth_key):
            off = joined.join(first, second)
            if off > 1e-6:
                clashes.append(Clash(match, first.point, second.point, off))
    return joined.groups(), tuple(clashes)


def _place(shape: CutShape, point: str) -> tuple[float, float]:
    for feature in shape.features:
        if feature.kind is FeatureKind.MATCH and feature.name == point:
            return float(feature.vertices[0, 0]), float(feature.vertices[0, 1])
    raise KeyError(point)


def _instances(axis: Axis, piece: Piece, point: str, cloth_key: str) -> Iterator[_Instance]:
    reading = reading_mm(piece, point, axis)
    named = piece.name, point
    drawn, mirrored = (piece.name, Hand.DRAWN), (piece.name, Hand.MIRRORED)
    count = piece.cuts[cloth_key]
    if axis is Axis.ALONG:
        yield _Instance(named, Hand.DRAWN, drawn, reading)
        return
    if not count.mirrored:
        yield _Instance(named, Hand.DRAWN, drawn, reading)
    if count.mirrored or count.kind is not CutKind.SINGLE:
        node = drawn if whole(piece, cloth_key) else mirrored
        yield _Instance(named, Hand.MIRRORED, node, -reading)


def _relations(
    match: Match, axis: Axis, pieces: Mapping[str, Piece], cloth_key: str
) -> Iterator[tuple[_Instance, _Instance]]:
    """Which instances must have the same phase, each with the first that it is sewn to."""
    every = [
        one for piece, point in match.points for one in _instances(axis, pieces[piece], point, cloth_key)
    ]
    if len(match.points) == 1:
        sewn = [every]
    else:
        sewn = [[one for one in every if one.hand is hand] for hand in Hand]
    for same in sewn:
        for other in same:
            yield same[0], other
    if match.on_line:
        line = _Instance(("", ""), Hand.DRAWN, _LINE, 0.0)
        for one in every:
            yield line, one


@dataclass
class _Joined:
    """Nodes joined into trees, each with its phase less that of its root."""

    repeat_mm: float
    up: dict[Node, tuple[Node, float]] = field(default_factory=dict)

    def join(self, first: _Instance, second: _Instance) -> float:
        """Let both have the same phase; if they hang together already, how far that fails."""
        (root, a), (other, b) = self._root(first.node), self._root(second.node)
        gap = a + first.reading_mm - b - second.reading_mm
        if root == other:
            return abs(remainder_mm(gap, self.repeat_mm))
        if other == _LINE:
            root, other, gap = other, root, -gap
        self.up[other] = root, gap
        return 0.0

    def groups(self) -> tuple[Group, ...]:
        """Each tree as a group."""
        found: dict[Node, dict[Node, float]] = {}
        for node in list(self.up):
            root, offset = self._root(node)
            if node != _LINE:
                found.setdefault(root, {})[node] = offset % self.repeat_mm
        return tuple(Group(offsets, root == _LINE) for root, offsets in found.items())

    def _root(self, node: Node) -> tuple[Node, float]:
        above, offset = self.up.setdefault(node, (node, 0.0))
        while above != node:
            node, (above, more) = above, self.up[above]
            offset += more
        return node, offset
