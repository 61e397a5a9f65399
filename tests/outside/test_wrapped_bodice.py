"""A wrapped bodice without sleeves: drawn from ordinary measurements, laid, held against common practice.

Common practice, no source: a wrapped bodice, waist length, bagged out in its own cloth (front, back and
collar cut four: a right side and a lining of the same, sewn together all round and turned), takes one to
one and a half metres of cloth sold as 112 to 115 cm wide. So what we say to buy has to lie between 1.0
and 1.6 m, in steps of 10 cm, and does: 1.10 m either way up and 1.20 m all one way, on both X
Measurements, all common practice, no source: bust 92 cm, waist 74 cm, centre back from neck to waist
41 cm, shoulder 12.5 cm, fronts that wrap 7 cm past centre front at the waist, a collar 5 to 6 cm broad as
long as the neckline, allowances 1 cm. Areas and seams are measured here by shapely on the points as they
stand in the file, without our curves and allowances.
"""

import tomllib
from pathlib import Path

import pytest
import shapely

from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimating import estimate_lay
from nesting.files.project.reading import read_project

FILE = Path(__file__).with_name("wrapped_bodice.toml")
PAPER = tomllib.loads(FILE.read_text(encoding="utf-8"))["piece"]
LEAST_MM, MOST_MM = 1000.0, 1600.0
QUICK = Effort(evaluations_per_placement=5_000, walks=1)

BUST, WAIST, BACK_LENGTH, SHOULDER, PAST_CENTRE_FRONT = 92.0, 74.0, 41.0, 12.5, 7.0
"""Of the person, in cm."""


def along(piece, edge):
    """An edge as the straight runs between its points, cm; a curve is a little longer than that."""
    walk = PAPER[piece]["edges"][edge]
    names = (walk if isinstance(walk, str) else walk["through"]).split()
    return shapely.LineString([PAPER[piece]["points"][name] for name in names])


def outline(piece):
    """The stitching line, straight between its points, cm."""
    return shapely.Polygon([point for edge in PAPER[piece]["edges"] for point in along(piece, edge).coords])


def across(piece, height, left, right):
    """How much of a piece lies at that height between two uprights, cm."""
    return outline(piece).intersection(shapely.LineString([(left, height), (right, height)])).length


def dart_mouth(piece):
    legs = PAPER[piece]["darts"][0]["legs"].split()
    return shapely.distance(*(shapely.Point(PAPER[piece]["points"][name]) for name in legs))


def test_it_is_drawn_from_the_measurements():
    front, back = PAPER["front"]["points"], PAPER["back"]["points"]
    centre_front = front["M"][0]
    at_the_bust = across("front", front["B"][1], 0, centre_front) + across("back", back["E"][1], 0, 40)
    assert 4.0 <= 2 * at_the_bust - BUST <= 8.0  # ease
    waist = centre_front - front["A"][0] - dart_mouth("front")
    waist += back["F"][0] - back["A"][0] - dart_mouth("back")
    assert 1.0 <= 2 * waist - WAIST <= 4.0
    assert along("back", "centre back").length == pytest.approx(BACK_LENGTH, abs=0.2)
    assert along("front", "shoulder").length == pytest.approx(SHOULDER, abs=0.3)
    assert front["F"][0] - centre_front == pytest.approx(PAST_CENTRE_FRONT)
    for edge in ("centre back", "end"):
        assert 5.0 <= along("collar", edge).length <= 6.0


def test_its_seams_meet():
    assert along("front", "side").length == pytest.approx(along("back", "side").length, abs=0.1)
    ease = along("back", "shoulder").length - along("front", "shoulder").length
    assert 0.0 <= ease <= 1.0
    # The collar goes once round the neckline: from centre back over the shoulder to the notch in the wrap.
    (notch,) = PAPER["front"]["notches"]
    neckline = along("back", "neck").length + notch["from_start"]
    assert along("collar", "neck").length == pytest.approx(neckline, abs=0.2)


@pytest.fixture(scope="module")
def bodice():
    return read_project(FILE)


def test_all_of_it_is_cut_four_for_it_is_bagged_out_in_its_own_cloth(bodice):
    for cloth in bodice.cloths:
        assert {piece.name: piece.cuts[cloth].pieces for piece in bodice.pieces} == {
            "front": 4,
            "back": 4,
            "collar": 4,
        }
    assert [bodice.cloths[key].width_mm for key in ("narrow", "wide")] == [1120.0, 1150.0]


@pytest.mark.parametrize("cloth", ["narrow", "wide"])
@pytest.mark.parametrize(("one_way", "to_buy_mm"), [(False, 1100.0), (True, 1200.0)])
def test_it_takes_what_the_trade_says(bodice, cloth, one_way, to_buy_mm):
    version = bodice.alternatives[0] if one_way else bodice
    lay = lay_cloth(version, version.cloths[cloth], effort=QUICK)
    estimate = estimate_lay(lay, version)
    assert LEAST_MM <= estimate.to_buy_mm <= MOST_MM
    assert estimate.to_buy_mm == to_buy_mm  # as the docstring and docs/spreads.md say
    # What is under the lay is this paper, four times, with 1 cm round it: not a slip of scale or count.
    cut = sum(4 * outline(piece).buffer(1.0, join_style="mitre", mitre_limit=10.0).area for piece in PAPER)
    assert lay.pieces_area_mm2 / 100 == pytest.approx(cut, rel=0.01)
