"""Does it all go on: one piece in hand, and several remnants."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Remnant
from nesting.cutting.in_hand.lay_in_hand import lay_in_hand
from nesting.cutting.plan.remnants import Share, shared
from nesting.cutting.search.laying import Effort
from nesting.cutting.verify.faults import faults
from nesting.cutting.verify.sharing import sharing_faults
from nesting.pattern.piece import CutCount, CutKind
from nesting.words.notes import project_notes
from tests.conftest import box, fit_mistakes, hook, make_piece, make_project, on_fold, pairs, singles

QUICK = Effort(evaluations_per_placement=2000, walks=1)


def wool(*lengths_mm, **changes):
    names = ["long", "short", "scrap"] if len(lengths_mm) > 1 else [""]
    remnants = tuple(Remnant(name, length) for name, length in zip(names, lengths_mm, strict=False))
    values = {
        "key": "main",
        "name": "wool",
        "width_mm": 1020.0,
        "selvedge_mm": 10.0,
        "step_mm": 1.0,
    } | changes
    return Cloth(remnants=remnants, **values)


def laid(project, cloth):
    project = replace(project, cloths={"main": cloth})
    return lay_in_hand(project, cloth, effort=QUICK)


@pytest.fixture
def boxes():
    """Two boxes as wide as the cloth, 400 and 300 mm long, and a small one."""
    return make_project(
        make_piece("back", box(1000, 400), singles()),
        make_piece("front", box(1000, 300), singles()),
        make_piece("pocket", box(200, 180), singles(2)),
    )


def test_what_goes_on_lacks_nothing(boxes):
    found = laid(boxes, wool(920.0))  # 400 + 300 + 180 and two ends of 20
    assert found.lacking_mm == 0.0
    assert faults(found.lays[0], found.project) == ()


def test_what_is_lacking_is_measured(boxes):
    assert laid(boxes, wool(850.0)).lacking_mm == pytest.approx(70.0, abs=0.01)


def test_remnants_that_only_one_sharing_out_fills(boxes):
    """580 takes the back and the pockets, 300 the front; any other way is too long for one of them."""
    found = laid(boxes, wool(620.0, 340.0))
    assert found.lacking_mm == 0.0
    given = {lay.cloth.key: {one.piece for part in lay.sections for one in part.placed} for lay in found.lays}
    assert given == {"main long": {"back", "pocket"}, "main short": {"front"}}
    for lay in found.lays:
        assert faults(lay, found.project) == ()
    assert (
        sharing_faults(replace(boxes, cloths={"main": wool(620.0, 340.0)}), wool(620.0, 340.0), found.project)
        == ()
    )


def test_a_remnant_that_is_not_needed_is_left_whole(boxes):
    found = laid(boxes, wool(930.0, 500.0))
    assert [lay.cloth.key for lay in found.lays] == ["main long"]
    assert found.project.not_needed == ("wool, short",)
    assert project_notes(found.project) == ("wool, short is not needed: nothing is cut from it",)


def test_what_is_proven_lacking_is_told_of_one_piece_only(boxes):
    """The bounds of one sharing-out do not speak for another."""
    one = laid(boxes, wool(650.0))
    assert 0 < one.least_lacking_mm <= one.lacking_mm
    several = laid(boxes, wool(450.0, 340.0))
    assert several.lacking_mm > several.least_lacking_mm == 0.0


def test_pairs_stay_together_unless_the_person_allows_it():
    sleeves = make_project(make_piece("sleeve", hook(900, 400), pairs()))
    together = laid(sleeves, wool(440.0, 440.0))
    assert together.lacking_mm > 300.0
    parted = laid(sleeves, wool(440.0, 440.0, part_pairs=True))
    assert parted.lacking_mm == 0.0
    kinds = [count for key, count in sorted(parted.project.pieces[0].cuts.items())]
    assert [(one.kind, one.mirrored) for one in kinds] == [(CutKind.SINGLE, False), (CutKind.SINGLE, True)]
    for lay in parted.lays:
        assert faults(lay, parted.project) == ()


def test_pairs_that_fit_together_are_not_parted():
    sleeves = make_project(make_piece("sleeve", hook(450, 400), pairs()))
    found = laid(sleeves, wool(440.0, 440.0, part_pairs=True))
    assert len(found.lays) == 1


@pytest.mark.parametrize(
    ("counts", "told"),
    [
        (({"back": 1, "front": 1}, {"front": 1, "pocket": 2}), "'front'"),
        (({"back": 1, "front": 1}, {"pocket": 1}), "'pocket'"),
    ],
)
def test_a_sharing_out_that_is_wrong_is_refused(boxes, counts, told):
    cloth = wool(620.0, 340.0)
    project = replace(boxes, cloths={"main": cloth})
    shares = [
        Share({name: CutCount(CutKind.SINGLE, number) for name, number in one.items()}) for one in counts
    ]
    (found,) = sharing_faults(project, cloth, shared(project, cloth, shares))
    assert told in found


def test_a_pair_parted_without_leave_is_refused():
    cloth = wool(620.0, 340.0)
    project = replace(make_project(make_piece("sleeve", hook(450, 400), pairs())), cloths={"main": cloth})
    left, right = (
        Share({"sleeve": CutCount(CutKind.SINGLE, 1, mirrored=mirrored)}) for mirrored in (False, True)
    )
    assert sharing_faults(project, cloth, shared(project, cloth, [left, right])) == (
        "a pair of 'sleeve' is parted",
    )
    assert (
        sharing_faults(project, replace(cloth, part_pairs=True), shared(project, cloth, [left, right])) == ()
    )


def test_a_remnant_that_does_not_exist_is_refused(boxes):
    cloth = wool(620.0, 340.0)
    project = replace(boxes, cloths={"main": cloth})
    parts = shared(
        project,
        wool(720.0, 340.0),
        [
            Share(dict.fromkeys(("back", "front"), CutCount(CutKind.SINGLE, 1))),
            Share({"pocket": CutCount(CutKind.SINGLE, 2)}),
        ],
    )
    assert sharing_faults(project, cloth, parts) == ("there is no remnant 'long' as it is laid",)


def test_a_piece_larger_than_every_remnant_is_told_at_once(boxes):
    project = replace(boxes, cloths={"main": wool(330.0, 250.0)})
    told = fit_mistakes(project)
    assert [problem.where for problem in told] == [
        "piece 'back' in cloth 'main'",
        "piece 'front' in cloth 'main'",
    ]
    assert "the largest remnant, 'long', gives 29 cm by 100 cm" in told[0].what


def test_a_fold_asked_for_by_name_holds_on_every_remnant():
    project = make_project(make_piece("yoke", box(300, 300), on_fold(), on_fold="edge 3"))
    narrow = wool(400.0, 400.0, spread=Spread.LENGTHWISE_FOLD)
    narrow = replace(narrow, remnants=(replace(narrow.remnants[0], width_mm=590.0), narrow.remnants[1]))
    found = laid(project, narrow)
    assert [lay.cloth.key for lay in found.lays] == ["main short"]


def test_each_garment_of_an_order_is_cut_from_remnants_as_a_whole_of_its_pieces():
    """Two garments of two pockets each; each pocket's pair of copies stays on one remnant."""
    count = CutCount(CutKind.SINGLE, 4, garments=(1, 2))
    project = make_project(make_piece("pocket", box(500, 300), {"main": count}), garments=("one", "two"))
    cloth = wool(340.0, 340.0)
    found = laid(project, cloth)
    assert found.lacking_mm == 0.0
    counts = sorted((one.number, one.garments) for one in found.project.pieces[0].cuts.values())
    assert counts == [(2, (1,)), (2, (2,))]
    for lay in found.lays:
        assert faults(lay, found.project) == ()
    swapped = {key: replace(one, garments=(1,)) for key, one in found.project.pieces[0].cuts.items()}
    wrong = replace(found.project, pieces=(replace(found.project.pieces[0], cuts=swapped),))
    assert len(sharing_faults(replace(project, cloths={"main": cloth}), cloth, wrong)) == 1
