"""Rounding and shrinkage, with the worked figures of the trade notes."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.buying import (
    INCH_STEP_MM,
    METRIC_STEP_MM,
    price_of,
    purchase,
    rounded_up_mm,
    to_first_line_mm,
    width_to_buy_mm,
)
from nesting.cloth.cloth import Cloth
from nesting.cloth.repeat import Repeat

PLAIN = Cloth(key="main", name="calico", width_mm=1500, selvedge_mm=0, end_allowance_mm=0)
YARD_MM = 914.4


def test_a_plain_lay_is_rounded_up_to_the_next_ten_centimetres():
    assert purchase(1459.0, PLAIN).to_buy_mm == 1500.0


def test_an_exact_multiple_of_the_step_stays_as_it_is():
    assert purchase(1500.0, PLAIN).to_buy_mm == 1500.0


def test_float_noise_over_a_multiple_does_not_buy_another_step():
    assert purchase(0.1 * 3 * 5000, PLAIN).to_buy_mm == 1500.0


def test_a_micron_over_a_multiple_is_noise_and_more_is_cloth():
    assert rounded_up_mm(1500.0009, 100.0) == 1500.0
    assert rounded_up_mm(1500.0011, 100.0) == 1600.0
    assert purchase(1500.0009, PLAIN).spare_mm == 0.0


def test_both_cut_ends_are_allowed_for_before_rounding():
    bought = purchase(1450.0, replace(PLAIN, end_allowance_mm=30))
    assert bought.washed_mm == 1510.0
    assert bought.to_buy_mm == 1600.0
    assert bought.spare_mm == pytest.approx(90.0)


def test_who_wishes_for_some_to_spare_buys_a_step_more_only_where_less_is_left():
    wish = replace(PLAIN, spare_at_least_mm=20.0)
    assert purchase(1480.0, wish).to_buy_mm == purchase(1480.0, PLAIN).to_buy_mm == 1500.0
    assert purchase(1481.0, PLAIN).to_buy_mm == 1500.0
    bought = purchase(1481.0, wish)
    assert (bought.to_buy_mm, bought.spare_mm) == (1600.0, pytest.approx(119.0))
    assert bought.unwashed_mm == 1481.0  # what is needed stays the same


@given(
    lay_mm=st.floats(100, 9000),
    wish_mm=st.floats(0, 500),
    shrinkage_pct=st.floats(0, 20),
    step_mm=st.sampled_from([METRIC_STEP_MM, INCH_STEP_MM, 500.0]),
)
def test_what_is_wished_to_spare_is_left_after_washing_and_no_step_is_bought_for_nothing(
    lay_mm, wish_mm, shrinkage_pct, step_mm
):
    cloth = replace(PLAIN, shrinkage_along_pct=shrinkage_pct, step_mm=step_mm, spare_at_least_mm=wish_mm)
    bought = purchase(lay_mm, cloth)
    assert bought.spare_mm >= wish_mm - 2e-3
    assert (bought.to_buy_mm - step_mm) * cloth.kept_along - bought.washed_mm < wish_mm


def test_a_wider_cloth_is_asked_for_when_it_shrinks_across():
    cloth = replace(PLAIN, selvedge_mm=10, shrinkage_across_pct=2)
    assert replace(cloth, width_mm=width_to_buy_mm(1100.0, cloth)).usable_width_mm == pytest.approx(1100.0)


def test_a_tube_is_asked_for_as_it_lies_flat_in_the_shop():
    jersey = replace(PLAIN, width_mm=900, shrinkage_across_pct=10, tube=True)
    assert width_to_buy_mm(1620.0, jersey) == pytest.approx(900.0)
    assert width_to_buy_mm(1621.8, jersey) == pytest.approx(901.0)


def test_cloth_that_shrinks_by_four_per_cent_is_divided_not_added_to():
    """1382 mm washed were 1439.6 before: 1500 are cut, of which 1440 are left, 58 more than is needed."""
    bought = purchase(1342.0, replace(PLAIN, shrinkage_along_pct=4, end_allowance_mm=20))
    assert bought.unwashed_mm == pytest.approx(1382 / 0.96)
    assert bought.to_buy_mm == 1500.0
    assert bought.spare_mm == pytest.approx(1440.0 - 1382.0)


@given(
    length_mm=st.floats(1, 20_000),
    shrinkage_pct=st.floats(0, 20),
    step_mm=st.sampled_from([50.0, 100.0, 500.0, YARD_MM / 8]),
    end_mm=st.floats(0, 100),
)
def test_what_is_bought_holds_the_lay_and_one_step_less_does_not(length_mm, shrinkage_pct, step_mm, end_mm):
    cloth = replace(PLAIN, shrinkage_along_pct=shrinkage_pct, step_mm=step_mm, end_allowance_mm=end_mm)
    bought = purchase(length_mm, cloth)

    def room_for_a_lay_mm(bought_mm):
        """After the first wash, with both cut ends straightened."""
        return bought_mm * (1 - cloth.shrinkage_along_pct / 100) - 2 * cloth.end_allowance_mm

    assert room_for_a_lay_mm(bought.to_buy_mm) >= length_mm - 0.01
    assert room_for_a_lay_mm(bought.to_buy_mm - step_mm) < length_mm + 0.01


def test_straightening_along_a_line_may_take_a_whole_repeat():
    """The shop cuts anywhere; the next main bar may be a repeat away (common practice, no source)."""
    cloth = Cloth(
        key="main",
        name="check",
        width_mm=1500,
        shrinkage_along_pct=5.0,
        end_allowance_mm=20.0,
        repeat=Repeat(along_mm=80.0),
        begins_on_line=True,
    )
    assert to_first_line_mm(cloth) == pytest.approx(76.0)
    assert purchase(1400.0, cloth).washed_mm == pytest.approx(1400.0 + 40.0 + 76.0)
    assert to_first_line_mm(replace(cloth, begins_on_line=False)) == 0.0
    assert to_first_line_mm(replace(cloth, repeat=None)) == 0.0


def test_a_tube_is_told_by_its_width_as_it_lies_flat():
    """Half of its round: 1 m to lay on, once it is cut open, is a tube of 50 cm."""
    tube = replace(PLAIN, tube=True, width_mm=500.0)
    assert tube.usable_width_mm == 1000.0
    assert width_to_buy_mm(1000.0, tube) == 500.0
    assert width_to_buy_mm(980.0, replace(tube, shrinkage_across_pct=2)) == pytest.approx(500.0)
    assert width_to_buy_mm(1000.0, PLAIN) == 1000.0
    assert width_to_buy_mm(1000.0, replace(PLAIN, selvedge_mm=10.0)) == 1020.0


def test_what_is_left_over_is_told_as_it_is_after_washing():
    """Of 1600 mm washing leaves 1440; the lay of 1400 and two ends of 10 take 1420 of them."""
    bought = purchase(1400.0, replace(PLAIN, shrinkage_along_pct=10, end_allowance_mm=10.0))
    assert bought.washed_mm == 1420.0
    assert bought.unwashed_mm == pytest.approx(1420.0 / 0.9)
    assert bought.to_buy_mm == 1600.0
    assert bought.spare_mm == pytest.approx(20.0)


def test_nothing_is_left_over_of_an_exact_multiple():
    assert purchase(1500.0 + 5e-4, PLAIN).spare_mm == 0.0


@pytest.mark.parametrize(("over_mm", "to_buy_mm"), [(0.9e-3, 1500.0), (1.1e-3, 1600.0)])
def test_a_thousandth_of_a_millimetre_is_float_noise_and_no_more(over_mm, to_buy_mm):
    assert purchase(1500.0 + over_mm, PLAIN).to_buy_mm == to_buy_mm


def test_shops_cut_tenths_of_a_metre_and_eighths_of_a_yard():
    # common practice, no source; a yard is 0.9144 m (International Yard and Pound Agreement, 1959)
    assert (METRIC_STEP_MM, INCH_STEP_MM) == (100.0, pytest.approx(914.4 / 8))


def test_a_price_is_by_the_metre_to_the_penny():
    cloth = Cloth(key="main", name="flannel", width_mm=1500, price_per_m=18.5)
    assert price_of(1250.0, cloth) == pytest.approx(23.125)
    assert price_of(1250.0, replace(cloth, price_per_m=None)) is None


def test_of_a_tube_half_the_round_is_looked_for():
    rib = Cloth(key="main", name="rib", width_mm=600, selvedge_mm=0.0, tube=True)
    assert width_to_buy_mm(601.0, rib) == pytest.approx(300.5)
