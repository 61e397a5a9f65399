"""Where the person wishes pieces to lie: together, away from the end, at a place."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.findings import CannotBeLaid
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import Mark
from nesting.pattern.wish import FromEnd, Pin, Together
from tests.conftest import (
    box,
    examples,
    fit_mistakes,
    hook,
    make_piece,
    make_project,
    on_fold,
    pairs,
    refusal,
    singles,
)
from tests.cutting.plan.test_orders import order_of
from tests.cutting.verify.test_verify import moved, spoil

QUICK = Effort(evaluations_per_placement=500, walks=1)


def a_coat(*wishes, spread=Spread.OPEN, **changes):
    """Two pairs of large hooks that fill the cloth, a back, and small pairs that would go into any gap."""
    cloth = Cloth("main", "tweed", 1020, spread=spread, **changes)
    return (
        make_project(
            make_piece("front", hook(450, 700), pairs()),
            make_piece("back", box(300, 650), on_fold(), on_fold="edge 3"),
            make_piece("cuff", hook(120, 150), pairs(), marks=(Mark("motif", ((40.0, 50.0),)),)),
            make_piece("patch", box(140, 140), singles(2)),
            cloth=cloth,
            wishes=tuple(wishes),
        ),
        cloth,
    )


def extents(lay, *names):
    """From where to where along the cloth those pieces lie."""
    rings = [one.shape.cut_line for s in lay.sections for one in s.placed if one.piece in names]
    return min(ring[:, 0].min() for ring in rings), max(ring[:, 0].max() for ring in rings)


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD, Spread.PART_FOLD, Spread.BEST])
def test_pieces_kept_together_lie_within_one_length(spread):
    project, cloth = a_coat(Together(("front", "cuff"), 720.0), spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    first, last = extents(lay, "front", "cuff")
    assert last - first <= 720.0 + 1e-6


def test_without_the_wish_they_need_not():
    project, cloth = a_coat()
    free = lay_cloth(project, cloth, effort=QUICK)
    wished = replace(project, wishes=(Together(("back", "cuff"), 655.0),))
    first, last = extents(free, "back", "cuff")
    assert (faults(free, wished) != ()) == (last - first > 655.0 + 0.01)


@pytest.mark.parametrize("spread", [Spread.OPEN, Spread.LENGTHWISE_FOLD, Spread.BEST])
def test_a_piece_stays_away_from_the_cut_end(spread):
    project, cloth = a_coat(FromEnd(("back",), 250.0), spread=spread)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    assert extents(lay, "back")[0] >= 250.0 - 1e-6


@pytest.mark.parametrize("turned", [False, True])
def test_a_pinned_piece_has_its_motif_where_it_was_pinned(turned):
    """From the cut end, and from the outer edge of the near selvedge, 10 mm below the strip."""
    project, cloth = a_coat(Pin(("cuff",), 300.0, 400.0, "motif", turned))
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    (pinned,) = [one for one in lay.sections[0].placed if one.piece == "cuff" and 1 in one.copies]
    (motif,) = [feature for feature in pinned.shape.features if feature.name == "motif"]
    assert motif.vertices[0] == pytest.approx([300.0, 390.0])
    assert pinned.turned_deg == (180.0 if turned else 0.0)


def test_a_pair_on_a_fold_is_pinned_from_the_fold():
    project, cloth = a_coat(Pin(("front",), 500.0, 250.0), spread=Spread.LENGTHWISE_FOLD)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()
    (front,) = [one for one in lay.sections[0].placed if one.piece == "front"]
    low, high = front.shape.cut_line.min(axis=0), front.shape.cut_line.max(axis=0)
    assert (low + high) / 2 == pytest.approx([500.0, 250.0])


def test_what_is_shorter_cannot_be_claimed_without_the_wish():
    """The bound is that of the same pieces without any wish, which is shorter or the same."""
    project, cloth = a_coat(FromEnd(("back",), 400.0))
    lay = lay_cloth(project, cloth, effort=QUICK)
    free, _ = a_coat()
    assert lay.bound_mm <= lay_cloth(free, cloth, effort=QUICK).length_mm


@pytest.mark.parametrize(
    ("wish", "fault"),
    [
        (FromEnd(("patch",), 5000.0), "from the cut end"),
        (Together(("front", "back"), 400.0), "of the cloth, not 400.00 mm"),
        (Pin(("patch",), 900.0, 100.0), "from where it is pinned"),
    ],
)
def test_the_verifier_refuses_a_lay_that_keeps_to_no_wish(wish, fault):
    project, cloth = a_coat()
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert any(fault in one for one in faults(lay, replace(project, wishes=(wish,))))


def test_the_verifier_refuses_a_pinned_piece_that_slipped():
    project, cloth = a_coat(Pin(("patch",), 900.0, 500.0))
    lay = lay_cloth(project, cloth, effort=QUICK)
    which = next(
        k for k, one in enumerate(lay.sections[0].placed) if one.piece == "patch" and 1 in one.copies
    )
    assert any("pinned" in fault for fault in faults(spoil(lay, which, moved(0.2, 0.0)), project))


def test_each_garment_of_an_order_is_kept_together_by_itself():
    project, cloth = order_of(3)
    project = replace(project, wishes=(Together(("front 12", "back 12"), 1010.0),))
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert faults(lay, project) == ()


CONTRARY = [
    ((Together(("front", "cuff"), 600.0),), "'front' is 70 cm long and is to lie within 60 cm"),
    ((Pin(("patch",), 50.0, 500.0),), "'patch' pinned so reaches 2 cm beyond the usable cloth"),
    ((Pin(("patch",), 500.0, 500.0), Pin(("cuff",), 520.0, 520.0)), "pinned onto each other"),
    ((Pin(("patch",), 500.0, 500.0), FromEnd(("patch",), 600.0)), "is to lie 60 cm from the cut end"),
    (
        (Pin(("patch",), 100.0, 500.0), Pin(("cuff",), 900.0, 500.0), Together(("patch", "cuff"), 400.0)),
        "to lie within 40 cm and are pinned over",
    ),
]


def test_a_pin_beyond_the_cut_end_is_told_once_not_as_a_distance_below_nothing():
    project, _ = a_coat(Pin(("patch",), 50.0, 500.0), FromEnd(("patch",), 600.0))
    (problem,) = fit_mistakes(project)
    assert "beyond the usable cloth" in problem.what


@pytest.mark.parametrize(
    ("wishes", "what"), CONTRARY, ids=lambda value: value if isinstance(value, str) else ""
)
def test_wishes_that_cannot_be_had_are_told_before_any_search(wishes, what):
    project, _ = a_coat(*wishes)
    told = fit_mistakes(project)
    assert any(what in problem.what for problem in told)
    assert {problem.where for problem in told} == {"wishes on cloth 'main'"}
    assert all(problem.remedy for problem in told)


def test_a_pin_needs_to_know_how_the_cloth_lies():
    project, _ = a_coat(Pin(("patch",), 500.0, 500.0), spread=Spread.BEST)
    (problem,) = fit_mistakes(project)
    assert 'spread = "open"' in problem.remedy


def test_a_piece_is_not_pinned_upside_down_on_one_way_cloth():
    project, _ = a_coat(Pin(("patch",), 500.0, 500.0, turned=True), nap=Nap.ONE_WAY)
    (problem,) = fit_mistakes(project)
    assert "may not be turned" in problem.what


def test_together_on_a_crosswise_fold_is_refused():
    project, _ = a_coat(Together(("front", "cuff"), 900.0), spread=Spread.CROSSWISE_FOLD)
    (problem,) = fit_mistakes(project)
    assert "both halves of the cloth" in problem.what


def test_wishes_with_no_room_are_told_and_no_lay_is_shown():
    project, cloth = a_coat(Together(("front", "back", "cuff", "patch"), 700.0))
    (problem,) = refusal(lay_cloth, project, cloth, effort=QUICK)
    assert "cannot all be had" in problem.what


@examples(5)
@given(
    within=st.floats(710.0, 1500.0),
    away=st.floats(1.0, 900.0),
    along=st.floats(75.0, 1500.0),
    across=st.floats(85.0, 930.0),
)
def test_every_lay_keeps_to_its_wishes(within, away, along, across):
    project, cloth = a_coat(
        Together(("front", "cuff"), within), FromEnd(("back",), away), Pin(("patch",), along, across)
    )
    try:
        lay = lay_cloth(project, cloth, effort=QUICK)
    except CannotBeLaid:
        return
    assert faults(lay, project) == ()
    first, last = extents(lay, "front", "cuff")
    assert last - first <= within + 1e-6
    assert extents(lay, "back")[0] >= away - 1e-6
    assert np.isfinite(lay.length_mm)
