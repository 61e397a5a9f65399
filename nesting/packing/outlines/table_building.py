"""From a checked problem to the tables the kernels read: shapes, no-fit polygons, cells, position rules."""

from __future__ import annotations

import numpy as np

from nesting.geometry import FloatArray
from nesting.packing.outlines.grid import edge_columns, fill_grid
from nesting.packing.outlines.no_fit import no_fit, offset_ring, shrunk
from nesting.packing.outlines.position_rules import slack_mm, x_values, y_values
from nesting.packing.outlines.shapes import (
    IndexArray,
    IntArray,
    Shape,
    checked_ring,
    grid_of,
    make_shape,
    thinned,
)
from nesting.packing.outlines.tables import Layout, Tables
from nesting.packing.problem import Item, StripProblem, variant_outline

__all__ = ["build"]


def build(problem: StripProblem, scale: float | None = None) -> Layout:
    """Shapes, no-fit polygons and rules of a checked problem, on its own grid or `scale` units to a mm."""
    from shapely import MultiPoint

    rings = [checked_ring(item.outline, item.name) for item in problem.items]
    obstacles = [checked_ring(ring, f"obstacle {k + 1}") for k, ring in enumerate(problem.obstacles)]
    if scale is None:
        scale = grid_of(problem.width_mm, problem.gap_mm, rings + obstacles)
    shapes: list[Shape] = []
    variant_of: list[int] = []
    y_rules: list[FloatArray] = []
    x_rules: list[FloatArray] = []
    item_range: list[tuple[int, int]] = []
    for item, ring in zip(problem.items, rings, strict=True):
        first = len(shapes)
        for index, shape, x_rule, y_rule in _item_shapes(item, ring, problem.width_mm, scale):
            shapes.append(shape)
            variant_of.append(index)
            x_rules.append(x_rule)
            y_rules.append(y_rule)
        item_range.append((first, len(shapes)))
    moving_shapes = len(shapes)
    for k, ring in enumerate(obstacles):
        shapes.append(make_shape(ring, scale, thinned(ring), f"obstacle {k + 1}"))
        variant_of.append(0)
        y_rules.append(np.zeros(3))
        x_rules.append(np.array([0.0, 0.0, np.inf]))
    piece_item = np.repeat(np.arange(len(rings)), [item.demand for item in problem.items])
    piece_copy = np.concatenate([np.arange(item.demand) for item in problem.items])
    ranges = [item_range[i] for i in piece_item] + [(k, k + 1) for k in range(moving_shapes, len(shapes))]
    hull = [float(np.sqrt(MultiPoint(ring).convex_hull.area)) for ring in rings + obstacles]
    size = np.array([hull[i] for i in piece_item] + hull[len(rings) :])
    pair, sign, polygons = _no_fit_polygons(shapes, moving_shapes, problem.gap_mm * scale)
    tables = Tables(
        pair,
        sign,
        *_flat([[ring / scale for ring in rings] for rings in polygons]),
        half=np.array([shape.half for shape in shapes]),
        y_rule=np.array(y_rules),
        x_rule=np.array(x_rules),
        shapes=np.array(ranges, dtype=np.int64),
        size=size,
        width=float(problem.width_mm),
        tolerance=16.0 / scale,
        moving=len(piece_item),
        gap=float(problem.gap_mm),
    )
    return Layout(
        tables,
        np.array(variant_of),
        np.array([shape.centre for shape in shapes]),
        piece_item,
        piece_copy,
        np.array([shape.centre for shape in shapes[moving_shapes:]]).reshape(-1, 2),
        np.arange(moving_shapes, len(shapes)),
        scale,
    )


def _item_shapes(
    item: Item, ring: FloatArray, width: float, scale: float
) -> list[tuple[int, Shape, FloatArray, FloatArray]]:
    """Variants that fit the strip: index, shape, x and y rule; equal ones once, the first of them."""
    found: list[tuple[int, Shape, FloatArray, FloatArray]] = []
    seen = set()
    slack = slack_mm(width, scale)
    outer = thinned(ring)
    for index, variant in enumerate(item.variants):
        shape = make_shape(variant_outline(ring, variant), scale, variant_outline(outer, variant), item.name)
        on_x, on_y = item.lattices(variant)
        y_rule = y_values(shape.half[1], shape.centre[1], width, item.edge, on_y, slack)
        if y_rule is None:
            continue
        x_rule = x_values(shape.half[0], shape.centre[0], on_x, slack, item.x_window_mm)
        if x_rule is None:
            continue
        free = on_x is None and on_y is None
        mark = (shape.key, shape.flip) if free else (shape.key, shape.flip, *x_rule, *y_rule)
        if mark not in seen:
            seen.add(mark)
            found.append((index, shape, x_rule, y_rule))
    return found


