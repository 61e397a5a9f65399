"""Fills as people with other colour vision, and a printer without colour, see them.

Matrices: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A Physiologically-based Model for Simulation
of Color Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), severity 1.0;
numbers from memory. They are applied to linear RGB. Lightness is CIE 1976 L* (CIE 15; white of sRGB, IEC
61966-2-1).
"""

import numpy as np
import pytest

from nesting.drawing.ink.look import CLOTH, FACE_DOWN, PAPER, SELVEDGE
from tests.outside.test_drawing import relative_luminance

SEEN_BY = {
    "all": np.eye(3),
    "no red cones": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "no green cones": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "no blue cones": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}

ADJACENT = [(PAPER, CLOTH), (FACE_DOWN, CLOTH), (PAPER, FACE_DOWN), (SELVEDGE, CLOTH), (SELVEDGE, FACE_DOWN)]
"""Fills that touch on a drawing."""
APART = 7.0
"""Steps of L*; one of 2 to 3 is just seen between large areas side by side (common practice, no source)."""


def lightness(colour: str, matrix: np.ndarray) -> float:
    linear = np.array([channel(colour, k) for k in (1, 3, 5)])
    y = float(np.clip(matrix @ linear, 0, 1) @ (0.2126, 0.7152, 0.0722))
    return 116 * np.cbrt(y) - 16 if y > (6 / 29) ** 3 else y * (29 / 3) ** 3


def channel(colour: str, at: int) -> float:
    value = int(colour[at : at + 2], 16) / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def test_the_lightness_of_black_grey_and_white_is_as_defined():
    assert lightness("#000000", np.eye(3)) == 0
    assert lightness("#ffffff", np.eye(3)) == pytest.approx(100)
    assert lightness("#777777", np.eye(3)) == pytest.approx(50, abs=0.2)
    assert relative_luminance("#777777") == pytest.approx(0.184, abs=0.001)


@pytest.mark.parametrize("name", sorted(SEEN_BY))
def test_every_simulation_leaves_grey_grey(name: str):
    """The rows of each matrix sum to one, as the model has it: a check of the numbers."""
    assert SEEN_BY[name].sum(axis=1) == pytest.approx(np.ones(3), abs=1e-5)


@pytest.mark.parametrize("name", sorted(SEEN_BY))
@pytest.mark.parametrize(("one", "other"), ADJACENT)
def test_fills_that_touch_differ_in_lightness(name: str, one: str, other: str):
    matrix = SEEN_BY[name]
    assert abs(lightness(one, matrix) - lightness(other, matrix)) >= APART
