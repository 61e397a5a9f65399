"""A cloth in hand with flaws: no piece of cloth has one in it, however the cloth was folded."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cutting.flat.rebuilding import cut_polygons
from nesting.cutting.reasons import Barred, NeverDouble
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import Turn
from tests.conftest import (
    box,
    examples,
    fit_mistakes,
    hook,
    make_piece,
    make_project,
    on_fold,
    pairs,
    singles,
)

QUICK = Effort(evaluations_per_placement=0, walks=1)
SOME = Effort(evaluations_per_placement=3000, walks=1)
FLAT = [spread for spread in Spread if spread not in (Spread.BEST, Spread.TUBE)]


def oblong(name, along, across, *, missing=False):
    (a, b), (c, d) = along, across
    return Blocked(name, ((a, c), (b, c), (b, d), (a, d)), missing)


def in_hand(length_mm, *blocked, **changes):
    values = {
        "key": "main",
        "name": "wool",
        "width_mm": 1020.0,
        "selvedge_mm": 10.0,
        "step_mm": 1.0,
    } | changes
    return Cloth(remnants=(Remnant("", length_mm, None, tuple(blocked)),), **values)


def laid(project, cloth, effort=QUICK):
    project = replace(project, cloths={"main": cloth})
    return lay_cloth(project, cloth, effort=effort), project


@pytest.fixture
def pairs_only():
    return make_project(
        make_piece("front", hook(300, 500), pairs()), make_piece("welt", box(60, 150), pairs())
    )


@pytest.mark.parametrize("spread", FLAT)
def test_a_flaw_in_every_corner_of_the_cloth_is_left_in_the_cloth(pairs_only, spread):
    """One flaw where pieces would lie if they could: each layer, each side of each fold has some."""
    holes = [
        oblong(f"hole {k} {n}", (100 + 400 * k, 140 + 400 * k), (60 + 300 * n, 100 + 300 * n))
        for k in range(4)
        for n in range(4)
    ]
    lay, project = laid(pairs_only, in_hand(2600.0, *holes, spread=spread))
    assert faults(lay, project) == ()
    for name, copy, polygon in cut_polygons(lay):
        for one in holes:
            # Told once more: from the straightened end, 20 mm in, and the outer edge of the selvedge.
            hole = shapely.Polygon([(x - 20.0, u) for x, u in one.outline])
            assert polygon.intersection(hole).area < 1.0, (name, copy, one.name)


@pytest.mark.parametrize("spread", FLAT)
def test_a_lay_made_without_the_flaw_is_refused(pairs_only, spread):
    """A flaw is put, afterwards, into a piece that is cut from the upper layer."""
    plain = in_hand(2600.0, spread=spread)
    lay, project = laid(pairs_only, plain)
    polygon = next(outline for name, copy, outline in cut_polygons(lay) if (name, copy) == ("front", 2))
    at = polygon.representative_point()
    flaw = oblong("stain", (at.x + 19.0, at.x + 21.0), (at.y - 1.0, at.y + 1.0))
    flawed = in_hand(2600.0, flaw, spread=spread)
    found = faults(replace(lay, cloth=flawed), replace(project, cloths={"main": flawed}))
    assert found == ("'front' 2 lies over 'stain'",)


@pytest.mark.parametrize("spread", FLAT)
def test_every_cutting_line_keeps_clear_of_a_flaw(pairs_only, spread):
    """Measured by itself on the cloth opened out, whichever layer the flaw came to lie in."""
    near = oblong("near the fold", (300, 320), (505, 509))
    holes = [replace(one, keep_off_mm=5.0) for one in (near, oblong("hole", (900, 905), (200, 205)))]
    lay, project = laid(pairs_only, in_hand(2600.0, *holes, spread=spread))
    assert faults(lay, project) == ()
    for name, copy, polygon in cut_polygons(lay):
        for one in holes:
            hole = shapely.Polygon([(x - 20.0, u) for x, u in one.outline])
            assert polygon.distance(hole) >= 5.0 - 0.01, (name, copy, one.name)


def test_a_lay_that_touches_a_flaw_to_be_kept_clear_of_is_refused():
    band = oblong("band", (500, 600), (0, 1020))
    strip = make_project(make_piece("strip", box(900, 200), singles(3)))
    lengths = {}
    for keep_off_mm in (0.0, 5.0):
        cloth = in_hand(2000.0, replace(band, keep_off_mm=keep_off_mm), spread=Spread.OPEN)
        lay, project = laid(strip, cloth)
        assert faults(lay, project) == ()
        lengths[keep_off_mm] = lay.length_mm
        if not keep_off_mm:
            touching = lay
    # Two strips go before the band, at 480 mm from the straightened end; the third lies behind it, at 580.
    assert lengths == pytest.approx({0.0: 780.0, 5.0: 785.0}, abs=0.01)
    (fault,) = faults(replace(touching, cloth=cloth), replace(project, cloths={"main": cloth}))
    assert fault.endswith("is cut 0.00 mm from 'band', not 5 mm clear of it")


def test_a_flaw_shrinks_with_the_cloth():
    project = make_project(make_piece("strip", box(900, 100), singles()))
    flaw = oblong("hole", (500, 600), (0, 1020))
    lay, project = laid(project, in_hand(2000.0, flaw, shrinkage_along_pct=10.0, spread=Spread.OPEN))
    # The strip lies before the hole, which begins at 500 mm, 450 when washed, 430 from the straightened end.
    assert lay.length_mm == pytest.approx(100.0)
    tall = make_project(make_piece("tall", box(900, 431), singles()))
    lay, project = laid(tall, in_hand(2000.0, flaw, shrinkage_along_pct=10.0, spread=Spread.OPEN))
    assert lay.length_mm == pytest.approx(600 * 0.9 - 20 + 431, abs=0.01)
    assert faults(lay, project) == ()


def test_folded_across_the_flaws_of_the_upper_layer_come_to_lie_from_the_other_end():
    """The cloth is 2 m between its ends, folded at 1 m; a band at 1.6 m comes to lie at 0.4 m."""
    band = oblong("band", (1620, 1640), (0, 1020))
    project = make_project(make_piece("front", hook(900, 450), pairs()))
    lay, project = laid(project, in_hand(2040.0, band, spread=Spread.CROSSWISE_FOLD))
    assert faults(lay, project) == ()
    (section,) = lay.sections
    assert section.length_mm == pytest.approx(1000.0)
    (placed,) = section.placed
    assert placed.shape.cut_line[:, 0].min() >= 400.0 - 0.01


def test_too_short_a_cloth_folded_across_is_laid_as_if_it_were_longer():
    band = oblong("band", (1620, 1640), (0, 1020))
    project = make_project(make_piece("front", hook(900, 700), pairs()))
    lay, project = laid(project, in_hand(2040.0, band, spread=Spread.TWO_LENGTHS))
    assert faults(lay, project) == ()
    assert lay.length_mm > lay.cloth.room_mm


def test_with_a_flaw_a_fold_across_takes_no_fold_piece_and_says_why(jacket_like):
    flaw = oblong("hole", (500, 520), (100, 120))
    lay, _ = laid(jacket_like, in_hand(2600.0, flaw))
    reasons = {tried.spread: tried.why_not for tried in lay.tried}
    assert reasons[Spread.CROSSWISE_FOLD] == NeverDouble(("back", "welt"))


def test_with_a_flaw_one_way_cloth_is_not_too_narrow_for_a_crosswise_fold_but_runs_the_wrong_way(pairs_only):
    hole = oblong("hole", (400, 420), (300, 320))
    lay, _ = laid(pairs_only, in_hand(2600.0, hole, nap=Nap.ONE_WAY))
    why = {tried.spread: tried.why_not for tried in lay.tried}
    assert why[Spread.CROSSWISE_FOLD] is Barred.RUNS_THE_OTHER_WAY
    assert why[Spread.TWO_LENGTHS] is None


def test_with_a_flaw_a_piece_that_may_not_be_turned_is_named_as_what_bars_a_crosswise_fold(pairs_only):
    hole = oblong("hole", (400, 420), (300, 320))
    front, welt = pairs_only.pieces
    cloth = in_hand(2600.0, hole, spread=Spread.CROSSWISE_FOLD)
    project = replace(pairs_only, pieces=(replace(front, turn=Turn.NONE), welt), cloths={"main": cloth})
    (problem,) = fit_mistakes(project)
    assert problem.where.endswith("cloth 'main'")
    assert "lies double across as a whole, and there 'front' cannot be cut double" in problem.what
    assert "two lengths" in problem.remedy


def test_two_lengths_are_offered_only_where_they_would_do(pairs_only):
    hole = oblong("hole", (400, 420), (300, 320))
    belt = make_piece("belt", hook(60, 700), singles())
    cloth = in_hand(2600.0, hole, spread=Spread.CROSSWISE_FOLD)
    (problem,) = fit_mistakes(replace(pairs_only, pieces=(*pairs_only.pieces, belt), cloths={"main": cloth}))
    assert "'belt' cannot be cut double" in problem.what
    assert "two lengths" not in problem.remedy


def test_a_flawed_tube_is_cut_open(jacket_like):
    flaw = oblong("ladder", (0, 900), (100, 110))
    cloth = in_hand(2600.0, flaw, tube=True, selvedge_mm=0.0, width_mm=510.0)
    lay, project = laid(jacket_like, cloth)
    assert [tried.spread for tried in lay.tried] == [Spread.OPEN]
    assert faults(lay, project) == ()


def test_searching_on_keeps_clear_of_flaws_before_and_after_the_fold_is_opened_out(jacket_like):
    holes = [
        oblong(f"hole {k}", (40 + 97 * k, 70 + 97 * k), (130 * (k % 7), 130 * (k % 7) + 30))
        for k in range(20)
    ]
    for spread in FLAT:
        cloth = in_hand(3000.0, *holes, spread=spread)
        if fit_mistakes(replace(jacket_like, cloths={"main": cloth})):
            continue
        lay, project = laid(jacket_like, cloth, SOME)
        assert faults(lay, project) == ()


def test_a_flaw_that_all_but_ends_where_the_end_is_straightened(pairs_only):
    """Found by the property below: a sliver of 4e-15 mm was left of it, and the engine could not grow it."""
    corner = Blocked("cut", ((0.0, 0.0), (20.000000000000004, 5.0), (10.0, 20.0)), missing=True)
    lay, project = laid(pairs_only, in_hand(2600.0, corner, gap_mm=5.0, spread=Spread.OPEN, selvedge_mm=0.0))
    assert lay.sections[0].problem.obstacles == ()
    assert faults(lay, project) == ()


@st.composite
def flawed_cloths(draw):
    length = draw(st.sampled_from([1500.0, 2200.0]))
    width = draw(st.sampled_from([900.0, 1137.0]))
    blocked = []
    for number in range(draw(st.integers(1, 5))):
        x, y = draw(st.floats(0, length - 100)), draw(st.floats(0, width - 100))
        if draw(st.booleans()):
            a, b = draw(st.floats(5, 100)), draw(st.floats(5, 100))
            flaw = oblong(f"flaw {number}", (x, x + a), (y, y + b))
            blocked.append(replace(flaw, keep_off_mm=draw(st.sampled_from([0.0, 5.0, 20.0]))))
        else:
            corner = ((x, y), (x + draw(st.floats(20, 100)), y + 5), (x + 10, y + draw(st.floats(20, 100))))
            blocked.append(Blocked(f"cut {number}", corner, missing=True))
    return in_hand(
        length,
        *blocked,
        width_mm=width,
        selvedge_mm=draw(st.sampled_from([0.0, 12.0])),
        shrinkage_along_pct=draw(st.sampled_from([0.0, 4.0])),
        shrinkage_across_pct=draw(st.sampled_from([0.0, 3.0])),
        nap=draw(st.sampled_from(list(Nap))),
        spread=draw(st.sampled_from(FLAT)),
        gap_mm=draw(st.sampled_from([0.0, 5.0])),
    )


@st.composite
def demands(draw):
    pieces = []
    for number in range(draw(st.integers(1, 3))):
        shape = draw(st.sampled_from([box, hook]))
        width, height = draw(st.floats(60, 400)), draw(st.floats(60, 500))
        kind = draw(st.sampled_from([pairs, singles, on_fold]))
        fold = {"on_fold": "edge 3" if shape is box else "edge 5"} if kind is on_fold else {}
        pieces.append(
            make_piece(f"piece {number}", shape(width, height), kind(draw(st.integers(1, 2))), **fold)
        )
    return make_project(*pieces)


@examples(20)
@given(demands(), flawed_cloths())
def test_random_flaws_in_every_spread(project, cloth):
    project = replace(project, cloths={"main": cloth})
    assume(not fit_mistakes(project))
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm * (1 + 1e-9)
    assert np.isfinite(lay.length_mm)
