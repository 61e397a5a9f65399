"""How the allowance of an edge is said."""

from __future__ import annotations

from nesting.pattern.piece import Edge, Piece
from nesting.units import Unit, format_length

__all__ = ["allowance_tag", "allowance_words"]


def allowance_words(piece: Piece, edge: Edge, unit: Unit) -> str:
    """How much is added to an edge, or why nothing is.

    >>> import numpy as np
    >>> fold, side = (Edge(name, np.zeros((2, 2)), 15.0) for name in ("fold", "side"))
    >>> half = Piece("back", (fold, side), 90.0, {}, on_fold="fold")
    >>> allowance_words(half, fold, Unit.CM), allowance_words(half, side, Unit.CM)
    ('on the fold', '1.5 cm')
    """
    if edge.name == piece.on_fold:
        return "on the fold"
    if edge.allowance_mm:
        return format_length(edge.allowance_mm, unit)
    return "drawn" if piece.allowance_included else "none"


def allowance_tag(piece: Piece, edge: Edge, unit: Unit) -> str:
    """What stands after the length of an edge on a drawing: ``, +1.5 cm``; nothing where nothing is added."""
    if edge.name == piece.on_fold:
        return ", on the fold"
    return f", +{format_length(edge.allowance_mm, unit)}" if edge.allowance_mm else ""
