"""True-size drawings and their sheets, by their artists and by what their pages say."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
import shapely
from matplotlib.figure import Figure
from matplotlib.image import imread
from matplotlib.text import Text
from PIL import Image
from pypdf import PdfReader

from nesting.cloth.remnant import Blocked, Remnant
from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import LINES
from nesting.drawing.ink.papers import A4, PAPERS
from nesting.drawing.lay.blocked import Seen
from nesting.drawing.true_size import full_size
from nesting.drawing.true_size.first_sheet import SQUARES_MM, Head, draw_head
from nesting.drawing.true_size.full_size import FullSize, box_of, lay_full_size
from nesting.drawing.true_size.pages import LINE_WEIGHT, PrintOn, full_size_pdf, full_size_png
from nesting.drawing.true_size.paper_pieces import count_words, pieces_full_size
from nesting.drawing.true_size.sheet_map import Mapped
from nesting.drawing.true_size.tiling import room_of
from nesting.estimate.estimate import Estimate
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.piece import Mark
from nesting.pattern.shaping import cut_shape
from nesting.units import MM_PER_INCH
from tests.conftest import box, hook, make_piece, make_project, on_fold, pairs, singles

A_POINT_MM = 25.4 / 72


def texts(data: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(data)).pages]


@pytest.fixture(scope="module")
def sheets(folded: Estimate) -> list[str]:
    return texts(full_size_pdf([lay_full_size(folded)], "Jacket", "wool flannel: the lay", PrintOn(A4)))


def test_the_first_sheet_says_how_to_print_measure_and_join(sheets: list[str]):
    first = " ".join(sheets[0].split())
    assert f"{len(sheets)} sheets." in first
    for words in ("actual size", "This square measures 10 cm", "This square measures 4 in", "To join"):
        assert words in first


def test_every_sheet_has_its_name_and_the_map_has_them_all(folded: Estimate, sheets: list[str]):
    tiles = PrintOn(A4).tiling(lay_full_size(folded)).tiles
    assert len(tiles) > 20
    for one, text in zip(tiles, sheets[1:], strict=True):
        assert re.search(rf"{one.name}$", text, re.MULTILINE)
        assert one.name in sheets[0].split()


def test_words_name_the_piece_on_the_sheets_that_show_it(sheets: list[str]):
    assert sum("sleeve" in text for text in sheets) >= 6
    assert any("face down" in text for text in sheets)


def test_no_line_is_too_thin_to_survive_printing():
    """0.25 mm is the thinner of the usual pair of widths in ISO 128 (from memory); the map may be finer."""
    for name, look in LINES.items():
        if name not in {"map"}:
            assert look["linewidth"] * LINE_WEIGHT * A_POINT_MM > 0.25


def test_the_squares_are_ten_centimetres_and_four_inches():
    assert dict(SQUARES_MM) == {"10 cm": 100.0, "4 in": 101.6}


def test_on_large_paper_the_head_stands_on_the_first_sheet(folded: Estimate):
    on_a0 = texts(full_size_pdf([lay_full_size(folded)], "Jacket", "", PrintOn(PAPERS["a0"])))
    assert "This square measures 10 cm" in " ".join(on_a0[0].split())
    assert re.search(r"A1$", on_a0[0], re.MULTILINE)
    (roll,) = texts(full_size_pdf([lay_full_size(folded)], "Jacket", "", PrintOn(None)))
    assert "This square measures 4 in" in " ".join(roll.split())
    assert "One sheet." in roll
    assert "To join" not in roll


def test_of_very_many_sheets_the_map_names_some_along_its_edges(long_lay: Estimate):
    drawing = lay_full_size(long_lay)
    mapped = Mapped(drawing, PrintOn(A4).tiling(drawing))
    head = Head("Chorus", "", (mapped,), alone=True)
    axes = Figure().add_axes((0, 0, 1, 1))
    canvas = Canvas(axes, A_POINT_MM)
    draw_head(canvas, head, (0.0, 0.0))
    names = [text.get_text() for text in axes.texts if text.get_gid() == "map-name"]
    assert "A1" in names
    assert 4 < len(names) < len(mapped.tiling.tiles) / 4
    boxes = [shapely.box(*box) for box in canvas.taken[-len(names) :]]  # the map is drawn last
    pairs = shapely.STRtree(boxes).query(boxes, predicate="overlaps").T
    assert len(pairs) == 0


def test_a_flaw_is_drawn_and_named_at_true_size(three_pieces: Estimate):
    hole = Blocked("moth hole", ((100.0, 700.0), (200.0, 700.0), (200.0, 800.0), (100.0, 800.0)))
    remnant = Remnant("", 900.0, blocked=(hole,))
    cloth = replace(three_pieces.lay.cloth, remnants=(remnant,))
    drawing = lay_full_size(replace(three_pieces, lay=replace(three_pieces.lay, cloth=cloth)))
    (page,) = texts(full_size_pdf([drawing], "Jacket", "", PrintOn(None)))
    assert "moth hole" in page


def shown(drawing: FullSize) -> shapely.Geometry:
    """What all sheets of A4 show together."""
    tiling = PrintOn(A4).tiling(drawing)
    return shapely.union_all([shapely.box(*tiling.window(one)) for one in tiling.tiles])


def test_a_mark_is_on_a_sheet_that_holds_nothing_else():
    back = replace(make_piece("back", box(900, 900), singles()), marks=(Mark("button", ((250.0, 700.0),)),))
    project = make_project(back)
    (drawing,) = pieces_full_size(project, project.pieces, room_of(A4, margin_mm=10))
    (button,) = (one for one in cut_shape(back).features if one.kind is FeatureKind.MARK)
    assert shown(drawing).covers(shapely.Point(*button.vertices))


def test_a_flaw_is_on_a_sheet_that_holds_nothing_else(folded: Estimate, monkeypatch):
    without = lay_full_size(folded)
    empty = shapely.box(*without.bounds).difference(shown(without))
    x, y = empty.representative_point().coords[0]
    hole = np.array([(x, y), (x + 5, y), (x + 5, y + 5), (x, y + 5)])
    monkeypatch.setattr(full_size, "seen_blocked", lambda *_: (Seen("moth hole", False, hole),))
    assert shown(lay_full_size(folded)).covers(shapely.Polygon(hole))


def test_small_pieces_share_a_sheet_and_large_ones_have_their_own():
    project = make_project(
        make_piece("front", hook(300, 500), pairs()),
        make_piece("pocket", box(60, 80), singles(2)),
        make_piece("tab", box(30, 40), pairs()),
    )
    drawings = pieces_full_size(project, project.pieces, room_of(A4, margin_mm=10))
    assert [drawing.title for drawing in drawings] == ["front", "pocket, tab"]
    for drawing in drawings:
        boxes = [box_of(outline) for outline in drawing.outlines]
        for k, one in enumerate(boxes):
            for other in boxes[k + 1 :]:
                assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_a_piece_is_turned_on_the_paper_where_that_saves_sheets():
    """240 by 160 mm fit a sheet of A4 along it; across the grain the second would take a sheet of its own."""
    flat, high = make_piece("flat", box(235, 75), singles()), make_piece("high", box(75, 235), singles())
    project = make_project(flat, high)
    (drawing,) = pieces_full_size(project, project.pieces, room_of(A4, margin_mm=10))
    assert sorted(np.ptp(outline, axis=0)[0] > 200 for outline in drawing.outlines) == [True, True]


def test_a_large_piece_lies_askew_where_that_saves_sheets():
    """A strip drawn askew to its grain lies in two rows of sheets, and turned in one."""
    slanting = np.array([(0.0, 0.0), (600.0, 250.0), (560.0, 346.0), (-40.0, 96.0)])
    project = make_project(make_piece("sash", slanting, singles()))
    on = PrintOn(A4)

    def sheets(drawing: FullSize) -> int:
        return len(on.tiling(drawing).tiles)

    room = room_of(A4, margin_mm=10)
    (straight,) = pieces_full_size(project, project.pieces, room)
    (turned,) = pieces_full_size(project, project.pieces, room, sheets)
    assert sheets(turned) < sheets(straight)
    assert shapely.Polygon(turned.outlines[0]).area == pytest.approx(
        shapely.Polygon(straight.outlines[0]).area
    )


def test_a_fold_edge_is_left_out_and_bracketed_on_a_turned_piece_too():
    project = make_project(make_piece("back", box(90, 235), on_fold(), on_fold="edge 3"))
    other = make_piece("flat", box(235, 60), singles())
    for pieces in (project.pieces, (other, *project.pieces)):
        together = make_project(*pieces)
        (drawing,) = pieces_full_size(together, pieces, room_of(A4, margin_mm=10))
        axes = Figure().add_axes((0, 0, 1, 1))
        canvas = Canvas(axes, A_POINT_MM)
        drawing.draw(canvas, drawing.bounds, drawing.bounds)
        drawn = {artist.get_gid(): artist for artist in canvas.artists}
        name = next(gid for gid in drawn if gid.endswith("fold-bracket")).removesuffix("-fold-bracket")
        path = drawn[f"{name}-cut-line"].get_path()
        assert (path.codes[1:] == 1).sum() == 1  # one edge only is not drawn


def test_a_piece_carries_its_allowances_in_figures_and_its_names():
    jacket = parse_project(example_text())
    (front,) = [piece for piece in jacket.pieces if piece.name == "front"]
    (drawing,) = pieces_full_size(jacket, (front,), (4000, 800))
    canvas = Canvas(Figure().add_axes((0, 0, 1, 1)), A_POINT_MM)
    drawing.draw(canvas, drawing.bounds, drawing.bounds)
    written = [(text.get_gid(), text.get_text()) for text in canvas.artists if isinstance(text, Text)]
    assert {"1 cm", "0.6 cm", "4 cm"} == {words for gid, words in written if gid == "piece-1-allowance"}
    names = [words for gid, words in written if gid == "piece-1-name"]
    assert names.count("buttonhole") == 5
    assert {"waist", "front of the sleeve", "bust", "pocket place"} <= set(names)
    (words,) = (words for gid, words in written if gid == "piece-1-words")
    assert "drawn: the right" in words


def test_a_piece_says_how_often_it_is_cut_of_what():
    project = make_project(make_piece("back", box(250, 500), on_fold(), on_fold="edge 3"))
    assert count_words(project.pieces[0], project) == ("cut 1 of calico, on the fold",)
    (drawing,) = pieces_full_size(project, project.pieces, (4000, 800))
    assert isinstance(drawing, FullSize)


def test_the_same_drawing_gives_the_same_bytes(three_pieces: Estimate):
    drawing = lay_full_size(three_pieces)
    on = PrintOn(PAPERS["a0"])
    assert full_size_pdf([drawing], "x", "", on) == full_size_pdf([drawing], "x", "", on)


def test_a_picture_is_as_large_as_it_says(three_pieces: Estimate):
    drawing = lay_full_size(three_pieces)
    pixels = imread(BytesIO(full_size_png(drawing, 50)))
    wide = drawing.bounds[2] - drawing.bounds[0] + 20
    assert pixels.shape[1] == pytest.approx(wide / 25.4 * 50, abs=1)
    assert np.ptp(pixels[..., 0]) > 0.9


def test_a_picture_of_a_long_lay_has_fewer_points_to_the_inch(three_pieces: Estimate, monkeypatch):
    monkeypatch.setattr("nesting.drawing.true_size.pages.MOST_PIXELS", 200_000)
    drawing = lay_full_size(three_pieces)
    with Image.open(BytesIO(full_size_png(drawing))) as picture:
        wide, high = picture.size
        assert 190_000 < wide * high < 201_000
        dpi, _ = picture.info["dpi"]
        assert wide / dpi * MM_PER_INCH == pytest.approx(drawing.bounds[2] - drawing.bounds[0] + 20, rel=0.01)


def test_whoever_waits_is_told_of_every_sheet(three_pieces: Estimate):
    told: list[tuple[int, int]] = []
    drawing = lay_full_size(three_pieces)
    data = full_size_pdf(
        [drawing], "x", "", PrintOn(A4), on_sheet=lambda number, of: told.append((number, of))
    )
    pages = len(PdfReader(BytesIO(data)).pages)
    assert told == [(number, pages) for number in range(1, pages + 1)]


def test_nothing_of_one_sheet_is_left_on_the_next(three_pieces: Estimate):
    """All sheets are drawn on one figure; each carries one name."""
    tiles = PrintOn(A4).tiling(lay_full_size(three_pieces)).tiles
    pages = texts(full_size_pdf([lay_full_size(three_pieces)], "x", "", PrintOn(A4)))[1:]
    assert [re.findall(r"([A-Z]\d+)$", page, re.MULTILINE) for page in pages] == [[one.name] for one in tiles]
