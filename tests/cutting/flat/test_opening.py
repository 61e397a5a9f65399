"""Where each layer of each spread comes from, by hand: on a cloth of 102 cm with selvedges of 1 cm."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cutting.flat.rebuilding import blocked_areas, cut_polygons
from nesting.cutting.lay import Face, Yield
from nesting.cutting.verify.faults import faults
from tests.conftest import box, make_piece, on_fold, pairs
from tests.cutting.verify.lays import PLAIN, lay_of, project_of, put, section

FLAP = make_piece("flap", box(60, 150), pairs())
TUBULAR = replace(PLAIN, width_mm=500.0, selvedge_mm=0.0, tube=True, spread=Spread.TUBE)


def flat(lay):
    """X and u of every piece of cloth: from where to where along it, and across it from the outer edge."""
    return [
        tuple(round(value, 6) for value in (left, right, low, high))
        for left, low, right, high in (polygon.bounds for _, _, polygon in cut_polygons(lay))
    ]


def both(x, y):
    return put(FLAP, x, y, copies=(1, 2), yields=Yield.PAIR)


@pytest.mark.parametrize(
    ("spread", "width", "lower", "upper"),
    [
        # Half of the 1020 lies either side of the fold.
        (Spread.LENGTHWISE_FOLD, 500.0, (100, 250, 710, 770), (100, 250, 250, 310)),
        # The upper layer comes back from the fold at 600 to where the cloth ends, at 1200.
        (Spread.CROSSWISE_FOLD, 1000.0, (100, 250, 210, 270), (950, 1100, 210, 270)),
        # The second length begins at 600; turned over, what is 200 from one selvedge is so from the other.
        (Spread.TWO_LENGTHS, 1000.0, (100, 250, 210, 270), (700, 850, 750, 810)),
    ],
)
def test_two_layers_all_over(spread, width, lower, upper):
    cloth = replace(PLAIN, spread=spread)
    lay = lay_of(section(both(100.0, 200.0), spread=spread, width=width), cloth=cloth)
    assert flat(lay) == [lower, upper]
    assert faults(lay, project_of(FLAP, cloth=cloth)) == ()


def test_one_layer():
    flap = make_piece("flap", box(60, 150), {"main": pairs()["main"]})
    placed = (put(flap, 100.0, 200.0), put(flap, 300.0, 200.0, copies=(2,), face=Face.DOWN))
    assert flat(lay_of(section(*placed))) == [(100, 250, 210, 270), (300, 450, 210, 270)]


def test_a_tube_opens_both_ways_from_its_near_fold():
    lay = lay_of(section(both(100.0, 200.0), spread=Spread.TUBE, width=500.0), cloth=TUBULAR)
    assert flat(lay) == [(100, 250, 200, 260), (100, 250, -260, -200)]
    assert faults(lay, project_of(FLAP, cloth=TUBULAR)) == ()


def test_what_lies_on_the_far_fold_of_a_tube_goes_on_round_it():
    back = make_piece("back", box(250, 500), on_fold(), on_fold="edge 3")
    far = put(back, 0.0, 250.0, yields=Yield.WHOLE_ON_FOLD)
    near = put(back, 0.0, 0.0, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN)
    for placed, found in ((far, (0, 500, 250, 750)), (near, (0, 500, -250, 250))):
        lay = lay_of(section(placed, spread=Spread.TUBE, width=500.0), cloth=TUBULAR)
        assert flat(lay) == [found]


def test_a_part_fold_is_measured_from_its_fold():
    """30 cm and a selvedge are folded over: the fold is at 310, what is single begins at 620."""
    strap = make_piece("strap", box(60, 150), pairs())
    single = (put(strap, 100.0, 20.0), put(strap, 300.0, 20.0, copies=(2,), face=Face.DOWN))
    double = section(both(100.0, 200.0), spread=Spread.PART_FOLD, width=300.0)
    beside = section(*single, spread=Spread.PART_FOLD, across=310.0, width=390.0, number=1)
    cloth = replace(PLAIN, spread=Spread.PART_FOLD)
    lay = lay_of(double, beside, cloth=cloth)
    assert flat(lay) == [
        (100, 250, 510, 570),
        (100, 250, 50, 110),
        (100, 250, 640, 700),
        (300, 450, 640, 700),
    ]
    assert faults(lay, project_of(FLAP, strap, cloth=cloth)) == ()


def test_a_double_fold_is_measured_from_where_the_selvedges_meet():
    """The selvedges meet 215 from the near fold, as far as it is from the edge; the far fold is at 725."""
    strap = make_piece("strap", box(60, 150), pairs())
    near = section(both(100.0, 100.0), spread=Spread.DOUBLE_FOLD, width=200.0)
    other = put(strap, 100.0, 50.0, copies=(1, 2), yields=Yield.PAIR)
    far = section(other, spread=Spread.DOUBLE_FOLD, across=230.0, width=280.0, number=1)
    cloth = replace(PLAIN, spread=Spread.DOUBLE_FOLD)
    lay = lay_of(near, far, cloth=cloth)
    assert flat(lay) == [
        (100, 250, 315, 375),
        (100, 250, 55, 115),
        (100, 250, 495, 555),
        (100, 250, 895, 955),
    ]
    assert faults(lay, project_of(FLAP, strap, cloth=cloth)) == ()


@pytest.mark.parametrize("spread", [Spread.CROSSWISE_FOLD, Spread.TWO_LENGTHS])
def test_what_follows_begins_after_both_lengths(spread):
    strap = make_piece("strap", box(60, 150), pairs())
    single = (put(strap, 100.0, 200.0), put(strap, 300.0, 200.0, copies=(2,), face=Face.DOWN))
    cloth = replace(PLAIN, spread=spread)
    lay = lay_of(section(both(100.0, 200.0), spread=spread), section(*single, start=600.0), cloth=cloth)
    assert flat(lay)[2:] == [(1300, 1450, 210, 270), (1500, 1650, 210, 270)]
    assert faults(lay, project_of(FLAP, strap, cloth=cloth)) == ()


def test_a_flaw_is_where_washing_leaves_it():
    """100 mm from the cut end and 200 from the outer edge; 90 and 190 are left of it, less 20 at the end."""
    hole = Blocked("moth hole", ((100.0, 200.0), (110.0, 200.0), (110.0, 210.0)))
    cloth = replace(
        PLAIN, shrinkage_along_pct=10, shrinkage_across_pct=5, remnants=(Remnant("", 1000.0, None, (hole,)),)
    )
    ((name, area),) = blocked_areas(cloth)
    assert name == "moth hole"
    assert area.bounds == pytest.approx((70.0, 190.0, 79.0, 199.5))
