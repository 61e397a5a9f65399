"""Alternatives asked for beside those in the file are read, checked and told off like those."""

import pytest

from nesting.errors import BadInput
from nesting.files.project.asked import ClothChange, read_project_with
from tests.cli.running import SMALL


@pytest.fixture
def tote(tmp_path):
    file = tmp_path / "tote.toml"
    file.write_text(SMALL, encoding="utf-8")
    return file


def asked(file, *changes):
    project, asked = read_project_with(file, [ClothChange(*change) for change in changes])
    return {version.version: version.cloths["main"] for version in project.alternatives}, asked.names


def test_the_first_cloth_is_meant_unless_another_is_named(tote):
    cloths, names = asked(tote, ("width", "45 in"), ("nap", "main=one way"), ("spread", " main = open "))
    assert names == ("main 114.3 cm wide", "main one way", "main open")
    assert cloths["main 114.3 cm wide"].width_mm == 1143.0
    assert cloths["main one way"].nap == "one way"
    assert cloths["main open"].spread == "open"
    assert "seam in the base" in cloths


def test_the_same_twice_is_one(tote):
    assert asked(tote, ("width", "90"), ("width", "90 cm"))[1] == ("main 90 cm wide",)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("width", "wide"), "wide"),
        (("nap", "no way"), "The choices are 'either way', 'one way'"),
        (("width", "silk=90"), "There is no cloth 'silk'"),
    ],
)
def test_what_cannot_be_is_told_as_for_the_file(tote, change, told):
    with pytest.raises(BadInput, match=told):
        asked(tote, change)


@pytest.mark.parametrize(
    "change", [("width", "100"), ("width", "main = 1 m"), ("nap", "either way"), ("spread", "main=best")]
)
def test_what_changes_nothing_is_left_out_and_told(tote, change):
    _, asked = read_project_with(tote, [ClothChange("width", "90"), ClothChange(*change)])
    assert asked.names == ("main 90 cm wide",)
    assert asked.the_same == (("main", ClothChange(*change)),)


def test_it_is_told_for_which_cloth_an_unnamed_change_is_taken(tote):
    named, bare = ClothChange("width", "main=90"), ClothChange("nap", "one way")
    assert read_project_with(tote, [named])[1].taken_for is None
    _, asked = read_project_with(tote, [named, bare])
    assert (asked.taken_for, asked.unnamed) == ("main", (bare,))
