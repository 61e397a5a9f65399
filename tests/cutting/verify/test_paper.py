"""The paper of the verifier: it takes every right cut line, and none that is wrong by more than a hair.

The right ones are `cut_shape`'s, of which it knows nothing; the wrong ones are those of a paper spoiled in
one way, judged by the paper as it was.
"""

import re
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from nesting.cutting.flat.rebuilding import cut_of
from nesting.cutting.verify.paper import ANGLE_TOLERANCE_DEG, SHAPE_TOLERANCE_MM, paper_of
from nesting.files.project.reading import project_from_table, read_project
from nesting.files.tables.overlay import overlaid
from nesting.pattern.curves import smooth
from nesting.pattern.cut_shape import FeatureKind
from nesting.pattern.outline import piece_faults
from nesting.pattern.piece import Dart, Edge, Mark, Notch, Piece
from nesting.pattern.shaping import cut_shape
from nesting.pattern.unfold import unfolded
from tests.conftest import examples

ROOT = Path(__file__).parents[3]


def sheet_on(piece, shape, *, mirrored=False, whole=False):
    return paper_of(piece, whole=whole).lies(cut_of(shape), mirrored=mirrored)


def is_right(piece, shape):
    return sheet_on(piece, shape) is not None


def right_as_made(piece):
    """Whether what is made of a piece is taken; of one on the fold also opened out, and both turned."""
    half = cut_shape(piece)
    turn, over = np.array([[0.6, -0.8], [0.8, 0.6]]), np.diag([1.0, -1.0])
    for whole, shape in ((False, half), (True, half if piece.on_fold is None else unfolded(half))):
        paper = paper_of(piece, whole=whole)
        moved = shape.transformed(turn, np.array([300.0, -20.0]))
        flipped = moved.transformed(over, np.zeros(2))
        as_made, turned, mirrored = (
            paper.lies(cut_of(one), mirrored=hand)
            for one, hand in ((shape, False), (moved, False), (flipped, True))
        )
        if as_made is None or turned is None or mirrored is None:
            return False
        angles = [sheet.turned_deg(paper.top_deg) for sheet in (as_made, turned, mirrored)]
        off = np.subtract(angles, np.degrees([0.0, np.arctan2(0.8, 0.6), -np.arctan2(0.8, 0.6)]))
        if np.abs((off + 180) % 360 - 180).max() > ANGLE_TOLERANCE_DEG:
            return False
    return True


# Right ones.


@st.composite
def papers(draw):
    """Straight and curved edges, sharp and inner corners, unequal allowances, folds, notches at any place."""
    count = draw(st.integers(3, 9))
    angles = sorted(draw(st.lists(st.integers(0, 359), min_size=count, max_size=count, unique=True)))
    away = draw(st.lists(st.integers(30, 300), min_size=count, max_size=count))
    corners = np.column_stack([np.cos(np.radians(angles)), np.sin(np.radians(angles))])
    corners = corners * np.array(away)[:, None]
    on_fold = draw(st.booleans())
    if on_fold:
        along = corners[1] - corners[0]
        c, s = along / np.hypot(*along)
        corners = (corners - corners[0]) @ np.array([[c, -s], [s, c]])
        corners[:2, 1] = 0.0
    edges = []
    for k, (p, q) in enumerate(zip(corners, np.roll(corners, -1, axis=0), strict=True)):
        bend = 0.0 if on_fold and k == 0 else draw(st.sampled_from([0.0, 0.0, 0.1, -0.1, 0.35, -0.35]))
        middle = (p + q) / 2 + bend * np.array([p[1] - q[1], q[0] - p[0]])
        line = smooth(np.array([p, middle, q])) if bend else np.array([p, q])
        edges.append(Edge(f"edge {k}", line, draw(st.sampled_from([0.0, 6.0, 10.0, 10.0, 15.0, 40.0]))))
    notches = []
    for k in range(draw(st.integers(0, 3))):
        edge = edges[draw(st.integers(1, count - 1))]
        station = draw(st.sampled_from([0.0, 1.0]) | st.floats(0.0, 1.0))
        at = shapely.LineString(edge.vertices).interpolate(station, normalized=True)
        notches.append(Notch(f"notch {k}", edge.name, (at.x, at.y)))
    grain = draw(st.sampled_from([0.0, 180.0, 0.4, 179.7]) if on_fold else st.floats(-180, 180))
    if draw(st.booleans()):
        edges = [replace(edge, vertices=edge.vertices[::-1].copy()) for edge in reversed(edges)]
    piece = Piece(
        "piece", tuple(edges), grain, {}, on_fold="edge 0" if on_fold else None, notches=tuple(notches)
    )
    assume(not piece_faults(piece))
    return piece


@examples(40)
@given(papers())
def test_no_right_cut_line_is_refused(piece):
    assert right_as_made(piece)


