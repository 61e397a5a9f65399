"""Small lays put together by hand, true in every word, for the tests to spoil in one way.

Pieces lie as they are put; nothing of the search or the plan is asked.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.lay import Face, Fold, Lay, LaySection, PlacedPiece, Yield
from nesting.packing.problem import StripProblem, Variant
from nesting.pattern.match import Match
from nesting.pattern.piece import Mark
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

PLAIN = Cloth(key="main", name="calico", width_mm=1020.0, selvedge_mm=10.0, spread=Spread.OPEN)
"""One metre to lay on."""
FOLDED = replace(PLAIN, spread=Spread.LENGTHWISE_FOLD)
FOLDS = {
    Spread.LENGTHWISE_FOLD: (Fold.LOW,),
    Spread.PART_FOLD: (Fold.LOW, Fold.NONE),
    Spread.DOUBLE_FOLD: (Fold.LOW, Fold.HIGH),
    Spread.TUBE: (Fold.BOTH,),
}

FRONT = make_piece("front", hook(300, 500), pairs())
WELT = make_piece("welt", hook(60, 150), singles())
BACK = make_piece("back", box(250, 500), on_fold(), on_fold="edge 3")


def put(piece, x, y, *, copies=(1,), yields=Yield.ONE, face=Face.UP, turned=0.0, tilt=0.0):
    """A piece with the least corner of its box there; all that is told of it is true."""
    shape = cut_shape(piece)
    if piece.on_fold is not None and yields is Yield.ONE:
        shape = unfolded(shape)
    shape = shape.transformed(Variant(turned, face is Face.DOWN).matrix(), np.zeros(2))
    shape = shape.transformed(np.eye(2), np.array([x, y]) - shape.cut_line.min(axis=0))
    (count,) = piece.cuts.values()
    garments = tuple(sorted({count.garment_of(copy) for copy in copies} - {None}))
    return PlacedPiece(
        piece.name, copies, count.pieces, yields, face, turned, shape, piece.size, garments, tilt
    )


def section(*placed, spread=Spread.OPEN, start=0.0, length=600.0, width=1000.0, across=0.0, number=0):
    """A section, by its number among those side by side."""
    fold = FOLDS.get(spread, (Fold.NONE,))[number]
    single = spread is Spread.OPEN or (spread is Spread.PART_FOLD and fold is Fold.NONE)
    return LaySection(
        spread=spread,
        start_mm=start,
        length_mm=length,
        width_mm=width,
        layers=1 if single else 2,
        placed=placed,
        problem=StripProblem(width, ()),
        placements=(),
        bound_mm=0.0,
        across_mm=across,
        fold=fold,
    )


def lay_of(*sections, cloth=PLAIN, spread=None):
    return Lay(cloth, spread or sections[0].spread, sections, 0, 0, "made by hand")


def project_of(*pieces, cloth=PLAIN, **changes):
    return make_project(*pieces, cloth=cloth, **changes)


def moved(placed, dx, dy):
    return replace(placed, shape=placed.shape.transformed(np.eye(2), np.array([dx, dy])))


def open_lay(front=None, other=None, welt=None, **changes):
    """A pair of fronts one above the other, the second face down, and a welt above them.

    ::

        1000
         660
              | welt |
         600  +-------------+
              | front 2, down
         300  +-------------+
              | front 1      |
           0  +-------------+ 500
    """
    placed = (
        front or put(FRONT, 0.0, 0.0),
        other or put(FRONT, 0.0, 300.0, copies=(2,), face=Face.DOWN),
        welt or put(WELT, 0.0, 600.0),
    )
    return lay_of(section(*placed, **changes)), project_of(FRONT, WELT)


def folded_lay(front=None, back=None, **changes):
    """Half a back on the fold, and a pair of fronts cut from both layers behind it."""
    placed = (
        back or put(BACK, 0.0, 0.0, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN),
        front or put(FRONT, 500.0, 100.0, copies=(1, 2), yields=Yield.PAIR),
    )
    lay = lay_of(
        section(*placed, spread=Spread.LENGTHWISE_FOLD, length=1000.0, width=500.0, **changes), cloth=FOLDED
    )
    return lay, project_of(FRONT, BACK, cloth=FOLDED)


def marked(piece, *at):
    """The piece with a matching point."""
    return replace(piece, matching=(Mark("hip", (at,)),))


def match(*names, **changes):
    """Of the matching points of those pieces."""
    return Match("side seam", tuple((name, "hip") for name in names), **changes)
