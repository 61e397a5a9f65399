"""What a person should know of how a piece is cut in a lay, as values; `nesting.words.counts` says them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import TypeAlias

from nesting.cloth.spread import Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, Yield
from nesting.pattern.cut_count import CountReading
from nesting.pattern.piece import CutKind, Piece

__all__ = ["CutBesideFold", "CutRemark", "InOneLayer", "Remark", "remarks_on", "up_and_down"]


class CutRemark(Enum):
    """A remark that needs nothing more to be said."""

    HALF_PAPER = "half paper"
    """The paper is half of the piece and lies in one layer: it is drawn round twice."""
    EITHER_FACE = "either face"
    """Both faces of the cloth are alike, so lefts that are cut may be turned over into rights."""


@dataclass(frozen=True, slots=True)
class InOneLayer:
    """It cannot be cut double, so it lies on a length opened out, of a cloth that lies in this spread."""

    spread: Spread


@dataclass(frozen=True, slots=True)
class CutBesideFold:
    """It is cut in the single layer that lies beside what is double in this spread."""

    spread: Spread


Remark: TypeAlias = CountReading | CutRemark | InOneLayer | CutBesideFold
"""How its count was read, or how it is cut."""


def remarks_on(piece: Piece, lay: Lay, mine: Sequence[tuple[LaySection, PlacedPiece]]) -> Iterator[Remark]:
    """What is remarkable of one piece.

    Parameters
    ----------
    piece : Piece
    lay : Lay
    mine : sequence of (LaySection, PlacedPiece)
        Its placements in the lay.
    """
    count = piece.cuts[lay.cloth.key]
    if count.reading is not None:
        yield count.reading
    if piece.on_fold and any(one.yields is Yield.ONE for _, one in mine):
        yield CutRemark.HALF_PAPER
    if any(section.spread is not lay.spread for section, _ in mine):
        yield InOneLayer(lay.spread)
    if any(section.spread.facts.doubled and section.layers == 1 for section, _ in mine):
        yield CutBesideFold(lay.spread)
    ups, downs = (sum(side) for side in zip(*(up_and_down(one) for _, one in mine), strict=True))
    if count.kind is CutKind.PAIR and ups != downs and not all(one.shape.symmetric for _, one in mine):
        # Only a cloth with two right sides allows this.
        yield CutRemark.EITHER_FACE


def up_and_down(placed: PlacedPiece) -> tuple[int, int]:
    """Pieces that one placement gives (as the paper's face, as its mirror image)."""
    if placed.yields is Yield.WHOLE_ON_FOLD:
        return 0, 0
    if placed.yields is Yield.PAIR:
        return 1, 1
    return (1, 0) if placed.face is Face.UP else (0, 1)
