"""Grain lines off the warp: no farther than is granted, where it shortens the lay, told piece by piece."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.flat.placing import numbered
from nesting.cutting.plan.demand import wanted
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.search.tilting import WORTH_MM, area_bound_mm
from nesting.cutting.verify.faults import faults
from nesting.words.placing import how_text
from tests.conftest import box, examples, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=3000, walks=1)


def slanted(degrees, length=1000.0, width=100.0):
    """A board drawn a little off its own grain line: tilted back by as much, it lies in a narrower box."""
    turn = np.radians(degrees)
    matrix = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    return [tuple(corner) for corner in np.array(box(width, length)) @ matrix.T]


def boards(tolerance, number=5, **changes):
    """As many boards as lie side by side on the cloth when they are straightened, and not otherwise."""
    cloth = Cloth(
        "main", "calico", 100.0 * number + 1, selvedge_mm=0, spread=Spread.OPEN, grain_tolerance_deg=tolerance
    )
    return make_project(make_piece("board", slanted(2.0), singles(number)), cloth=cloth, **changes), cloth


def test_a_tilt_that_shortens_the_lay_is_used_and_told_piece_by_piece():
    project, cloth = boards(2.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.straight_mm > lay.length_mm + WORTH_MM
    assert lay.length_mm == pytest.approx(1000.0, abs=2.0)
    told = [item for item in numbered(lay) if item.placed.tilt_deg]
    assert told
    for item in told:
        assert how_text(item.placed) == "face up, 2° off the grain"
        # Distances to both ends of the grain line make it cuttable: they differ by what the tilt makes of it.
        along = item.distances.top_along_mm - item.distances.foot_along_mm
        across = item.distances.top_across_mm - item.distances.foot_across_mm
        off = np.degrees(np.arctan2(across, along))
        assert (off - item.placed.turned_deg + 180) % 360 - 180 == pytest.approx(0.0, abs=1e-6)


def test_without_a_tolerance_nothing_is_tilted():
    project, cloth = boards(0.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.straight_mm is None
    assert not any(placed.tilt_deg for placed in lay.sections[0].placed)


def test_a_tilt_that_saves_nothing_is_not_used():
    cloth = Cloth("main", "calico", 520, spread=Spread.OPEN, grain_tolerance_deg=3.0)
    project = make_project(make_piece("tile", box(250, 300), singles(4)), cloth=cloth)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.length_mm == pytest.approx(600.0) == lay.straight_mm
    assert not any(placed.tilt_deg for placed in lay.sections[0].placed)


def test_a_piece_may_be_granted_less_than_the_cloth():
    project, cloth = boards(2.0)
    strict = replace(project, pieces=tuple(replace(p, grain_tolerance_deg=0.0) for p in project.pieces))
    lay = lay_cloth(strict, cloth, effort=QUICK)
    assert not any(placed.tilt_deg for placed in lay.sections[0].placed)


def test_the_verifier_grants_so_much_and_no_more():
    project, cloth = boards(2.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    stricter = replace(cloth, grain_tolerance_deg=1.9)
    found = faults(replace(lay, cloth=stricter), replace(project, cloths={"main": stricter}))
    assert any("lies off its grain" in fault for fault in found)
    assert any("is said to lie" in fault for fault in found)


def test_a_tilt_that_is_not_told_is_refused():
    project, cloth = boards(2.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    (section,) = lay.sections
    silent = replace(section, placed=tuple(replace(placed, tilt_deg=0.0) for placed in section.placed))
    assert any("is said to lie" in fault for fault in faults(replace(lay, sections=(silent,)), project))


def test_what_lies_on_the_fold_stays_straight():
    cloth = Cloth("main", "calico", 620, spread=Spread.LENGTHWISE_FOLD, grain_tolerance_deg=2.0)
    project = make_project(
        make_piece("back", box(100, 500), on_fold(), on_fold="edge 3"),
        make_piece("board", slanted(2.0, 500.0, 90.0), pairs(3)),
        cloth=cloth,
    )
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    (back,) = [placed for placed in lay.sections[0].placed if placed.piece == "back"]
    assert back.tilt_deg == 0.0


def test_what_is_claimed_of_the_least_length_holds_for_every_tilt():
    """By area alone: 5 boards of 0.1 m2 on 0.501 m."""
    project, cloth = boards(2.0)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.bound_mm == pytest.approx(500_000 / 501) == area_bound_mm(wanted(project, cloth), 501.0)


@examples(4)
@given(
    tolerance=st.floats(0.5, 5.0),
    off=st.floats(-5.0, 5.0),
    spread=st.sampled_from([Spread.OPEN, Spread.BEST]),
)
def test_every_tilt_is_within_what_is_granted(tolerance, off, spread):
    cloth = Cloth("main", "calico", 900, spread=spread, grain_tolerance_deg=tolerance)
    project = make_project(
        make_piece("board", slanted(off, 700.0, 150.0), pairs(2)),
        make_piece("other", slanted(-off, 400.0, 120.0), singles(3)),
        cloth=cloth,
    )
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=300, walks=1))
    assert faults(lay, project) == ()
    assert lay.length_mm <= lay.straight_mm
