"""Where words go, on shapes simple enough to see the answer."""

import numpy as np
import shapely

from nesting.drawing.ink.labels import InnerLines, fit_label
from nesting.drawing.ink.text import SMALLEST_PT

NO_LINES = InnerLines((), (), ())


def rectangle(width: float, height: float) -> np.ndarray:
    return np.array([(0.0, 0), (width, 0), (width, height), (0, height)])


def test_a_roomy_piece_says_everything_in_large_type():
    label = fit_label(3, "sleeve", "1+2 of 2", "face down", rectangle(300, 200), NO_LINES, 1.0)
    assert label is not None
    assert " ".join(label.lines) == "sleeve 1+2 of 2 face down"
    assert label.size_pt == 11
    assert label.upright


def test_a_narrow_piece_is_lettered_along_its_length():
    label = fit_label(3, "belt", "1 of 1", "", rectangle(24, 200), NO_LINES, 1.0)
    assert label is not None
    assert not label.upright
    assert label.lines


def test_words_keep_off_the_grain_line():
    grain = np.array([(40.0, 50), (260, 50)])
    label = fit_label(
        3, "front", "1+2 of 2", "", rectangle(300, 100), InnerLines((grain,), (), ()), mm_per_pt=1.0
    )
    assert label is not None
    assert not shapely.box(*label.box).intersects(shapely.LineString(grain))


def test_what_does_not_fit_is_left_out_step_by_step():
    said = [
        fit_label(12, "breast pocket", "1+2 of 2", "", rectangle(width, 18), NO_LINES, 1.0)
        for width in (150, 80, 20, 12)
    ]
    full, name, number, nothing = said
    assert full is not None
    assert full.lines == ("breast pocket 1+2 of 2",)
    assert name is not None
    assert name.lines == ("breast pocket",)
    assert number is not None
    assert number.lines == ()
    assert nothing is None
    assert all(label.size_pt >= SMALLEST_PT for label in (full, name, number))


def test_face_down_is_kept_longer_than_the_copies_and_the_name():
    said = [
        fit_label(9, "collar", "4 of 4", "face down", rectangle(width, 20), NO_LINES, 1.0)
        for width in (160, 97, 70, 45)
    ]
    assert [" ".join(label.lines) for label in said if label] == [
        "collar 4 of 4, face down",
        "collar, face down",
        "face down",
        "collar",
    ]
