"""The verifier must turn away every lay that is wrong: each test spoils one thing of a sound lay."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.lay import Face, Yield
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults, require_sound
from nesting.errors import LayRefused
from nesting.pattern.piece import Notch, Turn
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=0, walks=1)
SPREADS = [Spread.OPEN, Spread.LENGTHWISE_FOLD]


def laid(project, spread):
    cloth = replace(project.cloths["main"], spread=spread)
    project = replace(project, cloths={"main": cloth})
    return lay_cloth(project, cloth, effort=QUICK), project


def spoil(lay, number, change, section=0):
    """The lay with one placed piece changed."""
    placed = list(lay.sections[section].placed)
    placed[number] = change(placed[number])
    sections = list(lay.sections)
    sections[section] = replace(sections[section], placed=tuple(placed))
    return replace(lay, sections=tuple(sections))


def moved(dx, dy):
    return lambda one: replace(one, shape=one.shape.transformed(np.eye(2), np.array([dx, dy])))


def turned_over(one):
    """Mirrored across the cloth about its own middle."""
    middle = one.shape.cut_line[:, 1].min() + one.shape.cut_line[:, 1].max()
    return replace(one, shape=one.shape.transformed(np.diag([1.0, -1.0]), np.array([0.0, middle])))


def turned_half(one):
    low, high = one.shape.cut_line.min(axis=0), one.shape.cut_line.max(axis=0)
    return replace(one, shape=one.shape.transformed(-np.eye(2), low + high))


@pytest.mark.parametrize("spread", SPREADS)
def test_a_lay_as_made_is_sound(jacket_like, spread):
    assert faults(*laid(jacket_like, spread)) == ()


@pytest.mark.parametrize("spread", SPREADS)
def test_a_piece_moved_onto_its_neighbour_overlaps(jacket_like, spread):
    lay, project = laid(jacket_like, spread)
    first, second = (one.shape.cut_line.min(axis=0) for one in lay.sections[0].placed[:2])
    found = faults(spoil(lay, 0, moved(*(second - first))), project)
    assert any("overlap" in fault for fault in found)


def test_a_hair_of_overlap_that_nobody_can_cut_is_let_pass():
    lay, project = laid(make_project(make_piece("box", box(400, 300), singles(2))), Spread.OPEN)
    assert faults(spoil(lay, 0, moved(0.0, 0.004)), project) == ()


@pytest.mark.parametrize("spread", SPREADS)
def test_a_piece_over_the_selvedge_is_outside(jacket_like, spread):
    lay, project = laid(jacket_like, spread)
    assert any("outside" in fault for fault in faults(spoil(lay, 0, moved(0.0, 2000.0)), project))


def test_a_piece_left_out_is_missed(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    section = lay.sections[0]
    fewer = replace(lay, sections=(replace(section, placed=section.placed[1:]),))
    assert any("asked" in fault for fault in faults(fewer, project))


def test_two_lefts_are_no_pair():
    lay, project = laid(make_project(make_piece("front", hook(300, 500), pairs())), Spread.OPEN)
    assert any("do not make pairs" in fault for fault in faults(spoil(lay, 0, turned_over), project))


def test_a_single_cut_the_wrong_way_round_is_found():
    lay, project = laid(make_project(make_piece("welt", hook(60, 150), singles())), Spread.OPEN)
    assert any("wrong way round" in fault for fault in faults(spoil(lay, 0, turned_over), project))


def test_a_piece_lying_against_the_nap_is_found():
    project = make_project(make_piece("front", hook(300, 500), singles()))
    project = replace(project, cloths={"main": replace(project.cloths["main"], nap=Nap.ONE_WAY)})
    lay, project = laid(project, Spread.OPEN)
    assert any("off its grain" in fault for fault in faults(spoil(lay, 0, turned_half), project))


def test_a_fold_piece_off_the_fold_is_found():
    project = make_project(make_piece("back", hook(250, 500), on_fold(), on_fold="edge 5"))
    lay, project = laid(project, Spread.LENGTHWISE_FOLD)
    found = faults(spoil(lay, 0, moved(0.0, 5.0)), project)
    assert any("does not lie on the fold" in fault for fault in found)


@pytest.mark.parametrize("rounding_mm", [6e-7, -6e-7])
def test_rounding_at_the_fold_does_not_part_the_halves(rounding_mm):
    project = make_project(make_piece("back", hook(250, 500), on_fold(), on_fold="edge 5"))
    lay, project = laid(project, Spread.LENGTHWISE_FOLD)
    assert faults(spoil(lay, 0, moved(0.0, rounding_mm)), project) == ()


def test_a_piece_of_another_size_is_not_the_one_asked_for(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)

    def shrunk(one):
        return replace(one, shape=replace(one.shape, cut_line=one.shape.cut_line * [0.999, 1.0]))

    assert any("not the piece asked for" in fault for fault in faults(spoil(lay, 0, shrunk), project))


def test_a_pair_claimed_from_a_single_layer_is_found(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    claimed = spoil(lay, 0, lambda one: replace(one, yields=Yield.PAIR, copies=(1, 2)))
    assert any("cannot give" in fault for fault in faults(claimed, project))


def test_an_unsound_lay_is_refused_with_all_its_faults(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    with pytest.raises(LayRefused, match="outside"):
        require_sound(spoil(lay, 0, moved(0.0, 2000.0)), project)


# What a lay says of itself in words and numbers must be true of its outlines.


def test_a_wrong_face_told_is_found():
    lay, project = laid(make_project(make_piece("welt", hook(60, 150), singles())), Spread.OPEN)
    told = spoil(lay, 0, lambda one: replace(one, face=Face.DOWN))
    assert any("does not lie face down" in fault for fault in faults(told, project))


@pytest.mark.parametrize("spread", SPREADS)
def test_a_wrong_turn_told_is_found(spread):
    lay, project = laid(make_project(make_piece("front", hook(300, 500), pairs())), spread)
    told = spoil(lay, 0, lambda one: replace(one, turned_deg=one.turned_deg + 180))
    assert any("does not lie" in fault for fault in faults(told, project))


def test_marks_on_the_wrong_side_of_a_symmetric_outline_are_found():
    notched = make_piece("tab", box(60, 150), singles(), notches=(Notch("", "edge 1", (60.0, 40.0)),))
    lay, project = laid(make_project(notched), Spread.OPEN)

    def marked_wrong(one):
        over = turned_over(one).shape
        return replace(one, shape=replace(one.shape, features=over.features))

    found = faults(spoil(lay, 0, marked_wrong), project)
    assert any("wrong way round" in fault for fault in found)
    assert any("does not lie face up" in fault for fault in found)


def test_a_total_that_is_not_what_was_asked_is_found(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    told = spoil(lay, 0, lambda one: replace(one, of=7))
    assert any("one of 7" in fault for fault in faults(told, project))


def test_a_bound_longer_than_the_lay_is_found(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    (section,) = lay.sections
    boasting = replace(lay, sections=(replace(section, bound_mm=section.length_mm + 1),))
    assert any("shorter than its bound" in fault for fault in faults(boasting, project))


def test_layers_that_the_spread_does_not_make_are_found(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    (section,) = lay.sections
    doubled = replace(lay, sections=(replace(section, layers=2),))
    assert any("2 layer(s)" in fault for fault in faults(doubled, project))


def test_a_lay_on_another_cloth_is_found(jacket_like):
    """One that forgets the nap would judge its pieces by a kinder rule than the project's."""
    lay, project = laid(jacket_like, Spread.OPEN)
    napped = replace(project, cloths={"main": replace(project.cloths["main"], nap=Nap.ONE_WAY)})
    assert any("another cloth" in fault for fault in faults(lay, napped))


