"""No two sheets of a set have one name, whatever the cloths are called."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nesting.cloth.cloth import Cloth
from nesting.cloth.remnant import Remnant
from nesting.files.results.naming import sheet_names
from tests.conftest import make_project

FOLDER = Path("tote-lay")
KEYS = ["main", "Main", "main-full-size", "main-left", "main-2", "main-full-size-2", "cut-list", "lay"]
KEYS += ["\u00e9toile", "e\u0301toile"]  # one name, written in two ways


def named(*keys, remnants=()):
    cloths = {
        key: Cloth(key=key, name=key, width_mm=1000.0, remnants=remnants if key == "main" else ())
        for key in keys
    }
    project = replace(make_project(), cloths=cloths)
    return sheet_names(FOLDER, "tote", project)


def test_they_are_called_after_the_file_and_the_cloth():
    names = named("main", "lining")
    assert (names.book, names.data) == (FOLDER / "tote.pdf", FOLDER / "tote-lay.json")
    assert names.of_cloth("lining", ".png") == FOLDER / "tote-lining.png"
    assert names.of_cloth("main", "-full-size.pdf") == FOLDER / "tote-main-full-size.pdf"
    with pytest.raises(ValueError, match="no sheet of a cloth"):
        names.of_cloth("main", ".jpg")


@pytest.mark.parametrize(
    ("later", "called"),
    [
        ("main-full-size", "tote-main-full-size-2.png"),
        ("main-left", "tote-main-left-2.png"),
        ("Main", "tote-Main-2.png"),  # one name on many disks
        ("lining", "tote-lining.png"),
    ],
)
def test_a_cloth_that_is_called_like_a_sheet_of_another_is_numbered(later, called):
    names = named("main", later)
    assert names.of_cloth(later, ".png").name == called
    assert names.of_cloth("main", ".png").name == "tote-main.png"


def test_every_piece_in_hand_has_a_name_before_it_is_known_which_are_used():
    remnants = (Remnant("end", 500.0), Remnant("left", 700.0))
    names = named("main", "main left", remnants=remnants)
    assert names.of_cloth("main end", "-left.png").name == "tote-main end-left.png"


@given(st.lists(st.sampled_from(KEYS), unique=True))
def test_no_two_are_the_same(keys):
    paths = [str(path).casefold() for path in named(*keys).all()]
    assert len(set(paths)) == len(paths) == 4 + 5 * len(keys)
