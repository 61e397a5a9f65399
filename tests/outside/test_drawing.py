"""Drawings against standards that we did not write."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from nesting.drawing.ink.look import CLOTH, FACE_DOWN, HATCH_INK, INK, LINES, PAPER, SELVEDGE
from nesting.drawing.pages.book import A4, LETTER, PageSize, pdf_bytes
from nesting.estimate.estimate import ProjectEstimate
from nesting.project import Project
from nesting.units import Unit


def relative_luminance(colour: str) -> float:
    """WCAG 2.2, definition of relative luminance, for ``#rrggbb``."""
    channels = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of contrast ratio, 1 to 21."""
    light, dark = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_is_21_for_black_on_white():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("ground", [PAPER, FACE_DOWN, CLOTH])
def test_words_pass_wcag_level_aaa(ground: str):
    """WCAG 2.2, success criterion 1.4.6: at least 7 : 1."""
    assert contrast(INK, ground) >= 7


@pytest.mark.parametrize("name", sorted(LINES))
@pytest.mark.parametrize("ground", [PAPER, FACE_DOWN, CLOTH])
def test_lines_that_carry_meaning_pass_wcag(name: str, ground: str):
    """WCAG 2.2, success criterion 1.4.11 (graphical objects): at least 3 : 1.

    The ratio is of luminance alone, so it holds in greyscale print and for colour-blind eyes.
    """
    assert contrast(LINES[name]["color"], ground) >= 3


def test_the_two_faces_differ_in_greyscale_and_by_hatch():
    """Face down must not rest on a shade alone: its stripes stand out from it by 3 : 1 (WCAG 1.4.11)."""
    assert relative_luminance(PAPER) - relative_luminance(FACE_DOWN) > 0.2
    assert contrast(HATCH_INK, FACE_DOWN) >= 3
    assert relative_luminance(SELVEDGE) < relative_luminance(CLOTH)


@pytest.mark.parametrize(
    ("page", "millimetres", "tolerance_mm"),
    [
        # ISO 216:2007, A4; its tolerance for sides of 150 to 600 mm is 2 mm, ours is a tenth of one.
        (A4, (210.0, 297.0), 0.2),
        # ANSI/ASME Y14.1, size A: 8 1/2 by 11 in (from memory).
        (LETTER, (8.5 * 25.4, 11 * 25.4), 0.2),
    ],
)
def test_pages_have_their_standard_size(
    page: PageSize, millimetres: tuple[float, float], tolerance_mm: float
):
    project = Project(title="Empty", unit=Unit.CM, currency="", cloths={}, pieces=())
    data = pdf_bytes(ProjectEstimate(replace(project), ()), page=page)
    for pdf_page in PdfReader(BytesIO(data)).pages:
        measured = (float(pdf_page.mediabox.width) * 25.4 / 72, float(pdf_page.mediabox.height) * 25.4 / 72)
        assert measured == pytest.approx(millimetres, abs=tolerance_mm)
