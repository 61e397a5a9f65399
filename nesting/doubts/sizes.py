"""Allowances out of proportion, and sizes that no garment and no cloth has: often the unit is another.

All figures are common practice, no source, and wide of it: what a sewer may well want is not remarked on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from nesting.cloth.cloth import Cloth
from nesting.doubts.bends import turns_deg
from nesting.doubts.kinds import (
    HighAllowance,
    LargePiece,
    LowAllowance,
    OddCloth,
    SlightShrinkage,
    SmallPieces,
)
from nesting.pattern.edges import extent_mm, outline_ring, size_mm
from nesting.pattern.piece import Edge, Piece

__all__ = ["allowance_doubts", "large_piece", "odd_cloths", "slight_shrinkages", "small_pieces"]

DEEPEST_HEM_MM = 80.0
"""No hem of a garment is deeper;"""
DEEPEST_HEM_SHARE = 0.06
"""on longer things (curtains), no hem is a larger share of the length."""
CURVED_MM = 40.0
CURVED_DEG = 40.0
"""An allowance this wide does not turn up on an edge that curves by this much."""
SEAM_MM = 16.0
SEAM_SHARE = 0.45
"""What is wider than the usual seam (5/8 in) is no larger share of the piece's depth."""
NARROWEST_SEAM_MM = 2.0

LARGE_MM = (1700.0, 1000.0)
"""No piece of a garment is both longer and wider than this; what is long and narrow may be a sash."""
SMALL_MM = 90.0
FEW_PIECES = 2
"""So few may well be no garment, but a flap or a loop to be cut by itself."""

WIDEST_CLOTH_MM = 3300.0
"""Sheeting and curtain cloth come up to 3.2 m."""
NARROWEST_CLOTH_MM = 300.0
NARROW_MM = 700.0
"""Some cloth is narrow (for kimono, about 36 cm; interfacing, 45 or 60), but seldom all that is needed."""

SLIGHTEST_SHRINKAGE_PCT = 0.3
"""A millimetre and a half on half a metre, which no tape tells; 0.25 may be a share, for 25 per cent."""


def allowance_doubts(piece: Piece) -> Iterator[HighAllowance | LowAllowance]:
    """The edges whose allowance is hardly meant."""
    for edge in piece.edges:
        allowance = edge.allowance_mm
        if edge.name == piece.on_fold or not allowance:
            continue
        depth = _depth_mm(piece, edge)
        hem = max(DEEPEST_HEM_MM, DEEPEST_HEM_SHARE * depth)
        too_wide = allowance > hem or (allowance > SEAM_MM and allowance > SEAM_SHARE * depth)
        curved = allowance > CURVED_MM and float(np.abs(turns_deg(edge.vertices)).sum()) > CURVED_DEG
        if too_wide or curved:
            yield HighAllowance(edge.name, allowance, depth)
        elif allowance < NARROWEST_SEAM_MM:
            yield LowAllowance(edge.name, allowance)


def large_piece(piece: Piece) -> LargePiece | None:
    """Whether a piece is larger than those of garments."""
    wide, high = size_mm(piece)
    long, narrow = LARGE_MM
    return LargePiece(wide, high) if max(wide, high) > long and min(wide, high) > narrow else None


def small_pieces(pieces: Sequence[Piece]) -> SmallPieces | None:
    """Whether all pieces are so small that their unit may be another."""
    longest = max(map(extent_mm, pieces), default=SMALL_MM)
    return SmallPieces(longest) if longest < SMALL_MM and len(pieces) > FEW_PIECES else None


def odd_cloths(cloths: Sequence[Cloth]) -> dict[str, OddCloth]:
    """The cloths that are sold in no such width, by key; what is in hand may be a remnant of any."""
    sold = [cloth for cloth in cloths if not cloth.remnants]
    all_narrow = all(cloth.width_mm < NARROW_MM for cloth in cloths)
    narrowest = NARROW_MM if all_narrow else NARROWEST_CLOTH_MM
    return {
        cloth.key: OddCloth(cloth.width_mm, cloth.width_mm > WIDEST_CLOTH_MM)
        for cloth in sold
        if not narrowest <= cloth.width_mm <= WIDEST_CLOTH_MM
    }


def slight_shrinkages(cloths: Sequence[Cloth]) -> dict[str, SlightShrinkage]:
    """The cloths said to shrink by less than anybody measures, by key."""
    slight = {}
    for cloth in cloths:
        written = [pct for pct in (cloth.shrinkage_along_pct, cloth.shrinkage_across_pct) if pct > 0]
        if written and max(written) < SLIGHTEST_SHRINKAGE_PCT:
            slight[cloth.key] = SlightShrinkage(max(written))
    return slight


def _depth_mm(piece: Piece, edge: Edge) -> float:
    """How far the piece reaches across from its edge: its extent square to the edge's chord."""
    chord = edge.vertices[-1] - edge.vertices[0]
    length = float(np.hypot(*chord))
    if length == 0:  # an edge that is the whole outline
        return extent_mm(piece)
    across = np.array([-chord[1], chord[0]]) / length
    return float(np.ptp(outline_ring(piece.edges) @ across))
