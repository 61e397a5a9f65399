"""For every fault that a verifier can tell there is a lay that is wrong in just that way.

Each case gives the faults that are found in it, and says which they must be: those and no others. The last
test fails where a verifier knows a fault that no case produces.
"""

from dataclasses import fields, replace

import numpy as np
import pytest

from nesting.cloth.cloth import Nap, RightSide, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cloth.repeat import Repeat
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.flat.opening import StretchFault, stretch_faults
from nesting.cutting.lay import Face, Fold, Lay, Yield
from nesting.cutting.left import LeftOver, Rectangle, SmallPlaced
from nesting.cutting.verify.faults import OVERLAP_TOLERANCE_MM, LayFault, faults
from nesting.cutting.verify.leftover import LeftFault, leftover_faults
from nesting.cutting.verify.lines import LineFault
from nesting.cutting.verify.pieces import PieceFault
from nesting.cutting.verify.sharing import SharingFault, sharing_faults
from nesting.cutting.verify.wishes import WishFault
from nesting.fault import FaultKind
from nesting.pattern.cut_shape import Feature, FeatureKind
from nesting.pattern.laid_by import corners_of
from nesting.pattern.match import Axis
from nesting.pattern.piece import CutCount, CutKind, Turn
from nesting.pattern.wish import FromEnd, Pin, Together
from tests.conftest import box, hook, make_piece, pairs, singles
from tests.cutting.verify.lays import (
    BACK,
    FOLDED,
    FRONT,
    PLAIN,
    WELT,
    folded_lay,
    lay_of,
    marked,
    match,
    moved,
    open_lay,
    project_of,
    put,
    section,
)

CASES = []


def wrong(*kinds):
    """A case in which those faults are found, and no others."""

    def entered(case):
        CASES.append(pytest.param(case, set(kinds), id=case.__name__))
        return case

    return entered


def on_cloth(lay, project, **changes):
    """Both on the cloth with something about it changed."""
    cloth = replace(lay.cloth, **changes)
    return replace(lay, cloth=cloth), replace(project, cloths={"main": cloth})


def changed(lay, number=0, **changes):
    """The lay with one section changed."""
    sections = list(lay.sections)
    sections[number] = replace(sections[number], **changes)
    return replace(lay, sections=tuple(sections))


# The lay as a whole.


@wrong(LayFault.OTHER_CLOTH)
def the_nap_forgotten():
    lay, project = open_lay()
    return faults(lay, on_cloth(lay, project, nap=Nap.ONE_WAY)[1])


def two_stretches(second_mm=500.0):
    """The fronts, then the welt on a stretch of its own, on a table of 60 cm."""
    first, _ = open_lay()
    *fronts, welt = first.sections[0].placed
    lay = lay_of(
        section(*fronts, length=500.0), section(moved(welt, 0.0, -600.0), start=second_mm, length=150.0)
    )
    return lay, project_of(FRONT, WELT, table_mm=600.0)


@wrong()
def two_stretches_as_they_are():
    return faults(*two_stretches())


@wrong(LayFault.NOT_WHERE_THE_LAST_ENDS)
def a_stretch_that_starts_too_early():
    return faults(*two_stretches(499.98))


@wrong(LayFault.NOT_WHERE_THE_LAST_ENDS)
def a_stretch_that_starts_too_late():
    return faults(*two_stretches(500.02))


@wrong()
def a_stretch_that_starts_where_rounding_puts_it():
    return faults(*two_stretches(500.008)) + faults(*two_stretches(499.992))


@wrong(LayFault.NO_TABLE)
def lengths_without_a_table():
    lay, project = two_stretches()
    return faults(lay, replace(project, table_mm=None))


@wrong(LayFault.NO_TABLE)
def lengths_after_a_fold_without_a_table():
    """A fold may be followed by one stretch opened out, not by two."""
    lay, project = folded_lay()
    strap = make_piece("strap", box(60, 150), pairs())
    first = section(put(strap, 0.0, 0.0), start=1000.0, length=150.0)
    second = section(put(strap, 0.0, 0.0, copies=(2,), face=Face.DOWN), start=1150.0, length=150.0)
    longer = replace(lay, sections=(*lay.sections, first, second))
    return faults(longer, replace(project, pieces=(*project.pieces, strap)))


@wrong(LayFault.LONGER_THAN_THE_TABLE)
def a_stretch_longer_than_the_table():
    lay, project = two_stretches()
    return faults(lay, replace(project, table_mm=499.98))


@wrong()
def a_stretch_as_long_as_the_table():
    lay, project = two_stretches()
    return faults(lay, replace(project, table_mm=499.992))


@wrong(LayFault.NOT_ASKED_FOR)
def a_piece_that_nobody_asked_for():
    lay, project = open_lay()
    return faults(lay, replace(project, pieces=(FRONT,)))


@wrong(LayFault.OTHER_SPREAD)
def a_spread_that_was_not_asked_for():
    lay, project = open_lay()
    return faults(replace(lay, spread=Spread.LENGTHWISE_FOLD), project)


@wrong(LayFault.OTHER_SPREAD)
def a_spread_that_is_none():
    """The best of several is something to ask for; a cloth cannot lie so."""
    lay, project = on_cloth(*open_lay(), spread=Spread.BEST)
    return faults(replace(lay, spread=Spread.BEST), project)


@wrong(LayFault.OTHER_STRETCH)
def a_stretch_folded_in_an_open_lay():
    lay, project = on_cloth(*folded_lay(), spread=Spread.BEST)
    return faults(replace(lay, spread=Spread.OPEN), project)


