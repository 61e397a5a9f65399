"""Numbers that find no room in their piece: each stands on free cloth, with a line to the piece."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nesting.drawing.ink.blocks import ring_pt
from nesting.drawing.ink.labels import Box, Label
from nesting.drawing.ink.text import SMALLEST_PT
from nesting.geometry import FloatArray

__all__ = ["callouts"]


def callouts(
    wanted: Sequence[tuple[int, tuple[float, float]]],
    outlines: Sequence[FloatArray],
    taken: Sequence[Box],
    within: Box,
    mm_per_pt: float,
) -> tuple[Label, ...]:
    """A number on free ground for each piece too small to hold it, as near to its piece as may be.

    Parameters
    ----------
    wanted : sequence of (number, (x, y) inside the piece)
    outlines : sequence of (N, 2) float64 arrays, mm
        Pieces that no number may touch.
    taken : sequence of Box
        Words already there.
    within : Box
        The ground to look on.
    mm_per_pt : float

    Returns
    -------
    tuple of Label
        In the order wanted; a number for which there is no free ground at all is left out.
    """
    import shapely

    if not wanted:
        return ()
    rings = [ring_pt(number, SMALLEST_PT) for number, _ in wanted]
    side = max(width for width, _ in rings) * mm_per_pt
    x0, y0, x1, y1 = within
    grid = np.meshgrid(
        np.arange(x0 + side / 2, x1 - side / 2, side / 3), np.arange(y0 + side / 2, y1 - side / 2, side / 3)
    )
    places = np.column_stack([axis.ravel() for axis in grid])
    solid = [shapely.Polygon(outline).buffer(mm_per_pt) for outline in outlines]
    words = [shapely.box(*box) for box in taken]
    boxes = shapely.box(*(places - side / 2).T, *(places + side / 2).T)
    blocked = np.unique(shapely.STRtree([*solid, *words]).query(boxes, predicate="intersects")[0])
    places = np.delete(places, blocked, axis=0)
    labels: list[Label] = []
    for number, target in wanted:
        near = np.argsort(((places - target) ** 2).sum(axis=1), kind="stable")[:80]
        if not len(near):
            break
        leaders = shapely.linestrings(
            np.stack([np.broadcast_to(target, (len(near), 2)), places[near]], axis=1)
        )
        clear = ~shapely.intersects(leaders, shapely.MultiPolygon(words))
        x, y = places[near[clear][0] if clear.any() else near[0]].tolist()
        box = (x - side / 2, y - side / 2, x + side / 2, y + side / 2)
        words.append(shapely.box(*box))
        places = places[np.abs(places - (x, y)).max(axis=1) >= side]
        labels.append(Label(number, (x, y), (), (x, y), SMALLEST_PT, True, box, points_to=target))
    return tuple(labels)
