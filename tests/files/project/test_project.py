import numpy as np
import pytest

from nesting.cloth.cloth import Nap, RightSide, Spread
from nesting.errors import BadInput
from nesting.files.project.reading import parse_project, read_project
from nesting.geometry import signed_area
from nesting.pattern.edges import outline_ring
from nesting.pattern.piece import CutKind, Turn
from nesting.pattern.shaping import cut_shape
from nesting.project import PLAIN
from nesting.units import Unit
from tests.files.conftest import DATA

SQUARE = """
units = "cm"
[cloth.main]
width = 150
[piece.square]
points = { A = [0, 0], B = [10, 0], C = [10, 10], D = [0, 10] }
cut = { main = 1 }
edges = { low = "A B", right = "B C", top = "C D", left = "D A" }
"""


@pytest.fixture
def waistcoat():
    return read_project(DATA / "waistcoat.toml")


def piece(project, name):
    return next(piece for piece in project.pieces if piece.name == name)


def version(project, name):
    return next(version for version in project.alternatives if version.version == name)


def test_head_of_the_file(waistcoat):
    assert (waistcoat.title, waistcoat.unit, waistcoat.currency) == ("Footman's waistcoat", Unit.CM, "£")
    assert (waistcoat.version, waistcoat.source) == (PLAIN, "waistcoat.toml")
    assert [p.name for p in waistcoat.pieces] == ["front", "back", "stay"]
    assert list(waistcoat.cloths) == ["main", "lining"]


def test_path_may_be_text():
    assert read_project(str(DATA / "waistcoat.toml")).title == "Footman's waistcoat"


def test_cloth_in_full(waistcoat):
    cloth = waistcoat.cloths["main"]
    assert (cloth.name, cloth.width_mm, cloth.selvedge_mm, cloth.step_mm) == ("red damask", 1400, 15, 100)
    assert (cloth.nap, cloth.right_side, cloth.spread) == (Nap.ONE_WAY, RightSide.ONE, Spread.BEST)
    assert (cloth.shrinkage_along_pct, cloth.shrinkage_across_pct) == (3, 1)
    assert (cloth.end_allowance_mm, cloth.gap_mm, cloth.price_per_m) == (30, 2, 18.5)


def test_cloth_that_says_only_its_width(waistcoat):
    cloth = waistcoat.cloths["lining"]
    assert (cloth.name, cloth.width_mm) == ("lining", 1143)
    assert (cloth.selvedge_mm, cloth.step_mm, cloth.end_allowance_mm) == (10, 100, 20)
    assert (cloth.nap, cloth.turn, cloth.price_per_m) == (Nap.EITHER_WAY, Turn.HALF, None)


def test_a_wish_to_spare_is_the_cloths_own_or_that_of_all_that_are_bought():
    text = SQUARE.replace("[cloth", "spare_at_least = 2\n\n[cloth", 1)
    more = "\n[cloth.velvet]\nwidth = 115\nspare_at_least = 5\n\n[cloth.rest]\nwidth = 90\nin_hand = 200\n"
    cloths = parse_project(text + more).cloths
    wishes = {key: cloth.spare_at_least_mm for key, cloth in cloths.items()}
    assert wishes == {"main": 20.0, "velvet": 50.0, "rest": 0.0}


def test_of_a_cloth_in_hand_no_more_can_be_bought():
    text = SQUARE.replace("width = 150", "width = 150\nin_hand = 200\nspare_at_least = 2")
    with pytest.raises(BadInput, match="a wish for how much more is bought"):
        parse_project(text)


def test_inches_bring_eighths_of_a_yard_and_prices_per_yard():
    # International yard of 1959, exact: 0.9144 m. 9.144 a yard is therefore 10 a metre.
    text = SQUARE.replace('"cm"', '"in"').replace("width = 150", "width = 60\nprice = 9.144")
    cloth = parse_project(text).cloths["main"]
    assert cloth.step_mm == pytest.approx(114.3)
    assert cloth.price_per_m == pytest.approx(10.0)


def test_lengths_carry_their_own_units(waistcoat):
    front = piece(waistcoat, "front")
    assert front.edge("armhole").allowance_mm == pytest.approx(15.875)
    assert front.edge("front edge").allowance_mm == 12
    assert front.edge("hem").allowance_mm == 40


