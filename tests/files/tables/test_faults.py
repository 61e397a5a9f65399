"""Every way a project file can be wrong: where the message points, what it says, what it advises.

``tests/data/faults`` holds one file for each fault; its last lines say what is expected.
"""

import os
import re

import pytest

from nesting.errors import BadInput
from nesting.files.project.reading import parse_project, read_project
from tests.files.conftest import DATA

SQUARE = """\
units = "cm"
[cloth.main]
width = 150
[cloth.lining]
width = 140
[piece.front]
points = { A = [0, 0], B = [10, 0], C = [10, 10], D = [0, 10], E = [5, 5] }
cut = { main = 1 }
[piece.front.edges]
hem = "A B"
side = "B C"
top = "C D"
middle = "D A"
"""


def problems_of(text, source="jacket.toml"):
    with pytest.raises(BadInput) as caught:
        parse_project(text, source=source)
    return caught.value.mistakes


def test_the_file_that_is_spoilt_is_good_before():
    assert parse_project(SQUARE).pieces[0].name == "front"


@pytest.mark.parametrize("file", sorted((DATA / "faults").glob("*.toml")), ids=lambda file: file.stem)
def test_fault(file):
    text = file.read_text(encoding="utf-8")
    expected = dict(re.findall(r"^# (where|what|remedy): ?(.*)$", text, re.MULTILINE))
    (mistake,) = problems_of(text)
    assert mistake.where.startswith("jacket.toml")
    for part, words in expected.items():
        assert words in getattr(mistake, part)
    told = str(mistake)
    assert told.isprintable()
    # Not one word of the libraries beneath.
    for jargon in ("Input", "valid", "pydantic", "dict", "_type", "extra", "tuple", "at end of document"):
        assert jargon not in told


def test_all_faults_of_a_file_are_told_at_once_in_its_order():
    text = (
        SQUARE.replace("width = 150", "width = 1.5").replace('"A B"', '"A Z"').replace("main = 1", "wool = 1")
    )
    text += "\n[alternative.x]\ncloth.silk.width = 90\n"
    assert [mistake.where for mistake in problems_of(text)] == [
        "jacket.toml, cloth 'main'",
        "jacket.toml, piece 'front', edge 'hem'",
        "jacket.toml, piece 'front', cut",
        "jacket.toml, alternative 'x'",
    ]


def test_a_fault_of_the_plain_version_is_not_told_again_for_each_alternative():
    text = SQUARE.replace('"A B"', '"A Z"') + "\n[alternative.x]\ncloth.main.width = 90\n"
    assert len(problems_of(text)) == 1


def test_no_cloth_and_no_piece():
    told = " ".join(mistake.what for mistake in problems_of('units = "cm"'))
    assert "There is no cloth." in told
    assert "There are no pieces." in told


def test_empty_file_says_all_that_is_needed():
    assert len(problems_of("")) == 3


def test_a_large_piece_is_believed_where_the_file_says_so():
    text = SQUARE.replace("B = [10, 0], C = [10, 10]", "B = [250, 0], C = [250, 10]")
    project = parse_project(text.replace("cut =", "large = true\ncut ="))
    assert project.pieces[0].edges[0].vertices[1].tolist() == [2500, 0]


def test_sizes_are_not_judged_while_the_unit_is_unknown():
    text = SQUARE.replace('"cm"', '"milimetres"').replace("width = 150", "width = 15000")
    (mistake,) = problems_of(text)
    assert "'units'" in mistake.what


@pytest.mark.parametrize(
    ("data", "where", "what"),
    [
        (b"title = 'Caf\xe9'", "line 1", "not text in UTF-8"),
        ('units = "cm"'.encode("utf-16"), "line 1", "not text in UTF-8"),
        (b"a = 1\nb = \x00", "line 2", "an invisible sign"),
        (b"PK\x03\x04\x14\x00", "", "no plain text"),
        (rb"{\rtf1\ansi units}", "", "no plain text"),
        (b"a = " + b"[" * 40_000, "", "nested without end"),
        (b"a = " + b"9" * 5000, "", "thousands of digits"),
        (b"a = 1\n" + b"a." * 20_000 + b"a = 1", "line 2", "more than 60 parts"),
        (b"a = 1\nb = [1" + b" " * 40_000 + b"x]", "line 2", "from its character 40007 on: 'x]'"),
        (b"a = '" + b"x" * 50_000 + b"'", "line 1", "50,006 characters long"),
    ],
    ids=[
        "latin",
        "utf_16",
        "zero_byte",
        "zipped",
        "rich_text",
        "bottomless",
        "endless_number",
        "dotted",
        "spaces",
        "long_line",
    ],
)
def test_file_that_is_no_project_file(tmp_path, data, where, what):
    file = tmp_path / "jacket.toml"
    file.write_bytes(data)
    with pytest.raises(BadInput) as caught:
        read_project(file)
    assert where in caught.value.mistakes[0].where
    assert what in caught.value.mistakes[0].what


