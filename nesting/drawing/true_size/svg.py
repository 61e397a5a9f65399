"""True-size drawings as SVG: width, height and view box in millimetres, layers named, words as text.

One unit of the file is one millimetre of cloth (SVG 1.1, section 7: a view box maps user units onto the size
given), so that a program for plotting or drawing takes it at its true size.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any
from xml.etree import ElementTree as Xml

import numpy as np

from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.look import INK, LINES, PAPER
from nesting.drawing.ink.pen import Align
from nesting.drawing.ink.runs import direction_runs
from nesting.drawing.ink.sheet import MM_PER_PT
from nesting.drawing.ink.text import FONT, LINE_HEIGHT, printable, text_width_pt
from nesting.drawing.true_size.full_size import FullSize
from nesting.geometry import FloatArray
from nesting.lettering import LEFT_TO_RIGHT_MARK

__all__ = ["LAYERS", "SvgPen", "full_size_svg"]

_LAYER_TITLES = (
    (r".*cut-line$", "cutting lines"),
    (r".*stitching-line$", "stitching lines"),
    (r".*notch$", "notches"),
    (r".*dart$", "darts"),
    (r".*fold-bracket(-end)?$", "edges on the fold"),
    (r".*fold-line$", "fold lines of half pieces"),
    (r".*grain-line.*", "grain lines"),
    (r".*matching-point$", "matching points"),
    (r".*words$", "words"),
    (r"flaw-", "flaws"),
    (r"repeat-", "lines of the repeat"),
    (r"stretch-\d+-.*", "edges of the cloth"),
    (r"cut-end|straightened-end|change-of-spread|spare", "ends of the cloth"),
    (r"", "marks"),
)
LAYERS = tuple(title for _, title in _LAYER_TITLES)
"""Names of the layers, in the order of first match by what is drawn on them."""
_CLEAR_MM = 10.0
_LINE_WEIGHT = 1.5


def full_size_svg(drawing: FullSize, title: str) -> bytes:
    """The whole drawing as one SVG file; the same input gives the same bytes.

    Parameters
    ----------
    drawing : FullSize
    title : str
    """
    x0, y0, x1, y1 = drawing.bounds
    frame = (x0 - _CLEAR_MM, y0 - _CLEAR_MM, x1 + _CLEAR_MM, y1 + _CLEAR_MM)
    pen = SvgPen(frame)
    drawing.draw(pen, frame, frame)
    return pen.file(f"{title}, {drawing.title}")


class SvgPen:
    """Collects what is drawn into layers; y runs up in the drawing and down in the file.

    Parameters
    ----------
    frame : Box
        What the file shows.
    """

    def __init__(self, frame: Box) -> None:
        self.mm_per_pt = MM_PER_PT
        self.frame = frame
        self._layers: dict[str, list[Xml.Element]] = {}

    def line(
        self, points: FloatArray | Sequence[Sequence[float]], style: str, gid: str, layer: str = "inside"
    ) -> None:
        """An open line through the points."""
        self._path([np.asarray(points, dtype=np.float64)], style, gid)

    def lines(self, strokes: Sequence[Sequence[Sequence[float]]], style: str, gid: str) -> None:
        """Many separate strokes as one."""
        self._path([np.asarray(stroke, dtype=np.float64) for stroke in strokes], style, gid)

    def outline(self, ring: FloatArray, drawn: Sequence[bool], style: str, gid: str) -> None:
        """A closed line of which only some edges are drawn."""
        if all(drawn):
            self._path([ring[:-1]], style, gid, closed=True)
            return
        # Begun after an edge that is not drawn, so that every run of drawn edges is in one piece.
        first = (drawn.index(False) + 1) % len(drawn)
        points = np.vstack([np.roll(ring[:-1], -first, axis=0), ring[first : first + 1]])
        wanted = [*drawn[first:], *drawn[:first]]
        runs: list[list[int]] = []
        for edge, kept in enumerate(wanted):
            if kept and edge > 0 and wanted[edge - 1]:
                runs[-1].append(edge + 1)
            elif kept:
                runs.append([edge, edge + 1])
        self._path([points[run] for run in runs], style, gid)

    def circle(self, at: tuple[float, float], diameter_pt: float, style: str, gid: str) -> None:
        """A small circle, white inside."""
        x, y = self._xy(at)
        radius = _number(diameter_pt * self.mm_per_pt / 2)
        self._add("circle", gid, {"cx": x, "cy": y, "r": radius, "fill": PAPER, **self._stroke(style)})

    def arrow(self, tail: Sequence[float], tip: Sequence[float], style: str, gid: str) -> None:
        """A line with a full head at its tip."""
        start, end = np.asarray(tail, dtype=np.float64), np.asarray(tip, dtype=np.float64)
        length = float(np.hypot(*(end - start)))
        along = (end - start) / max(length, 1e-9)
        head = min(4.0, 0.6 * length)
        side = np.array([-along[1], along[0]]) * head / 3
        base = end - along * head
        self._path([np.array([start, base])], style, gid)
        corners = " ".join(",".join(self._xy(point)) for point in (end, base + side, base - side))
        self._add("polygon", gid, {"points": corners, "fill": str(LINES[style]["color"])})

    def words(
        self,
        at: tuple[float, float],
        lines: str | Sequence[str],
        size_pt: float,
        gid: str,
        *,
        align: Align = "center",
        upright: bool = True,
        bold: bool = False,
        ground: str | None = None,
        keep_clear: bool = True,
    ) -> None:
        """Words about a middle; several lines are one text of several spans."""
        rows = [_marked(line) for line in ([lines] if isinstance(lines, str) else lines)]
        size, step = size_pt * self.mm_per_pt, size_pt * self.mm_per_pt * LINE_HEIGHT
        x, y = (float(part) for part in self._xy(at))
        turned = {} if upright else {"transform": f"rotate(-90 {_number(x)} {_number(y)})"}
        if ground is not None:
            wide = max(text_width_pt(row, size_pt, bold=bold) for row in rows) * self.mm_per_pt
            left = x - {"left": 0.0, "center": wide / 2, "right": wide}[align]
            box = {"x": left, "y": y - step * len(rows) / 2, "width": wide, "height": step * len(rows)}
            numbers = {key: _number(value) for key, value in box.items()}
            self._add("rect", gid, {**numbers, "fill": ground, **turned})
        anchor = {"left": "start", "center": "middle", "right": "end"}[align]
        text = self._add(
            "text",
            gid,
            {
                "font-family": f"'{FONT}', sans-serif",
                "font-size": _number(size),
                "text-anchor": anchor,
                "fill": INK,
                **({"font-weight": "bold"} if bold else {}),
                **turned,
            },
        )
        first = y - step * (len(rows) - 1) / 2 + 0.36 * size
        for k, row in enumerate(rows):
            span = Xml.SubElement(text, "tspan", {"x": _number(x), "y": _number(first + k * step)})
            span.text = row

    def file(self, title: str) -> bytes:
        """All that was drawn, as the bytes of a file."""
        x0, y0, x1, y1 = self.frame
        wide, high = _number(x1 - x0), _number(y1 - y0)
        root = Xml.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "width": f"{wide}mm",
                "height": f"{high}mm",
                "viewBox": f"0 0 {wide} {high}",
            },
        )
        Xml.SubElement(root, "title").text = printable(title)
        for name in [layer for layer in LAYERS if layer in self._layers]:
            group = Xml.SubElement(root, "g", {"id": name.replace(" ", "-"), "aria-label": name})
            Xml.SubElement(group, "title").text = name
            group.extend(self._layers[name])
        Xml.indent(root)
        data: bytes = Xml.tostring(root, encoding="utf-8", xml_declaration=True)
        return data + b"\n"

    def _path(self, strokes: Sequence[FloatArray], style: str, gid: str, *, closed: bool = False) -> None:
        parts = []
        for stroke in strokes:
            points = [" ".join(self._xy(point)) for point in stroke]
            parts.append(f"M {' L '.join(points)}{' Z' if closed else ''}")
        self._add("path", gid, {"d": " ".join(parts), "fill": "none", **self._stroke(style)})

    def _stroke(self, style: str) -> dict[str, str]:
        look: dict[str, Any] = LINES[style]
        width = look["linewidth"] * self.mm_per_pt * _LINE_WEIGHT
        stroke = {"stroke": str(look["color"]), "stroke-width": _number(width)}
        if not isinstance(look["linestyle"], str):
            # Dashes are told in widths of the line, as matplotlib reads them.
            stroke["stroke-dasharray"] = " ".join(_number(dash * width) for dash in look["linestyle"][1])
        return stroke

    def _add(self, tag: str, gid: str, attributes: dict[str, str]) -> Xml.Element:
        layer = next(title for pattern, title in _LAYER_TITLES if re.match(pattern, gid))
        element = Xml.Element(tag, {"class": gid, **attributes})
        self._layers.setdefault(layer, []).append(element)
        return element

    def _xy(self, point: Sequence[float] | FloatArray) -> tuple[str, str]:
        return _number(float(point[0]) - self.frame[0]), _number(self.frame[3] - float(point[1]))


def _marked(line: str) -> str:
    """Words with marks of direction (Unicode Standard Annex 9) about each run, as far as it has several."""
    runs = direction_runs(printable(line))
    return runs[0] if len(runs) == 1 else LEFT_TO_RIGHT_MARK.join(("", *runs))


def _number(value: float) -> str:
    """A thousandth of a millimetre is enough."""
    return f"{value:.3f}".rstrip("0").rstrip(".") or "0"
