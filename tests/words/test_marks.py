"""The list of a piece: its allowances, and letters for what is marked on it."""

from dataclasses import replace

from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import Notch
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from nesting.units import Unit
from nesting.words.marks import allowance_figure, allowance_words, mark_words, marked

PIECES = {piece.name: piece for piece in parse_project(example_text()).pieces}
JACKET = {name: cut_shape(piece) for name, piece in PIECES.items()}


def test_the_allowance_of_most_of_the_outline_stands_first():
    assert allowance_words(JACKET["front"], Unit.CM) == "1 cm; hem 4 cm; neck 0.6 cm"
    assert allowance_words(JACKET["collar"], Unit.CM) == "0.6 cm; centre back 1 cm"


def test_a_paper_that_has_its_allowance_says_so():
    assert allowance_words(JACKET["hanger loop"], Unit.CM) == "on the paper"


def test_a_piece_opened_out_names_no_edge_twice():
    assert allowance_words(unfolded(JACKET["back"]), Unit.CM) == allowance_words(JACKET["back"], Unit.CM)


def test_figures_bear_no_unit():
    assert [allowance_figure(mm, Unit.CM) for mm in (0.0, 6.0, 40.0)] == ["0", "0.6", "4"]
    assert allowance_figure(15.875, Unit.IN) == "5/8"


def test_letters_go_by_kind_and_what_has_one_name_has_one_letter():
    marks = marked(JACKET["front"])
    assert [one.letter for one in marks] == list("abcdefghi")
    assert [one.kind for one in marks[:3]] == [FeatureKind.NOTCH] * 3
    assert (marks[-1].name, len(marks[-1].features)) == ("buttonhole", 5)
    assert mark_words(marks) == (
        "notches: a waist, b front of the sleeve, c end of the collar; darts: d bust, e waist, upper half, "
        "f waist, lower half; marks: g centre front, h pocket place, i buttonhole (5)"
    )


def test_nothing_marked_is_nothing_said():
    assert mark_words(marked(JACKET["pocket"])) == ""


def test_a_notch_on_the_fold_is_one_notch_when_the_piece_is_opened_out():
    back = PIECES["back"]
    middle = back.edge("centre back").vertices.mean(axis=0)
    pleat = Notch("top of the pleat", "centre back", (float(middle[0]), float(middle[1])))
    whole = unfolded(cut_shape(replace(back, notches=(*back.notches, pleat))))
    counts = {one.name: len(one.features) for one in marked(whole) if one.kind is FeatureKind.NOTCH}
    assert counts == {"back seam of the sleeve": 2, "waist": 2, "top of the pleat": 1}
