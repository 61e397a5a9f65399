"""The chart as text and as a table, and what is on its pages."""

import csv
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from nesting.cloth.cloth import Cloth, Nap
from nesting.drawing.pages.chart import chart_pdf, chart_png
from nesting.estimate.overview.chart import Chart, ChartCell, ChartRow
from nesting.files.results.chart_text import chart_csv, chart_text
from nesting.project import PLAIN, Project
from nesting.units import Unit

CLOTH = Cloth(key="main", name="calico", width_mm=1150.0, price_per_m=4.0)


def chart(*sizes, name="calico", unit=Unit.CM):
    cloth = replace(CLOTH, name=name)
    cells = tuple(ChartCell(1500.0 + 100 * k, 13.0 * 114.3) for k in range(len(sizes)))
    rows = (
        ChartRow(PLAIN, cloth, (ChartCell(None, None, fits=False), *cells[1:])),
        ChartRow(PLAIN, replace(cloth, nap=Nap.ONE_WAY), cells),
    )
    project = Project(name, unit, "", {"main": cloth}, ())
    return Chart(project, sizes, {"main": rows})


def test_the_text_stands_in_columns():
    lines = chart_text(chart("8", "10")).splitlines()
    assert lines[2:7] == [
        "",
        "In metres",
        "",
        "calico                    8    10",
        "  115 cm, without nap     –  1.60",
    ]
    assert "  115 cm, with nap     1 5/8  1 5/8" in lines


def test_inches_come_first_for_a_person_who_uses_them():
    text = chart_text(chart("8", unit=Unit.IN))
    assert text.index("In yards") < text.index("In metres")


def test_the_table_is_read_back_as_it_was():
    rows = list(csv.DictReader(chart_csv(chart("8", "10")).splitlines()))
    assert [(row["size"], row["nap"], row["metres"], row["yards"], row["remark"]) for row in rows] == [
        ("8", "either way", "", "", "a piece is wider than the cloth"),
        ("10", "either way", "1.6", "1.625", ""),
        ("8", "one way", "1.5", "1.625", ""),
        ("10", "one way", "1.6", "1.625", ""),
    ]


def test_twenty_sizes_go_on_below_on_the_page():
    sizes = tuple(str(n) for n in range(10, 50, 2))
    pages = PdfReader(BytesIO(chart_pdf(chart(*sizes)))).pages
    text = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert all(f" {size} " in text for size in sizes)
    assert "3.40" in text


@pytest.mark.parametrize("name", ["a very long name " * 20, "x" * 300, "מעיל", "معطف", "🧵🪡", "外套"])
def test_no_name_breaks_page_picture_or_table(name):
    made = chart("8", "a size with a name that is far too long", name=name)
    assert b"%PDF" in chart_pdf(made)
    assert chart_png(made, dpi=50).startswith(b"\x89PNG")
    assert name in chart_text(made)
    assert next(csv.DictReader(chart_csv(made).splitlines()))["name"] == name


def test_names_that_begin_like_formulas_are_shown_as_text():
    _, *body = csv.reader(chart_csv(chart("-2", "10", name="@calico")).splitlines())
    assert {row[1] for row in body} == {"'@calico"}
    assert [row[5] for row in body[:2]] == ["'-2", "10"]
