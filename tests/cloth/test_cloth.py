"""What is left of a cloth to lay on: washed, without its selvedges and ends."""

from dataclasses import replace

import pytest

from nesting.cloth.buying import Purchase, purchase
from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cloth.repeat import Repeat
from nesting.pattern.match import Axis

FLANNEL = Cloth(key="main", name="flannel", width_mm=1500, selvedge_mm=15, shrinkage_along_pct=4)
FLANNEL = replace(FLANNEL, shrinkage_across_pct=10, end_allowance_mm=25)
HOLE = Blocked("moth hole", ((100.0, 200.0), (130.0, 200.0), (130.0, 240.0)))


def test_a_cloth_of_which_only_the_width_is_said():
    """A centimetre of selvedge and two at each end, sold by ten, that neither shrinks nor runs one way."""
    cloth = Cloth("main", "calico", 1500)
    assert cloth.usable_width_mm == 1480
    assert cloth.kept_along == cloth.kept_across == 1
    assert (purchase(950.0, cloth).washed_mm, purchase(950.0, cloth).to_buy_mm) == (990.0, 1000.0)
    assert purchase(961.0, cloth).to_buy_mm == 1100.0
    assert not cloth.one_way
    assert cloth.gap_mm == cloth.grain_tolerance_deg == 0
    assert not any((cloth.tube, cloth.begins_on_line, cloth.part_pairs))
    assert cloth.repeat_mm(Axis.ALONG) is cloth.repeat_mm(Axis.ACROSS) is None
    assert cloth.room_mm is None
    assert cloth.blocked == ()


def test_cloth_shrinks_by_a_part_of_itself_each_way():
    assert FLANNEL.kept_along == pytest.approx(0.96)
    assert FLANNEL.kept_across == pytest.approx(0.9)


def test_width_to_lay_on_is_what_washing_leaves_between_the_selvedges():
    assert FLANNEL.usable_width_mm == pytest.approx(0.9 * (1500 - 30))
    assert FLANNEL.washed_selvedge_mm == pytest.approx(0.9 * 15)


def test_of_a_tube_all_of_its_round_can_be_laid_on():
    tube = replace(FLANNEL, width_mm=900, selvedge_mm=0, tube=True)
    assert tube.usable_width_mm == pytest.approx(0.9 * 2 * 900)


def test_length_in_hand_loses_two_ends_for_each_remnant():
    in_hand = replace(FLANNEL, remnants=(Remnant("", 2000.0),))
    assert in_hand.room_mm == pytest.approx(0.96 * 2000 - 50)
    both = replace(FLANNEL, remnants=(Remnant("long", 2000.0), Remnant("short", 500.0)))
    assert both.room_mm == pytest.approx(0.96 * 2500 - 100)


def test_the_one_piece_in_hand_brings_its_flaws():
    flawed = Remnant("", 2000.0, blocked=(HOLE,))
    one, two = replace(FLANNEL, remnants=(flawed,)), replace(FLANNEL, remnants=(flawed, flawed))
    assert one.in_hand is flawed
    assert one.blocked == (HOLE,)
    assert two.in_hand is FLANNEL.in_hand is None
    assert two.blocked == FLANNEL.blocked == ()


@pytest.mark.parametrize(("missing", "words"), [(False, "flaw"), (True, "cut away")])
def test_a_place_without_a_name_is_called_what_it_is(missing, words):
    assert HOLE.words == "moth hole"
    assert Blocked("", HOLE.outline, missing).words == words
    assert Blocked("", HOLE.outline).words == "flaw"


def test_a_repeat_shrinks_with_its_cloth_each_way():
    check = replace(FLANNEL, repeat=Repeat(along_mm=80.0, across_mm=60.0))
    assert check.repeat_mm(Axis.ALONG) == pytest.approx(0.96 * 80)
    assert check.repeat_mm(Axis.ACROSS) == pytest.approx(0.9 * 60)
    assert check.repeat.axes == (Axis.ALONG, Axis.ACROSS)


def test_a_stripe_along_the_cloth_repeats_across_it_only():
    stripe = replace(FLANNEL, repeat=Repeat(across_mm=60.0))
    assert stripe.repeat_mm(Axis.ALONG) is None
    assert stripe.repeat.axes == (Axis.ACROSS,)


@pytest.mark.parametrize(
    ("nap", "repeat", "one_way"),
    [
        (Nap.ONE_WAY, None, True),
        (Nap.ONE_WAY, Repeat(along_mm=80.0), True),
        (Nap.EITHER_WAY, Repeat(along_mm=80.0), False),
        (Nap.EITHER_WAY, Repeat(along_mm=80.0, uneven=(Axis.ALONG,)), True),
        (Nap.EACH_GARMENT, None, False),
        (Nap.EACH_GARMENT, Repeat(across_mm=80.0, uneven=(Axis.ACROSS,)), True),
    ],
)
def test_a_nap_or_an_uneven_repeat_makes_cloth_one_way(nap, repeat, one_way):
    assert replace(FLANNEL, nap=nap, repeat=repeat).one_way is one_way


def test_two_spreads_lay_a_length_on_a_length():
    lengths = {spread: spread.facts.lengths for spread in Spread if spread is not Spread.BEST}
    twice = {Spread.CROSSWISE_FOLD, Spread.TWO_LENGTHS}
    assert lengths == {spread: 2 if spread in twice else 1 for spread in lengths}


@pytest.mark.parametrize("record", [Cloth, Purchase, Remnant, Blocked, Repeat])
def test_records_of_cloth_are_neither_changed_nor_added_to(record):
    assert record.__dataclass_params__.frozen
    assert "__dict__" not in dir(record)


@pytest.mark.parametrize(
    ("spread", "double"), [(Spread.BEST, False), (Spread.OPEN, False), (Spread.PART_FOLD, True)]
)
def test_only_a_fold_that_is_asked_for_is_asked_for(spread, double):
    assert replace(FLANNEL, spread=spread).asked_double is double
