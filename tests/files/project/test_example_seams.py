"""The jacket that ships sews together: what a cutter measures before trusting a pattern.

Lengths are shapely's, mm. How much longer one side of a seam may be is common practice, no source.
"""

import pytest
import shapely

from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.pattern.piece import CutKind
from nesting.pattern.shaping import cut_shape

SAME_MM = 2.0
"""Seams of one length differ by no more: a pencil line on each side."""


SIZES = [84, 88, 92, 96, 100, 104]
"""By their bust, in cm; the jacket that ships alone is drawn in 92."""


@pytest.fixture(scope="module", params=[None, *SIZES], ids=lambda size: f"size {size}" if size else "alone")
def bust_cm(request):
    return request.param


@pytest.fixture(scope="module")
def six_sizes():
    return parse_project(example_text("jacket-sizes"), source="jacket-sizes.toml")


@pytest.fixture(scope="module")
def jacket(bust_cm, six_sizes):
    if bust_cm is None:
        return parse_project(example_text("jacket"), source="jacket.toml")
    return next(size for size in six_sizes.sizes if size.size == str(bust_cm))


@pytest.fixture(scope="module")
def pieces(jacket):
    return {piece.name: piece for piece in jacket.pieces}


@pytest.fixture(scope="module")
def run(pieces):
    """``run("back", "side")``: the seam line, as drawn."""
    return lambda piece, edge: shapely.LineString(pieces[piece].edge(edge).vertices)


@pytest.fixture(scope="module")
def station(pieces, run):
    """``station("back", "side", "waist")``: how far along the edge, from its start, the notch sits."""

    def find(piece, edge, name):
        (notch,) = (n for n in pieces[piece].notches if (n.edge, n.name) == (edge, name))
        return run(piece, edge).project(shapely.Point(notch.at))

    return find


@pytest.fixture(scope="module")
def front_neck_mm(run, station):
    """From the shoulder to centre front, where the collar ends; the neck edge runs on to the front edge."""
    return station("front", "neck", "end of the collar")


def test_side_seams_meet_once_the_bust_dart_is_sewn(run):
    front = run("front", "side below the dart").length + run("front", "side above the dart").length
    assert front == pytest.approx(run("back", "side").length, abs=SAME_MM)


def test_waist_notches_meet_measured_from_the_hem(run, station):
    front = station("front", "side below the dart", "waist")
    back = run("back", "side").length - station("back", "side", "waist")
    assert front == pytest.approx(back, abs=SAME_MM)


def test_the_back_shoulder_is_eased_by_a_little(run):
    assert 3.0 <= run("back", "shoulder").length - run("front", "shoulder").length <= 10.0


def test_the_sleeve_head_has_ease_and_all_of_it_above_the_notches(run, station):
    """15 to 45 mm over the whole armhole; below the notches the sleeve lies flat."""
    armhole = run("front", "armhole").length + run("back", "armhole").length
    head = run("top sleeve", "sleeve head").length + run("under sleeve", "sleeve head").length
    assert 15.0 <= head - armhole <= 45.0

    underarm = station("under sleeve", "sleeve head", "side seam")
    crown = station("top sleeve", "sleeve head", "shoulder seam")
    at_front = station("top sleeve", "sleeve head", "front of the sleeve")
    # From the side seam forward to the front notch, and back to the sleeve's back seam.
    to_front = underarm + run("top sleeve", "sleeve head").length - at_front
    to_back = run("under sleeve", "sleeve head").length - underarm
    front_notch = station("front", "armhole", "front of the sleeve")
    back_notch = station("back", "armhole", "back seam of the sleeve")
    assert to_front == pytest.approx(front_notch, abs=SAME_MM)
    assert to_back == pytest.approx(run("back", "armhole").length - back_notch, abs=SAME_MM)
    # Over the crown, front and back, each to the shoulder seam.
    assert 5.0 <= at_front - crown - (run("front", "armhole").length - front_notch) <= 25.0
    assert 5.0 <= crown - back_notch <= 25.0


@pytest.mark.parametrize("seam", ["front seam", "back seam"])
def test_sleeve_seams_meet(run, seam):
    assert run("top sleeve", seam).length == pytest.approx(run("under sleeve", seam).length, abs=3.0)


def test_elbow_notches_meet_measured_from_the_top(run, station):
    under = station("under sleeve", "back seam", "elbow")
    top = run("top sleeve", "back seam").length - station("top sleeve", "back seam", "elbow")
    assert top == pytest.approx(under, abs=3.0)


def test_the_collar_fits_the_neck_and_its_notch_the_shoulder_seam(run, station, front_neck_mm):
    """It may be stretched on by a little, never eased."""
    back_neck = run("back", "neck").length
    assert -5.0 <= run("collar", "neck").length - back_neck - front_neck_mm <= 1.0
    assert station("collar", "neck", "shoulder seam") == pytest.approx(back_neck, abs=SAME_MM)


