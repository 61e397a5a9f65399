"""Where one point is written wrongly, that point is named, not what it does to others."""

import copy
import tomllib

import pytest

from benchmarks.mistakes import SOUND
from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table

TUNIC = tomllib.loads(SOUND)
del TUNIC["alternative"]


def first_told(piece, point, place):
    """What is told first when that point has that place; None when nothing is wrong."""
    table = copy.deepcopy(TUNIC)
    table["piece"][piece]["points"][point] = place
    try:
        project_from_table(table, source="tunic.toml")
    except BadInput as error:
        return error.mistakes[0]
    return None


FRONT = TUNIC["piece"]["front"]["points"]


@pytest.mark.parametrize("point", [name for name, (x, y) in FRONT.items() if x != y])
def test_swapped_numbers_are_told_by_their_point(point):
    x, y = FRONT[point]
    told = first_told("front", point, [y, x])
    if told is not None:  # else the piece is sound that way too, and `check` can only show it
        assert told.where == f"tunic.toml, piece 'front', point '{point}'"
        assert told.what.startswith(f"Its two numbers seem to be the wrong way round: at ({x:g}, {y:g}) cm")


def test_swapped_numbers_at_the_side_do_not_blame_the_dart():
    told = first_told("front", "s1", [20, 27.5])
    assert told.where.endswith("point 's1'")
    assert "As it stands: dart 'bust': Its point (26.2, 41) cm lies 2.9 cm outside" in told.remedy


def test_a_forgotten_point_of_a_number():
    told = first_told("back", "b1", [4.5, 705])
    assert told.where.endswith("point 'b1'")
    assert "at (4.5, 70.5) cm nothing is wrong" in told.what
    assert "add large = true" in told.remedy  # it may be right as it is


@pytest.mark.parametrize(
    ("point", "written", "meant"),
    [
        ("E", [2.6, 46], "(26, 46)"),  # not the numbers of 'd2', the wrong way round
        ("D", [2, 68], "(20, 68)"),
        ("s1", [2.75, 20], "(27.5, 20)"),
    ],
)
def test_a_decimal_point_that_slipped_to_the_left(point, written, meant):
    """Across the piece, where it brings the points hardly farther from each other."""
    told = first_told("front", point, written)
    assert told.where.endswith(f"point '{point}'")
    assert told.what.startswith("The decimal point in one of its numbers seems to be forgotten")
    assert f"at {meant} cm nothing is wrong" in told.what


def test_a_minus_sign_too_many():
    told = first_told("back", "C", [-8, 72.5])
    assert told.where.endswith("point 'C'")
    assert "minus sign" in told.what


def test_a_fault_that_no_point_explains_is_told_as_it_is():
    table = copy.deepcopy(TUNIC)
    table["piece"]["tie"]["edges"]["end"] = {"through": "A B", "allowance": 19}
    table["piece"]["back"]["notches"][0]["from_end"] = 300
    table["piece"]["front"]["points"]["pin"] = [10, 90]
    with pytest.raises(BadInput) as caught:
        project_from_table(table)
    assert not any("seem" in mistake.what for mistake in caught.value.mistakes)
    assert len(caught.value.mistakes) == 2
