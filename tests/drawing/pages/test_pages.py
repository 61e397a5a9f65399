"""The pages, read back by another library (pypdf) as whoever opens the file would."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
from matplotlib.text import Text
from pypdf import PdfReader

from nesting.cutting.flat.placing import numbered
from nesting.cutting.lay import LaySection, PlacedPiece
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.sheet import MARGIN_MM, Book, Column, Sheet
from nesting.drawing.lay.pieces import label_to_mind
from nesting.drawing.pages.book import A4, LETTER, PageSize, book_of, pdf_bytes
from nesting.drawing.pages.distances import draw_distances
from nesting.drawing.pages.lay import key_lines, scale_text
from nesting.drawing.pages.lists import CAUTIONS, tally_text
from nesting.drawing.pages.numbers import key_text, runs_text
from nesting.drawing.pages.work_order import work_steps
from nesting.estimate.estimate import Estimate, ProjectEstimate, Tally
from nesting.geometry import FloatArray
from nesting.units import Unit, format_buy, format_length
from nesting.words.lying import lies_words
from nesting.words.verdict import still_to_save, verdict


def squeezed(text: str) -> str:
    """Without white space: where lines break says nothing about what is said."""
    return "".join(text.split())


def all_placed(estimate: Estimate) -> list[PlacedPiece]:
    return [placed for section in estimate.lay.sections for placed in section.placed]


def with_grain_on_paper(result: ProjectEstimate, line: FloatArray) -> ProjectEstimate:
    """The same, every paper piece with its grain line there."""

    def marked(section: LaySection) -> LaySection:
        placed = (replace(one, shape=replace(one.shape, grain_on_paper=line)) for one in section.placed)
        return replace(section, placed=tuple(placed))

    def lay_marked(estimate: Estimate) -> Estimate:
        return replace(
            estimate, lay=replace(estimate.lay, sections=tuple(map(marked, estimate.lay.sections)))
        )

    return replace(result, estimates=tuple(map(lay_marked, result.estimates)))


def texts_of(sheet: Sheet) -> list[str]:
    """Every line of words on a page, outside its drawing."""
    return [text.get_text() for text in sheet.ax.texts]


@pytest.fixture(scope="module")
def pages(jacket: ProjectEstimate) -> list[str]:
    return [squeezed(page.extract_text()) for page in PdfReader(BytesIO(pdf_bytes(jacket))).pages]


@pytest.fixture(scope="module")
def small(jacket: ProjectEstimate, three_pieces: Estimate) -> ProjectEstimate:
    """The interfacing alone, which is quickly drawn."""
    return replace(jacket, estimates=(three_pieces,))


@pytest.fixture(scope="module")
def in_inches(small: ProjectEstimate) -> ProjectEstimate:
    return replace(small, project=replace(small.project, unit=Unit.IN))


def test_page_one_says_what_to_buy(jacket: ProjectEstimate, pages: list[str]):
    assert squeezed(jacket.project.title) in pages[0]
    for estimate in jacket.estimates:
        assert squeezed(estimate.lay.cloth.name) in pages[0]
        assert squeezed(format_buy(estimate.to_buy_mm, Unit.CM)) in pages[0]
        assert squeezed(format_length(estimate.lay.cloth.width_mm, Unit.CM)) in pages[0]
        assert squeezed(still_to_save(estimate, Unit.CM)) in pages[0]
        assert squeezed(verdict(estimate, jacket.project)) in "".join(pages[:2])
    assert squeezed("shrink 3 % along and 2 % across") in pages[0]
    assert squeezed("Nosumisgiven") in pages[0]
    for note in (*jacket.project.notes, "cut 4 of 'collar' read as 2 pairs"):
        assert squeezed(note) in pages[0]


def test_page_one_says_how_the_cloth_lies_as_the_terminal_does(jacket: ProjectEstimate, pages: list[str]):
    lies = {estimate.lay.cloth.name: lies_words(estimate.lay) for estimate in jacket.estimates}
    assert "lengthwise fold, then opened out" in lies.values()
    assert "open, one layer" in lies.values()
    assert all(squeezed(words) in pages[0] for words in lies.values())


def test_the_sum_is_given_when_every_cloth_has_a_price(jacket: ProjectEstimate):
    priced = replace(jacket, estimates=jacket.estimates[1:2])
    assert priced.cost is not None
    assert f"All together: £{priced.cost:.2f}" in texts_of(book_of(priced).sheets[0])


def test_every_placement_is_in_a_table_with_its_distances(jacket: ProjectEstimate, pages: list[str]):
    everything = "".join(pages)
    for estimate in jacket.estimates:
        for item in numbered(estimate.lay):
            assert item.distances is not None
            measures = (
                item.distances.foot_along_mm,
                item.distances.foot_across_mm,
                item.distances.top_along_mm,
                item.distances.top_across_mm,
            )
            row = "".join(format_length(mm, Unit.CM) for mm in measures)
            assert squeezed(row) in everything
            assert squeezed(item.placed.piece) in everything


def test_where_the_grain_lines_lie_on_the_paper_is_told_once_before_the_lays(jacket: ProjectEstimate):
    line = np.array([(91.0, 120.0), (91.0, 480.0)])
    sheets = book_of(with_grain_on_paper(jacket, line)).sheets
    (at,) = [k for k, sheet in enumerate(sheets) if "foot, right" in texts_of(sheet)]
    assert at < min(k for k, sheet in enumerate(sheets) if "foot, along" in texts_of(sheet))
    names = {placed.piece for estimate in jacket.estimates for placed in all_placed(estimate)}
    assert texts_of(sheets[at]).count("9.1 cm") == 2 * len(names)  # foot and top, both 9.1 cm to the right
    assert texts_of(sheets[at]).count("12 cm") == len(names)


def test_each_table_says_what_it_is_measured_from(pages: list[str]):
    everything = "".join(pages)
    assert squeezed("Folded lengthwise, right side inside, two layers. Across: from the fold.") in everything
    assert (
        squeezed("opened out, right side up, one layer. Across: from the outer edge of the near selvedge.")
        in everything
    )


def test_the_cut_list_has_a_box_for_every_piece_to_cut(jacket: ProjectEstimate):
    asked = sum(tally.asked for estimate in jacket.estimates for tally in estimate.tallies)
    boxes = [
        patch
        for sheet in book_of(jacket).sheets
        for patch in sheet.ax.patches
        if patch.get_gid() == "tick-box"
    ]
    assert len(boxes) == asked == 25


def test_a_thousand_of_a_piece_get_their_boxes_on_the_page(small: ProjectEstimate):
    many = Tally("button loop", asked=1000, placed=1000, face_up=1000, face_down=0, on_fold=0)
    sheets = book_of(replace(small, estimates=(replace(small.estimates[0], tallies=(many,)),))).sheets
    boxes = [(sheet, box) for sheet in sheets for box in sheet.ax.patches if box.get_gid() == "tick-box"]
    assert len(boxes) == 1000
    assert all(box.get_bbox().y1 < sheet.height_mm - MARGIN_MM for sheet, box in boxes)


def test_cautions_and_page_numbers_are_there(pages: list[str]):
    everything = "".join(pages)
    for caution in CAUTIONS:
        assert squeezed(caution) in everything
    for number, page in enumerate(pages, start=1):
        assert page.endswith(f"page{number}of{len(pages)}") or f"page{number}of{len(pages)}" in page


def test_many_distances_flow_on_to_a_further_page(jacket: ProjectEstimate, sixty_pieces: Estimate):
    long = replace(jacket, estimates=(sixty_pieces,))
    assert sum("foot, along" in texts_of(sheet) for sheet in book_of(long).sheets) == 2


def test_no_type_is_under_seven_points_and_none_leaves_the_page(
    jacket: ProjectEstimate, sixty_pieces: Estimate
):
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    every = replace(jacket, estimates=(jacket.estimates[0], sixty_pieces))
    for sheet in book_of(every).sheets:
        renderer = FigureCanvasAgg(sheet.figure).get_renderer()
        width, height = sheet.figure.get_size_inches() * sheet.figure.dpi
        edge = 0.5 * MARGIN_MM / 25.4 * sheet.figure.dpi
        for text in sheet.figure.findobj(Text):
            assert isinstance(text, Text)
            if text.get_text() and text.get_visible() and text.axes is not None and _is_ours(text):
                box = text.get_window_extent(renderer)
                assert text.get_fontsize() >= 7
                assert edge <= box.x0 <= box.x1 <= width - edge
                assert edge <= box.y0 <= box.y1 <= height - edge


def _is_ours(text: Text) -> bool:
    """Tick labels of the axes, which are switched off, are not."""
    return text.axes is not None and text in text.axes.texts


def test_words_on_a_page_do_not_overlap(jacket: ProjectEstimate):
    import shapely
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    for sheet in book_of(jacket).sheets:
        renderer = FigureCanvasAgg(sheet.figure).get_renderer()
        texts = [text for axes in sheet.figure.axes for text in axes.texts]
        boxes = [shapely.box(*text.get_window_extent(renderer).extents) for text in texts]
        pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects").T
        overlapping = [
            (texts[i].get_text(), texts[j].get_text())
            for i, j in pairs
            # Line boxes of letters with ascenders and descenders may touch by a hair.
            if i < j and boxes[i].intersection(boxes[j]).area > 0.02 * min(boxes[i].area, boxes[j].area)
        ]
        assert overlapping == []


def test_inches_bring_letter_paper_and_a_given_paper_is_obeyed(
    small: ProjectEstimate, in_inches: ProjectEstimate
):
    def papers(result: ProjectEstimate, page: PageSize | None = None) -> set[tuple[int, int]]:
        inches = [sheet.figure.get_size_inches() for sheet in book_of(result, page=page).sheets]
        return {(round(25.4 * min(sides)), round(25.4 * max(sides))) for sides in inches}

    assert papers(small) == {(210, 297)}
    assert papers(in_inches) == {(216, 279)}
    assert papers(small, LETTER) == {(216, 279)}
    assert papers(in_inches, A4) == {(210, 297)}


def test_lengths_are_in_the_persons_unit(in_inches: ProjectEstimate):
    text = squeezed("".join(page.extract_text() for page in PdfReader(BytesIO(pdf_bytes(in_inches))).pages))
    assert squeezed(format_buy(in_inches.estimates[0].to_buy_mm, Unit.IN)) in text
    assert "0in" in text
    assert "cm" not in text.replace(squeezed("A better lay might still save up to 20 cm."), "")


def test_the_same_estimate_gives_the_same_file_without_a_date(small: ProjectEstimate):
    data = pdf_bytes(small)
    assert data == pdf_bytes(small)
    metadata = PdfReader(BytesIO(data)).metadata
    assert metadata is not None
    assert metadata.title == small.project.title
    assert "/CreationDate" not in metadata


def test_strange_titles_and_names_neither_crash_nor_warn(small: ProjectEstimate):
    title = "Jäckchen 👩\u200d🎤 $a$ " + "long " * 60
    priced = replace(small.estimates[0], cost=41.65)
    project = replace(small.project, title=title, currency="EUR")
    strange = replace(small, project=project, estimates=(priced,))
    text = PdfReader(BytesIO(pdf_bytes(strange))).pages[0].extract_text()
    assert "Jäckchen" in text
    assert "EUR 41.65" in text


def test_an_alternative_is_named_on_every_page(small: ProjectEstimate):
    version = replace(small, project=replace(small.project, version="seam at centre back"))
    for sheet in book_of(version).sheets:
        assert any("alternative: seam at centre back" in text for text in texts_of(sheet))


def test_a_long_title_leaves_room_for_the_version(small: ProjectEstimate):
    long = replace(small.project, title="The winter pantomime " * 20, version="narrow cloth")
    for sheet in book_of(replace(small, project=long)).sheets:
        (footer,) = [text for text in texts_of(sheet) if "… · " in text]
        assert footer.startswith("The winter pantomime")
        assert footer.endswith("… · alternative: narrow cloth")


def test_a_long_table_repeats_its_head():
    book = Book(A4)
    book.turn()
    book.table([Column("head", 40.0), Column("boxes", 60.0)], [(f"row {k}", k % 4) for k in range(120)])
    assert len(book.sheets) > 2
    for sheet in book.sheets:
        assert [text.get_text() for text in sheet.ax.texts].count("head") == 1
    assert sum(len(sheet.ax.patches) for sheet in book.sheets) == sum(k % 4 for k in range(120))


@pytest.mark.parametrize("count", range(2, 14))
def test_no_row_of_a_table_stands_alone_on_its_page(count: int):
    book = Book(A4)
    book.turn()
    book.space(200.0)
    book.table([Column("head", 60.0)], [(f"row {k}",) for k in range(count)])
    rows = [sum(text.startswith("row ") for text in texts_of(sheet)) for sheet in book.sheets]
    heads = [texts_of(sheet).count("head") for sheet in book.sheets]
    assert sum(rows) == count
    assert all((number == 0) == (head == 0) for number, head in zip(rows, heads, strict=True))
    assert 1 not in rows


def test_small_words():
    assert scale_text(25.4 / 72 * 12.2) == "about 1 : 12"
    assert runs_text([1, 2, 4, 5, 6, 9]) == "1, 2, 4 to 6, 9"


def test_the_cut_list_says_how_a_piece_lies_in_the_words_of_the_table(folded: Estimate, opened: Estimate):
    def told(estimate: Estimate, piece: str, **changes: int) -> str:
        (tally,) = [one for one in estimate.tallies if one.piece == piece]
        return tally_text(
            replace(tally, **changes), [one for one in all_placed(estimate) if one.piece == piece]
        )

    assert told(folded, "back") == "1 on the fold"
    assert told(folded, "front") == "2: pair, face down"
    assert told(folded, "collar") == "4: pair, face up; pair, face down"
    assert told(opened, "front") == "2: 1 face up, 1 face down"
    assert told(opened, "patch pocket") == "3 face up"
    assert told(opened, "front", asked=1) == "1: 1 face up, 1 face down; the lay gives 2"


def test_pieces_too_small_for_their_name_are_named_below(sixty_pieces: Estimate):
    tabs = [item for item in numbered(sixty_pieces.lay) if item.placed.piece == "tab"][:9]
    first = tabs[0].number
    assert key_text(tabs) == f"tab {first} to {first + 8}"


def test_what_finds_no_room_on_a_piece_is_said_below_the_drawing(opened: Estimate, jacket: ProjectEstimate):
    down = numbered(opened.lay)[1]
    assert label_to_mind(down) == "face down"
    said = {item.number: f"{item.placed.piece} {label_to_mind(item)}" for item in numbered(opened.lay)}
    assert list(key_lines(numbered(opened.lay), said)) == []
    said[down.number] = down.placed.piece
    assert list(key_lines(numbered(opened.lay), said)) == [
        f"Not on the drawing, for want of room: face down: {key_text([down])}."
    ]


def test_in_an_order_the_garment_is_kept_as_long_as_face_down(opened: Estimate):
    down = numbered(opened.lay)[1]
    ordered = replace(down, placed=replace(down.placed, garments=(2,)))
    assert label_to_mind(ordered) == "garment 2, face down"


def test_what_to_mind_before_cutting_comes_before_the_lays(jacket: ProjectEstimate):
    sheets = book_of(jacket).sheets
    (cautions,) = [k for k, sheet in enumerate(sheets) if "Before you cut" in texts_of(sheet)]
    lays = [
        k for k, sheet in enumerate(sheets) if any(text.endswith(": the lay") for text in texts_of(sheet))
    ]
    assert cautions < min(lays)


def test_beyond_the_corner_a_grain_line_is_measured_the_other_way(small: ProjectEstimate):
    line = np.array([(-30.0, -183.0), (91.0, 480.0)])
    (sheet,) = [
        sheet
        for sheet in book_of(with_grain_on_paper(small, line)).sheets
        if "foot, right" in texts_of(sheet)
    ]
    assert {"3 cm left", "18.3 cm down", "9.1 cm", "48 cm"} <= set(texts_of(sheet))


def test_of_several_corners_each_is_named_in_a_row_of_its_own(opened: Estimate):
    first, second, *others = numbered(opened.lay)
    assert first.distances is not None
    assert second.distances is not None
    two = (("hem / side", 123.0, 345.0), ("side / neck", 567.0, 89.0))
    items = (
        replace(first, distances=replace(first.distances, corners=two)),
        replace(second, distances=replace(second.distances, corners=(("hem / front", 91.0, 234.0),))),
        *others,
    )
    with drawing_settings():
        book = Book(A4)
        book.turn()
        draw_distances(book, items, opened.lay.cloth, Unit.CM, ())
    said = " ".join(filter(None, texts_of(book.sheet)))
    for row in ("hem and side 12.3 cm 34.5 cm", "side and neck 56.7 cm 8.9 cm", "cm 9.1 cm 23.4 cm"):
        assert row in said
    assert "hem and front" not in said
    (check,) = (step for step in work_steps(opened, items, Unit.CM) if step.startswith("Check"))
    assert "every grain line and every corner that it gives" in check


def test_a_cut_list_is_kept_together_on_one_page(small: ProjectEstimate):
    (estimate,) = small.estimates
    for count in range(2, 20, 3):
        many = tuple(
            Tally(f"row {k}", asked=1, placed=1, face_up=1, face_down=0, on_fold=0) for k in range(count)
        )
        sheets = book_of(replace(small, estimates=(replace(estimate, tallies=many),))).sheets
        assert sum(any(text.startswith("row ") for text in texts_of(sheet)) for sheet in sheets) == 1
