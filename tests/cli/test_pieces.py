"""``ellwand pieces`` and ``ellwand lay --full-size``, as a person types them."""

import pytest
from pypdf import PdfReader

from tests.cli.running import ellwand


def test_pieces_are_drawn_without_laying_anything(tote):
    done = ellwand("pieces", "tote.toml", cwd=tote)
    assert done.returncode == 0, done.stderr
    assert "Measure the squares" in done.stdout
    pages = PdfReader(tote / "tote-pieces" / "tote-pieces.pdf").pages
    text = " ".join(page.extract_text() for page in pages)
    assert "side" in text
    assert "base" in text
    assert {round(float(side) * 25.4 / 72) for page in pages for side in page.mediabox[2:]} == {210, 297}
    assert [path.name for path in (tote / "tote-pieces").iterdir()] == ["tote-pieces.pdf"]


def test_one_piece_with_pictures_on_other_paper(tote):
    done = ellwand("pieces", "tote.toml", "base", "--paper", "a3", "--pictures", "--to", "out", cwd=tote)
    assert done.returncode == 0, done.stderr
    assert sorted(path.name for path in (tote / "out").iterdir()) == [
        "01-base.png",
        "01-base.svg",
        "tote-pieces.pdf",
    ]


def test_a_piece_of_its_alternative_is_whole(tote):
    done = ellwand("pieces", "tote.toml", "base", "--alternative", "seam in the base", cwd=tote)
    assert done.returncode == 0, done.stderr
    text = PdfReader(tote / "tote-pieces" / "tote-pieces.pdf").pages[1].extract_text()
    assert "on the fold" not in text


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("lid",), "There is no piece called 'lid'."),
        (("--margin", "3"), "A margin of 3 cm leaves too little of the paper."),
        (("--margin", "wide"), "'wide' is no length"),
        (("--roll-width", "91.4"), "A width is for a roll of paper"),
        (("--paper", "roll", "--roll-width", "10"), "none is narrower than 30 cm"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_is_written(tote, arguments, told):
    done = ellwand("pieces", "tote.toml", *arguments, cwd=tote)
    assert done.returncode == 2
    assert told in " ".join(done.stderr.split())
    assert not (tote / "tote-pieces").exists()


def test_a_lay_at_true_size_on_one_long_page(tote):
    done = ellwand("lay", "tote.toml", "--full-size", "roll", "--paper", "letter", cwd=tote)
    assert done.returncode == 0, done.stderr
    (page,) = PdfReader(tote / "tote-lay" / "tote-main-full-size.pdf").pages
    assert float(page.mediabox.height) * 25.4 / 72 > 500  # the cloth is a metre wide, folded at most once
    assert (tote / "tote-lay" / "tote-main-full-size.png").read_bytes().startswith(b"\x89PNG")
    sheets = PdfReader(tote / "tote-lay" / "tote.pdf").pages
    assert float(sheets[0].mediabox.width) == pytest.approx(8.5 * 72)
    svg = (tote / "tote-lay" / "tote-main.svg").read_text(encoding="utf-8")
    assert 'id="cutting-lines"' in svg


def test_a_margin_without_anything_at_true_size_is_refused(tote):
    done = ellwand("lay", "tote.toml", "--margin", "1", cwd=tote)
    assert done.returncode == 2
    assert "none was asked for" in done.stderr
    assert not (tote / "tote-lay").exists()


def test_pieces_of_a_size(tmp_path):
    ellwand("new", "jacket.toml", "--example", "jacket-sizes", cwd=tmp_path)
    done = ellwand("pieces", "jacket.toml", "collar", "--size", "96", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    first, *_ = PdfReader(tmp_path / "jacket-pieces" / "jacket-pieces-size-96.pdf").pages
    assert "Size 96." in first.extract_text()
    wrong = ellwand("pieces", "jacket.toml", "--size", "giant", cwd=tmp_path)
    assert wrong.returncode == 2
    assert "There is no size called 'giant'." in wrong.stderr
