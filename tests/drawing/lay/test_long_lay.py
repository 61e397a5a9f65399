"""A lay too long for one page: over several, along the cloth, each as good to read as the first."""

from __future__ import annotations

import pytest
import shapely
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.text import Text

from nesting.cutting.flat.placing import numbered
from nesting.drawing.ink.sheet import Sheet
from nesting.drawing.pages.book import A4, book_of
from nesting.estimate.estimate import Estimate, ProjectEstimate
from nesting.units import Unit
from tests.lays_by_hand import project_of

SMALLEST_SCALE = 14.5


def pages_of(estimate: Estimate) -> list[Sheet]:
    """The pages that carry the drawing."""
    result = ProjectEstimate(project_of((estimate,), Unit.CM, "Chorus", ()), (estimate,))
    return [sheet for sheet in book_of(result, page=A4).sheets if len(sheet.figure.axes) > 1]


@pytest.fixture(scope="module")
def pages(long_lay: Estimate) -> list[Sheet]:
    return pages_of(long_lay)


def test_a_long_lay_is_split_and_every_page_says_which_it_is(pages: list[Sheet]):
    assert len(pages) > 3
    for number, page in enumerate(pages, start=1):
        words = [text.get_text() for text in page.ax.texts]
        assert any(f"page {number} of {len(pages)} along the cloth" in line for line in words)
        axes = page.figure.axes[1]
        x0, x1 = axes.get_xlim()
        mm_on_paper = axes.get_position().width * page.width_mm
        assert (x1 - x0) / mm_on_paper < SMALLEST_SCALE


def test_a_short_lay_stays_on_one_page(folded: Estimate, three_pieces: Estimate):
    assert len(pages_of(folded)) == len(pages_of(three_pieces)) == 1


def test_every_piece_has_its_number_on_a_page_that_shows_it(long_lay: Estimate, pages: list[Sheet]):
    found: set[str] = set()
    for page in pages:
        axes = page.figure.axes[1]
        low, high = axes.get_xlim()
        for text in axes.texts:
            if str(text.get_gid()).endswith("-number") and str(text.get_gid()).startswith("piece"):
                found.add(text.get_text())
                assert low < text.get_position()[0] < high
    assert found == {str(item.number) for item in numbered(long_lay.lay)}


def test_nothing_is_drawn_past_the_end_of_a_page(pages: list[Sheet]):
    for page in pages[1:-1]:
        axes = page.figure.axes[1]
        clipped = [a for a in (*axes.lines, *axes.patches) if str(a.get_gid()).endswith("cut-line")]
        assert clipped
        low, high = (line.get_xdata()[0] for line in axes.lines if str(line.get_gid()).endswith("page-end"))
        for artist in clipped:
            box = artist.get_clip_box()
            assert box is not None
            edges = box.transformed(axes.transData.inverted())
            hair = 0.01 * (high - low)
            assert low - hair < edges.x0 <= low
            assert high <= edges.x1 < high + hair


def test_no_words_lie_over_words_or_leave_the_page(pages: list[Sheet]):
    for page in pages[:2]:
        renderer = FigureCanvasAgg(page.figure).get_renderer()
        texts = [text for axes in page.figure.axes for text in axes.texts if isinstance(text, Text)]
        boxes = [shapely.box(*text.get_window_extent(renderer).extents) for text in texts]
        width, height = page.figure.get_size_inches() * page.figure.dpi
        assert all(shapely.box(0, 0, width, height).covers(box) for box in boxes)
        pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects").T
        overlapping = [
            (texts[i].get_text(), texts[j].get_text())
            for i, j in pairs
            if i < j and boxes[i].intersection(boxes[j]).area > 0.02 * min(boxes[i].area, boxes[j].area)
        ]
        assert overlapping == []
