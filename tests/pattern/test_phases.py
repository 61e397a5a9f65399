"""Which pieces hang together by their matches, and where they contradict each other."""

import pytest

from nesting.pattern.match import Axis, Hand, Match
from nesting.pattern.phases import groups, reading_mm, remainder_mm
from nesting.pattern.piece import Mark
from tests.conftest import box, hook, make_piece, on_fold, pairs, singles


def with_points(name, outline, count, points, **changes):
    marks = tuple(Mark(point, (place,)) for point, place in points.items())
    return make_piece(name, outline, count, matching=marks, **changes)


FRONT = with_points("front", hook(300, 600), pairs(), {"waist": (0, 250), "hem": (0, 0), "centre": (300, 50)})
BACK = with_points(
    "back",
    box(250, 610),
    on_fold(),
    {"waist": (250, 260), "hem": (250, 10), "neck": (0, 600)},
    on_fold="edge 3",
)
PATCH = with_points("patch", box(100, 100), singles(), {"corner": (0, 0)})
PIECES = {piece.name: piece for piece in (FRONT, BACK, PATCH)}
SIDES = Match("sides", (("front", "waist"), ("back", "waist")))


def test_readings_run_up_the_piece_and_to_the_left_of_it():
    """The top of the paper is +x on the cloth, its left is +y; a fold piece is counted from its fold."""
    assert reading_mm(FRONT, "waist", Axis.ALONG) == pytest.approx(250.0)
    assert reading_mm(FRONT, "waist", Axis.ACROSS) == pytest.approx(300.0)
    assert reading_mm(BACK, "waist", Axis.ACROSS) == pytest.approx(-250.0)


def test_along_the_cloth_pieces_hang_together_whatever_their_hand():
    (group,), clashes = groups(Axis.ALONG, 80.0, [SIDES], PIECES, "main")
    assert clashes == ()
    offsets = group.offsets
    assert set(offsets) == {("front", Hand.DRAWN), ("back", Hand.DRAWN)}
    # The back's waist is 10 mm further up its paper, so its reference lies 10 mm further down in the repeat.
    difference = offsets["back", Hand.DRAWN] - offsets["front", Hand.DRAWN]
    assert remainder_mm(difference, 80.0) == pytest.approx(-10.0)
    assert not group.on_line


def test_across_it_each_side_seam_is_matched_by_itself():
    (group,), clashes = groups(Axis.ACROSS, 60.0, [SIDES], PIECES, "main")
    assert clashes == ()
    assert set(group.offsets) == {("front", Hand.DRAWN), ("front", Hand.MIRRORED), ("back", Hand.DRAWN)}
    phases = group.offsets
    back = phases["back", Hand.DRAWN]
    assert remainder_mm(phases["front", Hand.DRAWN] + 300.0 - (back - 250.0), 60.0) == pytest.approx(0.0)
    assert remainder_mm(phases["front", Hand.MIRRORED] - 300.0 - (back + 250.0), 60.0) == pytest.approx(0.0)


def test_a_pair_matched_across_to_another_makes_one_group_a_side():
    other = with_points("side", hook(200, 600), pairs(), {"seam": (0, 250)})
    match = Match("seams", (("front", "waist"), ("side", "seam")))
    found, _ = groups(Axis.ACROSS, 60.0, [match], PIECES | {"side": other}, "main")
    assert [{hand for _, hand in group.offsets} for group in found] == [{Hand.DRAWN}, {Hand.MIRRORED}]


def test_a_piece_alone_is_sewn_to_its_mirror_image():
    (group,), _ = groups(Axis.ACROSS, 60.0, [Match("front", (("front", "centre"),))], PIECES, "main")
    assert set(group.offsets) == {("front", Hand.DRAWN), ("front", Hand.MIRRORED)}


def test_what_is_on_the_main_line_has_no_phase_to_choose():
    match = Match("hem", (("front", "hem"), ("back", "hem")), on_line=True)
    (group,), clashes = groups(Axis.ALONG, 80.0, [match], PIECES, "main")
    assert group.on_line
    assert clashes == ()
    assert group.offsets["back", Hand.DRAWN] == pytest.approx(-10.0 % 80.0)


def test_distances_that_differ_by_a_whole_repeat_go_together():
    longer = with_points("long", box(200, 800), pairs(), {"waist": (0, 410), "hem": (0, 80)})
    pieces = PIECES | {"long": longer}
    matches = [Match(point, (("front", point), ("long", point))) for point in ("waist", "hem")]
    # From hem to waist 250 mm and 330 mm: a repeat of 80 mm between them.
    assert groups(Axis.ALONG, 80.0, matches, pieces, "main")[1] == ()
    (clash,) = groups(Axis.ALONG, 70.0, matches, pieces, "main")[1]
    assert clash.off_mm == pytest.approx(10.0)
    assert clash.grave
    assert (clash.match.name, clash.first, clash.second) == ("hem", ("front", "hem"), ("long", "hem"))


def test_less_than_a_millimetre_is_told_but_not_grave():
    near = with_points("near", box(200, 800), pairs(), {"waist": (0, 250.6), "hem": (0, 0)})
    matches = [Match(point, (("front", point), ("near", point))) for point in ("waist", "hem")]
    (clash,) = groups(Axis.ALONG, 80.0, matches, PIECES | {"near": near}, "main")[1]
    assert clash.off_mm == pytest.approx(0.6)
    assert not clash.grave


def test_a_whole_piece_meets_its_own_mirror_image_on_its_fold_only():
    on_it = Match("back", (("back", "neck"),))
    off_it = Match("back", (("back", "waist"),))
    assert groups(Axis.ACROSS, 60.0, [on_it], PIECES, "main")[1] == ()
    (clash,) = groups(Axis.ACROSS, 60.0, [off_it], PIECES, "main")[1]
    assert clash.off_mm == pytest.approx(20.0)  # 500 mm apart are 8 repeats and 20 mm


def test_pieces_without_a_partner_have_nothing_to_meet():
    assert SIDES.among(["front", "patch"]) is None
    assert SIDES.among(["front", "back"]) == SIDES
    on_line = Match("sides", SIDES.points, on_line=True)
    assert on_line.among(["front"]).points == (("front", "waist"),)


def test_a_single_piece_is_on_the_side_that_its_paper_shows():
    match = Match("patch", (("patch", "corner"), ("front", "centre")))
    found, _ = groups(Axis.ACROSS, 60.0, [match], PIECES, "main")
    assert {frozenset(group.offsets) for group in found} >= {
        frozenset({("patch", Hand.DRAWN), ("front", Hand.DRAWN)})
    }