def all_pieces(project):
    """Of the project, its sizes and its alternatives."""
    every = [project, *project.alternatives, *project.sizes]
    return {id(piece): piece for one in every for piece in one.pieces}.values()


FILES = [
    path
    for path in sorted(ROOT.rglob("*.toml"))
    if "faults" not in path.parts
    and path.stem != "mistakes"
    and "[piece." in path.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_piece_in_a_file_is_right_in_every_size(path):
    pieces = all_pieces(read_project(path))
    assert len(pieces) > 2
    for piece in pieces:
        assert right_as_made(piece), f"{piece.name} in size '{piece.size}'"


def test_every_piece_of_the_documents_is_right():
    text = (ROOT / "docs" / "project-file.md").read_text(encoding="utf-8")
    whole, *parts = re.findall(r"^```toml\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    for part in ("", *parts):
        project = project_from_table(overlaid(tomllib.loads(whole), tomllib.loads(part)))
        assert all(right_as_made(piece) for piece in all_pieces(project)), part


def test_pieces_as_a_wardrobe_room_drafts_them_are_right(bodice, collar):
    assert right_as_made(bodice)
    assert right_as_made(collar)


# Wrong ones.


def straight(corners, allowances_mm):
    """Edges from corner to corner: edge 0, edge 1, ..."""
    ends = [*corners[1:], corners[0]]
    return tuple(
        Edge(f"edge {k}", np.array([p, q]), allowance)
        for k, (p, q, allowance) in enumerate(zip(corners, ends, allowances_mm, strict=True))
    )


def smoothed(*points):
    return smooth(np.array(points, dtype=float))


@pytest.fixture
def bodice():
    """Half a back on the fold: hem 40, neck 6, side 15, the rest 10 mm; with notches, a dart, two marks."""
    edges = (
        Edge("centre back", np.array([(0.0, 0.0), (0.0, 565.0)]), 15.0),
        Edge("neck", smoothed((0, 565), (45, 569), (82, 584)), 6.0),
        Edge("shoulder", np.array([(82.0, 584.0), (205.0, 546.0)]), 10.0),
        Edge("armhole", smoothed((205, 546), (186, 480), (189, 420), (215, 376), (245, 362)), 10.0),
        Edge("side", smoothed((245, 362), (228, 180), (248, -4)), 15.0),
        Edge("hem", smoothed((248, -4), (120, -1), (0, 0)), 40.0),
    )
    return Piece(
        "back",
        edges,
        90.0,
        {},
        on_fold="centre back",
        notches=(Notch("sleeve", "armhole", (189.0, 420.0)), Notch("centre", "neck", (0.0, 565.0))),
        darts=(Dart("waist", ((90.0, 180.0), (100.0, 330.0), (110.0, 180.0))),),
        marks=(Mark("yoke", ((10.0, 450.0), (180.0, 450.0))),),
        matching=(Mark("waist at the side", ((228.0, 180.0),)),),
    )


@pytest.fixture
def collar():
    """No mirror image of itself: 40 by 12 cm, one end slanted; allowances 10, 20, 10 and none."""
    corners = [(0.0, 0.0), (400.0, 0.0), (430.0, 120.0), (0.0, 120.0)]
    notches = (Notch("middle", "edge 0", (200.0, 0.0)),)
    marks = (Mark("roll", ((20.0, 60.0), (380.0, 60.0))),)
    return Piece("collar", straight(corners, (10.0, 20.0, 10.0, 0.0)), 90.0, {}, notches=notches, marks=marks)


def with_allowances(piece, **allowances_mm):
    """The piece with some allowances changed, told by the words of their edges' names."""
    named = {name.replace("_", " "): value for name, value in allowances_mm.items()}
    edges = tuple(replace(e, allowance_mm=named.get(e.name, e.allowance_mm)) for e in piece.edges)
    return replace(piece, edges=edges)


@pytest.mark.parametrize("edge", ["neck", "shoulder", "armhole", "side", "hem"])
@pytest.mark.parametrize("off_mm", [-1.0, 1.0])
def test_an_allowance_a_millimetre_off_is_found(bodice, edge, off_mm):
    wrong = with_allowances(bodice, **{edge: bodice.edge(edge).allowance_mm + off_mm})
    assert not is_right(bodice, cut_shape(wrong))


@pytest.mark.parametrize(("off_mm", "right"), [(0.04, True), (-0.04, True), (0.07, False), (-0.07, False)])
@pytest.mark.parametrize("edge", ["edge 0", "edge 1", "edge 2"])
def test_an_allowance_is_held_from_both_sides(collar, edge, off_mm, right):
    wrong = with_allowances(collar, **{edge: collar.edge(edge).allowance_mm + off_mm})
    assert is_right(collar, cut_shape(wrong)) is right


def test_an_allowance_on_the_wrong_edge_is_found(bodice):
    assert not is_right(bodice, cut_shape(with_allowances(bodice, hem=15.0, side=40.0)))


@pytest.mark.parametrize("edge", ["neck", "shoulder", "armhole", "side", "hem"])
def test_a_missing_allowance_is_found(bodice, edge):
    assert not is_right(bodice, cut_shape(with_allowances(bodice, **{edge: 0.0})))


def test_an_allowance_beside_an_edge_that_is_cut_as_drawn_is_found(collar):
    assert not is_right(collar, cut_shape(with_allowances(collar, edge_3=1.0)))


def test_a_fold_edge_given_an_allowance_is_found(bodice):
    """As if the fold were a seam; the shape tells of a fold all the same."""
    seam = cut_shape(replace(bodice, on_fold=None))
    fold = next(one for one in cut_shape(bodice).features if one.kind is FeatureKind.FOLD)
    assert not is_right(bodice, replace(seam, features=(*seam.features, fold)))


@pytest.mark.parametrize(("by_mm", "right"), [(0.04, True), (0.07, False), (1.0, False)])
@pytest.mark.parametrize(
    "kind", [FeatureKind.NOTCH, FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH, FeatureKind.GRAIN]
)
def test_what_is_marked_lies_where_the_paper_has_it(bodice, kind, by_mm, right):
    shape = cut_shape(bodice)
    number = next(k for k, one in enumerate(shape.features) if one.kind is kind)
    one = shape.features[number]
    moved = replace(one, vertices=one.vertices + np.array([by_mm, 0.0]))
    features = (*shape.features[:number], moved, *shape.features[number + 1 :])
    if kind is FeatureKind.GRAIN:  # then all else is off
        shape = replace(shape, features=features)
        assert is_right(bodice, shape) is right
    else:
        assert is_right(bodice, replace(shape, features=features)) is right
        without = (*shape.features[:number], *shape.features[number + 1 :])
        assert not is_right(bodice, replace(shape, features=without)), "one left out"
        renamed = replace(one, name="another")
        wrong = (*shape.features[:number], renamed, *shape.features[number + 1 :])
        assert not is_right(bodice, replace(shape, features=wrong)), "under another name"


@pytest.mark.parametrize("kind", [FeatureKind.STITCHING, FeatureKind.FOLD])
@pytest.mark.parametrize(("by_mm", "right"), [(0.04, True), (0.07, False), (1.0, False)])
def test_what_is_drawn_lies_where_the_paper_has_it(bodice, kind, by_mm, right):
    shape = cut_shape(bodice)
    features = tuple(
        replace(one, vertices=one.vertices + np.array([0.0, by_mm])) if one.kind is kind else one
        for one in shape.features
    )
    assert is_right(bodice, replace(shape, features=features)) is right
    without = tuple(one for one in shape.features if one.kind is not kind)
    assert not is_right(bodice, replace(shape, features=without))


@pytest.mark.parametrize(("factor", "right"), [(1.008, True), (1.02, False), (-1.0, False)])
def test_a_slit_goes_inward_by_its_depth(bodice, factor, right):
    def slit(one):
        start, end = one.vertices
        return replace(one, vertices=np.array([start, start + factor * (end - start)]))

    shape = cut_shape(bodice)
    features = tuple(slit(one) if one.kind is FeatureKind.NOTCH else one for one in shape.features)
    assert is_right(bodice, replace(shape, features=features)) is right


@pytest.mark.parametrize(("by_deg", "right"), [(0.5e-4, True), (2e-4, False), (1.0, False)])
def test_a_grain_line_drawn_off_the_grain_is_found(collar, by_deg, right):
    """Another direction on the paper, the same outline: the arrow that is printed would be wrong."""
    turned = replace(collar, grain_deg=collar.grain_deg + by_deg)
    shape = cut_shape(turned)
    assert is_right(collar, shape) is right


def test_a_grain_line_told_elsewhere_on_the_paper_is_found(collar):
    shape = cut_shape(collar)
    assert not is_right(collar, replace(shape, grain_on_paper=shape.grain_on_paper + np.array([0.0, 1.0])))
    assert not is_right(collar, replace(shape, grain_on_paper=shape.grain_on_paper[::-1]))
    assert not is_right(collar, replace(shape, grain_on_paper=None))
    longer = shape.grain_on_paper * [[1.0, 0.9], [1.0, 1.1]]
    assert not is_right(collar, replace(shape, grain_on_paper=longer))


def test_how_far_a_piece_is_turned_is_read_off_its_grain(collar):
    shape = cut_shape(collar)
    for angle in (0.0, 90.0, 180.0, 37.5):
        c, s = np.cos(np.radians(angle)), np.sin(np.radians(angle))
        sheet = sheet_on(collar, shape.transformed(np.array([[c, -s], [s, c]]), np.array([7.0, 9.0])))
        assert sheet is not None
        assert sheet.turned_deg(90.0) == pytest.approx(angle)


def test_a_mirrored_piece_is_one_of_the_other_hand(collar):
    mirrored = cut_shape(collar).transformed(np.diag([1.0, -1.0]), np.zeros(2))
    assert sheet_on(collar, mirrored) is None
    assert sheet_on(collar, mirrored, mirrored=True) is not None


def test_a_half_is_not_the_whole(bodice):
    half = cut_shape(bodice)
    assert sheet_on(bodice, half, whole=True) is None
    assert sheet_on(bodice, unfolded(half)) is None
    assert sheet_on(bodice, unfolded(half), whole=True) is not None


# Corners.


def corner_shape(shape, at, to):
    """The shape with the corner of its cut line that is nearest to one place at another."""
    line = shape.cut_line.copy()
    line[np.argmin(np.linalg.norm(line - at, axis=1))] = to
    return replace(shape, cut_line=line)


@pytest.mark.parametrize(("by_mm", "right"), [(0.03, True), (0.06, False), (-0.04, True), (-0.12, False)])
def test_a_mitre_is_where_two_equal_allowances_meet(by_mm, right):
    corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)]
    piece = Piece("box", straight(corners, [10.0] * 4), 0.0, {})
    shape = cut_shape(piece)
    corner = np.array([220.0, 120.0])
    assert np.abs(shape.cut_line - corner).sum(axis=1).min() < 1e-6
    spoiled = corner_shape(shape, corner, corner + by_mm)
    assert is_right(piece, spoiled) is right


