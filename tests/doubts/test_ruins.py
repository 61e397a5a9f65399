"""Of many ruined pieces, how many are noticed: refused, or remarked on. `docs/check.md` tells the figures."""

import re

import pytest

from nesting.doubts.kinds import (
    Doubt,
    FarPoint,
    HighAllowance,
    LowAllowance,
    NearlyTouching,
    SharpBend,
    Slip,
)
from nesting.doubts.looking import piece_doubts, project_doubts
from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table
from nesting.units import Unit
from nesting.words.doubts import doubt_place, doubt_words
from tests.documents.pages import page, rows
from tests.doubts.ruins import (
    JACKET,
    SOUND,
    alone,
    counted,
    deep_allowances,
    lost_corners,
    moved_points,
    other_units,
    outcome,
)


@pytest.fixture(scope="module")
def moved():
    return counted(moved_points())


def noticed(counts, slip):
    """How many there were of a slip, refused, and remarked on."""
    refused, remarked, passed = (counts[slip, how] for how in ("refused", "remarked on", "let pass"))
    return refused + remarked + passed, refused, remarked


@pytest.mark.parametrize(("slip", "at_least"), [("swapped numbers", 0.86), ("slipped decimal point", 0.89)])
def test_most_points_that_were_miswritten_are_noticed(moved, slip, at_least):
    made, refused, remarked = noticed(moved, slip)
    assert made > 70
    assert remarked > 0.12 * made
    assert refused + remarked >= at_least * made


@pytest.mark.parametrize("ruins", [lost_corners, deep_allowances, other_units], ids=lambda one: one.__name__)
def test_these_are_all_noticed(ruins):
    passed = [(ruin.piece, ruin.what) for ruin in ruins() if outcome(ruin) == "let pass"]
    assert passed == []


def test_the_page_tells_how_many_were_noticed(moved):
    told = {
        cells[0]: cells[1:]
        for cells in rows(page("docs/check.md"))
        if cells[0] in {slip for slip, _ in moved}
    }
    assert set(told) == {"swapped numbers", "slipped decimal point"}
    for slip, cells in told.items():
        assert [int(cell) for cell in cells] == [*noticed(moved, slip)]


def test_the_page_tells_how_many_others_were_tried():
    told = " ".join(page("docs/check.md").split())
    (figures,) = re.findall(r"curve \((\d+) tried\), an allowance of 10 cm \((\d+)\) .* unit \((\d+)\)", told)
    made = (lost_corners, deep_allowances, other_units)
    assert [int(figure) for figure in figures] == [len(list(ruins())) for ruins in made]


def spoilt(name, **points):
    """What is remarked on in a piece of the jacket with some of its points elsewhere."""
    table, piece = alone(JACKET, name)
    piece["points"].update(points)
    (one,) = project_from_table(table).pieces
    return piece_doubts(one)


def test_a_point_whose_numbers_are_swapped():
    """It passed, and a slit ran through the sleeve."""
    (doubt,) = spoilt("top sleeve", a5=[53.7, 17.6])
    assert isinstance(doubt, FarPoint)
    assert (doubt.edge, doubt.point, doubt.slip) == ("sleeve head", "a5", Slip.SWAPPED)
    assert doubt.meant == pytest.approx((176.0, 537.0))


def refused(name, **points):
    """What is told of a piece of the jacket that cannot be used with some of its points elsewhere."""
    table, piece = alone(JACKET, name)
    piece["points"].update(points)
    with pytest.raises(BadInput) as caught:
        project_from_table(table)
    return caught.value.mistakes


def test_where_a_point_makes_the_outline_impossible_it_is_told_first():
    (told,) = refused("front", b3=[47.4, 10.3])
    assert told.where == "project, piece 'front', point 'b3'"
    assert "at (10.3, 47.4) cm nothing is wrong with this piece" in told.what
    assert "crosses" in told.remedy


def test_where_two_points_make_it_impossible_both_are_told_first():
    """With either put right alone, the outline still crosses itself."""
    first, second, *others = refused("front", b3=[47.4, 10.3], d2=[55.2, 23.9])
    assert first.where == "project, piece 'front', edge 'armhole', point 'b3'"
    assert second.where == "project, piece 'front', edge 'neck', point 'd2'"
    assert "Are its numbers swapped? (10.3, 47.4) cm" in first.remedy
    assert all("crosses" in one.what for one in others)


def test_nothing_is_guessed_of_an_outline_that_crosses_for_another_reason():
    table, piece = alone(JACKET, "pocket")
    piece["edges"]["left side"], piece["edges"]["right side"] = "A E", "B F"
    with pytest.raises(BadInput) as caught:
        project_from_table(table)
    assert not any("swapped" in one.remedy or "decimal" in one.remedy for one in caught.value.mistakes)


