"""Pictures of the documents show what the program draws now.

Those drawn quickly are compared every day, here and in `test_listings`; all of them, with every table
and listing, in the long run and by ``python -m benchmarks.documents --compare``.
"""

import re
import shutil
from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
from matplotlib.image import imread, imsave

from benchmarks import check_pictures, documents
from nesting.drawing.lay.figure import png_bytes
from nesting.estimate.estimating import lay_project
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from tests.documents.pages import ANEW, PICTURES, ROOT, is_as_drawn


def test_the_picture_of_the_readme():
    jacket = parse_project(example_text(), source="jacket.toml")
    wool = replace(
        jacket, cloths={"main": jacket.cloths["main"]}, pieces=jacket.pieces_in("main"), alternatives=()
    )
    assert is_as_drawn("jacket-main.png", png_bytes(lay_project(wool).estimates[0], jacket.unit)), ANEW


def test_the_picture_of_a_slip():
    assert is_as_drawn("check-slip.png", check_pictures.sheet_with_a_slip()), ANEW


def test_every_picture_is_on_a_page():
    pages = [*(ROOT / "docs").glob("*.md"), ROOT / "README.md"]
    shown = {name for page in pages for name in re.findall(r"pictures/([\w-]+\.\w+)", page.read_text())}
    assert shown == {path.name for path in PICTURES.iterdir()}


@pytest.mark.parametrize("part", documents.MAKERS)
@pytest.mark.heavy
def test_nothing_is_older_than_what_it_shows(part, tmp_path):
    docs = tmp_path / "docs"
    shutil.copytree(ROOT / "docs", docs)
    documents.MAKERS[part](docs)
    assert list(documents.differing(docs, ROOT / "docs")) == [], ANEW


def as_png(pixels):
    file = BytesIO()
    imsave(file, pixels, format="png")
    return file.getvalue()


def test_one_more_word_is_seen_and_another_smoothing_of_edges_is_not():
    shown = (PICTURES / "jacket-main.png").read_bytes()
    pixels = imread(BytesIO(shown))[..., :3]
    assert documents.looks_the_same(shown, shown)
    smoothed = np.clip(pixels + np.random.default_rng(0).uniform(-0.15, 0.15, pixels.shape), 0, 1)
    assert documents.looks_the_same(as_png(smoothed), shown)
    assert not documents.looks_the_same(as_png(pixels[1:]), shown)
    high, wide = (int(0.05 * size) for size in pixels.shape[:2])
    with_a_mark = pixels.copy()
    with_a_mark[:high, :wide] = 1.0 - with_a_mark[:high, :wide]
    assert not documents.looks_the_same(as_png(with_a_mark), shown)


def test_pages_and_pictures_that_differ_are_named(tmp_path):
    docs = tmp_path / "docs"
    shutil.copytree(ROOT / "docs", docs)
    (docs / "table.md").write_text("other words")
    shutil.copy(PICTURES / "widths.png", docs / "pictures" / "chart.png")
    (docs / "pictures" / "new.png").write_bytes(b"")
    assert list(documents.differing(docs, ROOT / "docs")) == [
        "pictures/chart.png shows something else now",
        "pictures/new.png is new",
        "table.md says something else now",
    ]
