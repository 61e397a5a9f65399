"""The shopping list, worked out by hand from figures that are easy to add up."""

from dataclasses import replace
from types import MappingProxyType

import pytest

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.lay import Run
from nesting.estimate.figures import ClothFigures, ProjectFigures
from nesting.estimate.on_remnant import OnRemnant
from nesting.estimate.overview.shopping import shopping_list
from nesting.packing.result import StopReason
from nesting.project import Project
from nesting.units import Unit
from nesting.words.shopping import (
    ask_words,
    margin_words,
    price_words,
    remarks,
    rests_on,
    shares_words,
    totals,
)

CALICO = Cloth(key="sample", name="calico", width_mm=1500, price_per_m=4.0)
WOOL = Cloth(key="main", name="wool", width_mm=1400, nap=Nap.ONE_WAY, price_per_m=20.0, shrinkage_along_pct=4)


def figures(unwashed_mm, to_buy_mm, spare_mm=10.0, stopped=StopReason.TIME):
    opened = ((Run(Spread.OPEN, 1),),)
    return ClothFigures(
        0.0, 0.0, unwashed_mm, to_buy_mm, spare_mm, 0.0, 0.0, 0.0, 1, opened, stopped, rounds=1
    )


def project(title, *cloths, unit=Unit.CM, currency="€"):
    cloths, numbers = zip(*cloths, strict=True)
    made = Project(title, unit, currency, {cloth.key: cloth for cloth in cloths}, ())
    return ProjectFigures(
        made, MappingProxyType({cloth.key: one for cloth, one in zip(cloths, numbers, strict=True)})
    )


def test_each_cloth_says_what_to_ask_for_and_what_that_rests_on():
    (line,) = shopping_list([project("cape", (WOOL, figures(1570.0, 1600.0, 28.8)))]).lines
    assert (line.cloth, ask_words(line), price_words(line)) == (WOOL, "1.60 m", "€32.00")
    assert rests_on(line.uses[0]) == (
        "140 cm wide with selvedges of 1 cm; shrinks 4 % along, 0 % across; with nap, all tops one way; "
        "laid: open, one layer"
    )
    assert margin_words(line) == "2.9 cm over after washing, as the shop cuts in steps of 10 cm"
    assert shares_words(line) == ""


def test_hardly_any_margin_is_said_with_what_to_do():
    tight = shopping_list([project("coat", (CALICO, figures(1459.6, 1460.0, spare_mm=0.4)))])
    words = margin_words(tight.lines[0])
    assert words.startswith("No room to spare: less than 1 mm left over after washing")
    assert "ask for 10 cm more" in words
    assert "spare_at_least = 2" in words


def test_in_one_length_the_wish_to_spare_is_kept_once():
    careful = replace(CALICO, spare_at_least_mm=20.0)
    uses = [("coat", careful, figures(1440.0, 1500.0)), ("cape", CALICO, figures(1450.0, 1500.0))]
    (line,) = shopping_list([project(title, (cloth, its)) for title, cloth, its in uses]).lines
    assert line.ask_mm == 3000.0  # 2890 and 20 to spare
    uses[1] = ("cape", CALICO, figures(1545.0, 1600.0))
    (line,) = shopping_list([project(title, (cloth, its)) for title, cloth, its in uses]).lines
    assert line.ask_mm == 3100.0  # 2985 alone would be 3000


def test_yards_come_with_their_metres():
    eighth = replace(WOOL, step_mm=114.3, price_per_m=None)
    (line,) = shopping_list([project("cape", (eighth, figures(1400.0, 1485.9)), unit=Unit.IN)]).lines
    assert ask_words(line) == "1 5/8 yd (1.49 m)"


def test_one_cloth_for_two_projects_is_bought_in_one_length_and_rounded_up_once():
    """1.13 and 1.12 m: 2.40 m bought apart, 2.30 m in one length (2.25 m needed)."""
    jacket = project("jacket", (CALICO, figures(1130.0, 1200.0)))
    cape = project("cape", (replace(CALICO, key="main", name="Calico"), figures(1120.0, 1200.0)))
    shopping = shopping_list([jacket, cape])
    (line,) = shopping.lines
    assert (line.ask_mm, line.cost, line.margin_mm) == (2300.0, pytest.approx(9.2), pytest.approx(50.0))
    assert shares_words(line) == "in one length; each bought by itself: jacket 1.20 m, cape 1.20 m"
    assert totals(shopping) == ("All together: €9.20",)


@pytest.mark.parametrize(
    "other",
    [
        replace(CALICO, name="linen"),
        replace(CALICO, width_mm=1400),
        replace(CALICO, price_per_m=5.0),
        replace(CALICO, step_mm=50.0),
    ],
)
def test_what_differs_is_asked_for_by_itself(other):
    pair = [project("jacket", (CALICO, figures(1130, 1200))), project("cape", (other, figures(1130, 1200)))]
    assert len(shopping_list(pair).lines) == 2


def test_money_that_is_known_is_added_up_and_what_has_no_price_is_named():
    free = replace(CALICO, key="lining", name="voile", price_per_m=None)
    shopping = shopping_list([project("cape", (WOOL, figures(1, 1600)), (free, figures(1, 1000)))])
    assert totals(shopping) == ("Together, as far as prices are known: €32.00", "Without a price: voile")


def test_currencies_are_not_mixed():
    both = [
        project("cape", (WOOL, figures(1, 1600))),
        project("hood", (replace(WOOL, name="felt"), figures(1, 1000)), currency="£"),
    ]
    assert totals(shopping_list(both)) == ("All together: €32.00 and £20.00",)


def test_no_prices_at_all():
    free = replace(CALICO, price_per_m=None)
    shopping = shopping_list([project("cape", (free, figures(1, 1000)))])
    assert totals(shopping) == ("No prices are written down.",)


def test_a_cloth_in_hand_is_not_bought_but_named():
    have = replace(figures(1, 0.0), in_hand=(OnRemnant("felt", 140.0, 0.0),))
    shopping = shopping_list([project("cape", (WOOL, figures(1, 1600)), (CALICO, have))])
    assert [line.cloth.name for line in shopping.lines] == ["wool"]
    assert tuple(remarks(shopping)) == ("In hand: felt: 14 cm too short",)
    assert totals(shopping_list([project("cape", (CALICO, have))])) == ("Nothing has to be bought.",)


def test_an_interrupted_search_is_owned_up_to():
    assert shopping_list([project("cape", (WOOL, figures(1, 1600, stopped=StopReason.INTERRUPTED)))]).early
