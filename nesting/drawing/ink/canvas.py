"""The lay drawing's pen: puts lines, areas, arrows and words on matplotlib axes and keeps what it drew.

Every artist carries a group id such as ``piece-3-cut-line``, by which tests (and whoever edits the
SVG) find it. Coordinates are lay millimetres, widths and sizes points.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.drawing.ink.labels import Box
from nesting.drawing.ink.look import INK, LINES, PAPER
from nesting.drawing.ink.pen import Align
from nesting.drawing.ink.runs import direction_runs, placed_runs
from nesting.drawing.ink.text import FONT, LINE_HEIGHT, printable, text_width_pt
from nesting.geometry import FloatArray

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.patches import Rectangle

__all__ = ["LAYERS", "Canvas"]

LAYERS = {"cloth": 1.0, "flaw": 1.5, "piece": 2.0, "inside": 3.0, "outline": 4.0, "leader": 5.0, "words": 6.0}
"""What lies over what."""
_NEAR_PT = 12.0
"""A line or the head of an arrow this far outside a window cannot reach into it."""


class Canvas:
    """Axes being drawn on, at a known scale.

    Parameters
    ----------
    ax : matplotlib Axes
    mm_per_pt : float
        Millimetres of cloth to a point of the page.
    window : Box or None
        The part of the cloth of which anything is shown; None for no limit.
    weight : float
        How many times thicker than usual lines are.
    """

    def __init__(self, ax: Axes, mm_per_pt: float, window: Box | None = None, *, weight: float = 1.0) -> None:
        self.ax = ax
        self.mm_per_pt = mm_per_pt
        self.window = window
        self.weight = weight
        self.artists: list[Artist] = []
        self._cut_off: tuple[Box, Rectangle] | None = None
        self.taken: list[Box] = []
        """Ground that no callout may cover."""

    @contextmanager
    def beside_the_cloth(self) -> Iterator[None]:
        """For the time of drawing what stands in the margins, `window` is no limit."""
        window, self.window = self.window, None
        try:
            yield
        finally:
            self.window = window

    def look(self, style: str) -> dict[str, Any]:
        """Colour, width and style of a kind of line."""
        return {**LINES[style], "linewidth": LINES[style]["linewidth"] * self.weight}

    def line(
        self, points: FloatArray | Sequence[Sequence[float]], style: str, gid: str, layer: str = "inside"
    ) -> None:
        """An open line through the points."""
        from matplotlib.lines import Line2D

        xy = np.asarray(points, dtype=np.float64)
        if not self._sees(xy):
            return
        drawn = Line2D(
            xy[:, 0],
            xy[:, 1],
            zorder=LAYERS[layer],
            gid=gid,
            solid_capstyle="butt",
            **self.look(style),
        )
        # Not by `plot`, which looks for a scale each time: a long lay at true size has ten thousand lines.
        self.keep(self.ax.add_artist(drawn))

    def area(
        self, points: FloatArray, fill: str, gid: str, layer: str, hatch: str = "", hatch_ink: str = "none"
    ) -> None:
        """A filled shape without a border."""
        from matplotlib.patches import Polygon

        patch = Polygon(
            points,
            closed=True,
            facecolor=fill,
            edgecolor=hatch_ink,
            linewidth=0,
            hatch=hatch or None,
            zorder=LAYERS[layer],
            gid=gid,
        )
        self.keep(self.ax.add_patch(patch))

    def arrow(self, tail: Sequence[float], tip: Sequence[float], style: str, gid: str) -> None:
        """A line with a full head at its tip, smaller where the line is short."""
        from matplotlib.patches import FancyArrowPatch

        if not self._sees(np.array([tail, tip], dtype=np.float64)):
            return
        length_pt = float(np.hypot(tip[0] - tail[0], tip[1] - tail[1])) / self.mm_per_pt
        patch = FancyArrowPatch(
            (float(tail[0]), float(tail[1])),
            (float(tip[0]), float(tip[1])),
            arrowstyle="-|>",
            mutation_scale=max(1.0, min(10.0 * self.weight, 0.9 * length_pt)),
            shrinkA=0,
            shrinkB=0,
            zorder=LAYERS["inside"],
            gid=gid,
            **self.look(style),
        )
        self.keep(self.ax.add_patch(patch))

    def outline(self, ring: FloatArray, drawn: Sequence[bool], style: str, gid: str) -> None:
        """A closed line of which only some edges are drawn.

        Parameters
        ----------
        ring : (N + 1, 2) float64 array
            The first point repeated at the end.
        drawn : sequence of N bools
            One for each edge.
        """
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        if not self._sees(ring):
            return
        codes = np.full(len(ring), Path.LINETO, dtype=np.uint8)
        codes[0] = Path.MOVETO
        codes[1:][~np.asarray(drawn, dtype=bool)] = Path.MOVETO
        patch = PathPatch(
            Path(ring, codes), fill=False, zorder=LAYERS["outline"], gid=gid, **self.look(style)
        )
        self.keep(self.ax.add_patch(patch))

    def circle(self, at: tuple[float, float], diameter_pt: float, style: str, gid: str) -> None:
        """A small circle, white inside."""
        from matplotlib.patches import Circle

        look = self.look(style)
        patch = Circle(
            at,
            diameter_pt * self.mm_per_pt / 2,
            facecolor=PAPER,
            edgecolor=look["color"],
            linewidth=look["linewidth"],
            zorder=LAYERS["inside"] + 0.1,
            gid=gid,
        )
        self.keep(self.ax.add_patch(patch))

    def lines(self, strokes: Sequence[Sequence[Sequence[float]]], style: str, gid: str) -> None:
        """Many separate strokes as one artist."""
        from matplotlib.collections import LineCollection

        look = self.look(style)
        strokes_drawn = LineCollection(
            [np.asarray(stroke, dtype=np.float64) for stroke in strokes],
            colors=look["color"],
            linewidths=look["linewidth"],
            linestyles=look["linestyle"],
            zorder=LAYERS["inside"],
            gid=gid,
        )
        self.keep(self.ax.add_collection(strokes_drawn, autolim=False))

    def dot(self, at: tuple[float, float], diameter_pt: float, gid: str) -> None:
        """The end of a callout's line."""
        from matplotlib.patches import Circle

        radius = diameter_pt * self.mm_per_pt / 2
        patch = Circle(
            at, radius, facecolor=INK, edgecolor="white", linewidth=0.4, zorder=LAYERS["leader"], gid=gid
        )
        self.keep(self.ax.add_patch(patch))

    def ring(self, at: tuple[float, float], size_pt: tuple[float, float], gid: str) -> None:
        """The ring of a placement number, white inside, `at` being its middle."""
        from matplotlib.patches import FancyBboxPatch

        width, height = (extent * self.mm_per_pt for extent in size_pt)
        patch = FancyBboxPatch(
            (at[0] - width / 2, at[1] - height / 2),
            width,
            height,
            boxstyle=f"round,pad=0,rounding_size={height / 2}",
            facecolor="white",
            edgecolor=INK,
            linewidth=0.7,
            zorder=LAYERS["words"],
            gid=gid,
        )
        self.keep(self.ax.add_patch(patch))

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
        """Words, `at` being the middle of their height (for words up the page, the middle of their length).

        Parameters
        ----------
        ground : str or None
            Shade laid under the words so that no line runs through them.
        keep_clear : bool
            Whether callouts should keep off.
        """
        if self.window is not None and not _inside(at, self.window):
            return
        rows = [printable(line) for line in ([lines] if isinstance(lines, str) else lines)]
        options: dict[str, Any] = {
            "fontweight": "bold" if bold else "normal",
            "rotation": 0 if upright else 90,
            "zorder": LAYERS["words"] + (0.1 if bold else 0),
            "gid": gid,
        }
        if ground is not None:
            options["bbox"] = {"boxstyle": "square,pad=0.1", "facecolor": ground, "edgecolor": "none"}
        if all(len(direction_runs(row)) == 1 for row in rows):
            self._write(at, "\n".join(rows), size_pt, align, one_line=len(rows) == 1 and upright, **options)
        else:
            self._write_runs(at, rows, size_pt, align, **options)
        if keep_clear:
            self.taken.append(self._extent(at, rows, size_pt, align, upright, bold))

    def _write_runs(
        self, at: tuple[float, float], rows: Sequence[str], size_pt: float, align: Align, **options: Any
    ) -> None:
        """Rows with runs of both directions: each run is placed by itself."""
        across = np.array([0.0, 1.0] if options["rotation"] else [1.0, 0.0])
        down = np.array([across[1], -across[0]])
        for k, row in enumerate(rows):
            down_pt = (k - (len(rows) - 1) / 2) * LINE_HEIGHT * size_pt
            for run, right_pt, its_align in placed_runs(
                row, size_pt, align, bold=options["fontweight"] == "bold"
            ):
                x, y = (np.array(at) + (right_pt * across + down_pt * down) * self.mm_per_pt).tolist()
                self._write((x, y), run, size_pt, its_align, one_line=not options["rotation"], **options)

    def _write(
        self,
        at: tuple[float, float],
        words: str,
        size_pt: float,
        align: Align,
        *,
        one_line: bool,
        **options: Any,
    ) -> None:
        # Turned text is moved along its line by the vertical alignment, its start being at the foot.
        upright = not options["rotation"]
        turned = {"left": "bottom", "center": "center", "right": "top"}[align]
        text = self.ax.text(
            *at,
            words,
            fontsize=size_pt,
            fontfamily=FONT,
            horizontalalignment=align if upright else "center",
            verticalalignment=("center_baseline" if one_line else "center") if upright else turned,
            linespacing=1.15,
            parse_math=False,
            color=INK,
            **options,
        )
        self.artists.append(text)

    def keep(self, artist: Artist) -> None:
        """Take up an artist that is on the axes, and cut it off at the limits of `window`."""
        if self.window is not None:
            artist.set_clip_path(self._limits(self.window))
        self.artists.append(artist)

    def wipe(self) -> None:
        """Take everything off the axes again."""
        for artist in self.artists:
            artist.remove()
        self.artists.clear()
        self.taken.clear()

    def _limits(self, window: Box) -> Rectangle:
        """What a window cuts off at; the same for all that is drawn in it."""
        from matplotlib.patches import Rectangle

        if self._cut_off is None or self._cut_off[0] != window:
            x0, y0, x1, y1 = window
            hair = self.mm_per_pt  # lines that run along a limit are shown in their whole width
            limits = Rectangle(
                (x0 - hair, y0 - hair), x1 - x0 + 2 * hair, y1 - y0 + 2 * hair, transform=self.ax.transData
            )
            self._cut_off = window, limits
        return self._cut_off[1]

    def _sees(self, points: FloatArray) -> bool:
        """Whether a line through the points may come near the window."""
        if self.window is None:
            return True
        near = _NEAR_PT * self.weight * self.mm_per_pt
        (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
        low_x, low_y, high_x, high_y = self.window
        return bool(x0 <= high_x + near and low_x - near <= x1 and y0 <= high_y + near and low_y - near <= y1)

    def _extent(
        self,
        at: tuple[float, float],
        rows: Sequence[str],
        size_pt: float,
        align: str,
        upright: bool,
        bold: bool,
    ) -> Box:
        wide = max(text_width_pt(row, size_pt, bold=bold) for row in rows) * self.mm_per_pt
        high = len(rows) * LINE_HEIGHT * size_pt * self.mm_per_pt
        if not upright:
            wide, high = high, wide
        left = at[0] - {"left": 0.0, "center": wide / 2, "right": wide}[align]
        return (left, at[1] - high / 2, left + wide, at[1] + high / 2)


def _inside(at: tuple[float, float], window: Box) -> bool:
    return window[0] <= at[0] <= window[2] and window[1] <= at[1] <= window[3]