@wrong(LayFault.SHORTER_THAN_ITS_BOUND)
def a_bound_that_boasts():
    lay, project = open_lay()
    return faults(changed(lay, bound_mm=600.02), project)


@wrong()
def a_bound_that_is_reached():
    lay, project = open_lay()
    return faults(changed(lay, bound_mm=600.008), project)


class Saying(Lay):
    """A lay that counts its cloth wrongly."""

    said_mm = 0.0

    @property
    def length_mm(self):
        return self.said_mm


def said_to_take(length_mm):
    lay, project = open_lay()
    wrongly = Saying(**{one.name: getattr(lay, one.name) for one in fields(Lay)})
    Saying.said_mm = length_mm
    return faults(wrongly, project)


@wrong(LayFault.OTHER_LENGTH)
def a_lay_that_takes_another_length_than_it_says():
    found = [said_to_take(600.02), said_to_take(599.98)]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@wrong()
def a_lay_that_takes_what_it_says():
    return said_to_take(600.008) + said_to_take(599.992)


@wrong(LayFault.OUTSIDE)
def a_piece_past_the_side_of_its_section():
    return faults(*open_lay(welt=put(WELT, 0.0, 840.02), width=900.0))


@wrong(LayFault.OUTSIDE)
def a_piece_past_the_end_of_its_section():
    lay, project = two_stretches()
    first, second = lay.sections
    late = replace(second, placed=tuple(moved(one, 0.02, 0.0) for one in second.placed), length_mm=151.0)
    early = replace(first, placed=(moved(first.placed[0], 0.02, 0.0), first.placed[1]))
    return faults(replace(lay, sections=(early, late)), project)


@wrong()
def a_piece_a_hair_past_the_side():
    return faults(*open_lay(welt=put(WELT, 0.0, 840.008), width=900.0))


@wrong(LayFault.OUTSIDE, LayFault.OFF_THE_FLAT_CLOTH)
def a_piece_over_the_far_selvedge():
    return faults(*open_lay(welt=put(WELT, 0.0, 940.02)))


@wrong(LayFault.OUTSIDE, LayFault.OFF_THE_FLAT_CLOTH)
def a_piece_over_the_near_selvedge():
    return faults(*open_lay(front=put(FRONT, 0.0, -0.02)))


@wrong(LayFault.OUTSIDE, LayFault.OFF_THE_FLAT_CLOTH)
def a_piece_before_the_cut_end():
    return faults(*open_lay(front=put(FRONT, -0.02, 0.0)))


@wrong(LayFault.OUTSIDE, LayFault.OFF_THE_FLAT_CLOTH)
def a_piece_past_the_last_end():
    return faults(*open_lay(welt=put(WELT, 450.02, 600.0)))


@wrong()
def pieces_a_hair_over_each_edge_of_the_cloth():
    return (
        faults(*open_lay(welt=put(WELT, 0.0, 940.008)))
        + faults(*open_lay(front=put(FRONT, 0.0, -0.008)))
        + faults(*open_lay(front=put(FRONT, -0.008, 0.0)))
        + faults(*open_lay(welt=put(WELT, 450.008, 600.0)))
    )


@wrong(LayFault.CANNOT_GIVE)
def two_pieces_called_one():
    return faults(*folded_lay(front=put(FRONT, 500.0, 100.0, copies=(1, 2))))


@wrong(LayFault.CANNOT_GIVE, PieceFault.OTHER_NUMBER)
def a_pair_from_a_single_layer():
    return faults(*open_lay(front=put(FRONT, 0.0, 0.0, copies=(1, 2), yields=Yield.PAIR)))


@wrong(LayFault.OFF_THE_FOLD)
def a_fold_edge_a_hair_off_the_fold():
    return faults(*folded_lay(back=put(BACK, 0.0, 2e-6, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN)))


@wrong()
def a_fold_edge_where_rounding_puts_it():
    return faults(*folded_lay(back=put(BACK, 0.0, 8e-7, yields=Yield.WHOLE_ON_FOLD, face=Face.DOWN)))


@wrong(LayFault.OVERLAP)
def two_pieces_in_one_another():
    return faults(*open_lay(welt=put(WELT, 0.0, 599.98)))


@wrong(LayFault.OVERLAP)
def one_piece_inside_another():
    return faults(*open_lay(welt=put(WELT, 20.0, 120.0)))


@wrong()
def two_pieces_a_hair_in_one_another():
    return faults(*open_lay(welt=put(WELT, 0.0, 599.992)))


def in_hand(*outlines):
    """A metre of it in hand, with holes there: measured from the cut end and the outer edge of a selvedge."""
    return (Remnant("", 1000.0, None, tuple(Blocked("moth hole", outline) for outline in outlines)),)


@wrong(LayFault.TUBE_WITH_FLAWS)
def a_flaw_in_a_tube():
    hole = ((900.0, 400.0), (910.0, 400.0), (910.0, 410.0))
    cloth = replace(PLAIN, width_mm=500.0, selvedge_mm=0.0, tube=True, spread=Spread.TUBE)
    cloth = replace(cloth, remnants=in_hand(hole))
    front = put(FRONT, 0.0, 100.0, copies=(1, 2), yields=Yield.PAIR)
    lay = lay_of(section(front, spread=Spread.TUBE, length=500.0, width=500.0), cloth=cloth)
    return faults(lay, project_of(FRONT, cloth=cloth))


