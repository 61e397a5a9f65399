"""Stripes and naps against figures and rules of the trade that we did not make.

Sources, by the letter beside each figure: (W) unnamed teaching pages, figures re-calculated; (G) Goodheart-
Willcox, Successful Sewing, 2013, p. 108; (S) The Sewtionary: An A to Z Guide to 101 Sewing Techniques,
p. 257; (M) Stitch magazine, Fall 2010; (K) a width-conversion chart printed on pattern guide sheets; (C)
common practice, no source.
"""

from dataclasses import replace

import pytest

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cloth.repeat import Repeat
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.cutting.verify.faults import faults
from nesting.estimate.estimating import lay_project
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.pattern.match import Axis, Match
from nesting.pattern.piece import Mark
from nesting.words.matching import rule_words
from tests.conftest import box, hook, make_piece, make_project, pairs, singles

INCH_MM = 25.4
YARD_MM = 914.4
LITTLE = Effort(evaluations_per_placement=2_000, walks=1)
FOOT = (Mark("foot", ((0, 0),)),)


def bare_cloth(repeat_mm, width_mm=1000.0):
    """Nothing kept at the ends and no step, so that the lay's own length can be compared."""
    return Cloth(
        key="main",
        name="stripe",
        width_mm=width_mm,
        selvedge_mm=0,
        end_allowance_mm=0,
        step_mm=1,
        spread=Spread.OPEN,
        repeat=Repeat(along_mm=repeat_mm),
    )


def panels(number, length_mm, repeat_mm, **changes):
    """So many lengths of a curtain or skirt, as wide as the cloth, matched at their foot."""
    piece = make_piece("panel", box(1000.0, length_mm), singles(number), matching=FOOT, **changes)
    match = Match("panels", (("panel", "foot"),), axes=(Axis.ALONG,))
    return make_project(piece, cloth=bare_cloth(repeat_mm), matches=(match,))


def laid(project):
    lay = lay_cloth(project, project.cloths["main"], effort=LITTLE)
    assert faults(lay, project) == ()
    return lay


def test_panels_are_cut_in_whole_repeats():
    """(W): "cut length rounded up to whole repeats": 98 in at a repeat of 27 in are 108 in a panel."""
    lay = laid(panels(3, 98 * INCH_MM, 27 * INCH_MM))
    assert lay.length_mm / INCH_MM == pytest.approx(2 * 108 + 98, abs=0.01)


@pytest.mark.parametrize(
    ("repeat_in", "pieces", "extra_in"), [(1.25, 2, 2.5), (4.25, 2, 8.5), (6.0, 3, 18.0), (6.0, 2, 12.0)]
)
def test_one_repeat_for_each_piece_end_to_end_is_always_enough(repeat_in, pieces, extra_in):
    """(W): 1 1/4 in x 2 = 2 1/2 in, 4 1/4 x 2 = 8 1/2, 6 x 3 = 18, "two may do: 12"; no lay needs more."""
    repeat = repeat_in * INCH_MM
    for length in (20.1, 23.7, 30.0):
        lay = laid(panels(pieces, length * INCH_MM, repeat))
        plain = pieces * length * INCH_MM
        assert plain - 1e-3 <= lay.length_mm <= plain + extra_in * INCH_MM


def test_side_by_side_pieces_add_none():
    """(W)."""
    piece = make_piece("half", box(490.0, 700.0), singles(2), matching=FOOT)
    match = Match("halves", (("half", "foot"),), axes=(Axis.ALONG,))
    lay = laid(make_project(piece, cloth=bare_cloth(6 * INCH_MM), matches=(match,)))
    assert lay.length_mm == pytest.approx(700.0)


def test_match_on_the_stitching_line_not_the_cutting_line():
    """(G): two panels of unlike allowance meet at the seam, though their cut edges do not."""
    one = make_piece("one", box(900.0, 400.0), singles(), matching=FOOT, allowance_mm=10.0)
    other = make_piece("other", box(900.0, 400.0), singles(), matching=FOOT, allowance_mm=25.0)
    match = Match("seam", (("one", "foot"), ("other", "foot")), axes=(Axis.ALONG,))
    cloth = replace(bare_cloth(90.0), nap=Nap.ONE_WAY)
    lay = laid(make_project(one, other, cloth=cloth, matches=(match,)))
    lefts = {placed.piece: float(placed.shape.cut_line[:, 0].min()) for placed in lay.sections[0].placed}
    apart = (lefts["one"] + 10.0) - (lefts["other"] + 25.0)
    assert abs((apart + 45.0) % 90.0 - 45.0) < 0.01


def test_uneven_stripes_use_a_nap_lay_in_a_single_layer_with_the_paper_turned_over_for_the_mate():
    """(G)."""
    cloth = replace(
        bare_cloth(80.0), spread=Spread.BEST, repeat=Repeat(80.0, 60.0, uneven=(Axis.ALONG, Axis.ACROSS))
    )
    project = make_project(make_piece("front", hook(300, 600), pairs()), cloth=cloth)
    lay = laid(project)
    placed = [one for section in lay.sections for one in section.placed]
    assert {section.layers for section in lay.sections} == {1}
    assert {one.turned_deg for one in placed} == {0.0}
    assert {str(one.face) for one in placed} == {"face up", "face down"}


def jacket(nap, repeat=""):
    """The example jacket's main cloth at 150 cm, sold by the centimetre."""
    text = example_text().replace('nap = "either way"', f'nap = "{nap}"\nstep = 1\n{repeat}', 1)
    text += """
[[match]]
name = "side seams"
points = { front = "waist", back = "waist" }
repeat = "along"
[[match]]
name = "pockets"
points = { pocket = "A", front = "P1" }
[[match]]
name = "centre front"
points = { front = "N" }
"""
    project = parse_project(text, source="jacket.toml")
    main = {"main": project.cloths["main"]}
    return replace(project, cloths=main, pieces=project.pieces_in("main"), alternatives=())


def test_with_nap_costs_no_more_than_is_usually_added():
    """(K) adds 1/4 yd for one-directional cloth; 1/4 to 1/2 yd is usual (C). The lays are made here."""
    either, one_way = (
        lay_project(jacket(nap), effort=Effort(evaluations_per_placement=3_000)).estimates[0]
        for nap in (Nap.EITHER_WAY, Nap.ONE_WAY)
    )
    assert one_way.lay.cloth.nap is Nap.ONE_WAY
    assert one_way.to_buy_mm - either.to_buy_mm <= YARD_MM / 2


@pytest.mark.parametrize(
    ("repeat", "yards"), [("along = 8, across = 6", 0.5), ("along = 20, across = 16", 1.0)]
)
def test_matching_costs_no_more_than_rules_of_thumb_allow(repeat, yards):
    """(S) at least 25 % more, more if very large; (M) 1/4 yd, to 1/2 or 1 yd if large."""
    (estimate,) = lay_project(
        jacket("either way", f"repeat = {{ {repeat} }}"), effort=Effort(evaluations_per_placement=3_000)
    ).estimates
    cost = estimate.matching
    assert 0.0 < cost.extra_mm <= yards * YARD_MM
    assert rule_words(cost.rules[0]) == "a quarter more"
    assert cost.rules[0].to_buy_mm == pytest.approx(1.25 * cost.plain_to_buy_mm, abs=10.0)
    assert cost.rules[1].to_buy_mm == pytest.approx(cost.plain_to_buy_mm + 228.6, abs=10.0)
