"""Flaws on the lay, and what is left: where they are drawn, and that the marks are explained."""

from dataclasses import replace

import numpy as np
import pytest
from matplotlib.figure import Figure

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cloth.waste import SmallPiece
from nesting.cutting.flat.placing import numbered
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.drawing.ink.look import FLAW_HATCH
from nesting.drawing.lay.blocked import seen_blocked
from nesting.drawing.lay.figure import draw_lay
from nesting.drawing.lay.left_picture import draw_left, left_png_bytes
from nesting.drawing.lay.legend import legend_entries
from nesting.drawing.pages.book import book_of
from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.estimating import estimate_lay
from nesting.units import Unit, format_length
from tests.conftest import box, make_piece, make_project, pairs

HOLE = Blocked("moth hole", ((620.0, 300.0), (660.0, 300.0), (660.0, 340.0), (620.0, 340.0)))
CORNER = Blocked("", ((900.0, 1020.0), (1040.0, 800.0), (1040.0, 1020.0)), missing=True)


def estimate(spread, wishes=(), hole=HOLE):
    cloth = Cloth(
        key="main",
        name="damask",
        width_mm=1020.0,
        step_mm=1.0,
        spread=spread,
        remnants=(Remnant("", 1040.0, None, (hole, CORNER)),),
    )
    project = make_project(make_piece("front", box(300, 400), pairs()), cloth=cloth)
    project = replace(project, from_waste=tuple(wishes))
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=0, walks=1))
    return estimate_lay(lay, project, wishes), project


@pytest.mark.parametrize(
    ("spread", "words", "low", "high"),
    [
        (Spread.OPEN, "moth hole", (600.0, 290.0), (640.0, 330.0)),
        # Folded at 510 from the selvedge: 300 to 340 comes to lie 170 to 210 from the fold, turned over.
        (Spread.LENGTHWISE_FOLD, "moth hole, upper layer", (600.0, 170.0), (640.0, 210.0)),
        # Folded at 500 between the straightened ends: 600 to 640 comes back to 360 to 400.
        (Spread.CROSSWISE_FOLD, "moth hole, upper layer", (360.0, 290.0), (400.0, 330.0)),
        # The half from 500 on is laid over the other, turned over across: 1010 - 340 to 1010 - 300.
        (Spread.TWO_LENGTHS, "moth hole, upper layer", (100.0, 670.0), (140.0, 710.0)),
    ],
)
def test_a_flaw_is_seen_where_it_comes_to_lie(spread, words, low, high):
    done, _ = estimate(spread)
    (hole,) = [one for one in seen_blocked(done.lay, 1000.0) if not one.missing]
    assert hole.words == words
    assert hole.outline.min(axis=0) == pytest.approx(low)
    assert hole.outline.max(axis=0) == pytest.approx(high)


def test_the_lay_shows_hatched_flaws_with_their_words():
    done, _ = estimate(Spread.OPEN)
    drawn = {artist.get_gid(): artist for artist in draw_lay(done, Unit.CM)}
    assert drawn["flaw-1"].get_hatch() == FLAW_HATCH
    assert drawn["flaw-1-words"].get_text() == "moth hole"
    assert drawn["flaw-2-words"].get_text() == "cut away"
    assert not drawn["flaw-2"].get_hatch()


def test_what_is_kept_clear_of_a_flaw_is_drawn_round_it_and_explained():
    done, _ = estimate(Spread.LENGTHWISE_FOLD, hole=replace(HOLE, keep_off_mm=5.0))
    (hole,) = [one for one in seen_blocked(done.lay, 1000.0) if not one.missing]
    (clear,) = hole.clear
    assert clear.min(axis=0) == pytest.approx((595.0, 165.0))
    assert clear.max(axis=0) == pytest.approx((645.0, 215.0))
    drawn = {str(artist.get_gid()) for artist in draw_lay(done, Unit.CM)}
    assert [name for name in drawn if name.startswith("flaw-") and name.endswith("-clear")]
    words = " ".join(entry.words for entry in legend_entries(done.lay, numbered(done.lay)))
    assert "dotted, round a flaw: no cutting line comes nearer" in words


def test_the_legend_tells_what_the_hatching_means():
    done, _ = estimate(Spread.OPEN)
    words = " ".join(entry.words for entry in legend_entries(done.lay, numbered(done.lay)))
    assert "a flaw; no piece lies over it" in words
    assert "cut away already" in words


def test_what_is_left_is_drawn_with_sizes_names_and_letters():
    wishes = (
        SmallPiece("panel", "main", 200, 250),
        SmallPiece("button", "main", 20, 20, round=True, count=2),
    )
    done, _ = estimate(Spread.LENGTHWISE_FOLD, wishes)
    ax = Figure(figsize=(11, 11)).add_axes((0, 0, 1, 1))
    drawn = {artist.get_gid(): artist for artist in draw_left(done, Unit.CM, ax=ax)}
    first = done.left.rectangles[0]
    sides = f"{format_length(first.along_mm, Unit.CM)} × {format_length(first.across_mm, Unit.CM)}"
    assert drawn["left-1-words"].get_text() == sides.replace(" cm", "", 1)
    corners = drawn["left-1"].get_xy()[:4]
    assert np.ptp(corners[:, 0]) * np.ptp(corners[:, 1]) == pytest.approx(first.along_mm * first.across_mm)
    assert drawn["small-1-words"].get_text() == "panel"
    assert drawn["small-2-words"].get_text() == "B"
    assert {"flaw-1", "cut-1", "cut-2"} <= set(drawn)


def test_the_same_left_over_gives_the_same_picture():
    done, _ = estimate(Spread.OPEN)
    assert left_png_bytes(done, Unit.CM) == left_png_bytes(done, Unit.CM)


def test_the_sheets_have_a_page_on_what_is_left_and_nothing_to_buy():
    done, project = estimate(Spread.OPEN)
    book = book_of(ProjectEstimate(project, (done,)))
    told = [text.get_text() for sheet in book.sheets for ax in sheet.figure.axes for text in ax.texts]
    assert "damask: what is left" in told
    assert any("Nothing is bought" in text for text in told)
    assert any("104 cm in hand" in text for text in told)
