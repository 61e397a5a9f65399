"""Sizes in the project file: only what moves is written, and all else is the size drawn."""

import numpy as np
import pytest

from nesting.errors import BadInput
from nesting.files.project.reading import parse_project
from nesting.geometry import signed_area
from nesting.pattern.edges import outline_ring
from nesting.project import PLAIN

CAPE = """
units = "cm"
base_size = "10"
[cloth.main]
width = 150
[piece.cape]
points = { A = [0, 0], B = [40, 0], C = [40, 60], D = [0, 60] }
cut = { main = 1 }
on_fold = "centre back"
edges = { hem = "A B", front = "B C", neck = "C D", "centre back" = "D A" }
[piece.tie]
points = { A = [0, 0], B = [4, 0], C = [4, 50], D = [0, 50] }
cut = { main = 2 }
edges = { low = "A B", right = "B C", top = "C D", left = "D A" }
[size."12"]
piece.cape.points = { B = [42, 0], C = [42, 60] }
[size."14"]
piece.cape.points = { B = [44, 0], C = [44, 60] }
piece.tie.cut.main = 3
[alternative."seam at centre back"]
piece.cape.on_fold = false
[alternative."narrow"]
cloth.main.width = 90
"""


def piece(project, name):
    return next(piece for piece in project.pieces if piece.name == name)


def area_cm2(project):
    return abs(signed_area(outline_ring(piece(project, "cape").edges))) / 100


def test_each_size_is_a_project_of_its_own_the_drawn_one_first():
    project = parse_project(CAPE)
    assert project.size == "10"
    assert [size.size for size in project.sizes] == ["10", "12", "14"]
    assert [area_cm2(size) for size in project.sizes] == pytest.approx([2400, 2520, 2640])
    assert all(size.version == PLAIN and not size.sizes for size in project.sizes)
    assert area_cm2(project) == pytest.approx(2400)


def test_what_a_size_does_not_name_is_as_drawn():
    small, medium, large = parse_project(CAPE).sizes
    assert piece(medium, "tie").cuts == piece(small, "tie").cuts
    assert piece(large, "tie").cuts["main"].number == 3
    assert medium.cloths == small.cloths


def test_every_size_has_every_alternative():
    for size in parse_project(CAPE).sizes:
        seamed, narrow = size.alternatives
        assert (seamed.version, seamed.size) == ("seam at centre back", size.size)
        assert piece(seamed, "cape").on_fold is None
        assert area_cm2(seamed) == area_cm2(size)
        assert narrow.cloths["main"].width_mm == 900


def test_a_drawn_size_without_a_name_is_not_among_the_sizes():
    project = parse_project(CAPE.replace('base_size = "10"', ""))
    assert project.size == ""
    assert [size.size for size in project.sizes] == ["12", "14"]


def test_a_file_of_one_size_has_none():
    project = parse_project(CAPE.split('[size."12"]')[0])
    assert (project.size, project.sizes) == ("10", ())


def test_a_size_may_bring_a_point_that_its_own_edges_go_through():
    text = CAPE + '[size."16"]\npiece.tie.points.P = [2, 52]\npiece.tie.edges.top = "C P D"\n'
    tie = piece(parse_project(text).sizes[-1], "tie")
    assert [20, 520] in np.round(outline_ring(tie.edges)).tolist()


def test_faults_of_all_sizes_are_told_at_once_and_the_plain_ones_once():
    text = CAPE.replace("B = [42, 0]", "Q = [42, 0]").replace(
        "piece.tie.cut.main = 3", "piece.bow.cut.main = 3"
    )
    text = text.replace('low = "A B"', 'low = "A Z"')
    with pytest.raises(BadInput) as caught:
        parse_project(text, source="cape.toml")
    assert [mistake.where for mistake in caught.value.mistakes] == [
        "cape.toml, piece 'tie', edge 'low'",
        "cape.toml, size '12', piece 'cape'",
        "cape.toml, size '14'",
    ]


def test_a_fault_that_only_an_alternative_of_a_size_has_is_told():
    text = CAPE.replace("D = [0, 60] }\ncut", "D = [0, 60], E = [3, 0] }\ncut")
    text += "[alternative.x]\npiece.cape.points.D = [0, 61]\n"
    text += '[size."16"]\npiece.cape.points = { A = [1, 0], D = [1, 60] }\n'
    with pytest.raises(BadInput) as caught:
        parse_project(text, source="cape.toml")
    (mistake,) = caught.value.mistakes
    assert mistake.where.startswith("cape.toml, size '16', alternative 'x', piece 'cape'")
