"""Several garments in one lay: which garment each piece is for, and which way up each garment lies."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.flat.placing import numbered
from nesting.cutting.plan.demand import directions, lots_of, wanted
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import CutCount, CutKind, Turn
from nesting.words.placing import copies_text
from tests.conftest import box, examples, hook, make_piece, make_project
from tests.cutting.verify.test_verify import spoil, turned_half

QUICK = Effort(evaluations_per_placement=0, walks=1)
SPREADS = [Spread.OPEN, Spread.LENGTHWISE_FOLD]


def order_of(garments, nap=Nap.EITHER_WAY, spread=Spread.OPEN, **changes):
    """A pair of hooks, a back on the fold and an odd welt of each garment."""
    numbers = tuple(range(1, garments + 1))

    def cuts(kind):
        return {"main": CutCount(kind, garments, garments=numbers)}

    kinds = {"front": CutKind.PAIR, "back": CutKind.ON_FOLD, "welt": CutKind.SINGLE}
    shapes = {"front": hook(300, 500), "back": box(250, 500), "welt": hook(60, 150)}
    pieces = [
        make_piece(
            f"{name} 12",
            shapes[name],
            cuts(kind),
            on_fold="edge 3" if name == "back" else None,
            size="12",
            **changes,
        )
        for name, kind in kinds.items()
    ]
    cloth = Cloth(key="main", name="velvet", width_mm=1020, selvedge_mm=10, spread=spread, nap=nap)
    return make_project(*pieces, cloth=cloth, garments=("12",) * garments), cloth


@pytest.mark.parametrize("spread", SPREADS)
def test_every_garment_gets_all_its_pieces(spread):
    project, cloth = order_of(3, spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    got = {}
    for section in lay.sections:
        for placed in section.placed:
            assert placed.size == "12"
            for copy in placed.copies:
                got.setdefault(placed.piece, []).append((copy, placed.garments))
    assert sorted(got["front 12"]) == [(1, (1,)), (2, (1,)), (3, (2,)), (4, (2,)), (5, (3,)), (6, (3,))]
    assert sorted(got["back 12"]) == [(1, (1,)), (2, (2,)), (3, (3,))]


def test_the_label_says_for_which_garment():
    project, cloth = order_of(2)
    lay = lay_cloth(project, cloth, effort=QUICK)
    told = {copies_text(item.placed) for item in numbered(lay) if item.placed.piece == "front 12"}
    assert told == {"1 of 4, garment 1", "2 of 4, garment 1", "3 of 4, garment 2", "4 of 4, garment 2"}


@pytest.mark.parametrize("change", [{"garments": (2,)}, {"size": "14"}, {"garments": ()}])
def test_a_piece_said_to_be_for_another_garment_is_refused(change):
    project, cloth = order_of(3)
    lay = lay_cloth(project, cloth, effort=QUICK)
    wrong = next(k for k, one in enumerate(lay.sections[0].placed) if one.garments == (1,))
    found = faults(spoil(lay, wrong, lambda one: replace(one, **change)), project)
    assert any("is said to be for garments" in fault for fault in found)


def test_each_garment_is_given_a_direction_and_all_its_pieces_keep_it():
    project, cloth = order_of(4, nap=Nap.EACH_GARMENT)
    assert directions(project, cloth) == (
        (0.0, 0.0, 0.0, 0.0),
        (0.0, 180.0, 0.0, 180.0),
        (0.0, 0.0, 180.0, 180.0),
    )
    for way in directions(project, cloth):
        for unit in lots_of(wanted(project, cloth, way), cloth):
            garments = unit.want.garments_of(unit.copies)
            assert {way[number - 1] for number in garments} == set(unit.want.angles_deg)


@pytest.mark.parametrize("spread", [*SPREADS, Spread.TWO_LENGTHS, Spread.PART_FOLD])
def test_each_garment_lies_one_way(spread):
    project, cloth = order_of(3, nap=Nap.EACH_GARMENT, spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    ways = {}
    for section in lay.sections:
        for placed in section.placed:
            for garment in placed.garments:
                ways.setdefault(garment, set()).add(placed.turned_deg)
    assert all(len(angles) == 1 for angles in ways.values())


def test_one_piece_turned_against_its_garment_is_refused():
    project, cloth = order_of(2, nap=Nap.EACH_GARMENT)
    lay = lay_cloth(project, cloth, effort=QUICK)
    front = next(k for k, one in enumerate(lay.sections[0].placed) if one.piece == "front 12")
    turned = spoil(lay, front, lambda one: replace(turned_half(one), turned_deg=180.0 - one.turned_deg))
    assert any("do not all lie the same way up" in fault for fault in faults(turned, project))
    # Where every piece may lie either way by itself, this is no fault (though it may lie on its neighbour).
    free = replace(cloth, nap=Nap.EITHER_WAY)
    project = replace(project, cloths={"main": free})
    assert all("overlap" in fault for fault in faults(replace(turned, cloth=free), project))


def test_the_drawing_does_not_say_that_such_a_piece_may_lie_either_way():
    project, cloth = order_of(2, nap=Nap.EACH_GARMENT)
    assert not any(item.either_way for item in numbered(lay_cloth(project, cloth, effort=QUICK)))


def test_a_piece_that_may_not_turn_keeps_every_garment_one_way():
    project, cloth = order_of(3, nap=Nap.EACH_GARMENT, turn=Turn.NONE)
    assert directions(project, cloth) == ((0.0, 0.0, 0.0),)


def test_a_single_garment_lies_one_way():
    project, cloth = order_of(1, nap=Nap.EACH_GARMENT)
    alone = tuple(
        replace(piece, cuts={"main": replace(piece.cuts["main"], garments=())}) for piece in project.pieces
    )
    project = replace(project, garments=(), pieces=alone)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert {placed.turned_deg for placed in lay.sections[0].placed} == {0.0}
    assert faults(lay, project) == ()


@examples(6)
@given(
    garments=st.integers(1, 4),
    nap=st.sampled_from(Nap),
    spread=st.sampled_from([Spread.OPEN, Spread.LENGTHWISE_FOLD, Spread.TWO_LENGTHS, Spread.BEST]),
)
def test_every_order_is_laid_soundly(garments, nap, spread):
    project, cloth = order_of(garments, nap=nap, spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm


def test_freedom_never_lengthens_what_can_be_proven():
    """What each garment may do includes lying one way; what every piece may do includes both."""
    bounds = []
    for nap in (Nap.EITHER_WAY, Nap.EACH_GARMENT, Nap.ONE_WAY):
        project, cloth = order_of(3, nap=nap)
        bounds.append(lay_cloth(project, cloth, effort=QUICK).bound_mm)
    assert bounds[0] <= bounds[1] + 1e-6
    assert bounds[1] <= bounds[2] + 1e-6
