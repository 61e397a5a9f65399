"""A drawing cut up into sheets: nothing is lost, and sheets are where their names say."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from nesting.drawing.ink.papers import A4, LETTER, LONGEST_PAGE_MM, PAPERS
from nesting.drawing.true_size.tiling import OVERLAP_MM, tile, tile_roll


def rectangle(x0, y0, x1, y1):
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)])


def hatched(x0, y0, x1, y1, every=20.0):
    """Lines so close that each sheet over them holds some."""
    levels = np.append(np.arange(y0, y1, every), y1)
    return [rectangle(x0, y0, x1, y1), *(np.array([(x0, y), (x1, y)]) for y in levels)]


@given(
    size=st.tuples(st.floats(1, 3000), st.floats(1, 2000)),
    corner=st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    paper=st.sampled_from(sorted(PAPERS)),
    margin=st.floats(0, 20),
)
def test_cells_cover_the_drawing_and_only_touch(size, corner, paper, margin):
    bounds = (*corner, corner[0] + size[0], corner[1] + size[1])
    tiling = tile(bounds, hatched(*bounds), PAPERS[paper], margin_mm=margin)
    cells = [shapely.box(*one.cell) for one in tiling.tiles]
    shown = shapely.union_all([shapely.box(*tiling.window(one)) for one in tiling.tiles])
    assert shapely.box(*bounds).difference(shown.buffer(1e-6)).area < 1e-6
    assert sum(cell.area for cell in cells) == pytest.approx(shapely.union_all(cells).area)


@given(margin=st.floats(0, 20), paper=st.sampled_from([A4, LETTER]))
def test_a_sheet_shows_no_more_than_the_printer_reaches(margin, paper):
    tiling = tile((0, 0, 900, 700), [rectangle(0, 0, 900, 700)], paper, margin_mm=margin)
    assert {tiling.width_mm, tiling.height_mm} == {paper.width_mm, paper.height_mm}
    for one in tiling.tiles:
        x0, y0, x1, y1 = tiling.window(one)
        assert x1 - x0 == pytest.approx(tiling.width_mm - 2 * margin)
        assert y1 - y0 == pytest.approx(tiling.height_mm - 2 * margin)


def test_neighbours_share_the_overlap_and_are_named_by_row_and_place():
    tiling = tile((0, 0, 400, 500), [rectangle(0, 0, 400, 500)], A4, margin_mm=10)
    names = {one.name: one for one in tiling.tiles}
    assert tiling.beside(names["A1"], 1, 0) is names["A2"]
    assert tiling.beside(names["A1"], 0, 1) is names["B1"]
    assert tiling.beside(names["A1"], -1, 0) is None
    assert tiling.window(names["A1"])[2] - tiling.window(names["A2"])[0] == pytest.approx(OVERLAP_MM)
    assert names["A1"].cell[2] == names["A2"].cell[0]
    assert names["B1"].cell[1] == names["A1"].cell[3]


def test_sheets_that_would_be_empty_are_left_out():
    parts = [rectangle(0, 0, 100, 100), rectangle(900, 700, 1000, 800)]
    tiling = tile((0, 0, 1000, 800), parts, A4, margin_mm=10)
    assert len(tiling.tiles) < tiling.rows * tiling.columns
    assert {one.name for one in tiling.tiles} >= {"A1", f"{'ABCDEFGH'[tiling.rows - 1]}{tiling.columns}"}


def test_a_sheet_inside_a_large_piece_holds_nothing():
    tiling = tile((0, 0, 900, 900), [rectangle(0, 0, 900, 900)], A4, margin_mm=10)
    assert len(tiling.tiles) == tiling.rows * tiling.columns - (tiling.rows - 2) * (tiling.columns - 2)


def test_what_a_neighbour_shows_on_its_border_needs_no_sheet_of_its_own():
    """A line 4 mm beyond the cell of the sheet, whose border shows 10 mm more."""
    end = 297 - 2 * 10 - OVERLAP_MM - 5  # 5 mm are kept free before the drawing
    for beyond, sheets in ((4, 1), (13, 2)):
        lines = [rectangle(0, 0, 100, 100), np.array([(0, 50), (end + beyond, 50)])]
        assert len(tile((0, 0, end + beyond, 150), lines, A4, margin_mm=10).tiles) == sheets


def test_what_stands_on_the_border_of_a_sheet_keeps_that_sheet():
    """The end of a strap: B1 shows on its border what A1 would, and B2 what B1 would, but not A1's."""
    strap = np.array(
        [(300, 400), (158, 400), (158, 200), (163, 200), (165, 243), (166, 244), (300, 244), (300, 400)]
    )
    tiling = tile((0, 0, 330, 500), [strap.astype(float)], A4, margin_mm=10)
    shown = shapely.union_all([shapely.box(*tiling.window(one)) for one in tiling.tiles])
    assert shapely.LineString(strap).difference(shown.buffer(1e-6)).is_empty


def test_a_sheet_that_holds_a_single_dot_is_printed():
    bounds = (0, 0, 900, 900)
    ring = rectangle(*bounds)
    empty = tile(bounds, [ring], A4, margin_mm=10)
    dotted = tile(bounds, [ring, np.array([(430.0, 380.0)])], A4, margin_mm=10)
    assert len(dotted.tiles) == len(empty.tiles) + 1


def test_the_paper_lies_the_way_that_takes_fewer_sheets():
    long = tile((0, 0, 245, 150), [rectangle(0, 0, 245, 150)], A4, margin_mm=10)
    assert (long.width_mm, long.height_mm, len(long.tiles)) == (297.0, 210.0, 1)


def test_margins_that_leave_nothing_are_refused():
    with pytest.raises(ValueError, match="margins of 95 mm"):
        tile((0, 0, 10, 10), [rectangle(0, 0, 10, 10)], A4, margin_mm=95)


def test_a_roll_takes_all_on_one_page_without_overlap():
    bounds = (-20, 0, 2000, 1480)
    tiling = tile_roll(bounds, [rectangle(*bounds)], width_mm=None, margin_mm=10)
    assert len(tiling.tiles) == 1
    assert tiling.overlap_mm == 0
    assert (tiling.width_mm, tiling.height_mm) == (2020 + 30, 1480 + 30)


def test_a_roll_of_a_given_width_and_a_very_long_lay_are_cut_up():
    bounds = (0, 0, 13_000, 1480)
    tiling = tile_roll(bounds, [rectangle(*bounds)], width_mm=914.4, margin_mm=10)
    assert tiling.height_mm == 914.4
    assert tiling.width_mm == LONGEST_PAGE_MM
    assert (tiling.rows, tiling.columns) == (2, 3)
    assert tiling.overlap_mm == OVERLAP_MM


def test_a_long_lay_for_a_projector_is_cut_up_along_the_cloth_only():
    bounds = (0, 0, 13_000, 1480)
    tiling = tile_roll(bounds, [rectangle(*bounds)], width_mm=None, margin_mm=10)
    assert (tiling.rows, tiling.columns) == (1, 3)
    assert tiling.overlap_mm == OVERLAP_MM
