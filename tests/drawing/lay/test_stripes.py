"""A matched cloth on the sheets: its lines, its points, and the words that go with them."""

import json
from dataclasses import replace

import pytest

from nesting.cloth.cloth import Spread
from nesting.cloth.repeat import Repeat
from nesting.cutting.flat.placing import numbered
from nesting.cutting.search.laying import Effort
from nesting.drawing.lay.figure import draw_lay
from nesting.drawing.lay.legend import legend_entries
from nesting.drawing.lay.repeat_lines import every_how_many
from nesting.drawing.pages.book import pdf_bytes
from nesting.drawing.pages.buying import cloth_facts
from nesting.drawing.pages.line_words import how_to_begin, line_reminders
from nesting.estimate.estimating import lay_project
from nesting.files.results.lay_json import estimate_json
from nesting.pattern.match import Axis
from nesting.units import Unit
from nesting.words.cloth import one_way_words
from nesting.words.matching import matching_words
from nesting.words.spreads import how_to_spread
from tests.cutting.plan.test_lines import CENTRE, CHECK, POCKET, SIDES, checked_cloth, tunic

LITTLE = Effort(evaluations_per_placement=1_000, walks=1)
LEVEL = replace(SIDES, axes=(Axis.ALONG,))


def worked_out(spread, *matches, repeat=CHECK):
    cloth = replace(checked_cloth(repeat, spread), begins_on_line=bool(matches))
    return lay_project(tunic(cloth, *matches), effort=LITTLE)


@pytest.fixture(scope="module")
def folded():
    return worked_out(Spread.LENGTHWISE_FOLD, LEVEL, CENTRE, POCKET)


def ids(estimate):
    return {artist.get_gid(): artist for artist in draw_lay(estimate, Unit.CM)}


def test_the_lines_of_a_check_are_drawn_a_repeat_apart_from_end_and_fold(folded):
    (estimate,) = folded.estimates
    drawn = ids(estimate)
    bars = [path.vertices for path in drawn["repeat-along"].get_paths()]
    stripes = [path.vertices for path in drawn["repeat-across"].get_paths()]
    assert bars[0][0, 0] == 0.0
    assert bars[1][0, 0] - bars[0][0, 0] == pytest.approx(80.0)
    assert stripes[0][0, 1] == 0.0
    assert stripes[1][0, 1] - stripes[0][0, 1] == pytest.approx(60.0)
    assert any(gid.endswith("-matching-point") for gid in drawn)


def test_only_the_direction_that_is_matched_has_lines():
    (estimate,) = worked_out(Spread.OPEN, LEVEL).estimates
    assert "repeat-along" in ids(estimate)
    assert "repeat-across" not in ids(estimate)


def test_a_cloth_on_which_nothing_is_matched_has_none():
    (estimate,) = worked_out(Spread.OPEN).estimates
    assert not any(gid.startswith("repeat-") for gid in ids(estimate))
    assert how_to_begin(estimate, Unit.CM) == ""
    assert list(line_reminders(estimate)) == []


def test_a_plain_cloth_shows_no_matching_points():
    (estimate,) = worked_out(Spread.OPEN, repeat=None).estimates
    assert not any(gid.endswith("-matching-point") for gid in ids(estimate))
    assert not any(
        "matching point" in entry.words for entry in legend_entries(estimate.lay, numbered(estimate.lay))
    )


def test_open_cloth_of_which_no_line_is_known_shows_where_its_points_meet():
    (estimate,) = worked_out(Spread.OPEN, POCKET).estimates
    stripes = [path.vertices[0, 1] for path in ids(estimate)["repeat-across"].get_paths()]
    pockets = [
        feature.vertices[0, 1]
        for item in numbered(estimate.lay)
        for feature in item.shape.features
        if feature.kind == "matching point"
        and item.placed.piece == "pocket"
        and item.placed.face == "face up"
    ]
    assert min(abs(stripe - pockets[0]) for stripe in stripes) < 0.01


def test_lines_that_lie_close_are_thinned_out():
    assert every_how_many(20.0, 4.0) == 2
    assert every_how_many(200.0, 4.0) == 1


def test_the_words_say_where_end_and_fold_must_lie(folded):
    (estimate,) = folded.estimates
    words = how_to_begin(estimate, Unit.CM)
    assert "Straighten the end along the middle of a main bar" in words
    assert "the next one 8 cm on" in words
    assert "Fold exactly on the middle of a stripe, or midway between two" in words
    assert "Pin the layers together line on line" in words
    assert any("Pin the two layers together" in reminder for reminder in line_reminders(estimate))


def test_a_pattern_is_folded_with_its_right_side_out_so_that_it_can_be_seen(folded):
    (estimate,) = folded.estimates
    assert "right side outside" in how_to_spread(estimate.lay, Unit.CM)


def test_on_open_cloth_nothing_is_said_of_folds_and_pins():
    (estimate,) = worked_out(Spread.OPEN, LEVEL).estimates
    words = how_to_begin(estimate, Unit.CM)
    assert "main bar" in words
    assert "Fold" not in words
    assert "Pin" not in words


def test_on_open_cloth_the_selvedge_that_the_line_was_measured_from_lies_near():
    (estimate,) = worked_out(Spread.OPEN, POCKET, repeat=replace(CHECK, line_mm=25.0)).estimates
    words = how_to_begin(estimate, Unit.CM)
    assert "first main stripe has its middle 2.5 cm from the outer edge of the near selvedge" in words


def test_an_uneven_pattern_says_that_it_forces_one_direction_and_why():
    (estimate,) = worked_out(Spread.OPEN, repeat=Repeat(80.0, 60.0, uneven=(Axis.ACROSS,))).estimates
    words = one_way_words(estimate.lay.cloth)
    assert "uneven across the cloth: it reads one way only, so every top lies towards the same end" in words
    assert "single layer" in words
    assert words in cloth_facts(estimate, Unit.CM)


def test_the_first_page_tells_repeat_straightening_and_cost(folded):
    (estimate,) = folded.estimates
    facts = cloth_facts(estimate, Unit.CM)
    assert "Its pattern comes again every 8 cm along and 6 cm across." in facts
    assert "a repeat of 8 cm among it" in facts
    assert "Matching its pattern costs" in matching_words(estimate, Unit.CM)


def test_the_sheets_can_be_made(folded):
    assert pdf_bytes(folded).startswith(b"%PDF")


def test_the_json_holds_meetings_and_cost(folded):
    (cloth,) = json.loads(estimate_json(folded))["cloths"]
    assert cloth["cloth"]["repeat"] == {"along_mm": 80.0, "across_mm": 60.0, "uneven": [], "line_mm": None}
    assert [(one["match"], one["direction"]) for one in cloth["meetings"]] == [
        ("side seams", "along"),
        ("centre front", "along"),
        ("centre front", "across"),
        ("pocket", "along"),
        ("pocket", "across"),
    ]
    centre = cloth["meetings"][2]
    assert centre["past_what"] == "main line"
    assert min(centre["past_mm"] % 30.0, 30.0 - centre["past_mm"] % 30.0) == pytest.approx(0.0, abs=0.01)
    assert cloth["matching"]["plain_to_buy_mm"] <= cloth["to_buy_mm"]
    assert cloth["matching"]["rules_of_thumb"][0]["rule"] == "a quarter more"
