from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth, Nap, RightSide, Spread
from nesting.cutting.fit.fitting import require_fit
from nesting.cutting.reasons import Barred, TooNarrow
from nesting.cutting.search import laying
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify import faults as verifying
from nesting.cutting.verify.faults import faults
from nesting.errors import LayRefused
from nesting.packing.result import StopReason
from nesting.pattern.piece import CutCount, CutKind, Turn
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

QUICK = Effort(evaluations_per_placement=2000, walks=1)


def with_cloth(project, **changes):
    cloth = replace(project.cloths["main"], **changes)
    return replace(project, cloths={"main": cloth}), cloth


def test_best_takes_the_spread_that_buys_less_and_tells_what_the_other_needs(jacket_like):
    project, cloth = with_cloth(jacket_like, spread=Spread.BEST)
    lay = lay_cloth(project, cloth, effort=QUICK)
    bought = {tried.spread: tried.to_buy_mm for tried in lay.tried}
    assert set(bought) == set(Spread) - {Spread.BEST, Spread.TUBE}
    assert bought[lay.spread] == min(needed for needed in bought.values() if needed is not None)


def test_a_piece_too_wide_for_the_fold_leaves_the_open_spread():
    project = make_project(make_piece("cape", hook(740, 600), pairs()))
    project, cloth = with_cloth(project, spread=Spread.BEST)
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.spread is Spread.OPEN
    (fold,) = [tried for tried in lay.tried if tried.spread is Spread.LENGTHWISE_FOLD]
    assert fold.why_not == TooNarrow(("cape",))


def test_a_piece_too_wide_for_a_fold_that_was_asked_for_is_explained():
    project = make_project(make_piece("cape", hook(740, 600), pairs()))
    project, cloth = with_cloth(project, width_mm=1160.0, spread=Spread.LENGTHWISE_FOLD)
    (problem,) = refusal(lay_cloth, project, cloth)
    assert "74 cm across; the folded cloth gives 57 cm" in problem.what
    assert "open the cloth" in problem.remedy
    assert "at least 150 cm" in problem.remedy


def test_a_fold_piece_too_wide_is_told_to_take_a_seam():
    project = make_project(make_piece("cape", box(740, 600), on_fold(), on_fold="edge 3"))
    (problem,) = refusal(lay_cloth, project, project.cloths["main"])
    assert "148 cm across" in problem.what
    assert "cut a seam where the fold is" in problem.remedy


def test_every_better_lay_is_told_and_the_first_comes_without_any_search(jacket_like):
    project, cloth = with_cloth(jacket_like, spread=Spread.OPEN)
    lengths = []
    lay = lay_cloth(project, cloth, effort=QUICK, on_lay=lambda event: lengths.append(event.lay.length_mm))
    assert lengths
    assert lengths == sorted(lengths, reverse=True)
    assert lay.length_mm <= lengths[-1]


def test_the_opened_out_length_follows_the_folded_one(jacket_like):
    project, cloth = with_cloth(jacket_like, spread=Spread.LENGTHWISE_FOLD)
    folded, opened = lay_cloth(project, cloth, effort=QUICK).sections
    assert opened.start_mm == folded.length_mm
    assert (opened.layers, len(opened.placed)) == (1, 1)


def test_a_lay_that_needs_the_least_possible_purchase_is_not_searched_on():
    """One box as wide as the cloth: the first lay is proven best."""
    project = make_project(make_piece("box", box(1000, 480), singles()))
    lay = lay_cloth(project, project.cloths["main"], effort=Effort(walks=1))
    assert lay.length_mm == pytest.approx(480.0)
    assert purchase(lay.bound_mm, lay.cloth).to_buy_mm == purchase(lay.length_mm, lay.cloth).to_buy_mm


def test_same_seed_same_lay(jacket_like):
    project, cloth = with_cloth(jacket_like, spread=Spread.OPEN)
    first, second = (lay_cloth(project, cloth, effort=QUICK, seed=7) for _ in range(2))
    assert first.sections[0].placements == second.sections[0].placements


def test_a_piece_too_wide_in_every_version_is_told_once():
    plain = make_project(make_piece("cape", hook(1740, 600), pairs()))
    same = replace(plain, version="deeper hem")
    wider = replace(plain, pieces=(make_piece("cape", hook(1840, 600), pairs()),), version="wide cape")
    told = refusal(require_fit, plain, same, wider)
    assert [problem.where for problem in told] == [
        "piece 'cape' in cloth 'main'",
        "alternative 'wide cape', piece 'cape' in cloth 'main'",
    ]


