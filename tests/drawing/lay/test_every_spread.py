"""Every spread as it is drawn and told: folds, edges, layers, and how to make it."""

from dataclasses import replace

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from nesting.cloth.cloth import RightSide, Spread
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.drawing.lay.figure import draw_lay, ground_of
from nesting.drawing.pages.book import book_of
from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.estimating import estimate_lay
from nesting.units import Unit
from nesting.words.spreads import how_to_spread, section_words
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

PROJECT = make_project(
    make_piece("back", box(180, 500), on_fold(), on_fold="edge 3"),
    make_piece("yoke", box(200, 260), on_fold(), on_fold="edge 3"),
    make_piece("front", hook(230, 500), pairs()),
    make_piece("welt", hook(60, 150), singles()),
)


def spread_so(spread, **changes):
    cloth = replace(PROJECT.cloths["main"], spread=spread, **changes)
    if spread is Spread.TUBE:
        cloth = replace(cloth, tube=True, selvedge_mm=0.0, width_mm=510.0)
    project = replace(PROJECT, cloths={"main": cloth})
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=0, walks=1))
    return estimate_lay(lay, project), project


def drawn(estimate):
    return {artist.get_gid(): artist for artist in draw_lay(estimate, Unit.CM)}


@pytest.mark.parametrize(
    ("spread", "edges"),
    [
        (Spread.PART_FOLD, {"stretch-1-fold-edge", "stretch-1-inner-selvedge-edge"}),
        (
            Spread.DOUBLE_FOLD,
            {"stretch-1-fold-edge", "stretch-1-far-fold-edge", "stretch-1-inner-selvedge-edge"},
        ),
        (Spread.CROSSWISE_FOLD, {"stretch-2-crosswise-fold", "stretch-1-near-selvedge-edge"}),
        (Spread.TUBE, {"stretch-1-fold-edge", "stretch-1-far-fold-edge", "stretch-2-near-cut-edge"}),
    ],
)
def test_folds_and_edges_are_drawn_where_the_cloth_has_them(spread, edges):
    assert edges <= drawn(spread_so(spread)[0]).keys()


@pytest.mark.parametrize("spread", [Spread.PART_FOLD, Spread.DOUBLE_FOLD])
def test_how_many_layers_is_told_beside_each_zone(spread):
    estimate, _ = spread_so(spread)
    artists = drawn(estimate)
    for number, section in enumerate(estimate.lay.stretches[0], start=1):
        words = artists[f"section-{number}-layers"].get_text()
        assert words in ("two layers" if section.layers == 2 else "one layer", str(section.layers))


def test_a_crosswise_fold_alone_ends_in_the_fold_and_its_spare_lies_double():
    cloth = replace(PROJECT.cloths["main"], spread=Spread.CROSSWISE_FOLD, step_mm=500.0)
    project = make_project(make_piece("front", hook(700, 410), pairs()), cloth=cloth)
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=0, walks=1))
    estimate = estimate_lay(lay, project)
    artists = drawn(estimate)
    assert "last-cut-end" not in artists
    assert artists["first-cut-end-words"].get_text().startswith("both cut ends")
    assert artists["last-cut-end-words"].get_text() == "fold"
    ground = ground_of(estimate)
    # Twice from the cut ends to the fold is all that is bought; nothing shrinks here.
    assert 2 * (ground.x1 - ground.x0) == pytest.approx(estimate.to_buy_mm)


def test_the_fold_depth_is_said_in_the_persons_unit():
    estimate, _ = spread_so(Spread.PART_FOLD)
    depth = estimate.lay.sections[0].width_mm + 10.0
    assert f"Fold the near selvedge over by {depth / 10:g} cm" in how_to_spread(estimate.lay, Unit.CM)


def test_what_is_cut_off_first_is_said_with_its_length_and_place_on_the_tape():
    lay = spread_so(Spread.TWO_LENGTHS)[0].lay
    opened = lay.stretches[1][0]
    told = how_to_spread(lay, Unit.CM)
    assert told.startswith(f"First cut {(opened.length_mm + 20) / 10:g} cm off one end")
    assert f"at {opened.start_mm / 10:g} cm on the tape" in told
    assert "turn the upper length end for end" in told


def test_nothing_is_said_of_the_right_side_where_both_faces_are_alike():
    for spread in (Spread.PART_FOLD, Spread.DOUBLE_FOLD, Spread.CROSSWISE_FOLD, Spread.LENGTHWISE_FOLD):
        lay = spread_so(spread, right_side=RightSide.BOTH)[0].lay
        assert "right side" not in how_to_spread(lay, Unit.CM)
        assert not any("right side" in section_words(section, lay.cloth) for section in lay.sections)


@pytest.mark.parametrize("spread", [spread for spread in Spread if spread is not Spread.BEST])
def test_the_sheets_of_every_spread_hold_a_table_for_each_zone(spread):
    estimate, project = spread_so(spread)
    book = book_of(ProjectEstimate(project, (estimate,)))
    words = " ".join(text.get_text() for sheet in book.sheets for text in sheet.ax.texts)
    for section in estimate.lay.sections:
        if section.placed:
            told = section_words(section, estimate.lay.cloth)
            assert told.split(",")[0].lower() in words.lower()


def test_a_title_of_two_lines_stays_below_the_words_above_it():
    """A short lay of wide cloth is drawn narrow, and the words of a part fold are long."""
    estimate, project = spread_so(Spread.PART_FOLD, width_mm=3000.0)
    (sheet,) = [
        sheet
        for sheet in book_of(ProjectEstimate(project, (estimate,))).sheets
        if any(text.get_text().endswith(": the lay") for text in sheet.ax.texts)
    ]
    renderer = FigureCanvasAgg(sheet.figure).get_renderer()
    drawing = sheet.figure.axes[1]
    titles = [text for text in drawing.texts if text.get_gid() == "stretch-1-title"]
    assert len(titles) > 1
    top = max(text.get_window_extent(renderer).y1 for text in titles)
    above = [text.get_window_extent(renderer).y0 for text in sheet.ax.texts]
    frame = drawing.get_window_extent(renderer)
    assert top <= frame.y1
    assert top <= min(y for y in above if y > frame.y1 - 1)
