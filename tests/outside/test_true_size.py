"""True-size sheets measured in the PDF itself by an independent library (pypdfium2, the PDFium engine).

Sheets are put together as a person does it: by the crosses at their corners and by the names printed on them.
What is measured is never taken from our own drawing code.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
import pytest
import shapely

from nesting.cutting.flat.placing import numbered
from nesting.drawing.ink.papers import A4, LETTER, PAPERS, PageSize
from nesting.drawing.true_size.full_size import lay_full_size
from nesting.drawing.true_size.pages import PrintOn, full_size_pdf
from nesting.estimate.estimate import Estimate
from tests.lays_by_hand import folded, long_lay, three_pieces

__all__ = ["folded", "long_lay", "three_pieces"]

MM = 25.4 / 72
TRUE_WITHIN_MM = 0.2
ARM_MM = 10.0
"""Length of the strokes of a cross, measured on a print with a ruler."""
CUT_LINE_MM = 0.582
"""Width of the lines to cut along, by which they are known; no other line has it."""
MARGIN_MM = 10.0


@dataclass(frozen=True)
class Stroke:
    """A path of the PDF in millimetres from the page's lower left corner."""

    points: np.ndarray
    width_mm: float


def strokes_of(page: pdfium.PdfPage) -> Iterator[Stroke]:
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH]):
        matrix = np.array(item.get_matrix().get()).reshape(3, 2)
        width = ctypes.c_float()
        raw.FPDFPageObj_GetStrokeWidth(item.raw, width)
        points = []
        for index in range(raw.FPDFPath_CountSegments(item.raw)):
            segment = raw.FPDFPath_GetPathSegment(item.raw, index)
            x, y = ctypes.c_float(), ctypes.c_float()
            raw.FPDFPathSegment_GetPoint(segment, x, y)
            points.append((x.value, y.value, 1.0))
        yield Stroke(np.array(points) @ matrix * MM, width.value * MM)


@dataclass(frozen=True)
class SheetOfPaper:
    """A printed sheet: its name, the corners its crosses mark, and every stroke on it."""

    name: str
    low_left: np.ndarray
    high_right: np.ndarray
    strokes: list[Stroke]
    size_mm: tuple[float, float]


def crosses(strokes: list[Stroke]) -> np.ndarray:
    """Middles of level strokes that an upright one of the same length crosses in its middle."""
    straight = [s.points for s in strokes if len(s.points) == 2]
    short = [points for points in straight if abs(np.ptp(points, axis=0).sum() - ARM_MM) < 0.05]
    level = [p.mean(axis=0) for p in short if np.ptp(p[:, 1]) < 1e-3]
    upright = [p.mean(axis=0) for p in short if np.ptp(p[:, 0]) < 1e-3]
    return np.array([one for one in level if any(np.abs(one - other).max() < 0.05 for other in upright)])


def read_sheet(page: pdfium.PdfPage) -> SheetOfPaper:
    strokes = list(strokes_of(page))
    corners = crosses(strokes)
    assert len(corners) == 4, corners
    low, high = corners.min(axis=0), corners.max(axis=0)
    corner = (*(low / MM), *((low + np.array([70.0, 9.0])) / MM))
    (name,) = re.findall(r"[A-Z]+\d+", page.get_textpage().get_text_bounded(*corner))
    return SheetOfPaper(name, low, high, strokes, tuple(side * MM for side in page.get_size()))


def put_together(sheets: list[SheetOfPaper]) -> dict[str, np.ndarray]:
    """Where each sheet's lower left cross comes to lie when every sheet is joined to its neighbours."""
    wide = [sheet.high_right[0] - sheet.low_left[0] for sheet in sheets]
    high = [sheet.high_right[1] - sheet.low_left[1] for sheet in sheets]
    assert max(wide) - min(wide) < 0.01
    assert max(high) - min(high) < 0.01
    places = {}
    for sheet, width, height in zip(sheets, wide, high, strict=True):
        row, column = ord(sheet.name[0]) - ord("A"), int(sheet.name[1:]) - 1
        places[sheet.name] = np.array([column * width, row * height])
    return places


def printable(sheet: SheetOfPaper, margin_mm: float) -> tuple[np.ndarray, np.ndarray]:
    return np.full(2, margin_mm), np.array(sheet.size_mm) - margin_mm


def farthest_off(sheets: list[SheetOfPaper], estimate: Estimate, margin_mm: float = MARGIN_MM) -> float:
    """The greatest distance, in mm, of any corner of a piece from where the sheets, put together, show it."""
    places = put_together(sheets)
    shown = []
    for sheet in sheets:
        low, high = printable(sheet, margin_mm)
        for stroke in sheet.strokes:
            seen = ((stroke.points > low) & (stroke.points < high)).all(axis=1)
            if abs(stroke.width_mm - CUT_LINE_MM) < 0.01:
                shown.append(stroke.points[seen] - sheet.low_left + places[sheet.name])
    drawn = np.vstack(shown)
    corners = np.vstack([item.shape.cut_line for item in numbered(estimate.lay)])
    # The drawing may lie anywhere on the paper: it is laid on the true one at its left and at its lower end.
    shift = drawn.min(axis=0) - corners.min(axis=0)
    points = shapely.points(drawn - shift)
    _, off = shapely.STRtree(points).query_nearest(
        shapely.points(corners), return_distance=True, all_matches=False
    )
    return float(off.max())