def test_edges_chain_and_enclose_the_right_area():
    square = piece(parse_project(SQUARE), "square")
    assert abs(signed_area(outline_ring(square.edges))) == pytest.approx(10_000)
    assert [edge.name for edge in square.edges] == ["low", "right", "top", "left"]


def test_arc_through_three_points_is_part_of_a_circle():
    text = SQUARE.replace('"B C"', '{ through = ["B", "M", "C"], curve = "arc" }').replace(
        "A = [0, 0]", "A = [0, 0], M = [15, 5]"
    )
    bulge = piece(parse_project(text), "square").edge("right").vertices
    # Half a circle of 5 cm radius about (10, 5): every vertex lies on it.
    assert np.hypot(bulge[:, 0] - 100, bulge[:, 1] - 50) == pytest.approx(50)


@pytest.mark.parametrize(
    ("written", "degrees"),
    [('"up"', 90), ("45", 45), ("-45", 135), ("90", 0), ('"A B"', 0), ('["B", "C"]', 90), ('"C A"', -135)],
)
def test_grain(written, degrees):
    text = SQUARE.replace("cut =", f"grain = {written}\ncut =")
    assert piece(parse_project(text), "square").grain_deg == pytest.approx(degrees)


@pytest.mark.parametrize(
    ("written", "edge", "at"),
    [
        ('edge = "right", from_start = 3', "right", (100, 30)),
        ('edge = "right", from_end = 3', "right", (100, 70)),
        ('edge = "top", from_start = "1 in"', "top", (74.6, 100)),
        ("at = [10, 4]", "right", (100, 40)),
        ('at = [10.05, "40 mm"]', "right", (100, 40)),
        ('at = "C", edge = "top"', "top", (100, 100)),
    ],
)
def test_notch_places(written, edge, at):
    text = SQUARE.replace("cut =", f"notches = [ {{ {written} }} ]\ncut =")
    (notch,) = piece(parse_project(text), "square").notches
    assert notch.edge == edge
    assert notch.at == pytest.approx(at)


def test_marks_darts_and_points_with_spaces(waistcoat):
    front = piece(waistcoat, "front")
    assert front.darts[0].legs_and_tip == ((100, 200), (110, 320), (120, 200))
    assert [mark.points for mark in front.marks] == [((140, 150),), ((140, 150), (100, 200))]
    text = (
        SQUARE.replace("A = [0, 0]", '"low left" = [0, 0]')
        .replace('"A B"', '["low left", "B"]')
        .replace('"D A"', '["D", "low left"]')
    )
    assert len(piece(parse_project(text), "square").edges) == 4


def test_even_count_of_an_asymmetric_piece_is_pairs_and_a_note_says_so(waistcoat):
    count = piece(waistcoat, "stay").cuts["main"]
    assert (count.kind, count.number) == (CutKind.PAIR, 2)
    assert any("cut 4 of 'stay' read as 2 pairs" in note for note in waistcoat.notes)


def test_even_count_of_a_symmetric_piece_is_singles_without_a_note():
    project = parse_project(SQUARE.replace("main = 1", "main = 4"))
    assert project.pieces[0].cuts["main"].kind is CutKind.SINGLE
    assert project.notes == ()


def test_what_is_written_down_and_used_nowhere_is_noted():
    text = (
        SQUARE
        + """
[cloth.sample]
width = 150
[piece.spare]
points = { A = [0, 0], B = [10, 0], C = [10, 10] }
edges = { round = "A B C A" }
cut = { main = 0 }
"""
    )
    notes = " ".join(parse_project(text).notes)
    assert "piece 'spare' is cut from no cloth" in notes
    assert "no piece is cut from cloth 'sample'" in notes


def test_two_lines_cut_the_back_with_a_seam(waistcoat):
    plain, seam = piece(waistcoat, "back"), piece(version(waistcoat, "seam at centre back"), "back")
    assert (plain.on_fold, plain.cuts["lining"].kind, plain.cuts["lining"].number) == (
        "centre back",
        CutKind.ON_FOLD,
        1,
    )
    assert (seam.on_fold, seam.cuts["lining"].kind, seam.cuts["lining"].number) == (None, CutKind.PAIR, 1)
    # The half is wider by exactly the allowance that the fold edge declares.
    across = [float(np.ptp(cut_shape(p).cut_line[:, 1])) for p in (plain, seam)]
    assert across[1] - across[0] == pytest.approx(15)


