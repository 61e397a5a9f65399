"""A wrapped bodice without sleeves: drawn from ordinary measurements, laid, held against common practice.

Common practice, no source: two fronts whose wrap runs 7 cm past centre front at the waist, two shaped
backs, a shoulder-wide collar 5 to 6 cm broad cut four, 1 cm allowances, take about one and a half
metres. At 112 and 115 cm our pieces, which end at the waist and have no facings or ties, lie in about
half of that: the rule of thumb is safe, and generous.
"""

from pathlib import Path

import pytest
import shapely

from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimating import estimate_lay
from nesting.files.project.reading import read_project

RULE_OF_THUMB_MM = 1500.0
QUICK = Effort(evaluations_per_placement=20_000, walks=1)


@pytest.fixture(scope="module")
def bodice():
    return read_project(Path(__file__).with_name("wrapped_bodice.toml"))


def seam(bodice, piece, edge):
    (found,) = (one for one in bodice.pieces if one.name == piece)
    return shapely.LineString(found.edge(edge).vertices)


def test_it_is_drawn_as_told(bodice):
    centre_front, past = 262.0, seam(bodice, "front", "wrap end").coords[0][0]
    assert past - centre_front == pytest.approx(70.0)
    assert 50.0 <= seam(bodice, "collar", "centre back").length <= 60.0
    assert 50.0 <= seam(bodice, "collar", "end").length <= 60.0
    counts = {piece.name: piece.cuts["narrow"].pieces for piece in bodice.pieces}
    assert counts == {"front": 2, "back": 2, "collar": 4}
    assert {edge.allowance_mm for piece in bodice.pieces for edge in piece.edges} == {10.0}


def test_its_seams_meet(bodice):
    assert seam(bodice, "front", "side").length == pytest.approx(seam(bodice, "back", "side").length, abs=2)
    ease = seam(bodice, "back", "shoulder").length - seam(bodice, "front", "shoulder").length
    assert 0.0 <= ease <= 10.0
    (front,) = (piece for piece in bodice.pieces if piece.name == "front")
    wrap = seam(bodice, "front", "wrap")
    down_the_wrap = wrap.project(shapely.Point(front.notches[0].at))
    neck = seam(bodice, "back", "neck").length + down_the_wrap
    assert seam(bodice, "collar", "neck").length == pytest.approx(neck, abs=2)


@pytest.mark.parametrize("cloth", ["narrow", "wide"])
@pytest.mark.parametrize("one_way", [False, True])
def test_one_and_a_half_metres_are_enough(bodice, cloth, one_way):
    version = bodice.alternatives[0] if one_way else bodice
    lay = lay_cloth(version, version.cloths[cloth], effort=QUICK)
    estimate = estimate_lay(lay, version)
    assert estimate.to_buy_mm <= RULE_OF_THUMB_MM
    # And not by a slip of the scale: the paper has to be there, 90 % is beyond any single garment.
    pieces_mm2 = sum(
        piece.cuts[cloth].pieces
        * shapely.Polygon([point for edge in piece.edges for point in edge.vertices[:-1]]).area
        for piece in version.pieces
    )
    assert lay.length_mm * version.cloths[cloth].usable_width_mm * 0.9 >= pieces_mm2