def _no_fit_polygons(
    shapes: list[Shape], moving: int, gap_units: float
) -> tuple[IntArray, FloatArray, list[list[FloatArray]]]:
    """One no-fit polygon for each pair of canonical outlines and relative flip, and how to read it."""
    keys = sorted({shape.key for shape in shapes})
    number = {key: k for k, key in enumerate(keys)}
    canon = {number[shape.key]: shape.canon for shape in shapes}
    fixed = {k: _grown(ring, gap_units) for k, ring in canon.items()}
    known: dict[tuple[int, int, int, int], int] = {}
    polygons: list[list[FloatArray]] = []
    pair = np.full((len(shapes), len(shapes)), -1, dtype=np.int64)
    sign = np.ones((len(shapes), len(shapes), 2))
    for row, a in enumerate(shapes):
        for column, b in enumerate(shapes):
            if row >= moving and column >= moving:
                continue
            one, other = number[a.key], number[b.key]
            e = (a.flip[0] * b.flip[0], a.flip[1] * b.flip[1])
            # a - b = flip_a (one - e other) and, e being its own inverse, one - e other = -e (other - e one)
            turn = np.array(a.flip, dtype=np.float64)
            if one > other:
                one, other = other, one
                turn = -turn * np.array(e)
            name = (one, other, *e)
            if name not in known:
                known[name] = len(polygons)
                second = canon[other] * np.array(e)
                if e[0] * e[1] < 0:
                    second = second[::-1]
                polygons.append(no_fit(fixed[one], second))
            pair[row, column] = known[name]
            sign[row, column] = turn
    return pair, sign, polygons


def _grown(ring: IntArray, gap_units: float) -> IntArray:
    """The fixed part of a pair: a hair smaller for exact fits, or larger by the gap."""
    return offset_ring(ring, gap_units) if gap_units > 0 else shrunk(ring)


def _flat(
    polygons: list[list[FloatArray]],
) -> tuple[FloatArray, IndexArray, FloatArray, FloatArray, IntArray, IndexArray, IndexArray, FloatArray]:
    """Boxes, edges and cell grids of the no-fit polygons (mm), one after the other."""
    boxes, counts, edges = [], [0], []
    for rings in polygons:
        points = np.concatenate(rings)
        boxes.append([*points.min(axis=0), *points.max(axis=0)])
        columns = [edge_columns(ring) for ring in rings]
        edges.extend(columns)
        counts.append(sum(len(part) for part in columns))
    edge_first = np.cumsum(counts).astype(np.uint64)
    edge = np.concatenate(edges)
    box = np.array(boxes)
    span = box[:, 2:] - box[:, :2]
    wanted = np.clip(4 * np.diff(edge_first.astype(np.int64)), 64, 1024)
    columns_n = np.clip(np.sqrt(wanted * span[:, 0] / span[:, 1]), 2, 128).astype(np.int64)
    rows_n = np.clip(wanted / columns_n, 2, 128).astype(np.int64)
    cell_total = np.cumsum(np.concatenate([[0], columns_n * rows_n]))
    cells = np.column_stack([columns_n, rows_n, cell_total[:-1]])
    grid = np.column_stack([box[:, :2], columns_n / span[:, 0], rows_n / span[:, 1]])
    cell_first = np.zeros(cell_total[-1] + 1, dtype=np.uint64)
    cell_edge = np.zeros(0, dtype=np.uint64)
    cell_least = np.zeros(cell_total[-1])
    every, away = np.arange(len(edge), dtype=np.uint64), np.empty(len(edge))
    used = fill_grid(edge_first, edge, grid, cells, cell_first, cell_edge, cell_least, every, away)
    cell_edge = np.zeros(used, dtype=np.uint64)
    fill_grid(edge_first, edge, grid, cells, cell_first, cell_edge, cell_least, every, away)
    return box, edge_first, edge, grid, cells, cell_first, cell_edge, cell_least
