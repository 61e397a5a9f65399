"""Several garments in one lay: for which of them each copy is, and which way the pieces of each lie."""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Nap
from nesting.cutting.lay import Face
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import CutCount, CutKind
from tests.cutting.verify.lays import FRONT, PLAIN, WELT, lay_of, project_of, put, section

EACH = replace(PLAIN, nap=Nap.EACH_GARMENT)
FRONTS = replace(FRONT, cuts={"main": CutCount(CutKind.PAIR, 2, garments=(4, 7))})
"""Copies 1 and 2 are for garment 4, copies 3 and 4 for garment 7."""


def order(*turned, cloth=EACH, changes=None):
    """Four fronts in two columns, each a left and a right, turned as told."""
    placed = [
        put(
            FRONTS,
            500.0 * (k // 2),
            300.0 * (k % 2),
            copies=(k + 1,),
            face=Face.DOWN if k % 2 else Face.UP,
            turned=angle,
        )
        for k, angle in enumerate(turned)
    ]
    for k, change in (changes or {}).items():
        placed[k] = replace(placed[k], **change)
    return faults(lay_of(section(*placed, length=1000.0), cloth=cloth), project_of(FRONTS, cloth=cloth))


@pytest.mark.parametrize("turned", [(0, 0, 0, 0), (180, 180, 0, 0), (0, 0, 180, 180), (180, 180, 180, 180)])
def test_each_garment_may_lie_its_own_way(turned):
    assert order(*turned) == ()


@pytest.mark.parametrize(
    ("turned", "garments"), [((0, 0, 0, 180), [7]), ((180, 0, 0, 0), [4]), ((0, 180, 180, 0), [4, 7])]
)
def test_the_pieces_of_a_garment_lie_the_same_way(turned, garments):
    told = [f"the pieces of garment {garment} do not all lie the same way up" for garment in garments]
    assert list(order(*turned)) == told


def test_the_one_garment_of_a_lay_is_the_first():
    placed = put(FRONT, 0.0, 0.0), put(FRONT, 0.0, 300.0, copies=(2,), face=Face.DOWN, turned=180.0)
    welt = put(WELT, 0.0, 600.0)
    lay = lay_of(section(welt, *placed), cloth=EACH)
    told = "the pieces of garment 1 do not all lie the same way up"
    assert faults(lay, project_of(FRONT, WELT, cloth=EACH)) == (told,)
    # a piece that nobody asked for hides nothing of it
    assert told in faults(lay, project_of(FRONT, cloth=EACH))


@pytest.mark.parametrize(("copy", "garment"), [(1, 4), (2, 4), (3, 7), (4, 7)])
def test_each_copy_is_for_the_garment_whose_turn_it_is(copy, garment):
    other = 11 - garment
    (told,) = order(0, 0, 0, 0, changes={copy - 1: {"garments": (other,)}})
    assert told == (
        f"'front' ({copy},) is said to be for garments ({other},) in size '', "
        f"but is for ({garment},) in size ''"
    )


def test_a_garment_has_a_left_and_a_right():
    """Two lefts for one and two rights for the other are as many of each, and no pairs."""
    placed = [
        put(FRONTS, 500.0 * (k // 2), 300.0 * (k % 2), copies=(k + 1,), face=face)
        for k, face in enumerate((Face.UP, Face.UP, Face.DOWN, Face.DOWN))
    ]
    found = faults(lay_of(section(*placed, length=1000.0)), project_of(FRONTS))
    assert found == (
        "'front': 2 lefts and 0 rights do not make pairs",
        "'front': 0 lefts and 2 rights do not make pairs",
    )


def test_a_fault_tells_the_stretch_by_its_number():
    first = section(put(FRONT, 0.0, 0.0), put(FRONT, 0.0, 300.0, copies=(2,), face=Face.DOWN), length=500.0)
    second = section(put(WELT, 0.0, 0.0), start=499.5, length=150.0)
    project = project_of(FRONT, WELT, table_mm=600.0)
    assert faults(lay_of(first, second), project) == ("stretch 2 starts at 499.50 mm, not at 500.00 mm",)
    short = replace(project, table_mm=400.0)
    assert faults(lay_of(first, replace(second, start_mm=500.0)), short) == (
        "stretch 1, 500.00 mm, is longer than the table, 400.00 mm",
    )
