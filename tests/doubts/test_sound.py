"""Nothing is remarked on in a pattern without a slip: none of the examples, none of the sound pieces."""

import re

import numpy as np
import pytest

from benchmarks.garments import MAKERS
from nesting.doubts.looking import piece_doubts, project_doubts
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project, project_from_table, read_project
from nesting.pattern.draft import Curve, Draft, Walk
from nesting.pattern.piece import Edge, Piece
from tests.documents.pages import ROOT, page
from tests.doubts.ruins import SOUND, alone

FILES = [
    "tests/data/sound_pieces.toml",
    "tests/data/waistcoat.toml",
    "tests/outside/wrapped_bodice.toml",
    "benchmarks/curtain.toml",
    "benchmarks/tunic.toml",
]
READ = read_project(ROOT / "tests" / "data" / "sound_pieces.toml")


def test_there_are_sound_pieces_of_many_kinds():
    assert len(READ.pieces) >= 30


@pytest.mark.parametrize("file", FILES)
def test_a_sound_file(file):
    assert project_doubts(read_project(ROOT / file)) == ()


@pytest.mark.parametrize("name", ["jacket", "jacket-sizes"])
def test_an_example_in_every_size_and_alternative(name):
    assert project_doubts(parse_project(example_text(name))) == ()


def test_the_lesson_of_the_readme():
    parts = re.findall(r"```toml\n(.*?)```", page("README.md"), re.DOTALL)
    assert project_doubts(parse_project("\n".join(parts))) == ()


@pytest.mark.parametrize("piece", READ.pieces, ids=lambda piece: piece.name)
@pytest.mark.parametrize("turned", [False, True], ids=["mirrored", "on its side, in inches"])
def test_a_sound_piece_however_it_lies(piece, turned):
    """Measured from another corner of the paper, the other way round, in other units, it is as sound."""
    table, one = alone(SOUND, piece.name)
    for point, (x, y) in one["points"].items():
        one["points"][point] = [f"{y / 2.54:.3f} in", f"{-x / 2.54:.3f} in"] if turned else [55 - x, y + 5]
    if turned:
        one["grain"] = 90 + one.get("grain", 0)
    (turned_piece,) = project_from_table(table).pieces
    assert piece_doubts(turned_piece) == ()


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("make", dict.fromkeys(MAKERS), ids=lambda make: make.__name__)
def test_the_made_up_pieces_of_the_benchmarks(make, seed):
    ring = make(np.random.default_rng(seed))
    points = {f"P{k}": (float(x), float(y)) for k, (x, y) in enumerate(ring)}
    names = (*points, "P0")
    edges = (Edge("all round", np.vstack([ring, ring[:1]]), 10.0),)
    draft = Draft(points, (Walk("all round", names, Curve.STRAIGHT),))
    assert piece_doubts(Piece("made up", edges, 0.0, {}, draft=draft)) == ()
