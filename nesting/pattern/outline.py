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

from nesting.errors import Mistake
from nesting.geometry import FloatArray
from nesting.pattern.edges import distinct_points, edge_length_mm, extent_mm, outline_ring
from nesting.pattern.fold_check import fold_mistakes
from nesting.pattern.piece import Edge, Piece
from nesting.units import Unit, format_length, format_point

__all__ = ["JOIN_TOLERANCE_MM", "MAX_ALLOWANCE_MM", "OUTLINE_TOLERANCE_MM", "piece_mistakes"]

JOIN_TOLERANCE_MM = 0.01
"""Edges whose ends are further apart do not chain; an edge shorter than this has no length."""

OUTLINE_TOLERANCE_MM = 2.0
"""How far a notch may lie off the outline, a dart or mark outside it: two readings with a set square."""

MAX_ALLOWANCE_MM = 200.0
"""No seam and no hem is wider."""

MIN_AREA_MM2 = 1.0


def piece_mistakes(piece: Piece, where: str, *, unit: Unit = Unit.MM) -> tuple[Mistake, ...]:
    """Find everything wrong with a piece.

    Parameters
    ----------
    piece : Piece
    where : str
        What comes before the piece's name in each mistake: the file.
    unit : Unit
        What places on the paper are told in; how far something is off is told in mm.

    Returns
    -------
    tuple of Mistake
        Empty when `nesting.pattern.shaping.cut_shape` can cut the piece.
    """
    here = f"{where}, piece {piece.name!r}"
    mistakes = [*_name_mistakes(piece, here), *_edge_mistakes(piece, here, unit)]
    if mistakes and not all(_has_length(edge) for edge in piece.edges):
        return tuple(mistakes)
    piece = replace(piece, edges=distinct_points(piece.edges))
    gaps = list(_gap_mistakes(piece, here, unit))
    mistakes += gaps
    has_inside = False
    if not gaps and piece.edges:
        faults = list(_inside_mistakes(piece, here, unit))
        mistakes += faults
        has_inside = not faults
    mistakes += fold_mistakes(piece, here, has_inside=has_inside, unit=unit)
    mistakes += _notch_mistakes(piece, here, unit)
    if has_inside:
        mistakes += _mark_mistakes(piece, here, unit)
    return tuple(mistakes)


def _has_length(edge: Edge) -> bool:
    return len(edge.vertices) >= 2 and edge_length_mm(edge.vertices) > JOIN_TOLERANCE_MM


def _name_mistakes(piece: Piece, here: str) -> Iterator[Mistake]:
    if not piece.edges:
        yield Mistake(here, "There are no edges.", "Write the outline down, edge by edge.")
    names = [edge.name for edge in piece.edges]
    for name in dict.fromkeys(names):
        if (times := names.count(name)) > 1:
            yield Mistake(
                f"{here}, edge {name!r}",
                f"{times} edges have this name.",
                "Give each edge a name of its own.",
            )


def _edge_mistakes(piece: Piece, here: str, unit: Unit) -> Iterator[Mistake]:
    for edge in piece.edges:
        at = f"{here}, edge {edge.name!r}"
        if not _has_length(edge):
            yield Mistake(
                at, "The edge has no length.", "Give it at least two different points, or leave it out."
            )
        if edge.name == piece.on_fold:
            continue
        allowance = edge.allowance_mm
        told = format_length(allowance, unit) if np.isfinite(allowance) else str(allowance)
        if not allowance >= 0:
            yield Mistake(
                at,
                f"The seam allowance is {told}.",
                "Write 0 or more; 0 is for an edge that is cut as drawn.",
            )
        elif allowance > MAX_ALLOWANCE_MM:
            yield Mistake(
                at,
                f"The seam allowance is {told}, more than {format_length(MAX_ALLOWANCE_MM, unit)}.",
                "Check the number and its unit.",
            )
        elif allowance > (size := extent_mm(piece)) / 2:
            yield Mistake(
                at,
                f"The seam allowance, {told}, is more than half the piece, {format_length(size, unit)}.",
                "Check the number and its unit.",
            )