def with_a_hole(at_mm):
    """A hole of 1 cm that begins so far beyond the top of the welt, 150 mm long, 20 mm from the cut end."""
    lay, project = open_lay()
    left, low = 20.0 + 150.0 + at_mm, 10.0 + 645.0
    hole = ((left, low), (left + 10, low), (left + 10, low + 10), (left, low + 10))
    return on_cloth(lay, project, remnants=in_hand(hole))


@wrong(LayFault.OVER_A_FLAW)
def a_piece_over_a_hole():
    return faults(*with_a_hole(-0.02))


@wrong()
def a_piece_up_to_a_hole():
    return faults(*with_a_hole(-0.008))


def with_a_hole_kept_clear(at_mm):
    """The same, with 5 mm kept clear of the hole."""
    lay, project = with_a_hole(at_mm)
    (remnant,) = lay.cloth.remnants
    (hole,) = remnant.blocked
    clear = replace(remnant, blocked=(replace(hole, keep_off_mm=5.0),))
    return on_cloth(lay, project, remnants=(clear,))


@wrong(LayFault.NEAR_A_FLAW)
def a_piece_too_near_a_hole():
    return faults(*with_a_hole_kept_clear(4.98))


@wrong()
def a_piece_just_clear_of_a_hole():
    return faults(*with_a_hole_kept_clear(4.992))


def with_a_gap(welt_mm):
    """Papers are to lie 20 mm apart; the second front ends at 620 mm."""
    second = put(FRONT, 0.0, 320.0, copies=(2,), face=Face.DOWN)
    return on_cloth(*open_lay(other=second, welt=put(WELT, 0.0, welt_mm)), gap_mm=20.0)


@wrong(LayFault.TOO_NEAR)
def pieces_nearer_than_the_gap():
    return faults(*with_a_gap(639.98))


@wrong()
def pieces_as_near_as_the_gap():
    return faults(*with_a_gap(639.992))


# The pieces, and what is said of them.


def saying(**changes):
    """The lay with something else said of its first front."""
    return open_lay(front=replace(put(FRONT, 0.0, 0.0), **changes))


@wrong(PieceFault.OTHER_TOTAL)
def another_total():
    return faults(*saying(of=7))


@wrong(PieceFault.OTHER_GARMENT)
def another_size():
    return faults(*saying(size="38"))


@wrong(PieceFault.OTHER_GARMENT)
def another_garment():
    return faults(*saying(garments=(2,)))


@wrong(PieceFault.SAID_OFF_GRAIN)
def a_tilt_that_there_is_not():
    return faults(*saying(tilt_deg=1.0))


@wrong(PieceFault.NOT_AS_SAID)
def another_turn():
    return faults(*saying(turned_deg=180.0))


@wrong(PieceFault.NOT_AS_SAID)
def another_face():
    return faults(*saying(face=Face.DOWN))


@wrong(PieceFault.NOT_AS_SAID)
def a_turn_told_a_little_off():
    lay, project = on_cloth(*saying(turned_deg=2e-4), grain_tolerance_deg=1.0)
    return [one for one in faults(lay, project) if one.kind is not PieceFault.SAID_OFF_GRAIN]


@wrong()
def a_turn_told_as_rounded():
    return faults(*saying(turned_deg=0.5e-4))


@wrong(PieceFault.OTHER_NUMBER)
def a_piece_left_out():
    lay, project = open_lay()
    return faults(changed(lay, placed=lay.sections[0].placed[1:]), project)


@wrong(PieceFault.OTHER_NUMBER, LayFault.OVERLAP)
def a_piece_too_many():
    lay, project = open_lay()
    placed = lay.sections[0].placed
    return faults(changed(lay, placed=(*placed, placed[0])), project)


@wrong(PieceFault.NOT_THE_PIECE, PieceFault.NOT_AS_SAID)
def a_piece_of_another_size():
    one = put(FRONT, 0.0, 0.0)
    smaller = replace(one.shape, cut_line=one.shape.cut_line * [0.999, 1.0])
    return faults(*open_lay(front=replace(one, shape=smaller)))


def cornered(off_mm):
    """The first front laid by a corner that the lay has so far off."""
    one = put(FRONT, 0.0, 0.0)
    (name, at), *_ = corners_of(FRONT.edges).items()
    grain = next(feature.vertices for feature in one.shape.features if feature.kind is FeatureKind.GRAIN)
    up = np.array(at) - one.shape.grain_on_paper[0]
    # The top of the paper lies to the right.
    corner = Feature(FeatureKind.CORNER, name, grain[:1] + np.array([up[1] + off_mm, -up[0]]))
    shape = replace(one.shape, features=(*one.shape.features, corner))
    return open_lay(front=replace(one, shape=shape))


@wrong(PieceFault.NOT_THE_PIECE, PieceFault.NOT_AS_SAID)
def a_corner_to_lay_by_where_the_paper_has_none():
    return faults(*cornered(0.06))


@wrong()
def a_corner_to_lay_by_a_hair_off():
    return faults(*cornered(0.04))


@wrong(PieceFault.NOT_THE_PIECE, PieceFault.NOT_AS_SAID)
def an_allowance_of_one_millimetre():
    other = make_piece("front", hook(300, 500), pairs(), allowance_mm=1.0)
    lay, project = open_lay(
        front=put(other, 0.0, 0.0), other=put(FRONT, 0.0, 302.0, copies=(2,), face=Face.DOWN)
    )
    placed = (*lay.sections[0].placed[:2], put(WELT, 0.0, 610.0))
    return faults(changed(lay, placed=placed), project)


