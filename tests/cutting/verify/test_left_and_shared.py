"""What is left over of a tube, small pieces turned about, and remnants that share garments."""

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.cloth import Cloth, Spread
from nesting.cloth.remnant import Remnant
from nesting.cloth.waste import Lie, SmallPiece
from nesting.cutting.lay import Yield
from nesting.cutting.left import LeftOver, Rectangle, SmallPlaced
from nesting.cutting.verify.leftover import leftover_faults, require_free
from nesting.cutting.verify.sharing import require_shared, sharing_faults
from nesting.errors import LayRefused
from nesting.pattern.piece import CutCount, CutKind
from tests.cutting.verify.lays import FRONT, PLAIN, WELT, lay_of, open_lay, project_of, put, section

TUBE = Cloth(key="main", name="jersey", width_mm=500.0, selvedge_mm=0.0, tube=True, spread=Spread.TUBE)
SCRAPS = replace(PLAIN, remnants=(Remnant("long", 2000.0), Remnant("short", 900.0)))


def of_a_tube(*rectangles, placed=()):
    """Of a metre in the round, fronts 100 to 400 on both layers for half a metre, and 200 mm more."""
    front = put(FRONT, 0.0, 100.0, copies=(1, 2), yields=Yield.PAIR)
    lay = lay_of(section(front, spread=Spread.TUBE, length=500.0, width=500.0), cloth=TUBE)
    return leftover_faults(lay, 200.0, LeftOver((), (), (), tuple(rectangles), tuple(placed), ()))


@pytest.mark.parametrize(
    "free",
    [
        Rectangle(500, -500, 700, 500),
        Rectangle(0, -100, 500, 100),
        Rectangle(0, 400, 500, 500),
        Rectangle(0, -500, 500, -400),
    ],
)
def test_half_of_a_tube_s_round_lies_on_either_side_of_its_fold(free):
    assert of_a_tube(free) == ()


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (Rectangle(0, -100.5, 500, 100), ["rectangle 1 lies over 'front' 2"]),
        (Rectangle(0, -100, 500, 100.5), ["rectangle 1 lies over 'front' 1"]),
        (Rectangle(0, 399.5, 500, 500), ["rectangle 1 lies over 'front' 1"]),
        (Rectangle(500, -500.5, 700, 0), ["rectangle 1 is not all on the cloth"]),
        (Rectangle(500, 0, 700, 500.5), ["rectangle 1 is not all on the cloth"]),
        (Rectangle(-0.5, 450, 300, 490), ["rectangle 1 is not all on the cloth"]),
        (Rectangle(650, 450, 700.5, 490), ["rectangle 1 is not all on the cloth"]),
    ],
)
def test_what_is_told_of_a_tube_is_really_free(wrong, told):
    assert list(of_a_tube(wrong)) == told


def test_what_is_told_later_does_not_lie_over_what_is_told_before():
    one, other = Rectangle(500, 0, 600, 100), Rectangle(599, 99, 700, 200)
    patch = SmallPiece("patch", "main", 20.0, 30.0)
    ring = np.array([(590.0, 90.0), (620.0, 90.0), (620.0, 110.0), (590.0, 110.0)])
    assert of_a_tube(one, other, placed=[SmallPlaced(patch, ring)]) == (
        "rectangle 2 lies over rectangle 1",
        "'patch' lies over rectangle 1",
        "'patch' lies over rectangle 2",
    )


def small(lie, angle_deg, length=90.0, width=80.0, name="patch"):
    """Whether one, so long and wide at that angle to the warp, is as asked for: 90 by 80 mm."""
    c, s = np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))
    ring = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)])
    ring = ring @ np.array([[c, s], [-s, c]]) + [300.0, 0.0]
    asked = SmallPiece(name, "main", 80.0, 90.0, lie=lie)
    for first in range(4):
        turned = np.roll(ring, first, axis=0)
        for outline in (turned, turned[::-1]):
            one = SmallPlaced(asked, outline + np.array([400.0, 200.0]))
            told = leftover_faults(open_lay()[0], 600.0, LeftOver((), (), (), (), (one,), (asked,)))
            yield f"'{name}' is not as asked for" not in told


