"""How far pieces may turn, and how they lie by their grain line: on the straight, across, on the bias.

That the bias is 45 degrees to both grains: true bias, IASRI/ICAR, Fundamentals of Clothing
Construction (e-course).
"""

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.flat.placing import grain_line
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import Turn
from tests.conftest import hook, make_piece, make_project, pairs, singles
from tests.cutting.verify.test_verify import spoil

QUICK = Effort(evaluations_per_placement=1000, walks=1)
ALLOWED = {
    Turn.NONE: {0.0},
    Turn.HALF: {0.0, 180.0},
    Turn.QUARTER: {0.0, 90.0, 180.0, 270.0},
}


def laid(turn, grain_deg=90.0, spread=Spread.OPEN, own=None):
    cloth = Cloth("main", "calico", 900, spread=spread, turn=turn)
    piece = replace(make_piece("pocket", hook(200, 300), pairs(3), turn=own), grain_deg=grain_deg)
    project = make_project(piece, make_piece("loop", hook(40, 200), singles(), turn=own), cloth=cloth)
    return lay_cloth(project, cloth, effort=QUICK), project


@pytest.mark.parametrize("turn", ALLOWED)
@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD])
def test_no_piece_turns_farther_than_it_may(turn, spread):
    lay, project = laid(turn, spread=spread)
    assert faults(lay, project) == ()
    assert {one.turned_deg for s in lay.sections for one in s.placed} <= ALLOWED[turn]


@pytest.mark.parametrize("grain_deg", [90.0, 112.0])
def test_what_may_turn_any_way_is_laid_as_short_however_its_grain_was_drawn(grain_deg):
    """A pair of bowed collars on fusible of 90 cm: in eighths of a turn 260 and 308 mm, each proven so."""
    along = np.linspace(0.0, 1.0, 7)
    outer = np.column_stack([570 * along, 440 * along * (1 - along)])
    inner = np.column_stack([40 + 490 * along, 90 + 380 * along * (1 - along)])[::-1]
    collar = replace(make_piece("collar", [*outer, *inner], pairs()), grain_deg=grain_deg)
    cloth = Cloth("main", "fusible", 900, selvedge_mm=0, step_mm=10, spread=Spread.OPEN, turn=Turn.ANY)
    project = make_project(collar, cloth=cloth)
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=100_000, walks=1))
    assert faults(lay, project) == ()
    assert lay.length_mm < 240.0
    assert lay.bound_mm < 200.0
    grains = [grain_line(one.shape) for s in lay.sections for one in s.placed]
    drawn = [90.0 - np.rad2deg(np.arctan2(*(grain[1] - grain[0]))) for grain in grains]
    said = [one.turned_deg for s in lay.sections for one in s.placed]
    assert [(a - b + 180) % 360 - 180 for a, b in zip(drawn, said, strict=True)] == pytest.approx([0.0, 0.0])


def test_what_the_piece_says_comes_before_what_the_cloth_says():
    lay, project = laid(Turn.ANY, own=Turn.NONE)
    assert faults(lay, project) == ()
    assert {one.turned_deg for s in lay.sections for one in s.placed} == {0.0}


@pytest.mark.parametrize("turn", [Turn.NONE, Turn.HALF, Turn.QUARTER])
def test_a_piece_turned_farther_than_it_may_is_refused(turn):
    """Turned by an eighth about its own middle: whatever else it then does, it lies off its grain."""
    lay, project = laid(turn)

    def eighth(one):
        c = np.cos(np.pi / 4)
        matrix, middle = np.array([[c, -c], [c, c]]), one.shape.cut_line.mean(axis=0)
        return replace(
            one, turned_deg=one.turned_deg + 45, shape=one.shape.transformed(matrix, middle - matrix @ middle)
        )

    assert any("lies off its grain" in fault for fault in faults(spoil(lay, 0, eighth), project))


@pytest.mark.parametrize(
    ("grain_deg", "up_deg"),
    [(90.0, 0.0), (0.0, 90.0), (45.0, 45.0), (135.0, -45.0)],
    ids=["straight", "across", "bias", "other bias"],
)
@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD])
def test_the_grain_line_runs_along_the_warp_whatever_the_paper(grain_deg, up_deg, spread):
    """The paper's upright is then off the warp by as much as its grain line is off upright."""
    lay, project = laid(Turn.NONE, grain_deg, spread)
    assert faults(lay, project) == ()
    for section in lay.sections:
        for placed in section.placed:
            if placed.piece != "pocket":
                continue
            (foot, top) = grain_line(placed.shape)
            along, across = top - foot
            assert along > 0
            assert across == pytest.approx(0.0, abs=1e-6)
            longest = placed.shape.cut_line[1] - placed.shape.cut_line[0]
            edge = np.degrees(np.arctan2(longest[1], longest[0])) % 90
            assert min(abs(edge - up_deg % 90), 90 - abs(edge - up_deg % 90)) == pytest.approx(0.0, abs=1e-6)
