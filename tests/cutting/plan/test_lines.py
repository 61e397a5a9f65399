"""Stripes and checks: what meets on the same line, in which spreads, and lays that miss it by little."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.repeat import Repeat
from nesting.cutting.plan.lines import kept_back_mm, matching_of, why_not_held
from nesting.cutting.reasons import Barred, OffTheFold
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.match import Axis, Match
from nesting.pattern.phases import groups
from nesting.pattern.piece import CutCount, CutKind, Mark, Turn
from tests.conftest import (
    box,
    examples,
    fit_mistakes,
    hook,
    make_piece,
    make_project,
    on_fold,
    pairs,
    singles,
)

QUICK = Effort(evaluations_per_placement=2_000, walks=1)
CHECK = Repeat(along_mm=80.0, across_mm=60.0)


FRONT = {"waist": (0, 300), "centre": (260, 100), "pocket": (73, 151)}


def at(**points):
    """Matching points by name, in paper coordinates."""
    return tuple(Mark(name, (place,)) for name, place in points.items())


def checked_cloth(repeat=CHECK, spread=Spread.OPEN, **changes):
    return Cloth(
        key="main", name="check", width_mm=1020, selvedge_mm=10, spread=spread, repeat=repeat, **changes
    )


def tunic(cloth, *matches):
    """A back on the fold, a pair of fronts, a pair of pockets; each with points that can be matched.

    ::

        back (half)   front      pocket
        +---+         +---+
        |   |         |   |
        |   w         w   c      +-+
        |   |         | p |      +-+ the pocket's corner
        +---+         +---+
        fold on the left
    """
    return make_project(
        make_piece("back", box(240, 700), on_fold(), on_fold="edge 3", matching=at(waist=(240, 310))),
        make_piece("front", hook(260, 690), pairs(), matching=at(**FRONT)),
        make_piece("pocket", box(120, 140), pairs(), matching=at(corner=(0, 0))),
        cloth=cloth,
        matches=matches,
    )


SIDES = Match("side seams", (("front", "waist"), ("back", "waist")))
CENTRE = Match("centre front", (("front", "centre"),))
POCKET = Match("pocket", (("pocket", "corner"), ("front", "pocket")))


def laid(project, effort=QUICK):
    assert fit_mistakes(project) == ()
    return lay_cloth(project, project.cloths["main"], effort=effort)


def points_of(lay, piece):
    """Where each matching point of a piece lies on the table, by name, one list entry a placement."""
    found = {}
    for section in lay.sections:
        for placed in section.placed:
            for feature in placed.shape.features if placed.piece == piece else ():
                if feature.kind == "matching point":
                    found.setdefault(feature.name, []).append(feature.vertices[0])
    return found


def off(a, b, repeat):
    return abs((a - b + repeat / 2) % repeat - repeat / 2)


def test_side_seams_meet_on_the_bars_of_a_check():
    lay = laid(tunic(checked_cloth(), replace(SIDES, axes=(Axis.ALONG,))))
    fronts, backs = points_of(lay, "front")["waist"], points_of(lay, "back")["waist"]
    assert len(fronts) == len(backs) == 2
    for placed in lay.sections[0].placed:
        assert placed.turned_deg in (0.0, 180.0)
    phases = [x if placed.turned_deg == 0 else -x for placed, (x, _) in marked(lay, "waist")]
    assert max(off(phase, phases[0], 80.0) for phase in phases) < 0.01


def marked(lay, point):
    return [
        (placed, feature.vertices[0])
        for section in lay.sections
        for placed in section.placed
        for feature in placed.shape.features
        if feature.kind == "matching point" and feature.name == point
    ]


def test_a_pocket_meets_the_front_both_ways_on_either_side():
    lay = laid(tunic(checked_cloth(), POCKET))
    for face in ("face up", "face down"):
        (front,) = [at for placed, at in marked(lay, "pocket") if placed.face == face]
        (pocket,) = [at for placed, at in marked(lay, "corner") if placed.face == face]
        assert off(front[0], pocket[0], 80.0) < 0.01
        assert off(front[1], pocket[1], 60.0) < 0.01


def test_the_centre_front_of_a_pair_cut_double_lies_on_a_stripe_or_between_two():
    """The layers lie mirrored about the fold, so only there do left and right continue each other."""
    lay = laid(tunic(checked_cloth(spread=Spread.LENGTHWISE_FOLD), CENTRE))
    ((_, y),) = points_of(lay, "front")["centre"]
    assert off(y, 0.0, 30.0) < 0.01
    assert lay.sections[0].width_mm == 500.0 - 60.0 / 4


def test_a_main_line_at_centre_front():
    cloth = checked_cloth(replace(CHECK, line_mm=25.0))
    lay = laid(tunic(cloth, replace(CENTRE, on_line=True)))
    for _, (x, y) in marked(lay, "centre"):
        assert off(x, 0.0, 80.0) < 0.01
        assert off(y, 25.0 - 10.0, 60.0) < 0.01  # 25 mm from the selvedge's outer edge


def test_a_main_line_across_needs_somebody_who_measured_it():
    project = tunic(checked_cloth(), replace(CENTRE, on_line=True))
    (problem,) = fit_mistakes(project)
    assert "nobody has measured where the main line lies" in problem.what


def test_shrinkage_shrinks_the_repeat_too():
    cloth = checked_cloth(shrinkage_along_pct=5.0, shrinkage_across_pct=2.0)
    assert cloth.repeat_mm(Axis.ALONG) == pytest.approx(76.0)
    assert cloth.repeat_mm(Axis.ACROSS) == pytest.approx(58.8)
    assert faults(laid(project := tunic(cloth, SIDES, POCKET)), project) == ()


@pytest.mark.parametrize("axis", Axis)
def test_an_uneven_stripe_makes_the_cloth_one_way(axis):
    cloth = checked_cloth(Repeat(80.0, 60.0, uneven=(axis,)), turn=Turn.QUARTER)
    assert cloth.one_way
    lay = laid(tunic(cloth))
    assert {placed.turned_deg for placed in lay.sections[0].placed} == {0.0}


def test_an_uneven_stripe_across_is_laid_in_one_layer():
    cloth = checked_cloth(Repeat(across_mm=60.0, uneven=(Axis.ACROSS,)), Spread.BEST)
    lay = laid(tunic(cloth))
    assert lay.spread is Spread.OPEN
    reasons = {tried.spread: tried.why_not for tried in lay.tried}
    assert reasons[Spread.LENGTHWISE_FOLD] is Barred.STRIPE_REVERSED


@pytest.mark.parametrize(
    ("spread", "across", "along"),
    [
        (Spread.OPEN, True, True),
        (Spread.LENGTHWISE_FOLD, True, True),
        (Spread.PART_FOLD, False, True),
        (Spread.DOUBLE_FOLD, False, True),
        (Spread.CROSSWISE_FOLD, False, False),
        (Spread.TWO_LENGTHS, False, False),
    ],
)
def test_which_spreads_hold_lines(spread, across, along):
    cloth = checked_cloth(spread=spread)
    for axis, holds in ((Axis.ACROSS, across), (Axis.ALONG, along)):
        matching = matching_of(tunic(cloth, replace(SIDES, axes=(axis,))), cloth)
        assert (why_not_held(matching, cloth, spread) is None) is holds


@pytest.mark.parametrize("spread", [Spread.PART_FOLD, Spread.DOUBLE_FOLD, Spread.LENGTHWISE_FOLD])
def test_bars_are_kept_on_every_fold_along_the_cloth(spread):
    project = tunic(checked_cloth(spread=spread), replace(SIDES, axes=(Axis.ALONG,)))
    lay = laid(project)
    assert faults(lay, project) == ()
    assert lay.spread is spread


def test_what_is_opened_out_after_a_fold_begins_a_whole_number_of_repeats_on():
    wide = make_piece("cape", hook(700, 300), pairs(), matching=at(edge=(0, 120)))
    project = tunic(checked_cloth(spread=Spread.BEST))
    project = replace(
        project,
        pieces=(*project.pieces, wide),
        matches=(Match("level", (("cape", "edge"), ("front", "waist")), axes=(Axis.ALONG,)),),
        cloths={"main": checked_cloth(spread=Spread.DOUBLE_FOLD)},
    )
    lay = laid(project)
    assert len(lay.stretches) == 2
    start = lay.stretches[1][0].start_mm
    assert off(start, 0.0, 80.0) < 1e-6
    assert faults(lay, project) == ()


def test_what_is_matched_across_cannot_be_opened_out_away_from_the_fold():
    cloth = checked_cloth(spread=Spread.BEST)
    project = make_project(
        make_piece("front", hook(260, 690), pairs(), matching=at(pocket=(73, 151))),
        make_piece("pocket", box(120, 140), singles(), matching=at(corner=(0, 0))),
        cloth=cloth,
        matches=(POCKET,),
    )
    lay = laid(project)
    reasons = {tried.spread: tried.why_not for tried in lay.tried}
    assert reasons[Spread.LENGTHWISE_FOLD] == OffTheFold(("pocket",))
    assert lay.spread is Spread.OPEN


def test_a_piece_that_fits_half_the_cloth_but_not_beside_the_stripe_is_told_so():
    cloth = checked_cloth(spread=Spread.LENGTHWISE_FOLD)
    wide = make_piece("cape", hook(490, 300), pairs(), matching=at(edge=(0, 120)))
    (problem,) = fit_mistakes(make_project(wide, cloth=cloth, matches=(Match("cape", (("cape", "edge"),)),)))
    assert "the folded cloth gives 48.5 cm, for its fold has to lie on a stripe" in problem.what


# Lays wrong in one way


def moved(lay, piece, along, across=0.0, number=0):
    """The lay with one placement of that piece shifted, its neighbours out of the way."""
    section = lay.sections[0]
    seen = -1
    placed = []
    for one in section.placed:
        seen += one.piece == piece
        if one.piece == piece and seen == number:
            one = replace(one, shape=one.shape.transformed(np.eye(2), np.array([along, across])))
        placed.append(one)
    return replace(lay, sections=(replace(section, placed=tuple(placed)), *lay.sections[1:]))


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD])
def test_three_millimetres_along_are_found(spread):
    project = tunic(checked_cloth(spread=spread), SIDES)
    lay = laid(project)
    assert faults(lay, project) == ()
    wrong = [one for one in faults(moved(lay, "front", 3.0), project) if "misses" in one]
    assert any("by 3.0 mm on the repeat along" in one for one in wrong)
    assert not any("misses" in one for one in faults(moved(lay, "front", 0.5), project))


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD])
def test_three_millimetres_across_are_found_also_on_the_second_of_a_pair(spread):
    project = tunic(checked_cloth(spread=spread), POCKET)
    lay = laid(project)
    assert faults(lay, project) == ()
    wrong = [one for one in faults(moved(lay, "pocket", 0.0, -3.0), project) if "misses" in one]
    assert any("by 3.0 mm on the repeat across" in one for one in wrong)
    copies = {copy for one in wrong for copy in ("1", "2") if f"'pocket' {copy}" in one}
    # Cut double, both of the pair are off by it; in one layer only the one that was moved.
    assert len(copies) == (2 if spread is Spread.LENGTHWISE_FOLD else 1)


def test_a_piece_that_lost_its_matching_point_is_found():
    project = tunic(checked_cloth(), SIDES)
    lay = laid(project)
    section = lay.sections[0]
    bare = [
        replace(
            one,
            shape=replace(
                one.shape, features=tuple(f for f in one.shape.features if f.kind != "matching point")
            ),
        )
        for one in section.placed
    ]
    wrong = faults(replace(lay, sections=(replace(section, placed=tuple(bare)),)), project)
    assert any("'waist' marked on 0" in one for one in wrong)


def test_a_lay_of_other_matches_is_refused():
    project = tunic(checked_cloth(), replace(SIDES, axes=(Axis.ALONG,)))
    lay = laid(project)
    assert any("misses" in one for one in faults(lay, replace(project, matches=(POCKET,))))


def test_a_fold_without_room_to_find_a_stripe_is_found():
    project = tunic(checked_cloth(spread=Spread.LENGTHWISE_FOLD), CENTRE)
    lay = laid(project)
    section = replace(lay.sections[0], width_mm=500.0)
    assert any("no room" in one for one in faults(replace(lay, sections=(section,)), project))


def test_an_uneven_stripe_laid_double_is_found():
    even = tunic(checked_cloth(Repeat(across_mm=60.0), Spread.LENGTHWISE_FOLD))
    lay = laid(even)
    cloth = checked_cloth(Repeat(across_mm=60.0, uneven=(Axis.ACROSS,)), Spread.LENGTHWISE_FOLD)
    uneven = replace(even, cloths={"main": cloth})
    assert any("uneven stripe lies double" in one for one in faults(replace(lay, cloth=cloth), uneven))


def test_a_turned_piece_is_found_where_nobody_knows_the_stripes():
    cloth = checked_cloth(replace(CHECK, line_mm=25.0), turn=Turn.HALF)
    project = tunic(cloth, POCKET)
    lay = laid(project)
    turned = next(one for one in lay.sections[0].placed if one.piece == "pocket")
    matrix = -np.eye(2)
    shift = turned.shape.cut_line.max(axis=0) + turned.shape.cut_line.min(axis=0)
    shape = turned.shape.transformed(matrix, shift)
    placed = tuple(
        replace(one, shape=shape, turned_deg=(one.turned_deg + 180) % 360) if one is turned else one
        for one in lay.sections[0].placed
    )
    unknown = checked_cloth(CHECK, turn=Turn.HALF)
    there = replace(lay, cloth=unknown, sections=(replace(lay.sections[0], placed=placed),))
    wrong = faults(there, replace(project, cloths={"main": unknown}))
    assert any("nobody knows where the stripes lie" in one for one in wrong)


def test_a_fold_keeps_back_a_quarter_of_the_repeat_or_half_where_main_lines_are_meant():
    cloth = checked_cloth(spread=Spread.LENGTHWISE_FOLD)
    for on_line, kept in ((False, 15.0), (True, 30.0)):
        matching = matching_of(tunic(cloth, replace(CENTRE, on_line=on_line)), cloth)
        assert kept_back_mm(matching, Spread.LENGTHWISE_FOLD) == kept
        assert kept_back_mm(matching, Spread.OPEN) == 0.0


# Whatever is asked for


@st.composite
def matched_projects(draw):
    pieces = []
    garments = draw(st.sampled_from([(), (), (1, 2)]))
    for number in range(draw(st.integers(1, 4))):
        width, height = draw(st.integers(40, 300)), draw(st.integers(40, 400))
        shape = draw(st.sampled_from([box, hook]))
        kind = draw(st.sampled_from(list(CutKind)))
        fold = {"on_fold": "edge 3" if shape is box else "edge 5"} if kind is CutKind.ON_FOLD else {}
        corner = draw(st.sampled_from(shape(width, height)))
        inner = (draw(st.integers(0, width)), draw(st.integers(0, height // 2)))
        pieces.append(
            make_piece(
                f"piece {number}",
                shape(width, height),
                {"main": CutCount(kind, draw(st.integers(1, 2)) * max(1, len(garments)), garments=garments)},
                turn=draw(st.sampled_from([None, Turn.NONE, Turn.QUARTER])),
                allowance_mm=draw(st.sampled_from([0.0, 10.0])),
                matching=at(corner=corner, inner=inner),
                **fold,
            )
        )
    repeat = Repeat(
        draw(st.sampled_from([None, 23.0, 80.0])),
        draw(st.sampled_from([35.0, 61.3, 180.0])),
        draw(st.sampled_from([(), (), (Axis.ACROSS,)])),
        draw(st.sampled_from([None, 17.0])),
    )
    cloth = Cloth(
        key="main",
        name="cloth",
        width_mm=draw(st.sampled_from([900.0, 1137.0])),
        selvedge_mm=draw(st.sampled_from([0.0, 12.5])),
        shrinkage_across_pct=draw(st.sampled_from([0.0, 3.1])),
        shrinkage_along_pct=draw(st.sampled_from([0.0, 4.0])),
        nap=draw(st.sampled_from([Nap.EITHER_WAY, Nap.EITHER_WAY, Nap.EACH_GARMENT])),
        turn=draw(st.sampled_from([Turn.HALF, Turn.ANY])),
        spread=draw(st.sampled_from([Spread.BEST, *list(Spread)[1:6]])),
        gap_mm=draw(st.sampled_from([0.0, 6.0])),
        repeat=repeat,
    )
    matches = []
    for number in range(draw(st.integers(1, 3))):
        names = draw(st.lists(st.sampled_from([piece.name for piece in pieces]), min_size=1, unique=True))
        points = tuple((name, draw(st.sampled_from(["corner", "inner"]))) for name in names)
        axes = draw(st.sampled_from([(), (Axis.ALONG,), (Axis.ACROSS,)]))
        matches.append(Match(f"match {number}", points, axes, draw(st.booleans()) and draw(st.booleans())))
    names = tuple("ab"[: len(garments)])
    return make_project(*pieces, cloth=cloth, matches=tuple(matches), garments=names)


def clashes(project):
    cloth = project.cloths["main"]
    pieces = {piece.name: piece for piece in project.pieces}
    return any(
        clash.grave
        for axis in Axis
        if cloth.repeat_mm(axis)
        for clash in groups(
            axis,
            cloth.repeat_mm(axis),
            [match for match in project.matches if match.holds(axis, "main")],
            pieces,
            "main",
        )[1]
    )


@examples(20)
@given(matched_projects())
def test_every_lay_keeps_its_lines(project):
    """`faults` finds every matching point on the cut pieces, opened out, and compares their phases."""
    while project.matches and clashes(project):
        project = replace(project, matches=project.matches[:-1])
    if fit_mistakes(project):
        return
    lay = lay_cloth(project, project.cloths["main"], effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm * (1 + 1e-9)
