"""What matching costs, beside the same cloth plain and the rules of thumb."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.repeat import Repeat
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.estimate.estimating import lay_project
from nesting.estimate.figures import project_figures
from nesting.estimate.many.jobs import LayJob, work
from nesting.estimate.matching import end_to_end, matching_cost, plain_project
from nesting.pattern.match import Axis, Match
from nesting.pattern.piece import Mark
from nesting.words.matching import rule_words
from nesting.words.verdict import verdict
from tests.conftest import box, make_piece, make_project, singles

LITTLE = Effort(evaluations_per_placement=2_000)
LEVEL = Match("level", (("long", "foot"), ("short", "foot")), axes=(Axis.ALONG,))


def panels(repeat, **changes):
    """Two panels that fit one behind the other only, since the cloth is hardly wider than either."""
    foot = (Mark("foot", ((0, 0),)),)
    cloth = Cloth(
        key="main",
        name="bars",
        width_mm=500,
        selvedge_mm=0,
        end_allowance_mm=0,
        step_mm=10,
        spread=Spread.OPEN,
        repeat=repeat,
        begins_on_line=True,
        nap=Nap.ONE_WAY,
        **changes,
    )
    return make_project(
        make_piece("long", box(400, 510), singles(), matching=foot),
        make_piece("short", box(400, 480), singles(), matching=foot),
        cloth=cloth,
        matches=(LEVEL,),
    )


def test_panels_end_to_end_are_moved_to_the_next_bar():
    """The short one first: its 480 mm are not five repeats of 100 mm, yet the long one begins at the fifth.

    And a repeat is bought to find the first bar.
    """
    (estimate,) = lay_project(panels(Repeat(along_mm=100.0)), effort=LITTLE).estimates
    assert estimate.lay.length_mm == pytest.approx(500.0 + 510.0)
    assert estimate.to_buy_mm == pytest.approx(1110.0)
    cost = estimate.matching
    assert cost.plain_length_mm == pytest.approx(990.0)
    assert cost.plain_to_buy_mm == pytest.approx(990.0)
    assert cost.extra_mm == pytest.approx(120.0)


def test_rules_of_thumb_stand_beside_it():
    (estimate,) = lay_project(panels(Repeat(along_mm=100.0)), effort=LITTLE).estimates
    told = {rule_words(rule): rule.to_buy_mm for rule in estimate.matching.rules}
    assert told == {
        "a quarter more": pytest.approx(1240.0),
        "a quarter of a yard more": pytest.approx(1220.0),
        "a repeat for each of 2 matched pieces end to end": pytest.approx(1190.0),
    }


def test_half_a_yard_where_the_pattern_is_uneven():
    project = panels(Repeat(along_mm=100.0, uneven=(Axis.ALONG,)))
    (estimate,) = lay_project(project, effort=LITTLE).estimates
    assert "half a yard more" in map(rule_words, estimate.matching.rules)
    assert "Its pattern is uneven along the cloth: it reads one way only" in verdict(estimate, project)


def test_both_lays_are_sound():
    project = panels(Repeat(along_mm=100.0))
    plain = plain_project(project, project.cloths["main"])
    for one in (project, plain):
        lay = lay_cloth(one, one.cloths["main"], effort=LITTLE)
        assert faults(lay, one) == ()
    assert plain.matches == ()
    assert plain.cloths["main"].repeat is None


def test_a_matched_lay_is_a_lay_of_the_plain_cloth_too():
    """However little the plain cloth was searched, it needs no more than the matched one."""
    project = panels(Repeat(along_mm=100.0))
    matched = lay_cloth(project, project.cloths["main"], effort=LITTLE)
    other = plain_project(project, project.cloths["main"])
    worse = replace(
        lay_cloth(other, other.cloths["main"], effort=LITTLE),
        sections=(replace(matched.sections[0], length_mm=2000.0),),
    )
    assert matching_cost(matched, worse, project).plain_length_mm == matched.length_mm


def test_pieces_side_by_side_are_not_end_to_end():
    project = panels(Repeat(along_mm=100.0))
    wide = replace(project.cloths["main"], width_mm=900)
    side_by_side = replace(project, cloths={"main": wide})
    for one, number in ((project, 2), (side_by_side, 1)):
        lay = lay_cloth(one, one.cloths["main"], effort=LITTLE)
        assert end_to_end(lay, {"long", "short"}) == number


def test_nothing_is_said_of_a_plain_cloth(jacket_like):
    (estimate,) = lay_project(jacket_like, effort=LITTLE).estimates
    assert estimate.matching is None
    assert estimate.meetings == ()
    assert "Matching" not in verdict(estimate, jacket_like)


def test_the_verdict_tells_what_matching_costs():
    project = panels(Repeat(along_mm=100.0))
    (estimate,) = lay_project(project, effort=LITTLE).estimates
    said = verdict(estimate, project)
    assert "Matching costs 12 cm: the same cloth plain, laid and verified as well" in said
    assert "a quarter more, 1.24 m" in said


def test_where_the_points_lie_is_read_off_the_lay():
    (estimate,) = lay_project(panels(Repeat(along_mm=100.0)), effort=LITTLE).estimates
    (meeting,) = estimate.meetings
    assert (meeting.match.name, meeting.axis, meeting.from_line) == ("level", Axis.ALONG, True)
    assert min(meeting.past_mm, 100.0 - meeting.past_mm) == pytest.approx(0.0, abs=1e-3)


def test_a_job_of_a_matched_cloth_gives_the_same_figures():
    project = panels(Repeat(along_mm=100.0))
    whole = project_figures(lay_project(project, effort=LITTLE))
    assert work(LayJob.of(project, "main", LITTLE)) == whole.cloths["main"]
    bare = replace(project, matches=())
    assert LayJob.of(project, "main", LITTLE).key != LayJob.of(bare, "main", LITTLE).key
