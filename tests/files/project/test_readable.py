"""What can be read of a file that cannot be used is drawn, and never more than that is asked of it."""

import pytest

from nesting.drawing.drafts.figure import draft_figure
from nesting.drawing.ink.look import drawing_settings
from nesting.files.project.readable import readable_pieces
from tests.documents.pages import ROOT

FAULTS = sorted((ROOT / "tests" / "data" / "faults").glob("*.toml"))[::4]
"""A quarter of them: each is told in the tests of its own fault."""
HEAD = """
units = "cm"
[piece.front]
points = { A = [0, 0], B = [10, 0], C = [0, 10], D = [10, 10] }
"""
CROSSING = 'edges = { hem = "A B", side = "B C", top = "C D", middle = "D A" }'


def test_a_piece_that_crosses_itself_can_be_read(tmp_path):
    file = tmp_path / "crossing.toml"
    file.write_text(HEAD + CROSSING, encoding="utf-8")
    project = readable_pieces(file)
    assert project.title == "crossing"
    (piece,) = project.pieces
    assert [edge.name for edge in piece.edges] == ["hem", "side", "top", "middle"]
    with drawing_settings():
        figure = draft_figure(project, piece, 2, [])
    assert not figure.sound
    assert "hem 10 cm, +1 cm" in [" ".join(one.tag.lines) for one in figure.tags]


@pytest.mark.parametrize(
    "edges",
    [
        '{ hem = "A B", side = "B Z" }',
        '{ hem = "A B", side = "B A" }',
        '{ hem = "A B", side = "D A" }',
        '"A B"',
    ],
    ids=["no such point", "a line", "a gap", "no edges"],
)
def test_what_has_no_outline_is_left_out(tmp_path, edges):
    file = tmp_path / "nothing.toml"
    file.write_text(f"{HEAD}edges = {edges}", encoding="utf-8")
    assert readable_pieces(file) is None


@pytest.mark.parametrize("text", ["units = ", 'units = "ell"', 'units = "cm"', 'units = "cm"\npiece = 3'])
def test_a_file_without_pieces_gives_none(tmp_path, text):
    (tmp_path / "file.toml").write_text(text, encoding="utf-8")
    assert readable_pieces(tmp_path / "file.toml") is None


def test_a_faulty_file_is_read_as_far_as_it_goes():
    drawn = 0
    with drawing_settings():
        for file in FAULTS:
            project = readable_pieces(file)
            for piece in project.pieces if project else ():
                draft_figure(project, piece, 10, [])
                drawn += 1
    assert drawn > len(FAULTS) / 2
