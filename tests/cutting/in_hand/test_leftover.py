"""What is left over: rectangles against a slow twin, small pieces, and claims that are wrong."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Blocked, Remnant
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.in_hand.leftover import left_over
from nesting.cutting.in_hand.rectangles import largest_rectangle
from nesting.cutting.left import Rectangle
from nesting.cutting.search.laying import lay_cloth
from nesting.cutting.verify.leftover import leftover_faults
from tests.conftest import box, examples, fit_mistakes, make_piece, make_project, pairs, singles
from tests.cutting.plan.test_flaws import QUICK, demands, flawed_cloths

EVERY = [spread for spread in Spread if spread is not Spread.BEST]


@given(st.integers(0, 6), st.integers(0, 6), st.randoms(use_true_random=False))
def test_largest_rectangle_against_trying_all(rows, columns, chance):
    free = np.array([[chance.random() < 0.7 for _ in range(columns)] for _ in range(rows)], dtype=bool)
    free = free.reshape(rows, columns)
    i0, j0, i1, j1 = largest_rectangle(free)
    assert free[i0:i1, j0:j1].all()
    areas = [
        (c - a) * (d - b)
        for a in range(rows)
        for c in range(a + 1, rows + 1)
        for b in range(columns)
        for d in range(b + 1, columns + 1)
        if free[a:c, b:d].all()
    ]
    assert (i1 - i0) * (j1 - j0) == max(areas, default=0)


def laid(project, spread, spare_mm=300.0, wishes=(), **changes):
    cloth = replace(project.cloths["main"], spread=spread, **changes)
    if spread is Spread.TUBE:
        cloth = replace(cloth, tube=True, selvedge_mm=0.0, width_mm=cloth.width_mm / 2)
    project = replace(project, cloths={"main": cloth})
    lay = lay_cloth(project, cloth, effort=QUICK)
    return lay, left_over(lay, spare_mm, wishes)


def test_beside_one_box():
    """On 1 m of usable width, 0.5 m long and with 0.3 m to spare::

    +-----+---------+
    |     |         |   the box: 400 along, 600 across; beside it, and behind it
    | box +---------+
    |     |         |
    +-----+---------+
    """
    project = make_project(make_piece("box", box(600, 400), singles()))
    lay, left = laid(project, Spread.OPEN)
    assert lay.length_mm == pytest.approx(400.0)
    first, second = left.rectangles[:2]
    assert (first.x0, first.x1, first.across_mm) == pytest.approx((400.0, 700.0, 1000.0), abs=0.01)
    assert (second.along_mm, second.across_mm) == pytest.approx((400.0, 400.0), abs=0.01)
    assert leftover_faults(lay, 300.0, left) == ()


@pytest.mark.parametrize("spread", EVERY)
def test_what_is_left_of_every_spread_is_free_and_not_small(spread):
    project = make_project(make_piece("box", box(300, 400), pairs()))
    lay, left = laid(project, spread, wishes=(SmallPiece("binding", "main", 40, 300, lie=Lie.BIAS),))
    assert leftover_faults(lay, 300.0, left) == ()
    assert len(left.placed) == 1
    # The spare cloth alone is 300 by 1000, less what the binding takes of it.
    assert max(one.along_mm * one.across_mm for one in left.rectangles) > 150_000
    area = sum(shapely.Polygon(one.outline).area for one in left.pieces)
    assert area == pytest.approx(2 * 300 * 400)


def test_small_pieces_lie_as_they_are_asked_for():
    wishes = (
        SmallPiece("binding", "main", 30, 400, count=2, lie=Lie.BIAS),
        SmallPiece("button", "main", 45, 45, round=True, count=8),
        SmallPiece("pocket", "main", 150, 180, lie=Lie.ALONG),
        SmallPiece("tape", "main", 30, 250, lie=Lie.ACROSS),
    )
    project = make_project(make_piece("box", box(600, 400), singles()))
    lay, left = laid(project, Spread.OPEN, wishes=wishes)
    assert leftover_faults(lay, 300.0, left) == ()
    assert [left.came_out(wish) for wish in wishes] == [2, 8, 1, 1]
    pocket = next(one.outline for one in left.placed if one.small.name == "pocket")
    assert np.ptp(pocket, axis=0) == pytest.approx([180.0, 150.0])
    binding = next(one.outline for one in left.placed if one.small.name == "binding")
    # Turned by 45 degrees its box is a square of (400 + 30) / sqrt 2.
    assert np.ptp(binding, axis=0) == pytest.approx([430 / 2**0.5] * 2)


def test_what_does_not_come_out_is_counted():
    wish = SmallPiece("panel", "main", 390, 390, count=5)
    project = make_project(make_piece("box", box(600, 400), singles()))
    lay, left = laid(
        project, Spread.OPEN, spare_mm=0.0, wishes=(wish, SmallPiece("sail", "main", 2000, 2000))
    )
    assert left.came_out(wish) == 1
    assert leftover_faults(lay, 0.0, left) == ()


def wrong(lay, left, **changes):
    return leftover_faults(lay, 300.0, replace(left, **changes))


def test_claims_that_are_wrong_are_refused():
    wish = SmallPiece("binding", "main", 40, 300, lie=Lie.BIAS)
    project = make_project(make_piece("box", box(600, 400), singles()))
    lay, left = laid(project, Spread.OPEN, wishes=(wish,))
    first, *others = left.rectangles
    into_the_box = Rectangle(first.x0 - 1.0, first.u0, first.x1, first.u1)
    assert any("rectangle 1 lies over 'box' 1" in one for one in wrong(lay, left, rectangles=(into_the_box,)))
    too_long = Rectangle(first.x0, first.u0, first.x1 + 1.0, first.u1)
    assert "rectangle 1 is not all on the cloth" in wrong(lay, left, rectangles=(too_long, *others))
    assert "rectangle 2 lies over rectangle 1" in wrong(lay, left, rectangles=(first, first))
    (binding,) = left.placed
    square_on = np.array([(0.0, 0), (300, 0), (300, 40), (0, 40)]) + binding.outline.min(axis=0)
    off_the_bias = replace(binding, outline=square_on)
    assert "'binding' is not as asked for" in wrong(lay, left, rectangles=(), placed=(off_the_bias,))
    shorter = replace(
        binding, outline=binding.outline.mean(axis=0) + 0.9 * (binding.outline - binding.outline.mean(axis=0))
    )
    assert "'binding' is not as asked for" in wrong(lay, left, rectangles=(), placed=(shorter,))
    twice = (binding, replace(binding, outline=binding.outline))
    assert "'binding' comes out more often than asked" in wrong(lay, left, rectangles=(), placed=twice)


def test_a_flaw_is_not_left_over():
    cloth = Cloth(
        key="main",
        name="wool",
        width_mm=1020.0,
        step_mm=1.0,
        spread=Spread.OPEN,
        remnants=(Remnant("", 1040.0, None, (Blocked("hole", ((700, 500), (740, 500), (720, 540))),)),),
    )
    project = make_project(make_piece("box", box(600, 400), singles()), cloth=cloth)
    lay = lay_cloth(project, cloth, effort=QUICK)
    left = left_over(lay, 600.0)
    assert leftover_faults(lay, 600.0, left) == ()
    whole = replace(left, rectangles=(Rectangle(400.0, 10.0, 1000.0, 1010.0),))
    assert leftover_faults(lay, 600.0, whole) == ("rectangle 1 lies over 'hole'",)


@examples(10)
@given(demands(), flawed_cloths(), st.floats(0, 500))
def test_what_is_left_of_random_lays_is_free(project, cloth, spare):
    project = replace(project, cloths={"main": cloth})
    assume(not fit_mistakes(project))
    lay = lay_cloth(project, cloth, effort=QUICK)
    spare = (
        0.0 if lay.spread.facts.lengths == 2 else spare
    )  # folded across, a flawed cloth is laid as a whole
    wishes = (
        SmallPiece("strip", "main", 30, 200, lie=Lie.BIAS, count=2),
        SmallPiece("patch", "main", 80, 90),
    )
    left = left_over(lay, spare, wishes)
    assert leftover_faults(lay, spare, left) == ()
