"""The zones of each spread, held against the cloth: widths, selvedges, and where folds come to lie."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.plan.demand import wanted
from nesting.cutting.plan.sharing import plans, unlike
from nesting.cutting.plan.spreading import layouts
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

SIDE_BY_SIDE = [Spread.PART_FOLD, Spread.DOUBLE_FOLD]

cloths = st.builds(
    Cloth,
    key=st.just("main"),
    name=st.just("cloth"),
    width_mm=st.floats(700, 1800),
    selvedge_mm=st.floats(0, 25),
    shrinkage_across_pct=st.floats(0, 6),
    gap_mm=st.sampled_from([0.0, 5.0, 60.0]),
)
widths = st.lists(st.floats(40, 700), max_size=4)


@given(cloth=cloths, doubled=widths, single=widths)
def test_no_more_cloth_lies_on_the_table_than_there_is(cloth, doubled, single):
    full = (cloth.width_mm) * (1 - cloth.shrinkage_across_pct / 100)
    selvedge = cloth.washed_selvedge_mm
    for near, far in layouts(cloth, Spread.PART_FOLD, doubled, single):
        # Folded over, lying below that, and the rest with its selvedge.
        over = near.width_mm + selvedge
        assert over + far.across_mm + far.width_mm + selvedge == pytest.approx(full)
        assert far.across_mm - near.width_mm >= max(selvedge, cloth.gap_mm) - 1e-6
    for near, far in layouts(cloth, Spread.DOUBLE_FOLD, doubled, single):
        assert far.across_mm + far.width_mm == pytest.approx(full / 2)
        assert far.across_mm - near.width_mm >= max(2 * selvedge, cloth.gap_mm) - 1e-6


@pytest.mark.parametrize("spread", SIDE_BY_SIDE)
@given(cloth=cloths, doubled=widths)
def test_a_fold_is_as_deep_as_a_tape_easily_tells(spread, cloth, doubled):
    for near, far in layouts(cloth, spread, doubled, ()):
        between = cloth.washed_selvedge_mm
        if spread is Spread.DOUBLE_FOLD:
            between = (far.across_mm - near.width_mm) / 2
        equal = near.width_mm == pytest.approx(far.width_mm)
        assert equal or (near.width_mm + between) / 5.0 == pytest.approx(
            round((near.width_mm + between) / 5.0)
        )


def test_a_depth_is_tried_that_just_takes_a_piece_or_two_side_by_side():
    cloth = Cloth(key="main", name="cloth", width_mm=1520, selvedge_mm=10)
    depths = [near.width_mm for near, _ in layouts(cloth, Spread.PART_FOLD, (150.0, 200.0), ())]
    for wide in (150.0, 200.0, 300.0, 350.0, 400.0):
        assert any(wide <= depth <= wide + 5.0 for depth in depths)


def test_a_cloth_too_narrow_for_two_zones_has_none():
    cloth = Cloth(key="main", name="ribbon", width_mm=100, selvedge_mm=10)
    assert layouts(cloth, Spread.PART_FOLD, (40.0,), ()) == ()


@pytest.fixture
def wants():
    return make_project(
        make_piece("back", box(180, 500), on_fold(), on_fold="edge 3"),
        make_piece("front", hook(230, 500), pairs(2)),
        make_piece("welt", hook(60, 150), singles()),
    )


@pytest.mark.parametrize("spread", SIDE_BY_SIDE)
def test_the_same_demand_is_shared_out_in_the_same_way(wants, spread):
    cloth = wants.cloths["main"]

    def shared():
        return [
            [
                (batch.want.piece.name, batch.yields, batch.copies)
                for one in plan.zones
                for batch in one.batches
            ]
            for plan in plans(wanted(wants, cloth), cloth, spread)
        ]

    assert shared() == shared()


def test_plans_come_with_the_most_promising_first_and_some_that_differ(wants):
    cloth = wants.cloths["main"]
    found = plans(wanted(wants, cloth), cloth, Spread.PART_FOLD)
    assert [plan.estimate_mm for plan in found] == sorted(plan.estimate_mm for plan in found)
    kept = unlike(found, 3, cloth)
    assert kept[0] is found[0]
    depths = sorted(plan.zones[0].zone.width_mm for plan in kept)
    assert all(b - a > 0.05 * cloth.usable_width_mm for a, b in itertools.pairwise(depths))


@pytest.mark.parametrize("spread", SIDE_BY_SIDE)
def test_every_unit_has_its_seat_once(wants, spread):
    cloth = wants.cloths["main"]
    for plan in plans(wanted(wants, cloth), cloth, spread):
        numbers = sorted(
            (batch.want.piece.name, n)
            for one in plan.zones
            for batch in one.batches
            for two in batch.copies
            for n in two
        )
        assert numbers == [("back", 1), *(("front", n) for n in (1, 2, 3, 4)), ("welt", 1)]
