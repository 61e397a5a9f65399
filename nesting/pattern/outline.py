"""What can be wrong with a piece as drawn: every fault of one piece, found at once.

Faults build on one another: only an outline that chains is asked whether it crosses itself, and only
one with an inside is asked what lies outside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely

from nesting.geometry import FloatArray, next_ones
from nesting.pattern.edges import distinct_points, edge_length_mm, extent_mm, outline_ring
from nesting.pattern.faults import (
    AllowanceBelowNothing,
    AllowanceOverHalf,
    AllowanceTooWide,
    Carried,
    Crossing,
    EdgeOfNoLength,
    EdgeTwice,
    Gap,
    NoArea,
    NoEdges,
    NotchOffEdge,
    NotchWithoutEdge,
    NotSimple,
    PieceFault,
    PointOutside,
)
from nesting.pattern.fold_check import fold_faults, place_of
from nesting.pattern.piece import Edge, Piece

__all__ = ["JOIN_TOLERANCE_MM", "MAX_ALLOWANCE_MM", "OUTLINE_TOLERANCE_MM", "piece_faults"]

JOIN_TOLERANCE_MM = 0.01
"""Edges whose ends are further apart do not chain; an edge shorter than this has no length."""

OUTLINE_TOLERANCE_MM = 2.0
"""How far a notch may lie off the outline, a dart or mark outside it: two readings with a set square."""

MAX_ALLOWANCE_MM = 200.0
"""No seam and no hem is wider."""

MIN_AREA_MM2 = 1.0

MOST_CROSSINGS = 12
"""Of a piece; a tangle has thousands, and all come from the same few points."""


def piece_faults(piece: Piece) -> tuple[PieceFault, ...]:
    """Find everything wrong with a piece.

    Returns
    -------
    tuple of PieceFault
        Empty when `nesting.pattern.shaping.cut_shape` can cut the piece.
    """
    faults = [*_name_faults(piece), *_edge_faults(piece)]
    if faults and not all(_has_length(edge) for edge in piece.edges):
        return tuple(faults)
    piece = replace(piece, edges=distinct_points(piece.edges))
    gaps = list(_gaps(piece))
    faults += gaps
    has_inside = False
    if not gaps and piece.edges:
        found = list(_inside_faults(piece))
        faults += found
        has_inside = not found
    faults += fold_faults(piece, has_inside=has_inside)
    faults += _notch_faults(piece)
    if has_inside:
        faults += _mark_faults(piece)
    return tuple(faults)


def _has_length(edge: Edge) -> bool:
    return len(edge.vertices) >= 2 and edge_length_mm(edge.vertices) > JOIN_TOLERANCE_MM


def _name_faults(piece: Piece) -> Iterator[PieceFault]:
    if not piece.edges:
        yield NoEdges()
    names = [edge.name for edge in piece.edges]
    for name in dict.fromkeys(names):
        if (times := names.count(name)) > 1:
            yield EdgeTwice(name, times)


def _edge_faults(piece: Piece) -> Iterator[PieceFault]:
    for edge in piece.edges:
        if not _has_length(edge):
            yield EdgeOfNoLength(edge.name)
        if edge.name == piece.on_fold:
            continue
        allowance = edge.allowance_mm
        if not allowance >= 0:
            yield AllowanceBelowNothing(edge.name, allowance)
        elif allowance > MAX_ALLOWANCE_MM:
            yield AllowanceTooWide(edge.name, allowance, MAX_ALLOWANCE_MM)
        elif allowance > (size := extent_mm(piece)) / 2:
            yield AllowanceOverHalf(edge.name, allowance, size)


def _gaps(piece: Piece) -> Iterator[PieceFault]:
    for edge, following in pairwise([*piece.edges, *piece.edges[:1]]):
        end, begin = edge.vertices[-1], following.vertices[0]
        gap = float(np.linalg.norm(begin - end))
        if gap > JOIN_TOLERANCE_MM:
            closing = following is piece.edges[0]
            yield Gap(edge.name, place_of(end), following.name, place_of(begin), gap, closing)


def _inside_faults(piece: Piece) -> Iterator[PieceFault]:
    """The outline crosses itself, or has no inside."""
    ring = outline_ring(piece.edges)
    if len(ring) < 3 or shapely.MultiPoint(ring).convex_hull.area < MIN_AREA_MM2:
        yield NoArea()
        return
    if shapely.Polygon(ring).is_valid:
        return
    crossings = list(_crossings(piece))
    for first, second, at in crossings:
        yield Crossing(first, second, place_of(at))
    if not crossings:
        yield NotSimple(shapely.is_valid_reason(shapely.Polygon(ring)))


def _crossings(piece: Piece) -> Iterator[tuple[str, str, FloatArray]]:
    """Pairs of edges that meet where they should not, each with the places, one apiece."""
    ring = outline_ring(piece.edges)
    names = [edge.name for edge in piece.edges for _ in edge.vertices[1:]]
    ends = next_ones(ring)
    count = len(ring)
    segments = np.asarray(shapely.linestrings(np.stack([ring, ends], axis=1)))
    first, second = shapely.STRtree(segments).query(segments, predicate="intersects")
    order = np.lexsort((second, first))
    first, second = first[order], second[order]
    first, second = first[first < second], second[first < second]
    met = shapely.intersection(segments[first], segments[second])
    # Neighbours share a point; more than that means that the second runs back along the first.
    neighbours = (second - first == 1) | (second - first == count - 1)
    faulty = ~(neighbours & (shapely.get_type_id(met) == 0))
    told: set[tuple[str, str, float, float]] = set()
    for i, j, place in zip(first[faulty], second[faulty], met[faulty], strict=True):
        at = shapely.get_coordinates(place).mean(axis=0)
        key = (names[i], names[j], round(float(at[0]), 1), round(float(at[1]), 1))
        if key not in told and len(told) < MOST_CROSSINGS:
            told.add(key)
            yield names[i], names[j], at


def _notch_faults(piece: Piece) -> Iterator[PieceFault]:
    lines = {edge.name: shapely.LineString(edge.vertices) for edge in piece.edges}
    for notch in piece.notches:
        if notch.edge not in lines:
            yield NotchWithoutEdge(notch.name, notch.edge, tuple(lines))
            continue
        place = shapely.Point(notch.at)
        off = float(lines[notch.edge].distance(place))
        if not off <= OUTLINE_TOLERANCE_MM:
            others = [name for name, line in lines.items() if line.distance(place) <= OUTLINE_TOLERANCE_MM]
            yield NotchOffEdge(notch.name, notch.edge, notch.at, off, others[0] if others else "")


def _mark_faults(piece: Piece) -> Iterator[PieceFault]:
    inside = shapely.Polygon(outline_ring(piece.edges))
    carried = [(Carried.DART, dart.name, dart.legs_and_tip) for dart in piece.darts]
    for kind, name, points in [*carried, *((Carried.MARK, mark.name, mark.points) for mark in piece.marks)]:
        for point in points:
            off = float(inside.distance(shapely.Point(point)))
            if not off <= OUTLINE_TOLERANCE_MM:
                yield PointOutside(kind, name, point, off)
