"""Pushing all pieces apart at once."""

from __future__ import annotations

import numpy as np

from nesting.packing import Item, StripProblem
from nesting.packing.kernels.settle import settle
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])


def row_of(count: int) -> StripProblem:
    return checked(StripProblem(10.0, (Item("square", SQUARE, count),)))


def test_a_row_is_pushed_apart_to_the_end_of_the_strip() -> None:
    tables = build(row_of(4)).tables
    xy = np.column_stack([[5.0, 14.0, 23.0, 32.0], np.full(4, 5.0)])
    assert settle(tables, xy, np.zeros(4, dtype=np.int64), 41.0, np.zeros(1, dtype=np.int64))
    assert (np.diff(xy[:, 0]) > 10.0 - 1e-6).all()
    assert xy[:, 0].max() <= 36.0


def test_what_does_not_fit_is_not_called_free() -> None:
    tables = build(row_of(4)).tables
    xy = np.column_stack([[5.0, 14.0, 23.0, 32.0], np.full(4, 5.0)])
    assert not settle(tables, xy, np.zeros(4, dtype=np.int64), 39.0, np.zeros(1, dtype=np.int64))
