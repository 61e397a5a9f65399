"""Allowances, names and sides on the lay: there where there is room, else in the list."""

from dataclasses import replace

import pytest
import shapely
from matplotlib.text import Text

from nesting.cloth.cloth import RightSide, Spread
from nesting.cutting.flat.placing import numbered
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import A4
from nesting.drawing.lay.figure import draw_lay
from nesting.drawing.pages.marks_table import marks_book, sides_unknown
from nesting.estimate.estimating import estimate_lay
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.pattern.piece import Side
from nesting.pattern.shaping import cut_shape
from nesting.units import Unit

FIRST = Effort(evaluations_per_placement=0, walks=1)
JACKET = parse_project(example_text())


def laid(spread=Spread.OPEN, pieces=("front", "top sleeve"), **changes):
    cloth = replace(JACKET.cloths["sample"], spread=spread, **changes)
    named = [piece for piece in JACKET.pieces if piece.name in pieces]
    kept = tuple(replace(piece, cuts={"sample": piece.cuts["sample"]}) for piece in named)
    project = replace(JACKET, cloths={"sample": cloth}, pieces=kept, alternatives=())
    return estimate_lay(lay_cloth(project, cloth, effort=FIRST), project)


@pytest.fixture(scope="module")
def estimate():
    return laid()


@pytest.fixture(scope="module")
def written(estimate):
    """What is written on each piece, by its number: allowances, names and letters."""
    texts = [artist for artist in draw_lay(estimate, Unit.CM) if isinstance(artist, Text)]
    return {
        item.number: {
            what: [one for one in texts if one.get_gid() == f"piece-{item.number}-{what}"]
            for what in ("allowance", "name", "letter", "words")
        }
        for item in numbered(estimate.lay)
    }


def test_allowances_are_on_the_pieces_in_figures(estimate, written):
    for item in numbered(estimate.lay):
        told = {text.get_text() for text in written[item.number]["allowance"]}
        assert told >= ({"1", "4"} if item.placed.piece == "front" else {"1", "3"})


def test_a_figure_stands_beside_an_edge_of_that_allowance(estimate, written):
    for item in numbered(estimate.lay):
        for text in written[item.number]["allowance"]:
            at = shapely.Point(text.get_position())
            near = min(item.shape.seams, key=lambda seam: at.distance(shapely.LineString(seam.vertices)))
            assert text.get_text() == f"{near.allowance_mm / 10:g}"


def test_every_notch_dart_and_mark_has_its_name_or_its_letter(estimate, written):
    for item in numbered(estimate.lay):
        on_it = written[item.number]
        told = [text.get_text() for text in (*on_it["name"], *on_it["letter"])]
        front = item.placed.piece == "front"
        assert len(told) == (13 if front else 3)
        assert "front of the sleeve" in told
        assert told.count("buttonhole") <= 1


def test_left_and_right_are_told_where_the_file_says_which_is_drawn(estimate, written):
    sides = {item.number: item.side for item in numbered(estimate.lay) if item.placed.piece == "front"}
    assert sorted(sides.values()) == [Side.LEFT, Side.RIGHT]
    for item in numbered(estimate.lay):
        words = " ".join(text.get_text() for text in written[item.number]["words"])
        if item.side is not None:
            assert str(item.side) in words
            assert (item.side is Side.LEFT) == (item.placed.face == "face down")  # the right one is drawn
    assert sides_unknown(numbered(estimate.lay), estimate.lay.cloth) == ("top sleeve",)


def test_of_a_pair_cut_at_once_and_of_cloth_without_a_wrong_side_no_side_is_told():
    for changes in ({"spread": Spread.LENGTHWISE_FOLD}, {"right_side": RightSide.BOTH}):
        done = laid(**changes, pieces=("front",))
        assert [item.side for item in numbered(done.lay)] == [None] * len(numbered(done.lay))
        assert sides_unknown(numbered(done.lay), done.lay.cloth) == ()


def test_the_list_tells_the_corner_that_a_small_square_stands_for():
    pieces = [piece for piece in JACKET.pieces if piece.name in ("collar", "pocket")]
    with drawing_settings():
        (sheet,) = marks_book([cut_shape(piece) for piece in pieces], Unit.CM, A4).sheets
    said = " ".join(text.get_text() for text in sheet.ax.texts)
    assert said.count("small square: the corner to lay by, front end / outer edge") == 1
    assert "collar 0.6 cm; centre back 1 cm" in said
