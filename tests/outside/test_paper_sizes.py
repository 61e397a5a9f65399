"""Paper sizes against ISO 216:2007, and inches against the international yard."""

import math

import pypdfium2 as pdfium
import pytest

from nesting.drawing.ink.papers import PAPERS
from nesting.drawing.true_size.pages import PrintOn, full_size_pdf
from nesting.drawing.true_size.paper_pieces import pieces_full_size
from nesting.drawing.true_size.tiling import room_of
from nesting.units import MM_PER_INCH
from tests.conftest import box, make_piece, make_project, singles

# ISO 216:2007, main series, trimmed sizes in millimetres.
ISO_216 = {"a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297)}


def test_the_series_is_the_standards():
    assert {name: (p.width_mm, p.height_mm) for name, p in PAPERS.items() if name != "letter"} == ISO_216


def test_the_series_is_made_as_the_standard_says():
    """A0 is one square metre with sides as 1 to the square root of 2; each next size is half of the last."""
    wide, high = 1000 / 2**0.25, 1000 * 2**0.25
    for number in range(5):
        paper = PAPERS[f"a{number}"]
        assert (paper.width_mm, paper.height_mm) == pytest.approx((wide, high), abs=1.0)
        assert paper.height_mm / paper.width_mm == pytest.approx(math.sqrt(2), rel=0.005)
        wide, high = high / 2, wide


def test_letter_is_eight_and_a_half_by_eleven_inches_of_exactly_25_4_mm():
    """ANSI/ASME Y14.1, size A (from memory); the inch: NBS, Addendum to Circular 572 (1960)."""
    assert MM_PER_INCH == 25.4
    assert PAPERS["letter"].width_mm == pytest.approx(8.5 * 25.4, rel=1e-12)
    assert PAPERS["letter"].height_mm == pytest.approx(11 * 25.4, rel=1e-12)


@pytest.mark.parametrize("name", sorted(PAPERS))
def test_pages_come_out_in_that_size(name: str):
    paper = PAPERS[name]
    project = make_project(make_piece("pocket", box(60, 80), singles()))
    drawings = pieces_full_size(project, project.pieces, room_of(paper, margin_mm=10))
    for page in pdfium.PdfDocument(full_size_pdf(drawings, "x", "", PrintOn(paper))):
        sides = sorted(side * 25.4 / 72 for side in page.get_size())
        assert sides == pytest.approx([paper.width_mm, paper.height_mm], abs=0.01)