def test_a_spread_that_was_not_asked_for_is_found(jacket_like):
    lay, project = laid(jacket_like, Spread.OPEN)
    assert any("asked for" in fault for fault in faults(replace(lay, spread=Spread.LENGTHWISE_FOLD), project))


def test_the_gap_is_kept_across_the_change_from_folded_to_open(jacket_like):
    cloth = replace(jacket_like.cloths["main"], gap_mm=20.0)
    lay, project = laid(replace(jacket_like, cloths={"main": cloth}), Spread.LENGTHWISE_FOLD)
    assert faults(lay, project) == ()
    folded, opened = lay.sections
    reach = max(one.shape.cut_line[:, 0].max() for one in folded.placed)
    assert opened.start_mm - reach == pytest.approx(20.0)
    touching = replace(lay, sections=(folded, replace(opened, start_mm=reach)))
    assert any("closer than 20 mm" in fault for fault in faults(touching, project))


def test_an_all_but_symmetric_pair_is_as_good_as_a_pair():
    """Half a millimetre off on the paper: left and right are the same piece, whichever face is up."""
    nearly = [(0, 0), (200, 0), (200.5, 300), (0, 300)]
    assert faults(*laid(make_project(make_piece("pocket", nearly, pairs())), Spread.OPEN)) == ()


@given(angle=st.floats(0, 360))
def test_a_piece_that_may_lie_at_any_angle_is_known_again_at_any(angle):
    cloth = Cloth(key="main", name="fleece", width_mm=3000, turn=Turn.ANY, spread=Spread.OPEN)
    lay, project = laid(
        make_project(make_piece("front", hook(300, 500), singles()), cloth=cloth), Spread.OPEN
    )
    c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))

    def turned(one):
        shape = one.shape.transformed(np.array([[c, -s], [s, c]]), np.zeros(2))
        shape = shape.transformed(np.eye(2), -shape.cut_line.min(axis=0))
        return replace(one, shape=shape, turned_deg=one.turned_deg + angle)

    (section,) = lay.sections
    longer = replace(lay, sections=(replace(section, length_mm=800.0, bound_mm=0.0),))
    assert faults(spoil(longer, 0, turned), project) == ()
    over = faults(spoil(longer, 0, lambda one: turned_over(turned(one))), project)
    assert any("wrong way round" in fault for fault in over)
