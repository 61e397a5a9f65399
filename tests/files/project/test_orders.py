"""Orders in the project file: the pieces of all garments, told apart by size and number."""

import pytest

from nesting.errors import BadInput
from nesting.files.project.reading import parse_project
from nesting.pattern.piece import CutKind

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
points = { A = [0, 0], B = [4, 0], C = [9, 50], D = [0, 50] }
cut = { main = 4 }
edges = { low = "A B", right = "B C", top = "C D", left = "D A" }
[size."12"]
piece.cape.points = { B = [42, 0], C = [42, 60] }
[alternative."seam at centre back"]
piece.cape.on_fold = false
"""


def counts(project):
    return {
        piece.name: (
            piece.cuts["main"].kind,
            piece.cuts["main"].number,
            piece.size,
            piece.cuts["main"].garments,
        )
        for piece in project.pieces
    }


def test_every_size_brings_its_pieces_and_the_counts_multiply():
    project = parse_project(CAPE + '[order]\nsizes = { "10" = 1, "12" = 2 }\n')
    assert project.garments == ("10", "12", "12")
    assert counts(project) == {
        "cape 10": (CutKind.ON_FOLD, 1, "10", (1,)),
        "tie 10": (CutKind.PAIR, 2, "10", (1,)),
        "cape 12": (CutKind.ON_FOLD, 2, "12", (2, 3)),
        "tie 12": (CutKind.PAIR, 4, "12", (2, 3)),
    }


def test_the_copies_of_a_garment_follow_one_another():
    project = parse_project(CAPE + '[order]\nsizes = { "10" = 1, "12" = 2 }\n')
    tie = project.pieces[-1].cuts["main"]
    assert [tie.garment_of(copy) for copy in range(1, 9)] == [2, 2, 2, 2, 3, 3, 3, 3]


def test_alternatives_are_ordered_too():
    (seamed,) = parse_project(CAPE + '[order]\nsizes = { "12" = 2 }\n').alternatives
    assert counts(seamed)["cape 12"] == (CutKind.PAIR, 2, "12", (1, 2))


def test_each_size_stays_a_project_of_one_garment():
    project = parse_project(CAPE + '[order]\nsizes = { "10" = 3, "12" = 2 }\n')
    assert [counts(size)["cape"][1:] for size in project.sizes] == [(1, "", ()), (1, "", ())]


def test_a_file_of_one_size_orders_by_number():
    plain = CAPE.replace('base_size = "10"', "").replace('[size."12"]', "[size.x]")
    plain = plain.split("[size.x]")[0]
    project = parse_project(plain + "[order]\ngarments = 3\n")
    assert project.garments == ("", "", "")
    assert counts(project)["cape"] == (CutKind.ON_FOLD, 3, "", (1, 2, 3))


@pytest.mark.parametrize("order", ['sizes = { "10" = 0, "12" = 1 }', 'sizes = { "12" = 1 }'])
def test_an_order_of_one_garment_is_that_garment(order):
    project = parse_project(CAPE + f"[order]\n{order}\n")
    assert (project.size, project.garments) == ("12", ())
    assert counts(project)["tie 12"] == (CutKind.PAIR, 2, "12", ())


def test_a_size_with_a_fault_is_not_called_unknown_in_the_order():
    text = CAPE.replace("B = [42, 0]", "Q = [42, 0]") + '[order]\nsizes = { "12" = 1 }\n'
    with pytest.raises(BadInput) as caught:
        parse_project(text)
    assert len(caught.value.mistakes) == 1


def test_what_meets_on_a_stripe_meets_in_every_size():
    text = CAPE.replace("width = 150", "width = 150\nrepeat = { along = 10 }")
    text += '[[match]]\nname = "hems"\npoints = { cape = "A", tie = "A" }\n'
    project = parse_project(text + '[order]\nsizes = { "10" = 1, "12" = 2 }\n')
    assert [match.points for match in project.matches] == [
        (("cape 10", "A"), ("tie 10", "A")),
        (("cape 12", "A"), ("tie 12", "A")),
    ]