def test_alternative_that_adds_a_fold_makes_a_pair_into_one_whole():
    text = SQUARE.replace("main = 1", 'main = "pair"') + '[alternative.fold]\npiece.square.on_fold = "left"'
    project = parse_project(text)
    count = project.alternatives[0].pieces[0].cuts["main"]
    assert (count.kind, count.number) == (CutKind.ON_FOLD, 1)
    assert any("'square'" in note for note in project.alternatives[0].notes)


def test_alternative_that_also_gives_a_count_is_taken_at_its_word():
    text = SQUARE.replace("main = 1", "main = 2") + (
        '[alternative.fold]\npiece.square.on_fold = "left"\npiece.square.cut.main = 2'
    )
    count = parse_project(text).alternatives[0].pieces[0].cuts["main"]
    assert (count.kind, count.number) == (CutKind.ON_FOLD, 2)


def test_fold_edge_of_a_cutting_line_piece_gets_an_allowance_as_a_seam():
    text = SQUARE.replace("cut =", 'outline = "cutting line"\non_fold = "left"\ncut =') + (
        "[alternative.seam]\npiece.square.on_fold = false"
    )
    project = parse_project(text)
    plain, seam = (cut_shape(p.pieces[0]).cut_line for p in (project, project.alternatives[0]))
    assert np.ptp(plain, axis=0) == pytest.approx([100, 100])
    assert np.ptp(seam, axis=0) == pytest.approx([100, 110])


def test_alternative_changes_what_it_names_and_nothing_else(waistcoat):
    narrow = version(waistcoat, "narrow cloth")
    assert (narrow.cloths["main"].width_mm, waistcoat.cloths["main"].width_mm) == (1150, 1400)
    assert narrow.cloths["main"].name == "red damask"
    assert piece(narrow, "front").edge("side").allowance_mm == 20
    assert piece(narrow, "front").edge("shoulder").allowance_mm == 12
    assert narrow.alternatives == ()


def test_alternative_may_change_the_allowance_of_the_whole_project():
    project = parse_project(SQUARE + "[alternative.wide]\nseam_allowance = 2")
    assert project.pieces[0].edges[0].allowance_mm == 10
    assert project.alternatives[0].pieces[0].edges[0].allowance_mm == 20


def test_windows_line_ends_and_byte_order_mark(tmp_path):
    file = tmp_path / "square.toml"
    file.write_bytes(b"\xef\xbb\xbf" + SQUARE.replace("\n", "\r\n").encode())
    assert read_project(file).title == "square"


def test_fold_edge_of_a_cutting_line_piece_may_say_which_allowance():
    text = SQUARE.replace("cut =", 'outline = "cutting line"\non_fold = "left"\ncut =').replace(
        '"D A"', '{ through = "D A", allowance = 2 }'
    )
    project = parse_project(text + "[alternative.seam]\npiece.square.on_fold = false")
    assert np.ptp(cut_shape(project.alternatives[0].pieces[0]).cut_line, axis=0) == pytest.approx([100, 120])


def test_alternative_that_makes_a_piece_one_sided_turns_its_count_into_pairs():
    """A symmetric pocket cut two is two alike; slanted, it is a left and a right."""
    text = SQUARE.replace("main = 1", "main = 2") + "[alternative.slanted]\npiece.square.points.C = [7, 12]"
    project = parse_project(text)
    assert project.pieces[0].cuts["main"].kind is CutKind.SINGLE
    assert project.alternatives[0].pieces[0].cuts["main"].kind is CutKind.PAIR


def test_alternative_that_lays_a_cut_edge_on_the_fold_warns_of_the_allowance_drawn_there():
    text = SQUARE.replace("main = 1 }", 'main = "pair" }\noutline = "cutting line"')
    (fold,) = parse_project(text + '[alternative.fold]\npiece.square.on_fold = "left"').alternatives
    assert any("edge 'left' is laid on the fold as it is drawn" in note for note in fold.notes)


def test_alternative_that_cuts_nothing_is_refused():
    with pytest.raises(BadInput, match="leaves no piece that is cut"):
        parse_project(SQUARE + "[alternative.nothing]\npiece.square.cut.main = 0")
