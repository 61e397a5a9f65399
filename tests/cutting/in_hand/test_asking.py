"""What would make it go: each single change is laid, and the one that was made for it helps."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.remnant import Remnant
from nesting.cutting.in_hand.asking import NotTried, what_would_do
from nesting.cutting.in_hand.change import (
    LeaveOff,
    PartPairs,
    PieceFromHalves,
    SeamForFold,
    SmallerAllowances,
    SpreadOtherwise,
    TurnAcross,
)
from nesting.cutting.in_hand.changes import changes
from nesting.cutting.in_hand.lay_in_hand import lay_in_hand
from nesting.cutting.search.laying import Effort
from nesting.packing.result import StopReason
from nesting.pattern.piece import Turn
from nesting.words.changes import how_to
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=4000, walks=1)


def on(length_mm, *pieces, **changes):
    values = {
        "key": "main",
        "name": "wool",
        "width_mm": 1020.0,
        "selvedge_mm": 10.0,
        "step_mm": 1.0,
    } | changes
    cloth = Cloth(remnants=(Remnant("", length_mm),), **values)
    return make_project(*pieces, cloth=cloth)


def facing(length_mm):
    """Something without which the garment is only less."""
    return make_piece("facing", box(60, length_mm), singles(), may_be_left_off=True)


def asked(project, **options):
    return what_would_do(project, project.cloths["main"], effort=QUICK, **options)


def outcome(answer):
    return {one.change: one.goes_on for one in answer.changes}


def test_a_facing_turned_across_the_grain():
    """The body is as wide as the cloth; a strip 900 along has to go behind it, across."""
    project = on(640.0, make_piece("body", box(1000, 500), singles()), facing(590))
    assert lay_in_hand(project, project.cloths["main"], effort=QUICK).lacking_mm == pytest.approx(490.0)
    answer = asked(project)
    helps = [one for one in answer.changes if one.goes_on]
    assert [one.change for one in helps] == [TurnAcross("facing")]
    assert how_to(helps[0].change) == 'piece.facing.turn = "quarter"'
    assert [(one.change, one.goes_on) for one in answer.without] == [(LeaveOff("facing"), True)]


def test_an_under_collar_pieced_from_two():
    """Beside the body are 150 mm over its length of 500; a collar 700 long goes there in halves only."""
    project = on(
        550.0,
        make_piece("body", box(850, 500), singles(), turn=Turn.NONE),
        make_piece("under collar", box(60, 700), singles(), turn=Turn.NONE),
        nap=Nap.ONE_WAY,
    )
    assert outcome(asked(project)) == {PieceFromHalves("under collar"): True}


def test_a_seam_instead_of_the_fold():
    """Two triangles nearly as wide as the cloth lie one behind the other, four halves side by side."""
    gore = make_piece("gore", [(0, 0), (490, 0), (0, 500)], on_fold(2), on_fold="edge 2")
    *others, fold = gore.edges
    gore = replace(gore, edges=(*others, replace(fold, allowance_mm=2.0)))
    answer = asked(on(560.0, gore))
    assert outcome(answer) == {SeamForFold("gore", "edge 2"): True}
    assert answer.without == ()


def test_another_spread():
    """After a fold an odd single needs a length of its own; laid open it goes beside the pair."""
    project = on(
        560.0,
        make_piece("panel", box(480, 500), pairs()),
        make_piece("flap", hook(480, 500), singles()),
        width_mm=1460.0,
        spread=Spread.LENGTHWISE_FOLD,
    )
    assert lay_in_hand(project, project.cloths["main"], effort=QUICK).lacking_mm > 400.0
    first = asked(project).changes[0]
    assert (first.change, first.goes_on) == (SpreadOtherwise("main", Spread.OPEN), True)
    assert how_to(first.change) == 'cloth.main.spread = "open"'


def test_a_pair_from_two_remnants():
    project = on(440.0, make_piece("sleeve", hook(900, 400), pairs()))
    cloth = project.cloths["main"]
    cloth = replace(cloth, remnants=(Remnant("one", 440.0), Remnant("other", 440.0)))
    first = asked(replace(project, cloths={"main": cloth})).changes[0]
    assert (first.change, first.goes_on) == (PartPairs("main"), True)
    assert how_to(first.change) == "cloth.main.part_pairs = true"


def test_a_smaller_allowance():
    """Two squares of 505 mm, 15 of it on either side, are too wide together; with 10 they are not."""
    square = make_piece("square", box(475, 475), singles(2), allowance_mm=15.0)
    assert outcome(asked(on(560.0, square))) == {SmallerAllowances(2 / 3, 6.0): True}


def test_changes_come_in_the_order_a_person_would_rather_make_them():
    project = on(
        700.0,
        make_piece("back", box(300, 500), on_fold(), on_fold="edge 3", allowance_mm=10.0),
        make_piece("collar", box(80, 300), singles(), allowance_mm=10.0),
        spread=Spread.OPEN,
    )
    kinds = [type(one.change) for one in changes(project, project.cloths["main"])]
    others = [TurnAcross, PieceFromHalves, SeamForFold, SmallerAllowances]
    assert kinds == [SpreadOtherwise] * kinds.count(SpreadOtherwise) + others


def test_nothing_is_turned_on_a_cloth_that_goes_one_way():
    project = on(
        700.0,
        make_piece("back", box(900, 500), singles()),
        make_piece("facing", box(60, 300), pairs()),
        nap=Nap.ONE_WAY,
    )
    made = changes(project, project.cloths["main"])
    assert not any(isinstance(one.change, TurnAcross) for one in made)


def test_what_is_proven_out_of_reach_is_told_as_such():
    project = on(
        400.0,
        make_piece("body", box(1000, 350), singles(2), may_be_left_off=True),
        make_piece("strip", box(30, 60), singles(), may_be_left_off=True),
    )
    answer = asked(project)
    assert all(one.least_mm > 0 for one in answer.changes)
    assert not any(one.goes_on for one in answer.without[:1])
    assert answer.without[-1].change == LeaveOff("body")


def test_what_is_the_garment_is_never_left_off():
    """Without its body the facing goes on, but nobody wants to read that."""
    whole = make_piece("body", box(1000, 600), singles(2))
    assert asked(on(640.0, whole, make_piece("patch", box(90, 90), singles()))).without == ()
    answer = asked(on(640.0, whole, facing(300)))
    assert [(one.change, one.goes_on) for one in answer.without] == [(LeaveOff("facing"), False)]


class Enough:
    """A stop rule that says so at once, as after Ctrl-C."""

    reason = StopReason.INTERRUPTED

    def __call__(self, progress):
        return True


def test_ctrl_c_and_time_leave_the_rest_untried():
    project = on(
        640.0, make_piece("body", box(1000, 500), singles()), make_piece("facing", box(60, 590), singles())
    )
    for answer, why in (
        (asked(project, until=Enough()), NotTried.ENDED),
        (asked(project, most_seconds=-1.0), NotTried.TIME_UP),
    ):
        assert {one.lacking_mm for one in answer.changes} == {None}
        assert {one.why_not for one in (*answer.changes, *answer.without)} == {why}


def test_each_is_told_when_it_has_been_tried():
    project = on(
        640.0, make_piece("body", box(1000, 500), singles()), make_piece("facing", box(60, 590), singles())
    )
    told = []
    answer = asked(project, on_change=told.append)
    assert tuple(told) == (*answer.changes, *answer.without)
