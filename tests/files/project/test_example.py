import pytest

from benchmarks.graded_jacket import text
from nesting.errors import EllwandError
from nesting.files.example import example_names, example_text
from nesting.files.project.reading import parse_project


def test_every_example_that_ships_can_be_read_whole():
    for name in example_names():
        project = parse_project(example_text(name), source=f"{name}.toml")
        assert project.pieces


def test_the_example_of_six_sizes_is_what_its_script_writes():
    assert example_text("jacket-sizes") == text()


def test_unknown_example_is_told():
    with pytest.raises(EllwandError, match="There is no example 'crinoline'"):
        example_text("crinoline")
