"""How every mark looks: one place for line styles, shades and sizes, so drawing and legend agree.

Told apart by line style and words first; the few shades also differ in greyscale, and no meaning
rests on hue.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

from nesting.drawing.ink.text import FONT

__all__ = [
    "ACCENT",
    "CLOTH",
    "FACE_DOWN",
    "FACE_DOWN_HATCH",
    "FLAW_HATCH",
    "HATCH_INK",
    "INK",
    "LEFT",
    "LINES",
    "MISSING",
    "PAPER",
    "SELVEDGE",
    "drawing_settings",
]

INK: Final = "#000000"
PAPER: Final = "#ffffff"
"""Pieces whose paper lies face up."""
FACE_DOWN: Final = "#cfcfcf"
FACE_DOWN_HATCH: Final = "//"
HATCH_INK: Final = "#6c6c6c"
CLOTH: Final = "#f1e9d2"
SELVEDGE: Final = "#b8ac8c"
FLAW_HATCH: Final = "xxxx"
LEFT: Final = "#fffdf4"
"""Lighter than the cloth: what is left over in one piece."""
MISSING: Final = "#ffffff"
"""Where there is no cloth."""
ACCENT: Final = "#0b4a8f"
"""Fold, and where the spread changes."""

LINES: Final[dict[str, dict[str, Any]]] = {
    "cut line": {"color": INK, "linewidth": 1.1, "linestyle": "-"},
    "stitching line": {"color": "#444444", "linewidth": 0.5, "linestyle": (0, (4, 3))},
    "notch": {"color": INK, "linewidth": 1.6, "linestyle": "-"},
    "dart": {"color": "#222222", "linewidth": 0.7, "linestyle": "-"},
    "mark": {"color": "#222222", "linewidth": 0.8, "linestyle": (0, (1, 1.2))},
    "matching point": {"color": INK, "linewidth": 1.0, "linestyle": "-"},
    "corner to lay by": {"color": INK, "linewidth": 0.9, "linestyle": "-"},
    "line of the repeat": {"color": "#666666", "linewidth": 0.55, "linestyle": (0, (1, 2.2))},
    "fold line": {"color": INK, "linewidth": 0.7, "linestyle": (0, (7, 2, 1.5, 2, 1.5, 2))},
    "grain line": {"color": INK, "linewidth": 0.8, "linestyle": "-"},
    "fold": {"color": ACCENT, "linewidth": 2.4, "linestyle": (0, (8, 2, 1.5, 2))},
    "fold bracket": {"color": ACCENT, "linewidth": 1.2, "linestyle": "-"},
    "selvedge": {"color": INK, "linewidth": 0.9, "linestyle": (0, (1.2, 1.2))},
    "cut end": {"color": INK, "linewidth": 0.9, "linestyle": "-"},
    "straightened end": {"color": INK, "linewidth": 0.6, "linestyle": (0, (3, 2))},
    "spare": {"color": "#444444", "linewidth": 0.6, "linestyle": "-"},
    "page edge": {"color": "#444444", "linewidth": 0.8, "linestyle": (0, (1, 4))},
    "trim mark": {"color": INK, "linewidth": 0.5, "linestyle": "-"},
    "sheet edge": {"color": "#444444", "linewidth": 0.5, "linestyle": (0, (8, 5))},
    "test square": {"color": INK, "linewidth": 0.7, "linestyle": "-"},
    "map": {"color": "#444444", "linewidth": 0.3, "linestyle": "-"},
    "change of spread": {"color": ACCENT, "linewidth": 1.8, "linestyle": (0, (2.5, 1.2))},
    "flaw": {"color": INK, "linewidth": 1.0, "linestyle": (0, (2, 1))},
    "kept clear": {"color": INK, "linewidth": 0.6, "linestyle": (0, (0.8, 1.6))},
    "cut away": {"color": INK, "linewidth": 0.9, "linestyle": "-"},
    "left over": {"color": INK, "linewidth": 0.8, "linestyle": (0, (5, 2))},
    "tape": {"color": INK, "linewidth": 0.6, "linestyle": "-"},
    "tag leader": {"color": "#555555", "linewidth": 0.5, "linestyle": "-"},
    "leader": {"color": INK, "linewidth": 0.5, "linestyle": "-"},
}


@contextmanager
def drawing_settings() -> Iterator[None]:
    """Matplotlib's own defaults and ours for the time of drawing and saving; the caller's come back after."""
    import matplotlib

    with matplotlib.rc_context():
        matplotlib.rcdefaults()
        matplotlib.rcParams.update(
            {
                "font.family": FONT,
                "hatch.linewidth": 0.5,
                "pdf.fonttype": 42,  # letters stay letters: searchable, and copied as text
                "path.simplify": False,
            }
        )
        yield
