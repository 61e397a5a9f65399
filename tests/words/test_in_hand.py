"""What is said of a cloth in hand, as lengths that the person would measure."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Remnant
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.findings import Finding, PinnedTurned
from nesting.cutting.in_hand.asking import Answer, NotTried, TriedChange
from nesting.cutting.in_hand.change import LeaveOff, PartPairs, SeamForFold, SmallerAllowances, TurnAcross
from nesting.cutting.search.laying import Effort
from nesting.estimate.estimating import lay_project
from nesting.estimate.on_remnant import on_remnant
from nesting.project import PLAIN
from nesting.units import Unit
from nesting.words.answers import answer_words, figure_words
from nesting.words.in_hand import goes_on_words, rounded_up, small_piece_words
from nesting.words.verdict import verdict
from tests.conftest import box, make_piece, make_project, singles

QUICK = Effort(evaluations_per_placement=1000, walks=1)


def laid(length_mm, **changes):
    values = {"key": "main", "name": "wool", "width_mm": 1020.0, "step_mm": 1.0, "spread": Spread.OPEN}
    cloth = Cloth(remnants=(Remnant("", length_mm),), **(values | changes))
    project = make_project(make_piece("back", box(900, 400), singles(2)), cloth=cloth)
    return lay_project(project, effort=QUICK).estimates[0], project


def test_what_goes_on():
    done, project = laid(1000.0)
    assert verdict(done, project).startswith(
        "It all goes on, laid open: the lay takes 80 cm of the 96 cm there are"
    )
    assert (done.to_buy_mm, done.cost, done.lacking_mm) == (0.0, 0.0, 0.0)
    assert done.spare_mm == pytest.approx(160.0)
    assert goes_on_words(on_remnant(done.lay), Unit.CM) == "goes on, 16 cm left at the end"
    assert done.left is not None


def test_what_is_lacking_is_told_as_the_cloth_is_measured_now():
    """Of 700 mm 10 % are lost: 630 less the ends leave 590. 210 are lacking when washed, 233.3 now."""
    done, project = laid(700.0, shrinkage_along_pct=10.0)
    assert done.lacking_mm == pytest.approx(210.0, abs=0.01)
    assert "23.4 cm too short" in verdict(done, project)
    assert "Proven: laid open, no lay does with less than 80 cm." in verdict(done, project)
    assert done.left is None


def test_where_it_is_not_proven_that_none_goes_on_looking_longer_is_named():
    """The lay that was found is longer than the bound, which would go on."""
    done, project = laid(700.0)
    assert "--seconds" not in verdict(done, project)
    (section,) = done.lay.sections
    lay = replace(done.lay, sections=(replace(section, bound_mm=done.lay.cloth.room_mm - 1.0),))
    told = verdict(replace(done, lay=lay), project)
    assert "That none goes on is not proven: looking longer (--seconds 60) may find one." in told


def test_what_is_left_is_told_washed_as_the_lay_draws_it():
    """Of 1000 mm 10 % are lost: 900 less the ends leave 860, of which the lay takes 800."""
    done, _ = laid(1000.0, shrinkage_along_pct=10.0)
    assert done.spare_mm == pytest.approx(60.0, abs=0.01)
    assert goes_on_words(on_remnant(done.lay), Unit.CM) == "goes on, 6 cm left at the end"


def test_what_is_lacking_is_rounded_up():
    assert rounded_up(12.1, Unit.CM) == "1.3 cm"
    assert rounded_up(25.4, Unit.IN) == "1 in"
    assert rounded_up(25.6, Unit.IN) == "1 1/8 in"


def test_small_pieces():
    wish = SmallPiece("binding", "main", 35, 480, count=3, lie=Lie.BIAS)
    assert (
        small_piece_words(wish, 3, Unit.CM)
        == "'binding' (3.5 cm × 48 cm, on the bias) all 3 come out of the waste."
    )
    assert small_piece_words(wish, 2, Unit.CM).endswith(": 2 of 3 come out of the waste.")
    assert small_piece_words(wish, 0, Unit.CM).endswith("was not got out of the waste.")
    button = SmallPiece("button", "main", 45, 45, round=True)
    assert small_piece_words(button, 1, Unit.CM) == "'button' (4.5 cm across, round) comes out of the waste."


def test_the_cheapest_change_that_helps_is_named_with_what_to_write():
    cloth = Cloth(key="main", name="wool", width_mm=1000.0)
    changes = (
        TriedChange(TurnAcross("a"), 31.0),
        TriedChange(SeamForFold("b", "centre back"), 0.0),
        TriedChange(SmallerAllowances(2 / 3, 6.0), 0.0),
    )
    without = (TriedChange(LeaveOff("c"), 50.0, 40.0), TriedChange(LeaveOff("d"), 0.0))
    first, second = answer_words(Answer("main", changes, without), cloth, Unit.CM)
    assert first == (
        "What would make it go, the cheapest first: a seam at 'centre back' of 'b' instead of the fold. "
        "To do so: piece.b.on_fold = false."
    )
    assert second == "What fits: leave off 'd', and the rest goes on."
    assert figure_words(without[0], cloth, Unit.CM) == "at least 4 cm too short"
    assert figure_words(changes[0], cloth, Unit.CM) == "3.1 cm too short"
    nothing = Answer("main", changes[:1], without[:1])
    assert list(answer_words(nothing, cloth, Unit.CM)) == [
        "No single change that was tried makes it go; nearest comes: turn 'a' across the grain, 3.1 cm too "
        "short.",
        "To leave off 'c' is not enough.",
    ]
    *_, asked = answer_words(Answer("main", changes[:1], ()), cloth, Unit.CM)
    assert asked.endswith("Write may_be_left_off = true into it, and it is tried to leave it off.")


def test_wishes_not_met_by_one_remnant_are_looked_for_in_the_next():
    wish = SmallPiece("panel", "main", 390, 90, count=4, lie=Lie.ACROSS)
    cloth = Cloth(
        key="main",
        name="wool",
        width_mm=1020.0,
        step_mm=1.0,
        spread=Spread.OPEN,
        remnants=(Remnant("one", 440.0), Remnant("other", 440.0)),
    )
    project = make_project(make_piece("back", box(800, 400), singles(2)), cloth=cloth)
    first, second = lay_project(replace(project, from_waste=(wish,)), effort=QUICK).estimates
    assert first.left.asked[0].count == 4
    came_out = first.left.came_out(first.left.asked[0])
    assert 0 < came_out < 4
    assert second.left.asked[0].count == 4 - came_out


def test_what_has_no_figure_says_why():
    cloth = Cloth(key="main", name="wool", width_mm=1000.0)
    finding = Finding("", PLAIN, "main", Unit.CM, PinnedTurned("facing"))
    for why_not, told in (
        (NotTried.ENDED, "not tried, as you ended it"),
        (NotTried.TIME_UP, "not tried, as the time was up"),
        (finding, "'facing' is pinned turned, on a cloth on which it may not be turned."),
    ):
        tried = TriedChange(PartPairs("main"), None, why_not=why_not)
        assert figure_words(tried, cloth, Unit.CM) == told