def turned(angle_deg, **said):
    """One hook of 30 by 50 cm, turned; in a lay of its own."""
    front = make_piece("front", hook(300, 500), singles())
    placed = replace(put(front, 0.0, 0.0, turned=angle_deg), **said)
    return lay_of(section(placed, length=900.0)), project_of(front)


@wrong(PieceFault.OFF_GRAIN)
def a_piece_across_the_grain():
    return faults(*turned(90.0))


@wrong(PieceFault.OFF_GRAIN)
def a_piece_against_the_nap():
    return faults(*on_cloth(*turned(180.0), nap=Nap.ONE_WAY))


@wrong(PieceFault.OFF_GRAIN, PieceFault.SAID_OFF_GRAIN)
def a_piece_off_the_warp():
    return faults(*on_cloth(*turned(1.0002, tilt_deg=1.0002), grain_tolerance_deg=1.0))


@wrong()
def a_piece_off_the_warp_by_what_is_allowed():
    return faults(*on_cloth(*turned(1.0, tilt_deg=1.0), grain_tolerance_deg=1.0))


@wrong(PieceFault.SAID_OFF_GRAIN)
def a_tilt_that_is_not_told():
    return faults(*on_cloth(*turned(1.0), grain_tolerance_deg=1.0))


@wrong(PieceFault.OFF_GRAIN)
def a_piece_that_may_turn_less_than_the_cloth_allows():
    lay, project = on_cloth(*turned(90.0), turn=Turn.QUARTER)
    held = tuple(replace(piece, turn=Turn.HALF) for piece in project.pieces)
    return faults(lay, replace(project, pieces=held))


@wrong()
def a_piece_that_may_turn_as_far_as_the_cloth_allows():
    return faults(*on_cloth(*turned(90.0), turn=Turn.QUARTER))


@wrong(PieceFault.OFF_GRAIN, PieceFault.NOT_ONE_WAY)
def a_piece_across_where_each_garment_lies_one_way():
    return faults(*on_cloth(*turned(90.0), turn=Turn.QUARTER, nap=Nap.EACH_GARMENT))


@wrong(PieceFault.NO_PAIRS)
def two_lefts():
    return faults(*open_lay(other=put(FRONT, 0.0, 300.0, copies=(2,))))


def all_but_symmetric(off_mm):
    """Two of one hand, each so far from its own mirror image."""
    pocket = make_piece("pocket", [(0, 0), (200, 0), (200 + off_mm, 300), (0, 300)], pairs())
    placed = (put(pocket, 0.0, 0.0), put(pocket, 0.0, 300.0, copies=(2,)))
    return lay_of(section(*placed)), project_of(pocket)


@wrong()
def two_lefts_that_are_as_good_as_rights():
    # Its mirror image is off by half of that at either side, and by what the slant adds at the corners.
    return faults(*all_but_symmetric(0.95))


@wrong(PieceFault.NO_PAIRS)
def two_lefts_hardly_to_be_told_from_rights():
    return faults(*all_but_symmetric(1.05))


@wrong(PieceFault.OTHER_HAND)
def a_single_the_wrong_way_round():
    return faults(*open_lay(welt=put(WELT, 0.0, 600.0, face=Face.DOWN)))


def a_right(face):
    """The right of a pair whose left is cut elsewhere: a single, the mirror image of its paper."""
    right = make_piece("front", hook(300, 500), {"main": CutCount(CutKind.SINGLE, 1, mirrored=True)})
    return lay_of(section(put(right, 0.0, 0.0, face=face))), project_of(right)


@wrong()
def a_right_cut_as_one():
    return faults(*a_right(Face.DOWN))


@wrong(PieceFault.OTHER_HAND)
def a_right_cut_as_a_left():
    return faults(*a_right(Face.UP))


@wrong()
def two_lefts_of_a_cloth_with_two_right_sides():
    lay, project = open_lay(other=put(FRONT, 0.0, 300.0, copies=(2,)))
    return faults(*on_cloth(lay, project, right_side=RightSide.BOTH))


@wrong(PieceFault.NOT_ONE_WAY)
def one_piece_of_a_garment_the_other_way_up():
    lay, project = open_lay(other=put(FRONT, 0.0, 300.0, copies=(2,), face=Face.DOWN, turned=180.0))
    return faults(*on_cloth(lay, project, nap=Nap.EACH_GARMENT))


# The repeat.


HIP = (20.0, 100.0)
SIDE = marked(make_piece("side", box(200, 400), singles(2)), *HIP)


def striped(
    second=(0.0, 300.0), matches=None, repeat=None, turns=(0.0, 0.0), faces=(Face.UP, Face.UP), **changes
):
    """Two sides 40 cm long, the hip 10 cm up and 2 cm from the left; bars every 10 cm, stripes every 6."""
    cloth = replace(PLAIN, repeat=repeat or Repeat(along_mm=100.0, across_mm=60.0, line_mm=10.0), **changes)
    placed = (
        put(SIDE, 0.0, 0.0, turned=turns[0], face=faces[0]),
        put(SIDE, *second, copies=(2,), turned=turns[1], face=faces[1]),
    )
    lay = lay_of(section(*placed, length=900.0), cloth=cloth)
    return lay, project_of(SIDE, cloth=cloth, matches=matches or (match("side"),))


@wrong()
def sides_that_meet():
    return faults(*striped())


@wrong(LineFault.MISSED)
def sides_that_miss_along():
    return faults(*striped((1.6, 300.0)))


