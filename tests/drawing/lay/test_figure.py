"""The lay drawing, by its artists: nothing here looks at pixels."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from io import BytesIO
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
from matplotlib.artist import Artist
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.figure import Figure
from matplotlib.image import imread
from matplotlib.patches import FancyArrowPatch, FancyBboxPatch, PathPatch, Polygon
from matplotlib.text import Text

from nesting.cutting.flat.placing import numbered
from nesting.cutting.lay import Face, Yield
from nesting.drawing.ink.text import SMALLEST_PT
from nesting.drawing.lay.figure import draw_lay, png_bytes
from nesting.drawing.lay.legend import legend_entries
from nesting.drawing.true_size.full_size import lay_full_size
from nesting.drawing.true_size.svg import full_size_svg
from nesting.estimate.estimate import Estimate
from nesting.pattern.cut_shape import Feature, FeatureKind
from nesting.units import Unit


def by_gid(artists: list[Artist]) -> dict[str, Artist]:
    return {str(artist.get_gid()): artist for artist in artists}


@cache
def renderer_of(figure: Figure) -> RendererAgg:
    return FigureCanvasAgg(figure).get_renderer()


def extent(text: Text) -> shapely.Polygon:
    """Where the words really are, lay mm, as the renderer measures them."""
    figure = text.get_figure(root=True)
    assert isinstance(figure, Figure)
    box = text.get_window_extent(renderer_of(figure)).transformed(text.axes.transData.inverted())
    return shapely.box(box.x0, box.y0, box.x1, box.y1)


@cache
def drawn(estimate: Estimate, size_in: tuple[float, float] = (10.0, 6.5)) -> list[Artist]:
    """The lay on a page of that size; drawn once for all who only look."""
    axes = Figure(figsize=size_in).add_axes((0, 0, 1, 1))
    return draw_lay(estimate, Unit.CM, ax=axes)


def test_a_half_paper_laid_whole_shows_the_line_to_turn_it_over_on(three_pieces: Estimate):
    (section,) = three_pieces.lay.sections
    first = numbered(three_pieces.lay)[0].placed
    fold = Feature(FeatureKind.FOLD, "centre back", np.array([(10.0, 20.0), (60.0, 20.0)]))
    half = replace(first, shape=replace(first.shape, features=(*first.shape.features, fold)))
    placed = tuple(half if one is first else one for one in section.placed)
    lay = replace(three_pieces.lay, sections=(replace(section, placed=placed),))
    words = "the paper is half: turn it over along this line"
    for estimate, shown in ((replace(three_pieces, lay=lay), True), (three_pieces, False)):
        axes = Figure(figsize=(10.0, 6.5)).add_axes((0, 0, 1, 1))
        assert ("piece-1-fold-line" in by_gid(draw_lay(estimate, Unit.CM, ax=axes))) is shown
        entries = legend_entries(estimate.lay, numbered(estimate.lay))
        assert (words in [entry.words for entry in entries]) is shown


def test_every_piece_is_there_with_its_cut_line_at_its_place(any_estimate: Estimate):
    artists = by_gid(drawn(any_estimate))
    for item in numbered(any_estimate.lay):
        line = artists[f"piece-{item.number}-cut-line"]
        assert isinstance(line, PathPatch)
        corners = {tuple(vertex) for vertex in line.get_path().vertices.round(6)}
        assert corners == {tuple(vertex) for vertex in item.shape.cut_line.round(6)}


@pytest.mark.parametrize("size_in", [(7.0, 5.0), (10.0, 6.5)])
def test_words_are_inside_their_piece_and_numbers_in_or_beside_it(
    any_estimate: Estimate, size_in: tuple[float, float]
):
    artists = by_gid(drawn(any_estimate, size_in))
    items = numbered(any_estimate.lay)
    pieces = {item.number: shapely.Polygon(item.shape.cut_line) for item in items}
    for item in items:
        number = artists[f"piece-{item.number}-number"]
        assert isinstance(number, Text)
        assert number.get_text() == str(item.number)
        if f"piece-{item.number}-leader" in artists:
            touched = [n for n, piece in pieces.items() if piece.intersects(extent(number))]
            assert touched == []
            (_, end) = artists[f"piece-{item.number}-leader"].get_xydata()
            assert pieces[item.number].contains(shapely.Point(end))
        else:
            assert pieces[item.number].covers(extent(number))
        words = artists.get(f"piece-{item.number}-words")
        if words is not None:
            assert isinstance(words, Text)
            assert pieces[item.number].covers(extent(words))
            assert words.get_text().replace("\n", " ").startswith(item.placed.piece)


@pytest.mark.parametrize("size_in", [(7.0, 5.0), (10.0, 6.5)])
def test_no_words_lie_over_other_words(any_estimate: Estimate, size_in: tuple[float, float]):
    texts = [artist for artist in drawn(any_estimate, size_in) if isinstance(artist, Text)]
    boxes = [extent(text) for text in texts]
    collisions = [
        (str(texts[i].get_gid()), str(texts[j].get_gid()))
        for i, j in shapely.STRtree(boxes).query(boxes, predicate="intersects").T
        if i < j and boxes[i].intersection(boxes[j]).area > 0
    ]
    assert collisions == []


@pytest.mark.parametrize("size_in", [(7.0, 5.0), (10.0, 6.5)])
@pytest.mark.parametrize("name", ["folded", "short_stretches"])
def test_no_words_cross_the_line_where_the_spread_changes(
    name: str, size_in: tuple[float, float], request: pytest.FixtureRequest
):
    artists = drawn(request.getfixturevalue(name), size_in)
    line = shapely.LineString(by_gid(artists)["stretch-2-change-of-spread"].get_xydata())
    texts = [artist for artist in artists if isinstance(artist, Text)]
    crossed = [text.get_text() for text in texts if extent(text).intersects(line)]
    assert crossed == []


def test_rings_hold_their_number_and_keep_inside_the_piece(any_estimate: Estimate):
    artists = by_gid(drawn(any_estimate))
    for item in numbered(any_estimate.lay):
        ring = artists[f"piece-{item.number}-ring"]
        number = artists[f"piece-{item.number}-number"]
        assert isinstance(ring, FancyBboxPatch)
        assert isinstance(number, Text)
        outline = shapely.Polygon(ring.get_path().to_polygons()[0]).buffer(1e-6)
        x0, y0, x1, y1 = extent(number).bounds
        assert outline.contains(shapely.LineString([(x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2)]))
        assert abs((y0 + y1) / 2 - outline.centroid.y) < 0.15 * (y1 - y0)
        if f"piece-{item.number}-leader" not in artists:
            assert shapely.Polygon(item.shape.cut_line).covers(outline)


def test_words_keep_off_their_grain_line(folded: Estimate, opened: Estimate):
    for estimate in (folded, opened):
        artists = by_gid(drawn(estimate))
        checked = 0
        for item in numbered(estimate.lay):
            words = artists.get(f"piece-{item.number}-words")
            grain = next(f for f in item.shape.features if f.kind == "grain line")
            if isinstance(words, Text):
                assert not extent(words).intersects(shapely.LineString(grain.vertices))
                checked += 1
        assert checked >= 3


def test_no_type_is_under_seven_points(any_estimate: Estimate):
    sizes = [text.get_fontsize() for text in drawn(any_estimate, (7.0, 5.0)) if isinstance(text, Text)]
    assert min(sizes) >= SMALLEST_PT == 7


def test_face_down_is_hatched_and_nothing_else_is(any_estimate: Estimate):
    artists = by_gid(drawn(any_estimate))
    for item in numbered(any_estimate.lay):
        down = item.placed.face is Face.DOWN
        area = artists[f"piece-{item.number}-face-{'down' if down else 'up'}"]
        assert isinstance(area, Polygon)
        assert bool(area.get_hatch()) is down


def test_a_roomy_piece_also_says_that_it_lies_face_down(opened: Estimate):
    artists = by_gid(drawn(opened))
    for item in numbered(opened.lay):
        if item.placed.piece in {"front", "sleeve"}:
            words = artists[f"piece-{item.number}-words"]
            assert isinstance(words, Text)
            assert ("face down" in words.get_text()) is (item.placed.face is Face.DOWN)


def test_the_fold_is_marked_bracketed_and_never_a_cut_line(folded: Estimate):
    artists = by_gid(drawn(folded))
    fold = artists["stretch-1-fold-edge"].get_xydata()
    assert fold[:, 1].tolist() == [0.0, 0.0]
    texts = {str(artist.get_gid()): artist for artist in artists.values() if isinstance(artist, Text)}
    assert texts["stretch-1-fold-words"].get_text() == "fold"
    assert texts["stretch-1-far-selvedge-words"].get_text() == "both selvedges"
    back = numbered(folded.lay)[0]
    assert back.placed.yields is Yield.WHOLE_ON_FOLD
    assert "on the fold" in texts["piece-1-words"].get_text()
    assert "piece-1-fold-bracket" in artists
    line = artists["piece-1-cut-line"]
    assert isinstance(line, PathPatch)
    strokes = line.get_path().to_polygons(closed_only=False)
    for stroke in strokes:
        on_fold = np.abs(stroke[:, 1]) < 0.01
        assert not (on_fold[1:] & on_fold[:-1]).any()
    length = sum(shapely.LineString(stroke).length for stroke in strokes if len(stroke) > 1)
    ring = shapely.LinearRing(back.shape.cut_line)
    fold_mm = np.ptp(back.shape.cut_line[np.abs(back.shape.cut_line[:, 1]) < 0.01, 0])
    assert length == pytest.approx(ring.length - fold_mm)


def test_line_styles_tell_fold_selvedge_and_cut_end_apart(folded: Estimate):
    artists = by_gid(drawn(folded))
    styles = Counter(
        (str(artists[gid].get_linestyle()), artists[gid].get_linewidth())
        for gid in ("stretch-1-fold-edge", "stretch-1-far-selvedge-edge", "first-cut-end")
    )
    assert set(styles.values()) == {1}


def test_the_change_of_spread_is_a_line_with_words(folded: Estimate):
    artists = by_gid(drawn(folded))
    second = folded.lay.sections[1]
    line = artists["stretch-2-change-of-spread"].get_xydata()
    assert line[:, 0].tolist() == [second.start_mm, second.start_mm]
    title = artists["stretch-2-title"]
    assert isinstance(title, Text)
    assert title.get_text() == "from here: opened out, right side up, one layer"
    assert artists["stretch-1-title"].get_text() == "folded lengthwise, right side inside, two layers"


def test_the_whole_cloth_is_drawn(folded: Estimate):
    artists = by_gid(drawn(folded))
    first = artists["first-cut-end"].get_xydata()
    last = artists["last-cut-end"].get_xydata()
    assert last[0, 0] - first[0, 0] == pytest.approx(folded.washed_mm + folded.spare_mm)
    # Selvedge to selvedge, washed: 1500 mm less 2 %.
    assert np.ptp(last[:, 1]) == pytest.approx(1500 * 0.98)
    # Folded, half of it.
    assert np.ptp(first[:, 1]) == pytest.approx(1500 * 0.98 / 2)


def test_grain_lines_have_a_head_at_the_top_and_at_the_foot_a_ring_or_a_bar(
    folded: Estimate, opened: Estimate
):
    for estimate, either_way in ((folded, False), (opened, True)):
        artists = by_gid(drawn(estimate))
        for item in numbered(estimate.lay):
            assert isinstance(artists[f"piece-{item.number}-grain-line"], FancyArrowPatch)
            assert (f"piece-{item.number}-grain-line-foot-ring" in artists) is either_way
            assert (f"piece-{item.number}-grain-line-foot-bar" in artists) is not either_way


def test_one_scale_along_and_across_in_millimetres(any_estimate: Estimate):
    axes = drawn(any_estimate)[0].axes
    assert axes is not None
    (x0, y0), (x1, y1) = axes.transData.transform([(0, 0), (100, 100)])
    assert x1 - x0 == pytest.approx(y1 - y0)


def test_without_axes_a_figure_of_its_own_is_made(three_pieces: Estimate):
    artists = draw_lay(three_pieces, Unit.IN)
    figure = artists[0].get_figure(root=True)
    assert figure is not None
    assert {artist.axes for artist in artists} == {figure.axes[0]}


def test_the_same_lay_gives_the_same_bytes(folded: Estimate):
    assert png_bytes(folded, Unit.CM, 60) == png_bytes(folded, Unit.CM, 60)


def test_no_words_leave_the_picture(any_estimate: Estimate):
    artists = draw_lay(any_estimate, Unit.CM)
    axes = artists[0].axes
    assert axes is not None
    (x0, x1), (y0, y1) = axes.get_xlim(), axes.get_ylim()
    outside = [
        text.get_text()
        for text in artists
        if isinstance(text, Text) and not shapely.box(x0, y0, x1, y1).covers(extent(text))
    ]
    assert outside == []


def test_png_is_as_large_as_its_resolution_says(folded: Estimate):
    small, large = (imread(BytesIO(png_bytes(folded, Unit.CM, dpi))) for dpi in (40, 80))
    assert large.shape[0] == pytest.approx(2 * small.shape[0], abs=2)


@pytest.mark.parametrize(
    "name", ["שרוול", "$x_1$ \\alpha", "👩\u200d🎤 袖", "Ärmel <&> Stoß", "w" * 90, "\u0000"]
)
def test_strange_names_neither_crash_nor_warn(three_pieces: Estimate, name: str):
    section = three_pieces.lay.sections[0]
    renamed = replace(section, placed=tuple(replace(placed, piece=name) for placed in section.placed))
    estimate = replace(three_pieces, lay=replace(three_pieces.lay, sections=(renamed,)))
    ElementTree.fromstring(full_size_svg(lay_full_size(estimate), name))
    assert png_bytes(estimate, Unit.CM, 40).startswith(b"\x89PNG")


def test_the_callers_matplotlib_settings_are_left_alone(three_pieces: Estimate):
    import matplotlib

    with matplotlib.rc_context({"font.family": ["serif"], "hatch.linewidth": 3.0}):
        before = dict(matplotlib.rcParams)
        png_bytes(three_pieces, Unit.CM, 40)
        assert dict(matplotlib.rcParams) == before
