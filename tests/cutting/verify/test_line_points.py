"""Matching points and the lines of a repeat, point by point: which must meet, and how far they are off."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Spread
from nesting.cloth.repeat import Repeat
from nesting.cutting.flat.points import CutPoint
from nesting.cutting.verify.lines import LineFault, line_faults, section_line_faults
from nesting.pattern.match import Axis, Hand
from tests.conftest import box, make_piece, pairs, singles
from tests.cutting.verify.lays import FRONT, PLAIN, WELT, match, project_of, section

CHECK = replace(PLAIN, repeat=Repeat(along_mm=60.0, across_mm=40.0, line_mm=10.0))
SIDE = make_piece("side", box(200, 500), pairs())
POCKET = make_piece("pocket", box(100, 120), singles())


def at(piece, along, across, copy=1, hand=Hand.DRAWN, **changes):
    point = CutPoint(piece, copy, "hip", hand, 1, along, across, across, False)
    return replace(point, **changes)


def told(points, *matches, pieces=(FRONT, SIDE), cloth=CHECK):
    """The kinds of faults of the points, for which pieces are cut as they say."""
    project = project_of(*pieces, cloth=cloth, matches=tuple(matches))
    return [fault.kind.name for fault in line_faults(points, project, cloth)]


def pair(piece, along, across, *, other=None):
    """A left and a right, the second where told or where the first is."""
    second = (along, across) if other is None else other
    return [at(piece, along, across), at(piece, *second, copy=2, hand=Hand.MIRRORED)]


SEAM = match("front", "side")


@pytest.mark.parametrize(
    ("along", "across", "faults"),
    [
        (100.0, 30.0, []),
        (100.0 + 60.0, 30.0 - 40.0, []),
        (100.0 + 0.9, 30.0 - 0.9, []),
        (100.0 + 30.0, 30.0, ["MISSED"] * 2),
        (100.0, 30.0 + 5.0, ["MISSED"] * 2),
        (100.0 + 5.0, 30.0 - 5.0, ["MISSED"] * 4),
    ],
)
def test_two_pieces_meet_where_the_repeat_is_the_same(along, across, faults):
    assert told(pair("front", 100.0, 30.0) + pair("side", along, across), SEAM) == faults


def test_across_the_cloth_each_half_of_the_garment_meets_its_own():
    """The lefts 5 mm from the rights across: nobody sees that; along the cloth it goes round the body."""
    fronts, sides = pair("front", 0, 0, other=(0, 5)), pair("side", 60, 40, other=(0, 5))
    assert told(fronts + sides, SEAM) == []
    assert told(pair("front", 0, 0, other=(5, 0)) + pair("side", 0, 0, other=(5, 0)), SEAM) == ["MISSED"] * 2
    crossed = pair("front", 0, 0, other=(0, 5)) + pair("side", 0, 5, other=(0, 0))
    assert told(crossed, SEAM) == ["MISSED"] * 2


def test_a_piece_alone_is_matched_to_its_own_mirror_image():
    centre = match("front")
    assert told(pair("front", 0, 20), centre, pieces=(FRONT,)) == []
    assert told(pair("front", 0, 20, other=(0, 25)), centre, pieces=(FRONT,)) == ["MISSED"]
    # of a seam whose other piece is cut from another cloth nothing is left to meet
    assert told(pair("front", 0, 20, other=(0, 25)), SEAM, pieces=(FRONT,)) == []
    assert told(pair("front", 0, 20, other=(25, 20)), SEAM, pieces=(FRONT,)) == []
    assert told(pair("front", 0, 20), match("welt"), pieces=(FRONT,)) == []


def test_how_far_it_is_off_is_told_the_shorter_way_round():
    project = project_of(FRONT, SIDE, cloth=CHECK, matches=(SEAM,))
    found = line_faults(pair("front", 0, 0) + pair("side", 55, 0), project, CHECK)
    assert [fault.split(" by ")[1] for fault in found] == ["5.0 mm on the repeat along"] * 2
    found = line_faults(pair("front", 0, 0) + pair("side", 0, 18), project, CHECK)
    assert [fault.split(" by ")[1] for fault in found] == ["18.0 mm on the repeat across"] * 2


@pytest.mark.parametrize(
    ("along", "across", "faults"),
    [
        (0, 0, []),
        (60, -40, []),
        (3, 0, ["OFF_THE_MAIN_LINE"] * 2),
        (0, 3, ["OFF_THE_MAIN_LINE"] * 2),
        (57, 37, ["OFF_THE_MAIN_LINE"] * 4),
    ],
)
def test_what_lies_on_a_line_lies_on_a_main_line(along, across, faults):
    on_line = match("front", on_line=True)
    assert told(pair("front", along, across), on_line, pieces=(FRONT,)) == faults
    # its partner not cut from this cloth, it is still to lie on one
    assert told(pair("front", along, across), match("front", "side", on_line=True), pieces=(FRONT,)) == faults


def test_one_half_on_its_line_is_not_measured_against_the_other():
    alone = match("front", "side", on_line=True)
    assert told(pair("front", 0, 0, other=(0, 5)), alone, pieces=(FRONT,)) == ["OFF_THE_MAIN_LINE"]


def test_without_a_main_line_none_can_be_lain_on():
    loose = [replace(one, across_mm=None) for one in pair("front", 3, 7)]
    assert told(loose, match("front", on_line=True), pieces=(FRONT,)) == [
        *["OFF_THE_MAIN_LINE"] * 2,
        "NO_MAIN_LINE",
    ]


@pytest.mark.parametrize(
    ("changes", "faults"),
    [
        ({"axes": (Axis.ALONG,)}, ["MISSED"]),
        ({"axes": (Axis.ACROSS,)}, ["MISSED"]),
        ({"axes": (Axis.ALONG, Axis.ACROSS)}, ["MISSED"] * 2),
        ({"cloth": "main"}, ["MISSED"] * 2),
        ({"cloth": "lining"}, []),
    ],
)
def test_a_match_holds_on_its_cloth_and_in_its_directions(changes, faults):
    """Pockets of one each, off both ways."""
    welt = replace(WELT, name="welt")
    points = [at("pocket", 0, 0), at("welt", 7, 7)]
    assert told(points, match("pocket", "welt", **changes), pieces=(POCKET, welt)) == faults


def test_only_directions_that_repeat_hold_lines():
    points = [at("pocket", 0, 0), at("welt", 7, 7)]
    stripe = replace(PLAIN, repeat=Repeat(across_mm=40.0))
    assert told(points, match("pocket", "welt"), pieces=(POCKET, WELT), cloth=stripe) == ["MISSED"]
    assert told(points, match("pocket", "welt"), pieces=(POCKET, WELT), cloth=PLAIN) == []


def test_a_piece_turned_by_half_is_read_backwards_from_a_line_that_is_known():
    turned = [at("pocket", 10, 15), at("welt", -10, -15, reads=-1)]
    pieces = (POCKET, WELT)
    assert told(turned, match("pocket", "welt"), pieces=pieces) == []
    unknown = [at("pocket", 10, 15, across_mm=None), at("welt", -10, -15, reads=-1, across_mm=None)]
    assert told(unknown, match("pocket", "welt"), pieces=pieces) == ["TURNED_OFF_NO_LINE"]
    upright = [at("pocket", 10, 15, across_mm=None), at("welt", 10, 15, across_mm=None)]
    assert told(upright, match("pocket", "welt"), pieces=pieces) == []
    lying = [at("pocket", 0, 0), at("welt", 0, 0, reads=0, across_mm=None)]
    assert "ACROSS_THE_LINES" in told(lying, match("pocket", "welt"), pieces=pieces)
    assert "TURNED_OFF_NO_LINE" not in told(lying, match("pocket", "welt"), pieces=pieces)


@pytest.mark.parametrize(
    ("width_mm", "matches", "faults"),
    [
        (490.0, (SEAM,), 0),
        (490.012, (SEAM,), 1),
        (480.0, (replace(SEAM, on_line=True),), 0),
        (480.012, (replace(SEAM, on_line=True),), 1),
        (500.0, (), 0),
        (500.0, (replace(SEAM, axes=(Axis.ALONG,)),), 0),
    ],
)
def test_a_fold_needs_a_quarter_of_the_repeat_or_half_of_it(width_mm, matches, faults):
    """40 mm across: the fold is brought onto a line, or midway between two where no main line is meant."""
    folded = section(spread=Spread.LENGTHWISE_FOLD, width=width_mm)
    project = project_of(FRONT, SIDE, cloth=CHECK, matches=matches)
    found = section_line_faults(folded, project, CHECK)
    assert [fault.kind for fault in found] == [LineFault.NO_ROOM_FOR_THE_FOLD] * faults
    other = section(spread=Spread.CROSSWISE_FOLD, width=width_mm)
    assert section_line_faults(other, project, CHECK) == []
    along = replace(CHECK, repeat=Repeat(along_mm=60.0))
    assert section_line_faults(folded, project, along) == []


def test_an_uneven_stripe_is_not_doubled():
    uneven = replace(CHECK, repeat=Repeat(across_mm=40.0, uneven=(Axis.ACROSS,)))
    project = project_of(FRONT, cloth=uneven)
    folded = section(spread=Spread.LENGTHWISE_FOLD, width=400.0)
    assert [one.kind for one in section_line_faults(folded, project, uneven)] == [LineFault.UNEVEN_DOUBLE]
    assert section_line_faults(section(width=400.0), project, uneven) == []


def test_a_narrow_repeat_is_divided_too():
    """A repeat of 30.2 mm needs 7.55 on a fold of half a metre less half a millimetre."""
    odd = replace(CHECK, width_mm=1019.0, repeat=Repeat(across_mm=30.2))
    project = project_of(FRONT, SIDE, cloth=odd, matches=(SEAM,))
    for width, faults in ((499.5 - 7.55, 0), (499.5 - 7.53, 1)):
        folded = section(spread=Spread.LENGTHWISE_FOLD, width=width)
        assert len(section_line_faults(folded, project, odd)) == faults
