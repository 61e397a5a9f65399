"""Where on the flat cloth each layer comes from, by hand for every spread."""

from dataclasses import replace

import numpy as np
import pytest
import shapely

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cutting.flat.opening import Layer, at_the_fold, layers_of, stretch_faults
from nesting.cutting.flat.rebuilding import Cut, CutPiece, blocked_areas, cut_pieces, cut_polygons
from nesting.cutting.lay import Face, Fold, Yield
from nesting.pattern.cut_shape import FeatureKind
from tests.cutting.verify.lays import BACK, FOLDED, FRONT, PLAIN, WELT, lay_of, moved, put, section

SHRINKING = Cloth(key="main", name="flannel", width_mm=1101.0, selvedge_mm=50.0, shrinkage_across_pct=10.0)
"""900.9 mm to lay on between selvedges of 45: 990.9 in all, once washed."""


@pytest.mark.parametrize(
    ("spread", "layers"),
    [
        (Spread.OPEN, [Layer(1, 1, 2000, 45 + 30)]),
        (Spread.CROSSWISE_FOLD, [Layer(1, 1, 2000, 45 + 30), Layer(-1, 1, 2000 + 2 * 600, 45 + 30)]),
        (Spread.TWO_LENGTHS, [Layer(1, 1, 2000, 45 + 30), Layer(1, -1, 2000 + 600, 990.9 - 45 - 30)]),
        (Spread.TUBE, [Layer(1, 1, 2000, 30), Layer(1, -1, 2000, -30)]),
        (Spread.LENGTHWISE_FOLD, [Layer(1, 1, 2000, 495.45 + 30), Layer(1, -1, 2000, 495.45 - 30)]),
    ],
)
def test_layers_of_a_section_30_mm_across_two_metres_along(spread, layers):
    one = section(spread=spread, length=600.0, width=400.0, across=30.0)
    found = layers_of(one, [one], 2000.0, SHRINKING)
    assert [(one.along, one.across) for one in found] == [(one.along, one.across) for one in layers]
    assert [(one.x_mm, one.u_mm) for one in found] == [pytest.approx((one.x_mm, one.u_mm)) for one in layers]


def test_a_part_fold_turns_over_the_doubled_part_and_its_selvedge():
    double = section(spread=Spread.PART_FOLD, width=300.0)
    single = section(spread=Spread.PART_FOLD, width=200.0, across=345.0, number=1)
    stretch = [double, single]
    assert layers_of(double, stretch, 10.0, SHRINKING) == [Layer(1, 1, 10, 345), Layer(1, -1, 10, 345)]
    assert layers_of(single, stretch, 10.0, SHRINKING) == [Layer(1, 1, 10, 345 + 345)]


def test_a_double_fold_turns_over_each_side_up_to_where_the_selvedges_meet():
    # 200 wide, and 205 from 291 on: selvedges of 45.5 between them meet at 245.5
    near = section(spread=Spread.DOUBLE_FOLD, width=200.0)
    far = section(spread=Spread.DOUBLE_FOLD, width=205.0, across=291.0, number=1)
    stretch = [near, far]
    assert layers_of(near, stretch, 0.0, SHRINKING) == [Layer(1, 1, 0, 245.5), Layer(1, -1, 0, 245.5)]
    # the far fold is at 245.5 + 496 of the flat cloth: what lies 291 across the table comes back from there
    assert layers_of(far, stretch, 0.0, SHRINKING) == [
        Layer(1, 1, 0, 245.5 + 291),
        Layer(1, -1, 0, 2 * 741.5 - 245.5 - 291),
    ]


@pytest.mark.parametrize(("fold", "upper"), [(0.0, -5.0), (500.4, -5.0), (500.6, 1997.0), (1001.0, 1997.0)])
def test_a_tube_goes_on_round_its_far_fold(fold, upper):
    tube = Cloth(key="main", name="jersey", width_mm=1001.0, selvedge_mm=0.0, tube=True)
    layers = [Layer(1, 1, 7, 5), Layer(1, -1, 7, -5)]
    assert at_the_fold(layers, fold, tube) == (layers[0], Layer(1, -1, 7, upper))
    assert at_the_fold(layers, 999.0, replace(tube, tube=False)) == tuple(layers)


def test_a_layer_is_a_value_and_what_is_cut_is_not():
    assert Layer.__dataclass_params__.frozen
    for record in (Cut, CutPiece):
        assert (record.__dataclass_params__.frozen, record.__dataclass_params__.eq) == (True, False)
    assert not any("__dict__" in dir(record) for record in (Layer, Cut, CutPiece))


def test_a_flaw_shrinks_with_its_cloth_and_lies_behind_the_straightened_end():
    """Measured 500 to 600 along and 100 to 200 across, of cloth that still shrinks by 4 and 10 per cent."""
    hole = Blocked("", ((500.0, 100.0), (600.0, 100.0), (600.0, 200.0), (500.0, 200.0)))
    in_hand = replace(
        SHRINKING,
        shrinkage_along_pct=4.0,
        end_allowance_mm=20.0,
        remnants=(Remnant("", 3000.0, blocked=(hole,)),),
    )
    ((name, area),) = blocked_areas(in_hand)
    assert name == "flaw"
    assert area.bounds == pytest.approx((480 - 20, 90, 576 - 20, 180))