@wrong(LineFault.MISSED)
def sides_that_miss_across():
    return faults(*striped((0.0, 301.6)))


@wrong()
def sides_that_meet_within_the_breadth_of_a_chalk_line():
    return faults(*striped((1.4, 301.4)))


ON_LINE = (match("side", on_line=True),)


@wrong(LineFault.OFF_THE_MAIN_LINE)
def sides_off_a_bar_both():
    lay, project = striped((1.6, 300.0), ON_LINE, Repeat(along_mm=100.0))
    first, second = lay.sections[0].placed
    return faults(changed(lay, placed=(moved(first, 1.6, 0.0), second)), project)


@wrong()
def sides_all_but_on_a_bar():
    lay, project = striped((1.4, 300.0), ON_LINE, Repeat(along_mm=100.0))
    first, second = lay.sections[0].placed
    return faults(changed(lay, placed=(moved(first, 1.4, 0.0), second)), project)


@wrong(LineFault.OFF_THE_MAIN_LINE)
def sides_off_a_stripe_both():
    """The hip is 180 mm across the cloth from the foot of each; a stripe every 60 mm from 10 mm on."""
    lay, project = striped((0.0, 301.6), ON_LINE, Repeat(across_mm=60.0, line_mm=10.0))
    first, second = lay.sections[0].placed
    return faults(changed(lay, placed=(moved(first, 0.0, 1.6), second)), project)


@wrong()
def sides_turned_where_the_stripes_are_known():
    """Read upside down, the hips lie 240 and 540 mm from the line that was measured: whole repeats."""
    repeat = Repeat(across_mm=60.0, line_mm=10.0)
    return faults(*striped(repeat=repeat, turns=(180.0, 180.0)))


@wrong()
def sides_that_meet_a_little_before_a_line():
    """One just past it, the other just before it: 1.2 mm apart, not nearly a whole repeat."""
    lay, project = striped((-0.6, 300.0), ON_LINE, Repeat(along_mm=100.0))
    first, second = lay.sections[0].placed
    placed = (moved(first, 100.6, 0.0), moved(second, 100.0, 0.0))
    return faults(changed(lay, placed=placed), project)


@wrong(LineFault.NO_MAIN_LINE)
def a_stripe_that_nobody_measured():
    return faults(*striped(matches=ON_LINE, repeat=Repeat(across_mm=60.0)))


@wrong(LineFault.ACROSS_THE_LINES)
def sides_across_the_cloth():
    return faults(*striped(turns=(90.0, 90.0), second=(0.0, 500.0), turn=Turn.QUARTER))


@wrong(LineFault.TURNED_OFF_NO_LINE)
def sides_turned_where_no_stripe_is_known():
    return faults(*striped(repeat=Repeat(across_mm=60.0), turns=(180.0, 180.0)))


@wrong(LineFault.UNMARKED, PieceFault.NOT_THE_PIECE, PieceFault.NOT_AS_SAID)
def a_side_without_its_point():
    lay, project = striped()
    first, second = lay.sections[0].placed
    bare = replace(second.shape, features=tuple(one for one in second.shape.features if one.name != "hip"))
    return faults(changed(lay, placed=(first, replace(second, shape=bare))), project)


def folded_stripes(width=480.0, low=90.0, repeat=None, **changes):
    """A pair of sides cut from both layers of a cloth folded lengthwise, the hips 18 cm up from `low`."""
    side = marked(make_piece("side", box(200, 400), pairs()), *HIP)
    cloth = replace(FOLDED, repeat=repeat or Repeat(across_mm=60.0, line_mm=10.0))
    front = put(side, 0.0, low, copies=(1, 2), yields=Yield.PAIR)
    one = section(front, spread=Spread.LENGTHWISE_FOLD, length=500.0, width=width)
    return lay_of(one, cloth=cloth), project_of(side, cloth=cloth, matches=(match("side", **changes),))


@wrong()
def a_fold_with_room_to_lie_on_a_stripe():
    """A quarter of the repeat, or half of it where points must lie on a main line."""
    return faults(*folded_stripes(485.0 + 0.008)) + faults(*folded_stripes(470.0 + 0.008, 60.0, on_line=True))


@wrong(LineFault.NO_ROOM_FOR_THE_FOLD)
def a_fold_without_room():
    found = [faults(*folded_stripes(485.0 + 0.02)), faults(*folded_stripes(470.0 + 0.02, 60.0, on_line=True))]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@wrong(LineFault.UNEVEN_DOUBLE)
def an_uneven_stripe_folded():
    return faults(*folded_stripes(repeat=Repeat(across_mm=60.0, line_mm=10.0, uneven=(Axis.ACROSS,))))


@wrong(LineFault.PARTLY_ON_A_FOLD)
def one_side_on_a_fold_and_one_in_one_layer():
    lay, project = folded_stripes(repeat=Repeat(across_mm=60.0))
    other = marked(make_piece("facing", box(200, 400), pairs()), *HIP)
    cloth = lay.cloth
    # On the fold the hips lie half a repeat from a line; here 270 and 510 mm from the selvedge.
    placed = (put(other, 0.0, 80.0), put(other, 0.0, 480.0, copies=(2,), face=Face.DOWN))
    opened = section(*placed, start=500.0, length=400.0)
    lay = replace(lay, sections=(*lay.sections, opened))
    project = project_of(*project.pieces, other, cloth=cloth, matches=(match("side", "facing"),))
    return faults(lay, project)


# Wishes.


