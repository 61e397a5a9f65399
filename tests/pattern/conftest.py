"""Two real pieces: adult measures as a wardrobe room drafts them, in centimetres on the paper."""

from __future__ import annotations

import numpy as np
import pytest

from nesting.pattern.curves import smooth
from nesting.pattern.piece import Dart, Edge, Mark, Notch, Piece


def cm(*points):
    return np.array(points, dtype=float) * 10


@pytest.fixture
def bodice_back():
    """Half a back to the hip, on the fold at centre back; hem 4 cm, neck 6 mm, the rest 1 to 1.5 cm.

    ::

          C
        B/ \\_ D
        |    |
        |    \\_ armhole
        |      |
        A------+ hem
    """
    armhole = smooth(cm((20.5, 54.6), (18.6, 48), (18.9, 42), (21.5, 37.6), (24.5, 36.2)))
    edges = (
        Edge("centre back", cm((0, 0), (0, 56.5)), 15.0),
        Edge("neck", smooth(cm((0, 56.5), (4.5, 56.9), (8.2, 58.4))), 6.0),
        Edge("shoulder", cm((8.2, 58.4), (20.5, 54.6)), 10.0),
        Edge("armhole", armhole, 10.0),
        Edge("side", smooth(cm((24.5, 36.2), (22.8, 18), (24.8, -0.4))), 15.0),
        Edge("hem", smooth(cm((24.8, -0.4), (12, -0.1), (0, 0))), 40.0),
    )
    return Piece(
        name="back",
        edges=edges,
        grain_deg=90.0,
        cuts={},
        on_fold="centre back",
        notches=(Notch("sleeve", "armhole", (189.0, 420.0)), Notch("waist", "side", (228.0, 180.0))),
        darts=(Dart("waist", ((90.0, 180.0), (100.0, 330.0), (110.0, 180.0))),),
        marks=(Mark("label", ((0.0, 540.0),)), Mark("yoke", ((0.0, 450.0), (180.0, 450.0)))),
    )


@pytest.fixture
def jacket_front():
    """A whole front with a notched lapel, a curved hem and a facing step at the front edge."""
    edges = (
        Edge("front edge", smooth(cm((0, 4), (-0.2, 18), (0, 33))), 10.0),
        Edge("lapel", smooth(cm((0, 33), (-3.5, 42), (-7, 49.5))), 10.0),
        Edge("lapel top", cm((-7, 49.5), (2.5, 52.5)), 6.0),
        Edge("neck", smooth(cm((2.5, 52.5), (4.5, 53.5), (7.5, 60))), 6.0),
        Edge("shoulder", cm((7.5, 60), (19.8, 55.5)), 10.0),
        Edge("armhole", smooth(cm((19.8, 55.5), (17.2, 48), (17.8, 42), (20.5, 38), (24, 36.5))), 10.0),
        Edge("side", smooth(cm((24, 36.5), (22.6, 20), (25.2, 0))), 15.0),
        Edge("hem", cm((25.2, 0), (5, -0.6)), 40.0),
        Edge("front curve", smooth(cm((5, -0.6), (1.4, 0.8), (0, 4))), 10.0),
    )
    return Piece("front", edges, 90.0, {}, notches=(Notch("roll", "front edge", (0.0, 330.0)),))
