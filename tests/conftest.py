"""Small patterns that read as drawings; each fixture says what is special in it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import settings

from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.findings import CannotBeLaid
from nesting.cutting.fit.fitting import fit_findings
from nesting.pattern.piece import CutCount, CutKind, Edge, Piece
from nesting.project import Project
from nesting.units import Unit
from nesting.words.mistakes import mistake_of, told

# No test depends on how fast a machine is, and none on CI on luck: there the examples are the same each time.
settings.register_profile("daily", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.register_profile("long", deadline=None, max_examples=400)
settings.load_profile("daily")


PREPARE = """
from nesting import Effort, example_text, lay_project
from nesting.files.project.reading import parse_project
from nesting.packing.jit import is_kept
from nesting.packing.walks.separate import passes

if not is_kept(passes):
    jacket = parse_project(example_text(), source="jacket.toml")
    lay_project(jacket, effort=Effort(evaluations_per_placement=100))
"""


def pytest_sessionstart(session):
    """Before several workers start, have the engine compiled and kept: else each of them would do it."""
    is_worker = hasattr(session.config, "workerinput")
    if session.config.getoption("numprocesses", None) and not is_worker:
        subprocess.run([sys.executable, "-c", PREPARE], cwd=Path(__file__).parents[1], check=True)


def examples(number):
    """Settings of a property test whose cases take long: so many every day, in a long run four times."""
    return settings(max_examples=number * settings.default.max_examples // 100, deadline=None)


def make_piece(name, corners, cuts, *, allowance_mm=0.0, **changes):
    """A piece with straight edges named after their first corner: edge 0, edge 1, ..."""
    corners = [np.array(corner, dtype=float) for corner in corners]
    edges = tuple(
        Edge(f"edge {k}", np.array([a, b]), allowance_mm)
        for k, (a, b) in enumerate(zip(corners, [*corners[1:], corners[0]], strict=True))
    )
    return Piece(name=name, edges=edges, grain_deg=90.0, cuts=cuts, **changes)


def box(width, height):
    return [(0, 0), (width, 0), (width, height), (0, height)]


def hook(width, height):
    """No mirror image of itself, and no half turn of itself.

    ::

        +--+
        |  |
        |  +---+
        |      |
        +------+
    """
    return [
        (0, 0),
        (width, 0),
        (width, height / 2),
        (width / 3, height / 2),
        (width / 3, height),
        (0, height),
    ]


def make_project(*pieces, cloth=None, **changes):
    cloth = cloth or Cloth(key="main", name="calico", width_mm=1020, selvedge_mm=10, spread=Spread.OPEN)
    return Project(
        title="test", unit=Unit.CM, currency="", cloths={cloth.key: cloth}, pieces=tuple(pieces), **changes
    )


def pairs(number=1):
    return {"main": CutCount(CutKind.PAIR, number)}


def singles(number=1):
    return {"main": CutCount(CutKind.SINGLE, number)}


def on_fold(number=1):
    return {"main": CutCount(CutKind.ON_FOLD, number)}


@pytest.fixture
def jacket_like():
    """A pair of hooks, a box on the fold by its left edge, one odd single: every kind of count."""
    return make_project(
        make_piece("front", hook(300, 500), pairs()),
        make_piece("back", box(250, 500), on_fold(), on_fold="edge 3"),
        make_piece("welt", hook(60, 150), singles()),
    )


def fit_mistakes(project):
    """What is wrong with a project before any search, as the person is told it."""
    return tuple(map(mistake_of, fit_findings(project)))


def refusal(lay, *asked, **options):
    """The mistakes that a call tells of which finds that something cannot be laid."""
    with pytest.raises(CannotBeLaid) as caught:
        lay(*asked, **options)
    return told(caught.value).mistakes
