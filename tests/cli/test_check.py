"""What ``check`` tells besides faults: how long edges are, and what looks like a slip."""

from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.cli.running import SMALL

SLIPPED = SMALL.replace("C = [44, 38]", "X = [39.9, 2], C = [44, 38]").replace(
    'through = "C D"', 'through = "C X D"'
)
"""The numbers of a point of the top are swapped."""


def test_it_tells_how_long_each_edge_is(ellwand):
    lines = [line.split() for line in ellwand("check", "tote.toml", "--no-sheet").stdout.splitlines()]
    assert ["side", "bottom", "40", "cm", "1", "cm"] in lines
    assert ["top", "44.2", "cm", "3", "cm"] in lines
    assert ["middle", "36", "cm", "on", "the", "fold"] in lines


def test_nothing_is_said_of_a_sound_file(ellwand):
    assert "Look here" not in ellwand("check", "tote.toml", "--no-sheet").stdout


@pytest.fixture
def slipped(ellwand):
    (ellwand.folder / "tote.toml").write_text(SLIPPED, encoding="utf-8")
    return ellwand


def test_what_looks_like_a_slip_is_told_and_stops_nothing(slipped):
    done = slipped("check", "tote.toml", "--no-sheet")
    assert done.returncode == 0
    assert "piece 'side', edge 'top', point 'X'" in done.stdout
    assert "'X', (39.9, 2) cm, lies far from its neighbours" in done.stdout


def test_lay_says_that_there_is_something_to_look_at(slipped):
    done = slipped("lay", "tote.toml", "--seconds", "0.1")
    assert done.returncode == 0, done.stderr
    (hint,) = [line for line in done.stdout.splitlines() if line.startswith("Look here")]
    assert hint.startswith("Look here: 1 thing in the file looks like a slip.")
    assert hint.endswith("check tote.toml")


def test_it_draws_the_pieces_into_a_folder_of_their_own(ellwand):
    done = ellwand("check", "tote.toml", "--svg", "--paper", "a3")
    assert done.returncode == 0, done.stderr
    folder = ellwand.folder / "tote-check"
    assert {path.name for path in folder.iterdir()} == {
        "tote-check.pdf",
        "tote-check.png",
        "tote-check.svg",
    }
    (page,) = PdfReader(BytesIO((folder / "tote-check.pdf").read_bytes())).pages
    assert float(page.mediabox.height) == pytest.approx(420 / 25.4 * 72, abs=0.1)
    words = " ".join(page.extract_text().split())
    assert "bottom 40 cm, +1 cm" in words
    assert "1 : 5 · paper 44 cm × 42 cm" in words


def test_nothing_is_drawn_that_is_not_wanted(ellwand):
    ellwand("check", "tote.toml", "--no-sheet")
    assert [path.name for path in ellwand.folder.iterdir()] == ["tote.toml"]


def test_an_earlier_sheet_is_kept_and_an_alternative_drawn(ellwand):
    ellwand("check", "tote.toml", "--to", "seen")
    before = (ellwand.folder / "seen" / "tote-check.pdf").read_bytes()
    done = ellwand("check", "tote.toml", "--to", "seen", "--alternative", "seam in the base")
    assert "15 cm" in done.stdout
    assert (ellwand.folder / "seen" / "tote-check-earlier-1.pdf").read_bytes() == before
    (page,) = PdfReader(ellwand.folder / "seen" / "tote-check.pdf").pages
    assert "middle 36 cm, +1 cm" in " ".join(page.extract_text().split())


def test_a_piece_too_wide_for_its_cloth_is_drawn_all_the_same(ellwand):
    narrow = SMALL.replace("width = 100", "width = 30")
    (ellwand.folder / "tote.toml").write_text(narrow, encoding="utf-8")
    done = ellwand("check", "tote.toml")
    assert done.returncode == 2
    assert "across" in done.stderr
    assert "no faults" not in done.stdout
    assert (ellwand.folder / "tote-check" / "tote-check.pdf").is_file()


def test_an_outline_that_crosses_itself_is_drawn_as_it_is(ellwand):
    crossing = SMALL.replace("D = [0, 42]", "X = [20, -38.5], D = [0, 42]").replace(
        'through = "C D"', 'through = "C X D"'
    )
    (ellwand.folder / "tote.toml").write_text(crossing, encoding="utf-8")
    done = ellwand("check", "tote.toml")
    assert done.returncode == 2
    assert "crosses or touches" in done.stderr
    (page,) = PdfReader(ellwand.folder / "tote-check" / "tote-check.pdf").pages
    words = " ".join(page.extract_text().split())
    assert "It cannot be cut as it is: the screen says why." in words
    assert "bottom 40 cm, +1 cm" in words


def test_of_a_file_that_cannot_be_read_nothing_is_drawn(ellwand):
    (ellwand.folder / "tote.toml").write_text("units = ", encoding="utf-8")
    assert ellwand("check", "tote.toml").returncode == 2
    assert [path.name for path in ellwand.folder.iterdir()] == ["tote.toml"]


def test_what_cannot_be_written_is_said_before_anything_is_drawn(ellwand):
    (ellwand.folder / "seen").write_text("a file", encoding="utf-8")
    done = ellwand("check", "tote.toml", "--to", "seen")
    assert done.returncode == 2
    assert "is a file, not a folder" in done.stderr
