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
    project, names = read_project_with(file, [ClothChange(*change) for change in changes])
    return {version.version: version.cloths["main"] for version in project.alternatives}, names


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
        (("width", "100"), "changes nothing"),
        (("nap", "no way"), "The choices are 'either way', 'one way'"),
        (("width", "silk=90"), "There is no cloth 'silk'"),
    ],
)
def test_what_cannot_be_is_told_as_for_the_file(tote, change, told):
    with pytest.raises(BadInput, match=told):
        asked(tote, change)