def test_a_sharp_corner_goes_out_to_three_allowances_and_no_farther():
    """A dart of 11 degrees: by its mitre it would go out over ten allowances."""
    corners = [(0.0, -20.0), (200.0, 0.0), (0.0, 20.0)]
    piece = Piece("point", straight(corners, [10.0] * 3), 0.0, {})
    shape = cut_shape(piece)
    far = shape.cut_line[:, 0].max()
    assert is_right(piece, shape)
    for off, right in ((0.04, True), (-0.04, True), (0.07, False), (-0.07, False)):
        line = shape.cut_line + np.where(shape.cut_line[:, :1] > far - 1e-6, [off, 0.0], 0.0)
        assert is_right(piece, replace(shape, cut_line=line)) is right


def test_a_wide_allowance_ends_on_the_line_of_a_narrow_one_or_square():
    """A hem of 40 mm under sides that lean inward, of 10 mm; as it is made, with steps, and wrong.

    ::

         \\               /      y = 0
          \\__         __/       the step: from (200, -22.4) and (400, -22.4) straight down
             |       |
             +-------+          y = -40; as it is made the sides' lines run on down to there
    """
    corners = [(200.0, 0.0), (400.0, 0.0), (600.0, 400.0), (0.0, 400.0)]
    piece = Piece("skirt", straight(corners, (40.0, 10.0, 10.0, 10.0)), 0.0, {})
    shape = cut_shape(piece)
    foot = next(one.vertices[0] for one in shape.features if one.kind is FeatureKind.GRAIN)
    on_paper = shape.grain_on_paper[0] - foot
    made = shape.cut_line + on_paper
    end, knee = 400.0 + 5 * 5**0.5 - 20.0, -10 * 5**0.5  # of the side's line, x = 400 + 5 sqrt 5 + y / 2
    assert sorted(made[made[:, 1] < -39.9, 0]) == pytest.approx([600.0 - end, end])
    top = made[made[:, 1] > 0]

    def cut(hem):
        (left, right) = sorted(top.tolist())
        mirrored = [(600.0 - x, y) for x, y in hem]
        return replace(shape, cut_line=np.array([left, *mirrored, *hem[::-1], right]) - on_paper)

    assert is_right(piece, cut([(end, -40.0)]))
    assert is_right(piece, cut([(400.0, knee), (400.0, -40.0)])), "a step"
    assert not is_right(piece, cut([(400.0, knee), (400.0, -40.07)])), "too deep"
    assert not is_right(piece, cut([(400.0, knee), (400.0, -39.93)])), "not deep enough"
    assert not is_right(piece, cut([(400.07, knee), (400.07, -40.0)])), "past the corner"
    assert not is_right(piece, cut([(400.0, knee), (end - 0.2, -40.0)])), "less than either"


def test_the_tolerances_are_what_they_are_said_to_be():
    """Half a pencil line; and over a metre a fiftieth of a hair's breadth of 0.1 mm."""
    assert SHAPE_TOLERANCE_MM == pytest.approx(0.1 / 2)
    assert 1000 * np.radians(ANGLE_TOLERANCE_DEG) == pytest.approx(0.002, rel=0.2)
