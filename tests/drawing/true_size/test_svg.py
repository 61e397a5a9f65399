"""SVG files: real millimetres, named layers, text as text; read back with the standard library."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from nesting.cutting.flat.placing import numbered
from nesting.drawing.true_size.full_size import lay_full_size
from nesting.drawing.true_size.svg import LAYERS, full_size_svg
from nesting.estimate.estimate import Estimate

SVG = "{http://www.w3.org/2000/svg}"


def read(estimate: Estimate) -> ElementTree.Element:
    return ElementTree.fromstring(full_size_svg(lay_full_size(estimate), "Jacket"))


def points_of(path: ElementTree.Element) -> np.ndarray:
    numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", path.get("d", ""))]
    return np.array(numbers).reshape(-1, 2)


def test_one_unit_is_one_millimetre(any_estimate: Estimate):
    root = read(any_estimate)
    view = [float(one) for one in root.get("viewBox", "").split()]
    assert view[:2] == [0, 0]
    assert root.get("width") == f"{view[2]:g}mm" or float(root.get("width", "")[:-2]) == view[2]
    assert root.get("width", "").endswith("mm")
    assert float(root.get("height", "")[:-2]) == view[3]


def test_outlines_have_their_true_size_and_place(folded: Estimate):
    root = read(folded)
    outlines = {
        path.get("class"): points_of(path)
        for path in root.iter(f"{SVG}path")
        if str(path.get("class")).endswith("cut-line")
    }
    shifts = []
    for item in numbered(folded.lay):
        drawn = outlines[f"piece-{item.number}-cut-line"]
        low, high = drawn.min(axis=0), drawn.max(axis=0)
        true_low, true_high = item.shape.cut_line.min(axis=0), item.shape.cut_line.max(axis=0)
        assert (high - low).tolist() == pytest.approx((true_high - true_low).tolist(), abs=0.002)
        shifts.append((low[0] - true_low[0], high[1] + true_low[1]))  # y runs down in the file
    assert np.ptp(np.array(shifts), axis=0).tolist() == pytest.approx([0, 0], abs=0.002)


def test_an_edge_on_the_fold_is_left_out_of_the_cutting_line(folded: Estimate):
    item = numbered(folded.lay)[0]
    (path,) = (p for p in read(folded).iter(f"{SVG}path") if p.get("class") == "piece-1-cut-line")
    assert "Z" not in path.get("d", "")
    runs = [points_of(ElementTree.Element("path", {"d": run})) for run in path.get("d", "").split("M")[1:]]
    length = sum(shapely.LineString(run).length for run in runs)
    on_fold = np.ptp(item.shape.cut_line[np.abs(item.shape.cut_line[:, 1]) < 0.01, 0])
    assert length == pytest.approx(shapely.LinearRing(item.shape.cut_line).length - on_fold, abs=0.05)


def test_layers_are_named_by_what_is_on_them(folded: Estimate):
    groups = list(read(folded).findall(f"{SVG}g"))
    names = [group.get("aria-label") for group in groups]
    assert names == [name for name in LAYERS if name in names]
    assert {"cutting lines", "stitching lines", "notches", "grain lines", "words", "edges of the cloth"} <= {
        *names
    }
    for group in groups:
        assert group.get("id") == str(group.get("aria-label")).replace(" ", "-")
        title = group.find(f"{SVG}title")
        assert title is not None
        assert title.text == group.get("aria-label")


def test_every_cutting_line_is_on_its_layer_and_nothing_else_is(folded: Estimate):
    (layer,) = (g for g in read(folded).findall(f"{SVG}g") if g.get("id") == "cutting-lines")
    classes = {element.get("class") for element in layer if element.tag != f"{SVG}title"}
    assert classes == {f"piece-{item.number}-cut-line" for item in numbered(folded.lay)}


def test_words_are_text(folded: Estimate):
    words = {span.text for span in read(folded).iter(f"{SVG}tspan")}
    assert "2  sleeve" in words or "2 sleeve" in words
    assert "fold" in words


def test_the_same_lay_gives_the_same_bytes(folded: Estimate):
    drawing = lay_full_size(folded)
    assert full_size_svg(drawing, "x") == full_size_svg(drawing, "x")