def wished(wish, welt=None):
    lay, project = open_lay(welt=welt)
    return faults(lay, replace(project, wishes=(wish,)))


@wrong(WishFault.NEAR_THE_END)
def a_piece_too_near_the_end():
    return wished(FromEnd(("welt",), 100.02), put(WELT, 100.0, 600.0))


@wrong()
def a_piece_as_far_from_the_end_as_wished():
    return wished(FromEnd(("welt",), 100.008), put(WELT, 100.0, 600.0))


@wrong(WishFault.FAR_APART)
def pieces_too_far_apart():
    return wished(Together(("front", "welt"), 549.98), put(WELT, 400.0, 600.0))


@wrong()
def pieces_as_near_together_as_wished():
    return wished(Together(("front", "welt"), 549.992), put(WELT, 400.0, 600.0))


PIN = Pin(("welt",), 75.0, 640.0)
"""The middle of the welt: 75 mm from the cut end, 640 mm from the outer edge of the selvedge."""


@wrong()
def a_piece_where_it_is_pinned():
    return wished(PIN) + wished(replace(PIN, along_mm=75.04)) + wished(replace(PIN, across_mm=640.04))


@wrong(WishFault.OFF_ITS_PIN)
def a_piece_along_from_its_pin():
    return wished(replace(PIN, along_mm=75.07))


@wrong(WishFault.OFF_ITS_PIN)
def a_piece_across_from_its_pin():
    return wished(replace(PIN, across_mm=640.07))


@wrong(WishFault.TURNED_ON_ITS_PIN)
def a_pinned_piece_turned():
    return wished(PIN, put(WELT, 0.0, 600.0, turned=180.0))


@wrong(WishFault.TURNED_ON_ITS_PIN)
def a_piece_to_be_pinned_turned_that_is_not():
    return wished(replace(PIN, turned=True))


@wrong()
def a_piece_turned_as_it_is_pinned():
    return wished(replace(PIN, turned=True), put(WELT, 0.0, 600.0, turned=180.0))


def pinned_to_the_fold(off_mm):
    """The back lies on the fold, its middle 125 mm from there, though so much less was measured."""
    lay, project = folded_lay()
    return faults(lay, replace(project, wishes=(Pin(("back",), 250.0, 125.0 - off_mm),)))


@wrong()
def a_piece_on_the_fold_pinned_as_measured():
    return pinned_to_the_fold(0.95)


@wrong(WishFault.OFF_ITS_PIN)
def a_piece_on_the_fold_pinned_elsewhere():
    return pinned_to_the_fold(1.05)


@wrong(LayFault.NOT_ASKED_FOR)
def a_piece_that_is_wished_near_another_and_not_asked_for():
    """Told, and not come to grief over."""
    lay, project = open_lay()
    welt = next(one.piece for one in lay.sections[0].placed if one.piece != FRONT.name)
    return faults(lay, replace(project, pieces=(FRONT,), wishes=(Together((FRONT.name, welt), 5000.0),)))


@wrong(WishFault.PINNED_AND_NOT_LAID, PieceFault.OTHER_NUMBER)
def a_pinned_piece_left_out():
    lay, project = open_lay()
    less = changed(lay, placed=lay.sections[0].placed[:2])
    return faults(less, replace(project, wishes=(PIN,)))


# How the cloth lies.


def stretch(*sections, cloth=None):
    spread = sections[0].spread
    return stretch_faults(sections, replace(cloth or PLAIN, spread=spread), OVERLAP_TOLERANCE_MM)


TUBULAR = replace(PLAIN, width_mm=500.0, selvedge_mm=0.0, tube=True)


@wrong(StretchFault.ONLY_A_TUBE)
def a_plain_cloth_laid_as_a_tube():
    return stretch(section(spread=Spread.TUBE, width=500.0))


@wrong(StretchFault.NOT_A_TUBE)
def a_tube_laid_on_a_fold():
    return stretch(section(spread=Spread.LENGTHWISE_FOLD, width=500.0), cloth=TUBULAR)


def part_fold(depth=300.0, across=310.0, width=390.0, **changes):
    """30 cm folded over with its selvedge; beside it what is left, 69 cm less the part folded over."""
    return (
        section(spread=Spread.PART_FOLD, width=depth),
        replace(section(spread=Spread.PART_FOLD, across=across, width=width, number=1), **changes),
    )


def double_fold(near=200.0, far_at=230.0, far=280.0):
    """Both selvedges folded in to meet: 20 cm of one, 28 cm of the other, a selvedge of each between."""
    return (
        section(spread=Spread.DOUBLE_FOLD, width=near),
        section(spread=Spread.DOUBLE_FOLD, across=far_at, width=far, number=1),
    )


@wrong()
def stretches_as_they_may_lie():
    return [
        *stretch(section()),
        *stretch(section(spread=Spread.LENGTHWISE_FOLD, width=500.0)),
        *stretch(section(spread=Spread.CROSSWISE_FOLD)),
        *stretch(section(spread=Spread.TWO_LENGTHS)),
        *stretch(section(spread=Spread.TUBE, width=500.0), cloth=TUBULAR),
        *stretch(*part_fold()),
        *stretch(*double_fold()),
        *stretch(section(width=1000.008)),
        *stretch(section(across=-0.008, width=500.0)),
        *stretch(*part_fold(length_mm=600.008)),
        *stretch(*part_fold(depth=300.0, across=309.992, width=390.016)),
        *stretch(section(spread=Spread.LENGTHWISE_FOLD, width=400.0, across=0.008)),
        *stretch(*double_fold(far=279.992)),
    ]