@pytest.mark.parametrize(
    ("lie", "right"),
    [
        (Lie.ALONG, {0, 180}),
        (Lie.ACROSS, {90, 270}),
        (Lie.EITHER, {0, 90, 180, 270}),
        (Lie.BIAS, {45, 135, 225, 315}),
    ],
)
def test_a_small_piece_lies_on_the_threads_as_asked_whichever_corner_comes_first(lie, right):
    for angle in range(0, 360, 45):
        assert set(small(lie, angle)) == {angle in right}, angle
        assert set(small(lie, angle + 1)) == {False}
        assert set(small(lie, angle - 1)) == {False}


def test_what_is_left_is_shown_only_if_it_is_free():
    lay, _ = open_lay()
    require_free(lay, 300.0, LeftOver((), (), (), (Rectangle(600, 100, 800, 200),), (), ()))
    with pytest.raises(LayRefused, match=r"What is left of 'calico' is not shown: rectangle 1 lies over"):
        require_free(lay, 300.0, LeftOver((), (), (), (Rectangle(100, 100, 300, 200),), (), ()))


def shared(asked, *counts, cloth=SCRAPS, others=()):
    """The faults of fronts asked by one count and cut by the others, a remnant each."""
    keys = [f"main {number}" for number in range(len(counts))]
    cloths = {
        key: replace(cloth, key=key, remnants=(one,)) for key, one in zip(keys, cloth.remnants, strict=True)
    }
    cuts = {key: count for key, count in zip(keys, counts, strict=True) if count}
    project = project_of(*others, replace(FRONT, cuts={"main": asked}), cloth=cloth)
    parts = replace(project, cloths=cloths, pieces=(*others, replace(FRONT, cuts=cuts)))
    return project, cloth, parts


def pair(number, *garments):
    return CutCount(CutKind.PAIR, number, garments=garments)


def single(number, mirrored=False):
    return CutCount(CutKind.SINGLE, number, mirrored=mirrored)


PARTING = replace(SCRAPS, part_pairs=True)


@pytest.mark.parametrize(
    ("case", "told"),
    [
        (shared(pair(3), pair(2), pair(1)), []),
        (shared(pair(2), pair(1), None), ["{'left': 2, 'right': 2}"]),
        (shared(pair(1), single(1), single(1, mirrored=True), cloth=PARTING), []),
        (shared(pair(1), single(1), single(1, mirrored=True)), ["parted"]),
        (shared(pair(1), single(1), single(1), cloth=PARTING), ["{'left': 1, 'right': 1}"]),
        (shared(pair(2), single(2), None), ["{'left': 2, 'right': 2}"]),
        (shared(pair(2, 1, 2), pair(1, 1), pair(1, 2)), []),
        (shared(pair(2, 1, 2), pair(1, 1), pair(1, 1)), ["garment 2"]),
        (shared(pair(4, 1, 2), pair(2, 1), pair(2, 2)), []),
        (shared(pair(3), pair(1), pair(1), others=(replace(WELT, cuts={"lining": single(1)}),)), ["3"]),
    ],
)
def test_the_remnants_give_what_is_asked_hand_by_hand(case, told):
    found = sharing_faults(*case)
    assert len(found) == len(told)
    for fault, words in zip(found, told, strict=True):
        assert words in fault or fault.kind.name == words.upper()


def test_what_is_given_is_told_beside_what_is_asked():
    project, cloth, parts = shared(pair(2), single(2), None)
    (front,) = parts.pieces
    also_lined = replace(front, cuts={"lining": single(1), **front.cuts})
    (fault,) = sharing_faults(project, cloth, replace(parts, pieces=(also_lined,)))
    assert "{'left': 2, 'right': 2}" in fault
    assert "{'left': 2}" in fault


def test_one_remnant_is_not_shared_out():
    one = replace(SCRAPS, remnants=SCRAPS.remnants[:1])
    assert sharing_faults(*shared(pair(3), pair(1), cloth=one)) == ()


def test_a_sharing_out_is_shown_only_if_it_gives_what_is_asked():
    require_shared(*shared(pair(3), pair(2), pair(1)))
    with pytest.raises(LayRefused, match=r"The sharing-out of 'calico' is not shown: 'front'"):
        require_shared(*shared(pair(3), pair(1), pair(1)))