def test_a_neckline_and_an_armhole_as_one_curve():
    table, piece = alone(JACKET, "back")
    walks = piece["edges"]
    walks["neck"] = {"through": "B b1 b2 C D d1 d2 d3 d4 E", "curve": "smooth"}
    del walks["shoulder"], walks["armhole"]
    (one,) = project_from_table(table).pieces
    bends = piece_doubts(one)
    assert all(isinstance(bend, SharpBend) for bend in bends)
    assert [bend.point for bend in bends] == ["C", "D"]


def test_a_slit():
    """A cut from the hem nearly up to the neck, one millimetre wide."""
    table, piece = alone(JACKET, "back")
    piece["points"] |= {"X": [12, 0], "Y": [11.95, 30], "Z": [11.9, 0]}
    piece["edges"]["hem"]["through"] = "F X Y Z A"
    (one,) = project_from_table(table).pieces
    doubts = piece_doubts(one)
    assert any(isinstance(doubt, NearlyTouching | FarPoint) and doubt.edge == "hem" for doubt in doubts)


def test_a_neck_of_cloth_too_narrow_to_be_cut():
    table, piece = alone(JACKET, "pocket")
    piece["points"] |= {"K": [0, 11.5], "L": [5.95, 7], "M": [0, 2.6], "R": [6.05, 7], "S": [12, 11.5]}
    piece["edges"]["left side"] = "A K L M B"
    piece["edges"]["right side"] = "E R S F"
    (one,) = project_from_table(table).pieces
    (slit,) = piece_doubts(one)
    assert isinstance(slit, NearlyTouching)
    assert {slit.edge, slit.other} == {"left side", "right side"}
    assert slit.point in ("L", "R")
    assert slit.gap_mm == pytest.approx(1.0, abs=0.05)


def test_an_allowance_of_ten_centimetres():
    table, piece = alone(JACKET, "collar")
    piece["edges"]["neck"]["allowance"] = 3
    (one,) = project_from_table(table).pieces
    assert piece_doubts(one) == ()
    piece["edges"]["neck"]["allowance"] = 10
    (one,) = project_from_table(table).pieces
    (doubt,) = piece_doubts(one)
    assert doubt == HighAllowance("neck", 100.0, pytest.approx(doubt.depth_mm))


def test_centimetres_read_as_inches_are_told_by_the_cloth():
    doubts = project_doubts(project_from_table({**JACKET, "units": "in"}))
    assert [doubt.cloth for doubt in doubts if doubt.cloth] == ["main", "lining", "sample"]


@pytest.mark.parametrize(("per_cent", "told"), [(0.03, 1), (0.25, 1), (0.5, 0), (3, 0), (0, 0)])
def test_a_share_where_per_cent_are_meant(per_cent, told):
    main = {**JACKET["cloth"]["main"], "shrinkage": {"along": per_cent}}
    doubts = project_doubts(project_from_table({**JACKET, "cloth": {**JACKET["cloth"], "main": main}}))
    assert [doubt.cloth for doubt in doubts] == ["main"] * told
    for doubt in doubts:
        assert doubt.kind.pct == per_cent
        assert f"for {100 * per_cent:g} per cent?" in doubt_words(doubt.kind, Unit.CM)[1]


def test_narrow_allowances_of_a_whole_file_are_told_once():
    doubts = project_doubts(project_from_table({**SOUND, "units": "mm"}))
    assert [doubt.piece for doubt in doubts if isinstance(doubt.kind, LowAllowance)] == [""]


def test_a_size_is_told_where_its_points_are_the_slip():
    size = {"piece": {"top sleeve": {"points": {"a5": [54.4, 18.1]}}}}
    (doubt,) = project_doubts(project_from_table({**JACKET, "base_size": "92", "size": {"96": size}}))
    assert (doubt.size, doubt.piece, doubt.kind.point) == ("96", "top sleeve", "a5")


def test_the_words_name_point_edge_and_length():
    (kind,) = spoilt("top sleeve", a5=[53.7, 17.6])
    what, ask = doubt_words(kind, Unit.CM)
    assert re.match(r"'a5', \(53\.7, 17\.6\) cm, lies far from its neighbours: .* [\d.]+ cm longer", what)
    assert "(17.6, 53.7) cm" in ask
    told = doubt_place(Doubt(kind, piece="top sleeve"))
    assert told == "piece 'top sleeve', edge 'sleeve head', point 'a5'"
