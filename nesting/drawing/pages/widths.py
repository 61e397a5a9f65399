"""Metres against width, drawn: the steps, and the width from which a fold pays."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from nesting.cloth.cloth import Spread
from nesting.drawing.ink.look import ACCENT, INK, drawing_settings
from nesting.drawing.ink.text import printable, wrapped
from nesting.estimate.overview.widths import FOLDED, WidthCurve
from nesting.units import MM_PER_YARD, Unit, format_buy, format_length, mm_per
from nesting.words.spreads import SPREAD_WORDS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["draw_widths", "widths_pdf", "widths_png"]

_INCHES = (8.0, 5.2)
_STYLES: Final[dict[Spread, dict[str, Any]]] = {
    Spread.OPEN: {"color": INK, "linestyle": "-", "marker": "o", "linewidth": 1.8, "markersize": 4.5},
    FOLDED: {
        "color": ACCENT,
        "linestyle": (0, (4, 2)),
        "marker": "s",
        "linewidth": 1.6,
        "markersize": 7.5,
        "markerfacecolor": "none",
    },
}
"""Told apart by stroke and mark, not by colour alone."""


def widths_pdf(curve: WidthCurve) -> bytes:
    """The plot as a PDF file; the same curve gives the same bytes."""
    return _saved(
        curve, "pdf", {"Title": "Cloth to buy by width", "Creator": "Ellwand", "CreationDate": None}
    )


def widths_png(curve: WidthCurve, *, dpi: float = 130) -> bytes:
    """The plot as a picture."""
    return _saved(curve, "png", {"Software": None}, dpi=dpi)


def _saved(curve: WidthCurve, kind: str, metadata: dict[str, str | None], dpi: float = 72) -> bytes:
    target = BytesIO()
    with drawing_settings():
        draw_widths(curve).savefig(target, format=kind, dpi=dpi, metadata=metadata)
    return target.getvalue()


def draw_widths(curve: WidthCurve) -> Figure:
    """The plot as a matplotlib figure."""
    from matplotlib.figure import Figure

    unit = curve.project.unit
    with drawing_settings():
        figure = Figure(figsize=_INCHES, layout="constrained")
        ax = figure.add_subplot()
        title = wrapped(f"{curve.project.title}: {curve.cloth.name}", 460, 12)
        ax.set_title("\n".join(title[:2]), fontsize=12, parse_math=False)
        ax.set_xlim(*_limits(curve))
        ax.set_xlabel(f"width of the cloth, {unit.value}")
        ax.set_ylabel(f"to buy, {'yards' if unit is Unit.IN else 'metres'}")
        for spread, amounts in curve.to_buy_mm.items():
            known = [
                (_across(width, unit), _along(amount, unit))
                for width, amount in zip(curve.widths_mm, amounts, strict=True)
                if amount is not None
            ]
            if known:
                xs, ys = zip(*known, strict=True)
                ax.plot(xs, ys, drawstyle="steps-post", label=SPREAD_WORDS[spread].label, **_STYLES[spread])
        _marks(ax, curve)
        ax.grid(visible=True, color="#dddddd", linewidth=0.6)
        ax.set_axisbelow(True)
        ax.margins(y=0.18)
        ax.legend(loc="upper right", framealpha=1.0)
    return figure


def _marks(ax: Axes, curve: WidthCurve) -> None:
    """Amounts at the steps, the width of the file's own cloth, and where a fold begins to pay."""
    unit = curve.project.unit
    for step in curve.steps:
        ax.annotate(
            printable(f"{format_length(step.width_mm, unit)}: {format_buy(step.to_buy_mm, unit)}"),
            (_across(step.width_mm, unit), _along(step.to_buy_mm, unit)),
            xytext=(4, -13),
            textcoords="offset points",
            fontsize=8,
            color=INK,
            bbox={"facecolor": "#ffffff", "edgecolor": "none", "pad": 0.8},
        )
    own = curve.cloth.width_mm
    if curve.widths_mm[0] <= own <= curve.widths_mm[-1]:
        _upright(ax, _across(own, unit), f"the file's cloth, {format_length(own, unit)}", "#555555")
    pays = curve.fold_pays_mm
    if pays is not None:
        _upright(ax, _across(pays, unit), f"from {format_length(pays, unit)} on a fold pays", ACCENT)


def _limits(curve: WidthCurve) -> tuple[float, float]:
    """A little more than the widths, on the right enough for the words at a last step."""
    first, last = (_across(width, curve.project.unit) for width in (curve.widths_mm[0], curve.widths_mm[-1]))
    span = max(last - first, last / 10)
    return first - span / 25, last + span / 6


def _upright(ax: Axes, x: float, words: str, colour: str) -> None:
    """A line across all amounts, named in the legend."""
    strokes = (0, (1, 2)) if colour == ACCENT else (0, (6, 2, 1, 2))
    ax.axvline(x, color=colour, linewidth=1.2, linestyle=strokes, label=words, zorder=1.5)


def _across(mm: float, unit: Unit) -> float:
    return mm / mm_per(unit)


def _along(mm: float, unit: Unit) -> float:
    return mm / (MM_PER_YARD if unit is Unit.IN else 1000.0)