def test_every_stretch_begins_where_its_cloth_begins():
    """Two lengths over each other use twice the table: what follows them lies so much further on."""
    doubled = section(
        put(FRONT, 0.0, 0.0, copies=(1, 2), yields=Yield.PAIR), spread=Spread.CROSSWISE_FOLD, length=500.0
    )
    after = section(put(WELT, 20.0, 5.0), start=500.0, length=300.0)
    first, second, welt = cut_polygons(lay_of(doubled, after))
    assert [one[:2] for one in (first, second, welt)] == [("front", 1), ("front", 2), ("welt", 1)]
    assert first[2].bounds == pytest.approx((0, 10, 500, 310))
    assert second[2].bounds == pytest.approx((500, 10, 1000, 310))
    assert welt[2].bounds == pytest.approx((1020, 15, 1170, 75))


def test_half_on_the_fold_becomes_one_piece_across_it():
    """Its features twice, but for the grain, which is that of the half on which the paper lies."""
    back = put(BACK, 100.0, 0.0, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN)
    one = section(back, spread=Spread.LENGTHWISE_FOLD, length=1000.0, width=500.0)
    (whole,) = cut_pieces(back, layers_of(one, [one], 0.0, FOLDED), FOLDED)
    assert whole.cut.polygon.bounds == pytest.approx((100, 510 - 250, 600, 510 + 250))
    assert whole.cut.polygon.area == pytest.approx(2 * 250 * 500)
    kinds = [feature.kind for feature in whole.cut.features]
    assert kinds.count(FeatureKind.GRAIN) == 1
    assert len(kinds) == 2 * len(back.shape.features) - 1


def test_a_half_off_its_fold_is_not_joined():
    back = moved(put(BACK, 100.0, 0.0, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN), 0.0, 5.0)
    one = section(back, spread=Spread.TUBE, length=1000.0, width=500.0)
    apart = [Layer(1, 1, 0, 510), Layer(1, -1, 0, 490)]
    (half,) = cut_pieces(back, apart, FOLDED)
    assert half.cut.polygon.area == pytest.approx(250 * 500)
    assert one.fold is Fold.BOTH


def test_a_fold_is_where_the_fold_edge_lies_not_where_the_section_begins():
    """On the upper of two folds, at 500 mm: the halves meet there."""
    tube = replace(PLAIN, width_mm=500.0, selvedge_mm=0.0, tube=True)
    back = put(BACK, 0.0, 0.0, yields=Yield.WHOLE_ON_FOLD)
    turned = replace(
        back,
        shape=back.shape.transformed(
            np.diag([1.0, 1.0]), np.array([0.0, 500.0 - back.shape.fold_edge[0, 1]])
        ),
    )
    one = section(turned, spread=Spread.TUBE, length=1000.0, width=500.0)
    (whole,) = cut_pieces(turned, layers_of(one, [one], 0.0, tube), tube)
    assert isinstance(whole.cut.polygon, shapely.Polygon)
    assert whole.cut.polygon.area == pytest.approx(2 * 250 * 500)
    assert whole.cut.polygon.bounds[1] + whole.cut.polygon.bounds[3] == pytest.approx(1000)


def test_two_layers_under_a_piece_called_one_are_not_guessed_at():
    front = put(FRONT, 0.0, 0.0)
    assert cut_pieces(front, [Layer(1, 1, 0, 0), Layer(1, -1, 0, 0)], PLAIN) == []


def room_of(*sections, cloth=SHRINKING):
    """What is told of the room that those sections leave each other."""
    faults = stretch_faults(sections, cloth, 0.01)
    return [fault.split(" leaves room ")[1] for fault in faults]


def test_what_room_the_cloth_leaves_each_section():
    def side_by_side(spread, *places):
        return [
            section(spread=spread, across=across, width=width, number=number)
            for number, (across, width) in enumerate(places)
        ]

    assert room_of(*side_by_side(Spread.OPEN, (0, 901))) == ["from 0.00 to 900.90 mm"]
    assert room_of(*side_by_side(Spread.LENGTHWISE_FOLD, (0, 451))) == ["from 0.00 to 450.45 mm"]
    # folded over 300 mm and its selvedge; the single layer goes on behind that
    part = side_by_side(Spread.PART_FOLD, (0, 300), (344, 200))
    assert room_of(*part) == ["from 345.00 to 600.90 mm"]
    deep = side_by_side(Spread.PART_FOLD, (0, 451), (496, 0))
    assert room_of(*deep)[0] == "from 0.00 to 450.45 mm"
    # two selvedges lie between the two zones of a double fold
    assert room_of(*side_by_side(Spread.DOUBLE_FOLD, (0, 200), (289, 206.45))) == [
        "from 0.00 to 199.00 mm",
        "from 290.00 to 495.45 mm",
    ]
    assert room_of(*side_by_side(Spread.DOUBLE_FOLD, (0, 200), (290, 205.45))) == []
    tube = replace(SHRINKING, width_mm=501.0, selvedge_mm=0.0, tube=True)
    assert room_of(*side_by_side(Spread.TUBE, (0, 451)), cloth=tube) == ["from 0.00 to 450.90 mm"]