@wrong(StretchFault.NOT_SIDE_BY_SIDE)
def sections_of_different_lengths():
    return stretch(*part_fold(length_mm=600.02))


@wrong(StretchFault.NOT_SIDE_BY_SIDE)
def sections_that_lie_differently():
    return stretch(*part_fold(spread=Spread.OPEN))


@wrong(StretchFault.OTHER_LAYERS)
def a_single_layer_called_double():
    return stretch(replace(section(), layers=2))


@wrong(StretchFault.OTHER_LAYERS)
def a_fold_on_the_other_side():
    return stretch(replace(section(spread=Spread.LENGTHWISE_FOLD, width=500.0), fold=Fold.HIGH))


@wrong(StretchFault.NO_ROOM)
def sections_wider_than_the_cloth():
    found = [
        stretch(section(width=1000.02)),
        stretch(section(across=-0.02, width=500.0)),
        stretch(section(spread=Spread.LENGTHWISE_FOLD, width=500.02)),
        stretch(section(spread=Spread.CROSSWISE_FOLD, width=1000.02)),
        stretch(section(spread=Spread.TWO_LENGTHS, width=1000.02)),
        stretch(section(spread=Spread.TUBE, width=500.02), cloth=TUBULAR),
        stretch(*part_fold(width=390.02)),
        stretch(*part_fold(across=309.98)),
        stretch(*part_fold(depth=500.02, across=511.0, width=0.0)),
        stretch(*double_fold(near=210.02)),
        stretch(*double_fold(far=280.02)),
    ]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@wrong(StretchFault.NO_ROOM)
def sections_that_end_short_of_their_fold():
    found = [
        stretch(section(spread=Spread.LENGTHWISE_FOLD, width=400.0, across=0.02)),
        stretch(*double_fold(far=279.98)),
    ]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


# What is left over.


BINDING = SmallPiece("binding", "main", 40.0, 300.0, lie=Lie.BIAS)
PATCH = SmallPiece("patch", "main", 80.0, 90.0)
BUTTON = SmallPiece("button", "main", 50.0, 50.0, round=True)


def left(rectangles=(), placed=(), asked=(), **changes):
    """What is said to be left of the open lay and 30 cm more: flat, from the outer edge of the selvedge."""
    lay, _ = open_lay()
    lay = replace(lay, cloth=replace(lay.cloth, **changes))
    return leftover_faults(lay, 300.0, LeftOver((), (), (), tuple(rectangles), tuple(placed), asked))


def rectangle(length, width, x=600.0, u=100.0, angle_deg=0.0):
    ring = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    return ring @ np.array([[c, s], [-s, c]]) + [x, u]


def disc(across_mm, x=700.0, u=400.0):
    t = np.linspace(0, 2 * np.pi, 257)[:-1]
    return np.column_stack([np.cos(t), np.sin(t)]) * across_mm / 2 + [x, u]


@wrong()
def what_is_really_left():
    placed = (
        SmallPlaced(BINDING, rectangle(300.0, 40.0, 650.0, 200.0, 45.0)),
        SmallPlaced(PATCH, rectangle(90.0, 80.0, 600.0, 20.0)),
        SmallPlaced(BUTTON, disc(50.01, 650.0, 700.0)),
    )
    return left([Rectangle(500.0, 800.0, 900.0, 1010.0)], placed, (BINDING, PATCH, BUTTON))


@wrong()
def what_is_left_as_rounded():
    return left([Rectangle(499.992, 800.0, 900.008, 1010.008), Rectangle(600.0, 9.992, 899.0, 800.008)])


@wrong(LeftFault.OFF_THE_CLOTH)
def cloth_that_there_is_not():
    found = [
        left([Rectangle(600.0, 100.0, 900.02, 200.0)]),
        left([Rectangle(600.0, 9.98, 700.0, 200.0)]),
        left([Rectangle(600.0, 900.0, 700.0, 1010.02)]),
    ]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


def left_of_a_tube(low, high):
    """A rectangle behind the lay of a tube, whose round is counted both ways from its near fold."""
    front = put(FRONT, 0.0, 100.0, copies=(1, 2), yields=Yield.PAIR)
    lay = lay_of(section(front, spread=Spread.TUBE, width=500.0), cloth=replace(TUBULAR, spread=Spread.TUBE))
    there = (Rectangle(600.0, low, 900.0, high),)
    return leftover_faults(lay, 300.0, LeftOver((), (), (), there, (), ()))


@wrong()
def what_is_left_all_round_a_tube():
    return left_of_a_tube(-499.0, 499.0)


@wrong(LeftFault.OFF_THE_CLOTH)
def more_than_the_round_of_a_tube():
    return left_of_a_tube(-500.02, 400.0)


@wrong(LeftFault.LIES_OVER)
def cloth_that_is_taken():
    hole = ((720.0, 800.0), (730.0, 800.0), (730.0, 810.0))
    found = [
        left([Rectangle(499.98, 220.0, 700.0, 300.0)]),
        left([Rectangle(600.0, 100.0, 700.0, 200.0), Rectangle(699.98, 100.0, 800.0, 200.0)]),
        left([Rectangle(600.0, 700.0, 800.0, 900.0)], remnants=in_hand(hole)),
    ]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@wrong(LeftFault.NOT_AS_ASKED)