@st.composite
def demands(draw):
    pieces = []
    for number in range(draw(st.integers(1, 4))):
        width, height = draw(st.integers(40, 400)), draw(st.integers(40, 500))
        shape = draw(st.sampled_from([box, hook]))
        kind = draw(st.sampled_from(list(CutKind)))
        count = CutCount(kind, draw(st.integers(1, 3)))
        fold = {"on_fold": "edge 3" if shape is box else "edge 5"} if kind is CutKind.ON_FOLD else {}
        pieces.append(make_piece(f"piece {number}", shape(width, height), {"main": count}, **fold))
    cloth = Cloth(
        key="main",
        name="cloth",
        width_mm=draw(st.sampled_from([900.0, 1150.0, 1500.0])),
        nap=draw(st.sampled_from(list(Nap))),
        right_side=draw(st.sampled_from(list(RightSide))),
        spread=draw(st.sampled_from([Spread.OPEN, Spread.LENGTHWISE_FOLD])),
        gap_mm=draw(st.sampled_from([0.0, 5.0])),
    )
    return make_project(*pieces, cloth=cloth)


@examples(15)
@given(demands())
def test_every_lay_of_every_demand_is_sound_and_no_shorter_than_its_bound(project):
    cloth = project.cloths["main"]
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=500, walks=1))
    assert faults(lay, project) == ()
    assert lay.bound_mm <= lay.length_mm * (1 + 1e-9)


class Enough:
    """A stop rule that says so at once, as after Ctrl-C."""

    reason = StopReason.INTERRUPTED

    def __call__(self, progress):
        return True


def test_whoever_says_enough_keeps_a_whole_verified_lay():
    """Hooks that no bound settles, on cloth sold by the millimetre."""
    hooks = [make_piece(f"hook {k}", hook(230 + 35 * k, 300 + 70 * k), pairs()) for k in range(4)]
    project, cloth = with_cloth(make_project(*hooks), spread=Spread.BEST, step_mm=1.0)
    lay = lay_cloth(project, cloth, until=Enough())
    assert faults(lay, project) == ()
    assert lay.stopped_because is StopReason.INTERRUPTED
    assert lay.tried[0].length_mm == lay.length_mm
    assert {tried.why_not for tried in lay.tried[1:]} == {Barred.INTERRUPTED}


def test_a_fold_piece_may_lie_at_any_angle_but_its_fold_edge_stays_on_the_fold():
    """Interfacing without a grain; the halves' hems join at the fold into the longest side."""
    piece = make_piece("yoke", [(0, 0), (300, 0), (260, 200), (0, 200)], on_fold(), on_fold="edge 3")
    project, cloth = with_cloth(make_project(piece), turn=Turn.ANY, spread=Spread.LENGTHWISE_FOLD)
    assert faults(lay_cloth(project, cloth, effort=QUICK), project) == ()


def test_with_best_a_fold_that_cuts_nothing_double_is_not_tried():
    project, cloth = with_cloth(
        make_project(make_piece("welt", hook(60, 150), singles())), spread=Spread.BEST
    )
    lay = lay_cloth(project, cloth, effort=QUICK)
    assert lay.spread is Spread.OPEN
    reasons = {tried.spread: tried.why_not for tried in lay.tried}
    assert reasons.pop(Spread.OPEN) is None
    assert set(reasons.values()) == {Barred.NOTHING_DOUBLE}


def test_with_best_the_narrowest_cloth_that_would_do_is_named():
    """Wider than the cloth in one layer too: 1.1 m of it will do, not the 2.2 m that a fold would need."""
    project = make_project(make_piece("cape", hook(1090, 600), pairs()))
    project, cloth = with_cloth(project, spread=Spread.BEST)
    (problem,) = refusal(lay_cloth, project, cloth)
    assert "the cloth laid open gives 100 cm" in problem.what
    assert "at least 111 cm wide" in problem.remedy


def test_a_piece_too_wide_in_an_alternative_names_it():
    project = make_project(make_piece("cape", hook(1740, 600), pairs()), version="narrow cloth")
    (problem,) = fit_mistakes(project)
    assert problem.where == "alternative 'narrow cloth', piece 'cape' in cloth 'main'"


def test_where_the_best_lay_is_refused_the_next_best_is_given(jacket_like, monkeypatch, caplog):
    project, cloth = with_cloth(jacket_like, spread=Spread.BEST)
    best = lay_cloth(project, cloth, effort=QUICK)

    def refusing(lay, project):
        return ("a fault made up",) if lay.spread is best.spread else faults(lay, project)

    monkeypatch.setattr(laying, "faults", refusing)
    told = []
    lay = lay_cloth(project, cloth, effort=QUICK, on_lay=told.append)
    assert lay.spread is not best.spread
    assert faults(lay, project) == ()
    assert all(event.lay.spread is not best.spread for event in told)
    assert "a fault made up" in caplog.text


def test_where_every_lay_is_refused_none_is_shown(jacket_like, monkeypatch):
    project, cloth = with_cloth(jacket_like, spread=Spread.OPEN)
    monkeypatch.setattr(laying, "faults", lambda lay, project: ("a fault made up",))
    monkeypatch.setattr(verifying, "faults", lambda lay, project: ("a fault made up",))
    with pytest.raises(LayRefused, match="a fault made up"):
        lay_cloth(project, cloth, effort=QUICK)