def sheets_of(data: bytes, *, head_alone: bool) -> list[SheetOfPaper]:
    document = pdfium.PdfDocument(data)
    return [read_sheet(document[k]) for k in range(1 if head_alone else 0, len(document))]


def lay_pdf(estimate: Estimate, paper: PageSize | None, margin_mm: float = MARGIN_MM) -> bytes:
    return full_size_pdf([lay_full_size(estimate)], "Jacket", "", PrintOn(paper, margin_mm))


@pytest.fixture(scope="module")
def on_a4(folded: Estimate) -> list[SheetOfPaper]:
    return sheets_of(lay_pdf(folded, A4), head_alone=True)


def test_a_whole_lay_on_a4_put_together_by_its_marks_is_true(folded: Estimate, on_a4: list[SheetOfPaper]):
    assert len(on_a4) > 30
    assert farthest_off(on_a4, folded) < TRUE_WITHIN_MM


@pytest.mark.parametrize(("paper", "margin_mm"), [(LETTER, 6.35), (PAPERS["a3"], 5.0)])
def test_a_whole_lay_put_together_by_its_marks_is_true(folded: Estimate, paper: PageSize, margin_mm: float):
    sheets = sheets_of(lay_pdf(folded, paper, margin_mm), head_alone=True)
    assert len(sheets) > 10
    assert farthest_off(sheets, folded, margin_mm) < TRUE_WITHIN_MM


def test_a_lay_of_thirteen_metres_is_true_from_end_to_end(long_lay: Estimate):
    sheets = sheets_of(lay_pdf(long_lay, PAPERS["a0"]), head_alone=False)
    assert farthest_off(sheets, long_lay) < TRUE_WITHIN_MM


def test_a_drawing_one_per_mille_too_large_would_be_noticed(folded: Estimate, on_a4: list[SheetOfPaper]):
    """The measurement itself: a printer that stretches by a thousandth is 1.5 mm out over this lay."""
    stretched = [
        SheetOfPaper(
            s.name,
            s.low_left * 1.001,
            s.high_right * 1.001,
            [Stroke(one.points * 1.001, one.width_mm) for one in s.strokes],
            s.size_mm,
        )
        for s in on_a4
    ]
    assert farthest_off(stretched, folded) > TRUE_WITHIN_MM


@pytest.mark.parametrize("paper", [A4, LETTER, PAPERS["a0"], None], ids=["a4", "letter", "a0", "roll"])
def test_the_first_page_has_a_square_of_ten_centimetres_and_one_of_four_inches(
    three_pieces: Estimate, paper: PageSize | None
):
    page = pdfium.PdfDocument(lay_pdf(three_pieces, paper))[0]
    squares = [s.points for s in strokes_of(page) if len(s.points) == 5]
    closed = [points for points in squares if np.allclose(points[0], points[-1])]
    sides = [np.array([np.hypot(*(b - a)) for a, b in pairwise(points)]) for points in closed]
    for side_mm in (100.0, 4 * 25.4):
        assert sum(np.abs(one - side_mm).max() < 0.01 for one in sides) == 1


@pytest.mark.parametrize("margin_mm", [0.0, 10.0, 20.0])
def test_no_ink_lies_where_the_printer_cannot_reach(three_pieces: Estimate, margin_mm: float):
    """Looked at as pixels, as PDFium renders the page."""
    document = pdfium.PdfDocument(lay_pdf(three_pieces, A4, margin_mm))
    for page in document:
        pixels = page.render(scale=2.0).to_numpy()[..., :3].min(axis=2)
        edge = int(
            (margin_mm - 0.5) / MM * 2
        )  # lines that run along the limit are shown in their whole width
        if edge > 0:
            pixels[edge:-edge, edge:-edge] = 255
            assert pixels.min() == 255


def test_one_long_page_is_true(folded: Estimate):
    page = pdfium.PdfDocument(lay_pdf(folded, None))[0]
    strokes = list(strokes_of(page))
    size = tuple(side * MM for side in page.get_size())
    whole = SheetOfPaper("A1", np.zeros(2), np.array(size), strokes, size)
    assert farthest_off([whole], folded, 0.0) < TRUE_WITHIN_MM


def test_cutting_lines_are_the_thickest_of_a_piece_and_none_is_a_hair(on_a4: list[SheetOfPaper]):
    widths = [stroke.width_mm for sheet in on_a4 for stroke in sheet.strokes if stroke.width_mm > 0]
    assert min(widths) > 0.25
    outlines = [s.width_mm for sheet in on_a4 for s in sheet.strokes if len(s.points) > 20]
    assert max(outlines) == pytest.approx(CUT_LINE_MM, abs=0.001)
