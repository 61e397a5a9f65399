"""How a grain line is drawn: a full head at the top, and at the foot a sign that cannot be taken for it.

Trade drawings put a head at both ends where a piece may lie either way up. Here the two ends have to be
told apart as well, for each is placed by its own distances; at a small scale two kinds of head look alike.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.drawing.ink.pen import Pen

__all__ = ["draw_grain"]

_RING_PT = 4.6
_BAR_PT = 6.5


def draw_grain(pen: Pen, foot: Sequence[float], top: Sequence[float], gid: str, *, either_way: bool) -> None:
    """A line with a head at its top, and at its foot a ring if it may be turned end for end, else a bar."""
    pen.arrow(foot, top, "grain line", gid)
    start, end = np.asarray(foot, dtype=np.float64), np.asarray(top, dtype=np.float64)
    along = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
    if either_way:
        pen.circle((float(start[0]), float(start[1])), _RING_PT, "grain line", f"{gid}-foot-ring")
    else:
        arm = np.array([-along[1], along[0]]) * _BAR_PT * pen.mm_per_pt / 2
        pen.line(np.array([start - arm, start + arm]), "grain line", f"{gid}-foot-bar")