def small_pieces_that_are_not_as_asked():
    wrong_ones = [
        SmallPlaced(BINDING, rectangle(300.0, 40.0, 600.0, 200.0)),
        SmallPlaced(BINDING, rectangle(300.0, 40.0, 650.0, 200.0, 45.001)),
        SmallPlaced(PATCH, rectangle(90.0, 80.0, 700.0, 20.0, 90.0)),
        SmallPlaced(PATCH, rectangle(90.06, 80.0)),
        SmallPlaced(PATCH, rectangle(89.94, 80.0)),
        SmallPlaced(PATCH, rectangle(90.0, 79.94)),
        SmallPlaced(PATCH, rectangle(90.0, 80.0)[:3]),
        SmallPlaced(PATCH, rectangle(90.0, 80.0) + np.array([(0, 0), (0, 0), (3, 0), (3, 0)])),
        SmallPlaced(BUTTON, disc(49.88)),
        SmallPlaced(replace(PATCH, lie=Lie.ACROSS), rectangle(90.0, 80.0)),
    ]
    found = [left(placed=(one,)) for one in wrong_ones]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@wrong()
def small_pieces_as_rounded():
    right_ones = [
        SmallPlaced(BUTTON, disc(49.94)),
        SmallPlaced(replace(PATCH, lie=Lie.ACROSS), rectangle(90.0, 80.0, 750.0, 20.0, 90.0)),
        SmallPlaced(replace(PATCH, lie=Lie.EITHER), rectangle(90.0, 80.0, 750.0, 20.0, 90.0)),
        SmallPlaced(replace(PATCH, lie=Lie.EITHER), rectangle(90.0, 80.0)),
    ]
    return [fault for one in right_ones for fault in left(placed=(one,))]


@wrong(LeftFault.TOO_OFTEN)
def more_small_pieces_than_asked():
    two = (SmallPlaced(PATCH, rectangle(90.0, 80.0)), SmallPlaced(PATCH, rectangle(90.0, 80.0, 750.0)))
    return left(placed=two, asked=(PATCH,))


# Shared out among remnants.


SCRAPS = replace(PLAIN, remnants=(Remnant("long", 900.0), Remnant("short", 400.0, 500.0)))


def share(counts, asked=None, cloth=SCRAPS, remnants=SCRAPS.remnants):
    """The front cut by those counts from the first remnant, the second, ..."""
    keys = [f"main {number}" for number in range(len(counts))]
    cloths = {
        key: replace(cloth, key=key, width_mm=one.width_mm or 1020.0, remnants=(one,))
        for key, one in zip(keys, remnants, strict=False)
    }
    cuts = {key: count for key, count in zip(keys, counts, strict=True) if count is not None}
    project = project_of(replace(FRONT, cuts={"main": asked or CutCount(CutKind.PAIR, 1)}), cloth=cloth)
    parts = replace(project, cloths=cloths, pieces=(replace(FRONT, cuts=cuts),))
    return sharing_faults(project, cloth, parts)


@wrong(SharingFault.OTHER_NUMBER)
def a_piece_lost_in_sharing_out():
    project = project_of(replace(FRONT, cuts={"main": CutCount(CutKind.PAIR, 1)}), cloth=SCRAPS)
    return sharing_faults(project, SCRAPS, replace(project, pieces=()))


LEFT, RIGHT = (CutCount(CutKind.SINGLE, 1, mirrored=mirrored) for mirrored in (False, True))


@wrong()
def pieces_shared_out_as_asked():
    parted = share([LEFT, RIGHT], cloth=replace(SCRAPS, part_pairs=True))
    return (*share([CutCount(CutKind.PAIR, 1), None]), *parted)


@wrong(SharingFault.OTHER_NUMBER)
def two_lefts_from_two_remnants():
    return share([LEFT, LEFT], cloth=replace(SCRAPS, part_pairs=True))


@wrong(SharingFault.OTHER_NUMBER)
def a_pair_too_many():
    return share([CutCount(CutKind.PAIR, 1), CutCount(CutKind.PAIR, 1)])


@wrong(SharingFault.PARTED)
def a_left_and_a_right_from_different_remnants():
    return share([LEFT, RIGHT])


@wrong(SharingFault.NO_SUCH_REMNANT)
def remnants_that_there_are_not():
    whole = [CutCount(CutKind.PAIR, 1)]
    found = [
        share(whole, remnants=(Remnant("long", 901.0),)),
        share(whole, remnants=(Remnant("lang", 900.0),)),
        share(whole, remnants=(Remnant("long", 900.0, 1021.0),)),
        share(whole, remnants=(Remnant("short", 400.0, 499.0),)),
        share(
            whole,
            remnants=(replace(SCRAPS.remnants[0], blocked=in_hand(((0, 0), (9, 0), (9, 9)))[0].blocked),),
        ),
    ]
    assert all(found), "each of them"
    return [fault for one in found for fault in one]


@pytest.mark.parametrize("made", [open_lay, folded_lay])
def test_the_lays_to_be_spoiled_are_sound(made):
    assert faults(*made()) == ()


@pytest.mark.parametrize(("case", "kinds"), CASES)
def test_each_is_wrong_in_just_that_way(case, kinds):
    assert {fault.kind for fault in case()} == kinds


def test_every_fault_that_a_verifier_knows_is_found_in_some_lay():
    verifiers = [kind for kind in FaultKind.__subclasses__() if kind.__module__.startswith("nesting.cutting")]
    assert len(verifiers) == 7
    found = {kind for case in CASES for kind in case.values[1]}
    assert {fault for kind in verifiers for fault in kind} - found == set()
