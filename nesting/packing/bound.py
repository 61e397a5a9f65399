"""A length that no lay can beat, proven."""

from __future__ import annotations

import numpy as np

from nesting.geometry import signed_area
from nesting.packing.problem import EdgeRule, StripProblem
from nesting.packing.tables import Tables

__all__ = ["lower_bound"]


def lower_bound(problem: StripProblem, tables: Tables) -> float:
    """The greatest of several lengths, each of which every lay must reach.

    Proof
    -----
    *Area.* Items do not overlap, so those on a strip of length L have an area of at most ``L * width``.
    *One item.* Each lies inside the strip: its least extent along x over the variants that fit, or on a lattice
    the least allowed x plus that.
    """
    area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
    ends = tables.x_rule[:, 0] + tables.half[:, 0]
    single = max((float(ends[a:b].min()) for a, b in tables.shapes[: tables.moving]), default=0.0)
    _ = (np, EdgeRule)
    return max(area / problem.width_mm, single) * (1 - 1e-9)
