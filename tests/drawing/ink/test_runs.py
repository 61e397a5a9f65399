"""Names from right to left among words from left to right, as they come out in a PDF."""

from __future__ import annotations

from contextlib import closing
from io import BytesIO

import pypdfium2 as pdfium
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.figure import Figure

from nesting.drawing.ink.canvas import Canvas
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import A4
from nesting.drawing.ink.runs import direction_runs, placed_runs
from nesting.drawing.ink.sheet import MM_PER_PT, Book
from nesting.drawing.ink.text import text_width_pt

NAME = "\u05e9\u05d8\u05d5\u05e3"
"""Four Hebrew letters."""


@given(st.text())
def test_the_runs_of_a_line_are_the_line(line: str):
    assert "".join(direction_runs(line)) == line


@pytest.mark.parametrize(
    ("line", "runs"),
    [
        ("velvet, 13", ("velvet, 13",)),
        (f"{NAME}: 13 pieces", (NAME, ": 13 pieces")),
        (f"velvet {NAME} {NAME} 4", ("velvet ", f"{NAME} {NAME}", " 4")),
        ("", ("",)),
    ],
)
def test_runs_end_before_figures_and_letters_of_the_other_direction(line: str, runs: tuple[str, ...]):
    """Unicode Standard Annex 9: what stands between letters of one direction has that direction."""
    assert direction_runs(line) == runs


def test_runs_stand_side_by_side():
    placed = placed_runs(f"a {NAME}: 13", 10, "right")
    assert [run for run, _, _ in placed] == ["a ", NAME, ": 13"]
    assert placed[-1][1] == pytest.approx(-text_width_pt(": 13", 10))
    assert placed[1][1] - placed[0][1] == pytest.approx(text_width_pt("a ", 10))


def letters(figure: Figure) -> dict[str, tuple[float, float]]:
    """How far right and up each letter of a page stands, as PDFium reads it."""
    target = BytesIO()
    with drawing_settings():
        figure.savefig(target, format="pdf")
    with (
        closing(pdfium.PdfDocument(target.getvalue())) as document,
        closing(document[0]) as page,
        closing(page.get_textpage()) as text,
    ):
        return {text.get_text_range(k, 1): text.get_charbox(k)[:2] for k in range(text.count_chars())}


def in_order(at: dict[str, tuple[float, float]], axis: int) -> None:
    places = [at[letter][axis] for letter in (NAME[3], NAME[0], ":", "7", "m")]
    assert places == sorted(places)


def test_in_a_table_a_colon_and_a_figure_stay_behind_the_name():
    sheet = Book(A4).turn()
    sheet.words(20, 40, f"{NAME}: 7 m", 10)
    in_order(letters(sheet.figure), 0)


@pytest.mark.parametrize("upright", [True, False])
def test_on_a_drawing_they_stay_behind_it_too(upright: bool):
    figure = Figure()
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_axis_off()
    axes.set_xlim(0, 160)
    axes.set_ylim(0, 120)
    Canvas(axes, MM_PER_PT).words((80, 60), [f"{NAME}: 7 m", "face up"], 10, "words", upright=upright)
    at = letters(figure)
    in_order(at, 0 if upright else 1)
    if upright:
        assert at["f"][1] < at["7"][1]
    else:
        assert at["f"][0] > at["7"][0]
