"""The sheet of `check`: every piece to scale, every name on it, nothing over anything."""

import re
from io import BytesIO
from itertools import combinations

import numpy as np
import pytest
import shapely
from matplotlib.text import Text
from PIL import Image

from nesting.doubts.looking import project_doubts
from nesting.drawing.drafts.figure import draft_figure
from nesting.drawing.drafts.paper import on_paper
from nesting.drawing.drafts.sheets import draft_sheets
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import A4, PAPERS
from nesting.drawing.ink.sheet import FOOTER_MM, MARGIN_MM
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project, project_from_table, read_project
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.edges import edge_length_mm, outline_ring
from nesting.pattern.shaping import cut_shape
from nesting.units import format_length
from tests.documents.pages import ROOT
from tests.doubts.ruins import JACKET, alone

SOUND = read_project(ROOT / "tests" / "data" / "sound_pieces.toml")
EXAMPLE = parse_project(example_text())


def sheets_of(project, page=A4):
    return draft_sheets(project, list(enumerate(project_doubts(project), start=1)), page)


@pytest.fixture(scope="module")
def jacket():
    return sheets_of(EXAMPLE)


def words_of(figure):
    return [" ".join(one.tag.lines) for one in figure.tags]


@pytest.mark.parametrize("piece", [*SOUND.pieces, *EXAMPLE.pieces], ids=lambda piece: piece.name)
def test_a_piece_lies_as_its_points_were_measured(piece):
    """Turned along the cloth and back, whatever its grain and its fold."""
    shape = on_paper(piece)
    drawn = [f.vertices for f in shape.features if f.kind is FeatureKind.STITCHING] or [shape.cut_line]
    outline = shapely.LinearRing(outline_ring(piece.edges)).buffer(0.05)
    assert outline.covers(shapely.LineString(drawn[0]))


def test_every_name_of_the_file_is_on_the_sheet(jacket):
    for piece, block in zip(EXAMPLE.pieces, jacket.blocks, strict=True):
        said = words_of(block.figure)
        assert block.figure.without_room == ()
        assert set(piece.draft.points) <= set(said)
        for edge in piece.edges:
            length = format_length(edge_length_mm(edge.vertices), EXAMPLE.unit)
            added = format_length(edge.allowance_mm, EXAMPLE.unit)
            own = f"{edge.name} {length}"
            if edge.name == piece.on_fold:
                assert f"{own}, on the fold" in said
            else:
                assert (f"{own}, +{added}" if edge.allowance_mm else own) in said
        assert {f"notch: {notch.name}" for notch in piece.notches} <= set(said)
        assert {f"dart: {dart.name}" for dart in piece.darts} <= set(said)
        assert {mark.name for mark in piece.marks} <= set(said)


def test_no_words_cover_words_or_lines(jacket):
    for block in jacket.blocks:
        figure = block.figure
        boxes = [shapely.box(*one.box) for one in figure.tags]
        ring = shapely.LinearRing(figure.shape.cut_line)
        assert not any(box.intersects(ring) for box in boxes)
        assert not any(one.intersects(other) for one, other in combinations(boxes, 2))


def axes_of(book):
    """The axes of each piece on each page, with their place in mm of the page from the lower left."""
    for sheet in book.sheets:
        size = np.array([sheet.width_mm, sheet.height_mm])
        for ax in sheet.figure.axes[1:]:
            (x0, y0), (x1, y1) = ax.get_position().get_points() * size
            yield sheet, ax, (x0, y0, x1, y1)


@pytest.mark.parametrize("page", ["letter", "a3"])
def test_pieces_stand_beside_each_other_inside_the_margins(page):
    book = sheets_of(EXAMPLE, PAPERS[page]).book()
    placed = list(axes_of(book))
    assert len(placed) == len(EXAMPLE.pieces)
    for sheet, _, (x0, y0, x1, y1) in placed:
        assert x0 >= MARGIN_MM - 0.1
        assert x1 <= sheet.width_mm - MARGIN_MM + 0.1
        assert y0 >= MARGIN_MM + FOOTER_MM - 0.1
        assert y1 <= sheet.height_mm - MARGIN_MM + 0.1
    for (sheet, _, one), (another, _, other) in combinations(placed, 2):
        assert sheet is not another or not shapely.box(*one).intersects(shapely.box(*other))


def test_a_piece_is_drawn_at_the_scale_that_is_said(jacket):
    scales = {block.figure.piece.name: block.figure.scale for block in jacket.blocks}
    said = {}
    for sheet in jacket.book().sheets:
        for text in sheet.ax.texts:
            if text.get_text().startswith("1 : "):
                said[len(said)] = int(text.get_text()[4:].split(" ")[0])
    assert sorted(said.values()) == sorted(scales.values())
    for _, ax, (x0, y0, x1, y1) in axes_of(jacket.book()):
        across, up = (np.ptp(limits) for limits in (ax.get_xlim(), ax.get_ylim()))
        assert across / (x1 - x0) == pytest.approx(up / (y1 - y0))
        assert round(across / (x1 - x0)) in scales.values()


