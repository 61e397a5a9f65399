"""Repeats and matches in the project file."""

import pytest

from nesting.errors import BadInput
from nesting.files.project.reading import parse_project
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.match import Axis
from nesting.pattern.shaping import cut_shape

TEXT = """
units = "cm"
seam_allowance = 1.5
[cloth.main]
width = 150
repeat = { along = 8, across = "6 cm", uneven = "along", line = 2.5 }
[cloth.lining]
width = 140
[[match]]
name = "side seams"
points = { front = "waist", back = "waist" }
repeat = "along"
[[match]]
points = { pocket = "corner", front = "p" }
on_line = true
[piece.front]
points = { A = [0, 0], B = [30, 0], C = [30, 60], D = [0, 60], p = [8, 15] }
cut = { main = "pair", lining = "pair" }
edges = { hem = { through = "A B", allowance = 4 }, middle = "B C", top = "C D", side = "D A" }
notches = [ { edge = "side", from_end = 25, name = "waist" } ]
[piece.back]
points = { A = [0, 0], B = [28, 0], C = [28, 61], D = [0, 61] }
cut = { main = 1, lining = 1 }
on_fold = "middle"
edges = { hem = { through = "A B", allowance = 4 }, side = "B C", top = "C D", middle = "D A" }
notches = [ { edge = "side", from_start = 25, name = "waist" } ]
[piece.pocket]
points = { A = [0, 0], B = [14, 0], C = [14, 16], D = [0, 16] }
cut = { main = 2 }
edges = { bottom = "A B", right = "B C", top = "C D", left = "D A" }
marks = [ { name = "corner", through = "A" } ]
"""


def test_a_repeat_is_read_as_sold():
    cloth = parse_project(TEXT).cloths["main"]
    assert (cloth.repeat.along_mm, cloth.repeat.across_mm, cloth.repeat.line_mm) == (80.0, 60.0, 25.0)
    assert cloth.repeat.uneven == (Axis.ALONG,)
    assert cloth.begins_on_line
    assert not parse_project(TEXT).cloths["lining"].begins_on_line


def test_a_match_names_notches_marks_and_points():
    project = parse_project(TEXT)
    sides, pocket = project.matches
    assert (sides.name, sides.axes, sides.on_line) == ("side seams", (Axis.ALONG,), False)
    assert (pocket.name, pocket.axes, pocket.on_line) == ("pocket and front", (), True)
    assert [mark.name for mark in project.pieces[0].matching] == ["waist", "p"]


def test_points_are_taken_on_the_stitching_line_though_notches_move_out():
    front = cut_shape(parse_project(TEXT).pieces[0])
    notch = next(feature for feature in front.features if feature.kind is FeatureKind.NOTCH)
    waist = next(feature for feature in front.features if feature.kind is FeatureKind.MATCH)
    assert abs(notch.vertices[0] - waist.vertices[0]).max() == pytest.approx(15.0)


def test_a_matched_corner_makes_left_and_right_differ():
    assert any("2 of 'pocket' read as 1 pair" in note for note in parse_project(TEXT).notes)


def test_an_alternative_can_be_the_same_cloth_plain():
    text = TEXT + "\n[alternative.plain-cloth]\ncloth.main.repeat = false\n"
    (plain,) = parse_project(text).alternatives
    assert plain.cloths["main"].repeat is None
    assert not plain.cloths["main"].begins_on_line
    assert "no cloth has a repeat, so nothing is matched" in plain.notes


def test_an_alternative_without_the_pocket_keeps_the_other_matches():
    text = TEXT + "\n[alternative.bare]\npiece.pocket.cut.main = 0\n"
    (bare,) = parse_project(text).alternatives
    assert len(bare.matches) == 2


def test_what_meets_to_within_a_millimetre_is_noted():
    text = TEXT.replace("from_start = 25", "from_start = 25.06")
    text += '\n[[match]]\nname = "hem"\npoints = { front = "A", back = "B" }\nrepeat = "along"\n'
    assert any("match 'hem'" in note and "to within 0.6 mm" in note for note in parse_project(text).notes)


def test_all_that_is_wrong_with_stripes_is_told_at_once():
    text = TEXT.replace('across = "6 cm"', "across = 155").replace('back = "waist"', 'back = "wiast"')
    text += '\n[[match]]\npoints = { lid = "A" }\n[[match]]\npoints = { front = "A" }\ncloth = "silk"\n'
    with pytest.raises(BadInput) as caught:
        parse_project(text, source="coat.toml")
    assert [mistake.where for mistake in caught.value.mistakes] == [
        "coat.toml, cloth 'main', repeat",
        "coat.toml, piece 'back', match 'side seams'",
        "coat.toml, match 'lid'",
        "coat.toml, match 'front'",
    ]
