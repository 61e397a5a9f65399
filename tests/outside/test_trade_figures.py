"""Worked figures of the trade: sums that teaching texts and trade pages print, done by our road.

Sources, by the letter beside each figure: (W) unnamed trade and teaching pages, figures re-calculated;
(S) US household-arithmetic school text, p. 100: cloth is sold in eighths and quarters of a yard;
(C) common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.buying import purchase
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.estimate.estimating import estimate_lay
from nesting.pattern.piece import Turn
from tests.conftest import box, make_piece, make_project, singles

INCH_MM = 25.4
YARD_MM = 914.4
BARE = Cloth(
    key="main", name="calico", width_mm=1000, selvedge_mm=0, end_allowance_mm=0, spread=Spread.OPEN, step_mm=1
)


def estimate_of(cloth, *pieces, evaluations=20_000):
    project = make_project(*pieces, cloth=cloth)
    lay = lay_cloth(project, cloth, effort=Effort(evaluations_per_placement=evaluations, walks=1))
    return estimate_lay(lay, project)


@pytest.mark.parametrize(("yards", "bought"), [(1.596, 1 + 5 / 8), (2.72, 2.75), (3.22, 3.25)])
def test_shops_sell_in_eighths_of_a_yard_and_the_answer_is_rounded_up(yards, bought):
    """(S), (C) always up."""
    in_eighths = replace(BARE, step_mm=YARD_MM / 8)
    assert purchase(yards * YARD_MM, in_eighths).to_buy_mm == pytest.approx(bought * YARD_MM)


@pytest.mark.parametrize(("needed_cm", "bought_m"), [(145.9, 1.5), (150.0, 1.5)])
def test_metric_shops_cut_ten_centimetres(needed_cm, bought_m):
    """(C)."""
    assert purchase(needed_cm * 10, replace(BARE, step_mm=100)).to_buy_mm == bought_m * 1000


@pytest.mark.parametrize(("inches", "shrinkage_pct", "unwashed"), [(29.0, 3.0, 29.90), (42.0, 4.0, 43.75)])
def test_shrinkage_divides_by_what_is_kept(inches, shrinkage_pct, unwashed):
    """(W): 29 in at 3 % and 42 in at 4 %."""
    bought = purchase(inches * INCH_MM, replace(BARE, shrinkage_along_pct=shrinkage_pct))
    assert bought.unwashed_mm / INCH_MM == pytest.approx(unwashed, abs=0.005)


def test_225_patchwork_squares_take_132_inches_of_30_inch_cloth():
    """(W): area alone says 120 in; 7 to a row make 33 rows, 132 in, efficiency 90.9 %."""
    estimate = estimate_of(
        replace(BARE, width_mm=30 * INCH_MM),
        make_piece("square", box(4 * INCH_MM, 4 * INCH_MM), singles(225)),
        evaluations=0,
    )
    assert estimate.lay.length_mm / INCH_MM == pytest.approx(132.0, abs=1e-4)
    assert estimate.utilisation_pct == pytest.approx(90.9, abs=0.05)


def test_a_round_table_cloth_48_inches_across_takes_48_inches_of_60_inch_cloth():
    """(W): efficiency 62.83 %."""
    angles = np.linspace(0, 2 * np.pi, 720, endpoint=False)
    circle = 24 * INCH_MM * np.column_stack([np.cos(angles), np.sin(angles)])
    estimate = estimate_of(replace(BARE, width_mm=60 * INCH_MM), make_piece("round", circle, singles()))
    assert estimate.lay.length_mm / INCH_MM == pytest.approx(48.0, abs=0.001)
    assert estimate.utilisation_pct == pytest.approx(62.83, abs=0.01)


def test_a_shirt_as_gross_rectangles_needs_at_least_its_area():
    """(W): 20 756 cm²; at 56 in that is 145.9 cm if not a thread were wasted."""
    sizes = {
        "body": (61, 80, 2),
        "sleeve": (30, 69, 4),
        "collar": (8, 45, 2),
        "band": (4, 35, 2),
        "pocket": (13, 16, 1),
        "yoke": (14.5, 52, 2),
    }
    pieces = [
        make_piece(name, box(10 * w, 10 * h), singles(count), turn=Turn.QUARTER)
        for name, (w, h, count) in sizes.items()
    ]
    estimate = estimate_of(replace(BARE, width_mm=56 * INCH_MM), *pieces)
    assert estimate.lay.pieces_area_mm2 / 100 == pytest.approx(20_756)
    assert estimate.lay.length_mm >= 1459.0
    assert estimate.lay.bound_mm <= estimate.lay.length_mm
    # "80 to 85 % called good for wovens" (W); rectangles should do at least so well.
    assert estimate.utilisation_pct >= 80.0
