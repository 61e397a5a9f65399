"""Wishes of where pieces lie: by a named point, for each garment, on one cloth of several."""

from dataclasses import replace

import pytest

from nesting.cutting.lay import Face
from nesting.cutting.verify.faults import faults
from nesting.pattern.piece import CutCount, CutKind, Mark
from nesting.pattern.wish import FromEnd, Pin, Together
from tests.cutting.verify.lays import FRONT, PLAIN, WELT, lay_of, open_lay, project_of, put, section

MOTIF = replace(WELT, marks=(Mark("seam", ((10, 10), (50, 10))), Mark("motif", ((20, 30),))))
"""Its grain runs up the paper, so the motif lies 30 mm along the cloth and 60 - 20 across it."""


def pinned(pin, turned=0.0):
    lay = lay_of(section(put(MOTIF, 0.0, 600.0, turned=turned)))
    return faults(lay, project_of(MOTIF, wishes=(pin,)))


@pytest.mark.parametrize(
    ("point", "along_mm", "across_mm"),
    [
        ("motif", 30.0, 600 + 40 + 10),
        ("seam", 10.0, 600 + 50 + 10),  # where the mark begins
        ("", 75.0, 600 + 30 + 10),  # the middle of its box
        ("sleeve", 75.0, 600 + 30 + 10),
    ],
)
def test_a_piece_is_pinned_by_the_point_that_is_named(point, along_mm, across_mm):
    pin = Pin(("welt",), along_mm, across_mm, point)
    assert pinned(pin) == ()
    (told,) = pinned(replace(pin, along_mm=along_mm + 3, across_mm=across_mm - 4))
    assert told == "'welt' lies 5.00 mm from where it is pinned"


def test_half_a_turn_is_half_a_turn_either_way():
    pin = Pin(("welt",), 75.0, 640.0, turned=True)
    assert pinned(pin, turned=180.0) == pinned(pin, turned=-180.0) == ()
    (told,) = pinned(replace(pin, turned=False), turned=-180.0)
    assert told == "'welt' is pinned with its top the other way"


def test_the_middle_of_an_odd_piece_is_half_way():
    odd = replace(WELT, edges=tuple(replace(edge, vertices=edge.vertices * 1.01) for edge in WELT.edges))
    lay = lay_of(section(put(odd, 0.0, 0.0)))
    assert faults(lay, project_of(odd, wishes=(Pin(("welt",), 75.75, 30.3 + 10),))) == ()


def test_a_pinned_piece_that_is_not_laid_is_named():
    lay, project = open_lay()
    less = replace(lay, sections=(replace(lay.sections[0], placed=lay.sections[0].placed[:2]),))
    told = faults(less, replace(project, wishes=(Pin(("welt",), 75.0, 640.0),)))
    assert "welt is pinned and not laid" in told


FRONTS = replace(FRONT, cuts={"main": CutCount(CutKind.PAIR, 2, garments=(4, 7))})
"""Copies 1 and 2 are for garment 4, copies 3 and 4 for garment 7."""


def ordered(*along_mm, wish):
    placed = [
        put(FRONTS, x, 300.0 * (k % 2), copies=(k + 1,), face=Face.DOWN if k % 2 else Face.UP)
        for k, x in enumerate(along_mm)
    ]
    return faults(lay_of(section(*placed, length=1500.0)), project_of(FRONTS, wishes=(wish,)))


def test_each_garment_is_kept_together_by_itself():
    wish = Together(("front",), 550.0)
    assert ordered(0.0, 50.0, 900.0, 950.0, wish=wish) == ()
    (told,) = ordered(0.0, 50.0, 900.0, 960.0, wish=wish)
    assert told == "front of garment 7 lie over 560.00 mm of the cloth, not 550.00 mm"


def test_pieces_of_one_garment_are_told_without_its_number():
    lay, project = open_lay(welt=put(WELT, 430.0, 600.0))
    (told,) = faults(lay, replace(project, wishes=(Together(("front", "welt"), 550.0),)))
    assert told == "front, welt lie over 580.00 mm of the cloth, not 550.00 mm"


@pytest.mark.parametrize("wish", [FromEnd(("welt",), 50.0), Together(("front", "welt"), 100.0)])
def test_a_wish_is_of_its_own_cloth_and_pieces(wish):
    lay, project = open_lay()
    elsewhere = replace(
        project, wishes=(replace(wish, cloth="lining"), replace(wish, pieces=("cape", "hood")))
    )
    assert faults(lay, elsewhere) == ()
    assert len(faults(lay, replace(project, wishes=(replace(wish, cloth=PLAIN.key),)))) == 1
    assert len(faults(lay, replace(project, wishes=(replace(wish, pieces=("welt", "cape", "front")),)))) >= 1


def test_a_piece_too_near_the_end_is_told_how_near():
    lay, project = open_lay(welt=put(WELT, 12.0, 600.0))
    (told,) = faults(lay, replace(project, wishes=(FromEnd(("welt",), 50.0),)))
    assert told == "'welt' 1 lies 12.00 mm from the cut end, not 50.00 mm"


def test_a_pin_of_what_is_not_cut_from_this_cloth_asks_nothing_of_it():
    lay, project = open_lay()
    assert faults(lay, replace(project, wishes=(Pin(("cape",), 75.0, 640.0),))) == ()