def _gap_mistakes(piece: Piece, here: str, unit: Unit) -> Iterator[Mistake]:
    for edge, following in pairwise([*piece.edges, *piece.edges[:1]]):
        end, begin = edge.vertices[-1], following.vertices[0]
        gap = float(np.linalg.norm(begin - end))
        if gap <= JOIN_TOLERANCE_MM:
            continue
        if following is piece.edges[0]:
            what = f"The outline is not closed: this last edge ends at {format_point(end, unit)}, the first"
        else:
            what = f"The edge ends at {format_point(end, unit)}, the next"
        yield Mistake(
            f"{here}, edge {edge.name!r}",
            f"{what}, {following.name!r}, begins at {format_point(begin, unit)}, {gap:.1f} mm away.",
            "Begin each edge at the point where the one before ended, all the way round.",
        )


def _inside_mistakes(piece: Piece, here: str, unit: Unit) -> Iterator[Mistake]:
    """The outline crosses itself, or has no inside."""
    ring = outline_ring(piece.edges)
    if len(ring) < 3 or shapely.MultiPoint(ring).convex_hull.area < MIN_AREA_MM2:
        yield Mistake(
            here,
            "The outline has no area: its points lie on one line.",
            "Check the points; x is first, then y.",
        )
        return
    if shapely.Polygon(ring).is_valid:
        return
    crossings = list(_crossings(piece))
    for first, second, place in crossings:
        spot = format_point(place, unit)
        if first == second:
            what = f"The edge crosses or touches itself at {spot}."
        else:
            what = f"The edge crosses or touches edge {second!r} at {spot}."
        yield Mistake(
            f"{here}, edge {first!r}",
            what,
            "Check the points near there and the order in which they are joined.",
        )
    if not crossings:
        reason = shapely.is_valid_reason(shapely.Polygon(ring))
        yield Mistake(here, f"The outline is not a simple one ({reason}).", "Check the points near there.")


def _crossings(piece: Piece) -> Iterator[tuple[str, str, FloatArray]]:
    """Pairs of edges that meet where they should not, each with the places, one apiece."""
    ring = outline_ring(piece.edges)
    names = [edge.name for edge in piece.edges for _ in edge.vertices[1:]]
    ends = np.roll(ring, -1, axis=0)
    count = len(ring)
    segments = np.array([shapely.LineString(pair) for pair in zip(ring, ends, strict=True)])
    first, second = np.triu_indices(count, 1)
    met = shapely.intersection(segments[first], segments[second])
    # Neighbours share a point; more than that means that the second runs back along the first.
    neighbours = (second - first == 1) | (second - first == count - 1)
    faulty = ~shapely.is_empty(met) & ~(neighbours & (shapely.get_type_id(met) == 0))
    told: set[tuple[str, str, float, float]] = set()
    for i, j, place in zip(first[faulty], second[faulty], met[faulty], strict=True):
        at = shapely.get_coordinates(place).mean(axis=0)
        key = (names[i], names[j], round(float(at[0]), 1), round(float(at[1]), 1))
        if key not in told:
            told.add(key)
            yield names[i], names[j], at


def _notch_mistakes(piece: Piece, here: str, unit: Unit) -> Iterator[Mistake]:
    lines = {edge.name: shapely.LineString(edge.vertices) for edge in piece.edges}
    for notch in piece.notches:
        at = f"{here}, notch {notch.name!r}"
        if notch.edge not in lines:
            yield Mistake(
                at,
                f"There is no edge {notch.edge!r}.",
                f"The edges are {', '.join(repr(name) for name in lines)}.",
            )
            continue
        place = shapely.Point(notch.at)
        off = float(lines[notch.edge].distance(place))
        if not off <= OUTLINE_TOLERANCE_MM:
            others = [name for name, line in lines.items() if line.distance(place) <= OUTLINE_TOLERANCE_MM]
            yield Mistake(
                f"{here}, edge {notch.edge!r}, notch {notch.name!r}",
                f"The notch at {format_point(notch.at, unit)} is {off:.1f} mm off the edge.",
                f"It lies on edge {others[0]!r}: name that one." if others else "Put it on the outline.",
            )


def _mark_mistakes(piece: Piece, here: str, unit: Unit) -> Iterator[Mistake]:
    inside = shapely.Polygon(outline_ring(piece.edges))
    carried = [("dart", dart.name, dart.legs_and_tip) for dart in piece.darts]
    for kind, name, points in [*carried, *(("mark", mark.name, mark.points) for mark in piece.marks)]:
        for point in points:
            off = float(inside.distance(shapely.Point(point)))
            if not off <= OUTLINE_TOLERANCE_MM:
                yield Mistake(
                    f"{here}, {kind} {name!r}",
                    f"Its point {format_point(point, unit)} lies {off:.1f} mm outside the outline.",
                    "Check the point; marks lie on the outline or inside it.",
                )