def test_file_that_is_not_there(tmp_path):
    with pytest.raises(BadInput, match=r"missing.toml: There is no such file in .*Check the name"):
        read_project(tmp_path / "missing.toml")


def test_file_named_without_its_ending(tmp_path):
    (tmp_path / "tunic.toml").write_text(SQUARE, encoding="utf-8")
    with pytest.raises(BadInput, match=r"Did you mean tunic\.toml\?"):
        read_project(tmp_path / "tunic")


def test_an_alternative_is_not_blamed_while_the_unit_is_unknown():
    text = SQUARE.replace('units = "cm"\n', "") + "\n[alternative.x]\ncloth.main.width = 90\n"
    (mistake,) = problems_of(text)
    assert "'units' is missing" in mistake.what


def test_a_line_that_can_be_mended_does_not_hide_what_else_is_wrong():
    text = SQUARE.replace("width = 150", "width = 150 cm\nnap = one-way").replace('"A B"', '"A Z"')
    assert [mistake.where for mistake in problems_of(text)] == [
        "jacket.toml, line 3",
        "jacket.toml, line 4",
        "jacket.toml, cloth 'main'",
        "jacket.toml, piece 'front', edge 'hem'",
    ]


def test_an_edge_may_have_the_name_of_an_entry():
    assert parse_project(SQUARE.replace("hem =", "turn =")).pieces[0].edges[0].name == "turn"


def test_folder_for_a_file(tmp_path):
    with pytest.raises(BadInput, match="This is a folder"):
        read_project(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no such pipes here")
def test_a_pipe_for_a_file_is_told_at_once(tmp_path):
    os.mkfifo(tmp_path / "jacket.toml")  # to read it would wait for ever
    with pytest.raises(BadInput, match=r"jacket\.toml: This is no file on a disk"):
        read_project(tmp_path / "jacket.toml")


def test_a_file_too_large_to_be_one(tmp_path):
    (tmp_path / "jacket.toml").write_text("# filling\n" * 200_001, encoding="utf-8")
    with pytest.raises(BadInput, match=r"2\.0 MB large, more than a project file can be \(2 MB\)"):
        read_project(tmp_path / "jacket.toml")


@pytest.mark.parametrize("name", [b"caf\xe9.toml", b"two\nlines.toml"])
def test_a_name_that_cannot_be_printed_is_told_before_anything_else(tmp_path, name):
    with pytest.raises(BadInput, match=r"cannot be printed\. Give the file another name"):
        read_project(tmp_path / os.fsdecode(name))


@pytest.mark.parametrize("length", [90, 252, 300])
def test_a_long_name_of_a_file_is_told_in_part(tmp_path, length):
    with pytest.raises(BadInput) as caught:
        read_project(tmp_path / ("x" * length))
    assert caught.value.mistakes[0].where == "x" * 79 + "…"


@pytest.mark.parametrize(
    ("was", "becomes"),
    [
        ("width = 150", "width = '{}'"),
        ("width = 150", "width = '1 {}'"),
        ("width = 150", "width = 150\n{} = 1"),
        ("width = 150", "width = 150\nnap = '{}'"),
        ("main = 1", "main = '{}'"),
        ("main = 1", "{} = 1"),
        ("'E'", "'{}'"),
        ("[cloth.lining]", "[cloth.{}]"),
        ("[cloth.lining]", "[alternative.{}]\ncloth.{}.width = 1\n[cloth.lining]"),
        ("[piece.front.edges]", "[piece.front.edges]\n{} = '{} {}'"),
        ("width = 140", "width = 140 {}"),
        ("width = 140", "width = {}"),
        ("width = 140", "width = 140\n{} {}"),
    ],
)
def test_of_what_was_written_80_characters_are_repeated_at_most(was, becomes):
    for letter in ("x", "9", "é"):
        text = SQUARE.replace(was, becomes.replace("{}", letter * 3000))
        for mistake in problems_of(text) if text != SQUARE else ():
            assert letter * 81 not in str(mistake)