@pytest.mark.parametrize("edge", ["neck", "front edge"])
def test_the_front_facing_meets_the_front(run, edge):
    assert run("front facing", edge).length == pytest.approx(run("front", edge).length, abs=0.1)


@pytest.mark.parametrize(
    ("outer", "facing", "inner_edge"),
    [("front", "front facing", "inner edge"), ("back", "back neck facing", "lower edge")],
)
def test_facing_and_lining_together_make_the_outer_piece(run, outer, facing, inner_edge):
    lining = f"{outer} lining"
    shoulder = run(facing, "shoulder").length + run(lining, "shoulder").length
    assert shoulder == pytest.approx(run(outer, "shoulder").length, abs=SAME_MM)
    assert run(lining, "facing edge").length == pytest.approx(run(facing, inner_edge).length, abs=SAME_MM)
    assert run(lining, "armhole").length == pytest.approx(run(outer, "armhole").length, abs=0.1)


def test_the_facings_meet_at_the_shoulder(run):
    front, back = run("front facing", "shoulder").length, run("back neck facing", "shoulder").length
    assert front == pytest.approx(back, abs=SAME_MM)


def test_the_lining_back_has_a_pleat_of_four_centimetres(run):
    """2 cm on the half, so 4 cm opened out."""
    assert run("back lining", "pleat").length == pytest.approx(20.0)
    assert run("back lining", "hem").length - run("back", "hem").length == pytest.approx(20.0)


def test_dart_legs_are_sewn_to_each_other(pieces):
    for piece in pieces.values():
        for dart in piece.darts:
            leg, tip, other = map(shapely.Point, dart.legs_and_tip)
            assert leg.distance(tip) == pytest.approx(other.distance(tip), abs=1.0), (piece.name, dart.name)


def test_the_fold_of_the_bust_dart_ends_in_the_side_seam(pieces, run):
    """Sewn and pressed down, the fold lies half a dart's angle below the lower leg and ends on the seam."""
    (bust,) = (dart for dart in pieces["front"].darts if dart.name == "bust")
    leg, tip, _ = (complex(*point) for point in bust.legs_and_tip)
    fold = complex(*run("front", "mouth of the dart").coords[1])
    # Pressed down, it is mirrored in the lower leg.
    along = (leg - tip) / abs(leg - tip)
    pressed = tip + along * along * (fold - tip).conjugate()
    seam = run("front", "side below the dart")
    assert seam.distance(shapely.Point(pressed.real, pressed.imag)) <= SAME_MM


def test_ease_is_what_a_jacket_takes(pieces, run, bust_cm):
    """Twice from centre back to side and from side to centre front: 10 to 12 cm over the bust."""
    back = run("back", "side").coords[0][0] - run("back", "centre back").coords[0][0]
    centre_front = next(mark for mark in pieces["front"].marks if mark.name == "centre front")
    front = centre_front.points[0][0] - run("front", "armhole").coords[0][0]
    assert 100.0 <= 2 * (back + front) - 10 * (bust_cm or 92) <= 120.0


@pytest.mark.parametrize(
    ("piece", "counts"),
    [
        ("front", {"main": (CutKind.PAIR, 1), "sample": (CutKind.PAIR, 1)}),
        ("back", {"main": (CutKind.ON_FOLD, 1), "sample": (CutKind.ON_FOLD, 1)}),
        (
            "collar",
            {"main": (CutKind.PAIR, 2), "interfacing": (CutKind.PAIR, 1), "sample": (CutKind.PAIR, 1)},
        ),
        ("pocket", {"main": (CutKind.SINGLE, 2)}),
        ("hanger loop", {"main": (CutKind.SINGLE, 1)}),
        ("back lining", {"lining": (CutKind.ON_FOLD, 1)}),
    ],
)
def test_counts_are_what_the_scenario_says(pieces, piece, counts):
    """A bagged collar cut four is two pairs; two alike are no pair; the loop is an odd single."""
    assert {key: (count.kind, count.number) for key, count in pieces[piece].cuts.items()} == counts


def test_how_four_collars_were_understood_is_said(jacket):
    assert any(note.startswith("cut 4 of 'collar' read as 2 pairs") for note in jacket.notes)


def test_a_seam_at_centre_back_makes_a_pair_of_the_back(jacket):
    (seamed,) = (version for version in jacket.alternatives if version.version == "seam at centre back")
    (back,) = (piece for piece in seamed.pieces if piece.name == "back")
    assert {count.kind for count in back.cuts.values()} == {CutKind.PAIR}
    assert back.edge("centre back").allowance_mm == 10.0


def test_only_the_pocket_and_the_loop_are_their_own_mirror_image(pieces):
    symmetric = {piece.name for piece in pieces.values() if cut_shape(piece).symmetric}
    assert symmetric == {"pocket", "hanger loop"}