def test_a_slip_is_shown_at_its_place():
    table, piece = alone(JACKET, "top sleeve")
    piece["points"]["a5"] = [53.7, 17.6]
    (block,) = sheets_of(project_from_table(table)).blocks
    (ring,) = [one for one in block.figure.tags if one.tag.ringed]
    assert ring.tag.lines == ("1",)
    assert np.hypot(ring.middle[0] - 537.0, ring.middle[1] - 176.0) < 16 * block.figure.mm_per_pt
    assert " ".join(block.below).startswith("Look here (1): edge 'sleeve head': 'a5', (53.7, 17.6)")


def lone(points, edges, **more):
    names = {"points": points, "edges": edges, "cut": {"main": 1}, **more}
    return project_from_table({"units": "cm", "cloth": {"main": {"width": 150}}, "piece": {"one": names}})


def test_a_tiny_piece_is_drawn_no_larger_than_it_is():
    points = {"A": [0, 0], "B": [4.6, 0.9], "C": [5.1, 2.6], "D": [0, 1.7]}
    (block,) = sheets_of(lone(points, {"neck": "A B", "end": "B C", "outer": "C D", "back": "D A"})).blocks
    assert block.figure.scale == 1
    assert "true size · paper 5.1 cm × 2.6 cm" in block.head


def test_three_metres_go_on_a_page():
    points = {"A": [0, 0], "B": [0, 300], "C": [12, 300], "D": [12, 0]}
    edges = {"left": "A B", "top": "B C", "right": "C D", "hem": "D A"}
    for turned in (points, {name: [y, x] for name, (x, y) in points.items()}):
        (block,) = sheets_of(lone(turned, edges, large=True)).blocks
        assert block.figure.without_room == ()
        assert block.width <= A4.width_mm - 2 * MARGIN_MM


@pytest.mark.parametrize("name", ["side seam of the left half, as it is drawn", "x"])
@pytest.mark.parametrize("size", [30, 100, 199])
def test_a_piece_never_outgrows_its_page(name, size):
    points = {"A": [0, 0], "B": [size, 0], "C": [size, size], "D": [0, size]}
    edges = {f"{name} {k}": walk for k, walk in enumerate(("A B", "B C", "C D", "D A"))}
    (block,) = sheets_of(lone(points, edges)).blocks
    assert max(block.width, block.figure.size_mm[0]) <= A4.width_mm - 2 * MARGIN_MM
    assert block.height <= A4.height_mm - 2 * MARGIN_MM - FOOTER_MM


def test_what_finds_no_room_beside_forty_points_is_listed():
    top = {f"s{k}": [78 - 2 * k, 30] for k in range(40)}
    points = {"A": [0, 0], "B": [80, 0], "C": [80, 30], **top, "D": [-1, 29]}
    edges = {"hem": "A B", "right": "B C", "top": ["C", *top, "D"], "left": "D A"}
    (block,) = sheets_of(lone(points, edges)).blocks
    named = set(words_of(block.figure)) | set(block.figure.without_room)
    assert set(points) <= named
    listed = " ".join(block.below)
    assert all(name in listed for name in block.figure.without_room)


@pytest.fixture(scope="module")
def small():
    points = {"A": [0, 0], "B": [20, 0], "C": [20, 30], "D": [0, 30]}
    return sheets_of(lone(points, {"hem": "A B", "right": "B C", "top": "C D", "left": "D A"}))


def test_the_picture_is_wide_enough_to_read_and_the_same_again(small):
    drawn = small.png()
    assert Image.open(BytesIO(drawn)).width > 1500
    assert small.png() == drawn


def test_the_svg_keeps_words_as_words_and_is_the_same_again(small):
    drawn = small.svg()
    assert re.search(rb"<text[^>]*>(<tspan[^>]*>)?hem", drawn)
    assert small.svg() == drawn


def test_names_from_right_to_left_are_drawn():
    points = {"א": [0, 0], "B": [20, 0], "C": [20, 30], "D": [0, 30]}
    project = lone(points, {"תפר": "א B", "right": "B C", "top": "C D", "left": "D א"})
    with drawing_settings():
        figure = draft_figure(project, project.pieces[0], 2, [])
    assert "תפר 20 cm, +1 cm" in words_of(figure)
    texts = [text for _, ax, _ in axes_of(sheets_of(project).book()) for text in ax.findobj(Text)]
    assert any("תפר" in text.get_text() for text in texts)


def test_a_corner_to_lay_by_is_left_to_the_lay():
    (collar,) = (piece for piece in EXAMPLE.pieces if piece.name == "collar")
    assert any(one.kind is FeatureKind.CORNER for one in cut_shape(collar).features)
    assert not any(one.kind is FeatureKind.CORNER for one in on_paper(collar).features)
