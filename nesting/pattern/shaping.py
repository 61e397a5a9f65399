"""From a paper piece to the shape that is cut: allowances added, grain along the cloth, marks kept."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from nesting.geometry import FloatArray
from nesting.pattern.allowance import MITRE_LIMIT, cut_outline, without_collinear
from nesting.pattern.cut_shape import NOTCH_DEPTH_MM, CutShape, Feature, FeatureKind, Seam
from nesting.pattern.edges import counter_clockwise_edges, outline_ring
from nesting.pattern.laid_by import corners_of, far_corners, lengthened
from nesting.pattern.piece import Dart, Edge, GrainLine, Mark, Notch, Piece

__all__ = ["GRAIN_SHARE", "SYMMETRY_TOLERANCE_MM", "cut_shape"]

SYMMETRY_TOLERANCE_MM = 1.0
"""Left and right that differ by no more than this are taken for the same."""

_MARKED = {FeatureKind.NOTCH, FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH}
"""What makes a left differ from a right although the outline does not."""

GRAIN_SHARE = 0.6
"""Length of the grain line drawn, as a share of the piece's extent along the grain."""

GRAIN_CLEAR_MM = 5.0
"""A grain line of the paper's own is taken over when it keeps this far from the outline."""
GRAIN_LINES_TRIED = 41
GRAIN_MARGIN = 0.05
"""Share of the room inside that is kept free at each end of the grain line."""


@lru_cache(maxsize=1024)  # asked for at every turn: to plan, to check the fit, to verify each better lay
def cut_shape(piece: Piece) -> CutShape:
    """Work out the shape to cut.

    Parameters
    ----------
    piece : Piece
        Free of the faults that `nesting.pattern.outline.piece_faults` finds.

    Returns
    -------
    CutShape
        In cloth coordinates: the top of the grain towards +x, paper face up, the box about the cut line
        from (0, 0). A fold edge is exactly parallel to x, at the least or the greatest y of the cut line;
        it is the whole stretch of the cut line on the fold, allowances of its neighbours included, and
        runs towards +x.
        Features come in the order stitching line, notches, darts, marks, matching points, grain line,
        corners to lay by, fold line.

    Raises
    ------
    InvalidShape
        When the outline crosses itself or has no inside.
    """
    piece, base, matrix = _along_cloth(piece)
    edges = counter_clockwise_edges(piece.edges)
    if _is_cut_as_drawn(edges, piece.on_fold):
        cut_line = without_collinear(outline_ring(edges), fold_y=None if piece.on_fold is None else 0.0)
    else:
        cut_line = cut_outline(edges, on_fold=piece.on_fold)
    fold_edge = None if piece.on_fold is None else _fold_stretch(cut_line, piece.edge(piece.on_fold))
    ring = shapely.LinearRing(cut_line)
    free = ring if fold_edge is None else shapely.line_merge(ring.difference(shapely.LineString(fold_edge)))
    notches = tuple(_notch(one, edges, ring if one.edge == piece.on_fold else free) for one in piece.notches)
    outline = outline_ring(edges)
    whole = cut_line if fold_edge is None else np.concatenate([cut_line, cut_line * [1.0, -1.0]])
    grain = lengthened(_grain_line(outline, piece.grain_line), outline, whole)
    corners = far_corners(grain, corners_of(piece.edges), whole)
    features = [
        *(() if piece.allowance_included else (_stitching(edges, piece.on_fold),)),
        *notches,
        *(Feature(FeatureKind.DART, dart.name, np.array(dart.legs_and_tip)) for dart in piece.darts),
        *(Feature(FeatureKind.MARK, mark.name, np.array(mark.points)) for mark in piece.marks),
        *(Feature(FeatureKind.MATCH, mark.name, np.array(mark.points)) for mark in piece.matching),
        Feature(FeatureKind.GRAIN, "grain", grain),
        *(Feature(FeatureKind.CORNER, name, np.array([at])) for name, at in corners.items()),
    ]
    if fold_edge is not None:
        features.append(Feature(FeatureKind.FOLD, piece.on_fold or "", fold_edge))
    symmetric = _is_symmetric(cut_line, [f.vertices for f in features if f.kind in _MARKED])
    # The turn is undone by the transposed matrix.
    on_paper = grain @ matrix + base
    seams = tuple(
        Seam(edge.name, edge.allowance_mm, edge.vertices)
        for edge in edges
        if edge.name != piece.on_fold and (edge.allowance_mm or not piece.allowance_included)
    )
    drawn = None if symmetric or fold_edge is not None else piece.drawn
    shape = CutShape(piece.name, cut_line, tuple(features), fold_edge, symmetric, on_paper, seams, drawn)
    return shape.transformed(np.eye(2), -cut_line.min(axis=0))


def _along_cloth(piece: Piece) -> tuple[Piece, FloatArray, FloatArray]:
    """The piece turned so that its grain points along +x; a fold edge is laid exactly on y = 0.

    Also the point about which it was turned, (2,), and the (2, 2) matrix that turned it.
    """
    turn = -math.radians(piece.grain_deg)
    base = np.zeros(2)
    if piece.on_fold is not None:
        # The fold edge, which is as good as parallel to the grain, is what will lie along the cloth.
        fold = piece.edge(piece.on_fold).vertices
        base = fold[0]
        run = math.atan2(*(fold[-1] - base)[::-1])
        turn = -run if math.cos(run + turn) > 0 else math.pi - run
    # Rounded, so that a quarter turn is one exactly.
    c, s = round(math.cos(turn), 15), round(math.sin(turn), 15)
    matrix = np.array([[c, -s], [s, c]])

    def turned(points: FloatArray | tuple[tuple[float, float], ...]) -> FloatArray:
        return np.asarray((np.asarray(points, dtype=np.float64) - base) @ matrix.T)

    def pair(point: FloatArray) -> tuple[float, float]:
        return float(point[0]), float(point[1])

    edges = [replace(edge, vertices=turned(edge.vertices)) for edge in piece.edges]
    if piece.on_fold is not None:
        _lay_on_fold(edges, piece.on_fold)
    foot, top = turned(piece.grain_line or ((0.0, 0.0), (0.0, 0.0)))
    along = replace(
        piece,
        edges=tuple(edges),
        grain_deg=0.0,
        grain_line=None if piece.grain_line is None else (pair(foot), pair(top)),
        notches=tuple(replace(n, at=pair(turned((n.at,))[0])) for n in piece.notches),
        darts=tuple(_turned_dart(dart, turned(dart.legs_and_tip)) for dart in piece.darts),
        marks=tuple(Mark(m.name, tuple(pair(p) for p in turned(m.points))) for m in piece.marks),
        matching=tuple(Mark(m.name, tuple(pair(p) for p in turned(m.points))) for m in piece.matching),
    )
    return along, base, matrix


def _turned_dart(dart: Dart, points: FloatArray) -> Dart:
    leg, tip, other = ((float(x), float(y)) for x, y in points)
    return Dart(dart.name, (leg, tip, other))


def _lay_on_fold(edges: list[Edge], on_fold: str) -> None:
    """Put y = 0 exactly on the fold edge and on the ends of its neighbours; `edges` are our own copies."""
    at = next(i for i, edge in enumerate(edges) if edge.name == on_fold)
    edges[at].vertices[:, 1] = 0.0
    edges[at - 1].vertices[-1, 1] = 0.0
    edges[(at + 1) % len(edges)].vertices[0, 1] = 0.0


def _is_cut_as_drawn(edges: tuple[Edge, ...], on_fold: str | None) -> bool:
    """Whether nothing is added to the outline, nor taken off where it strays over the fold line."""
    over = 0.0
    if on_fold is not None:
        across = outline_ring(edges)[:, 1]
        over = min(across.max(), -across.min())
    return over <= 0 and not any(edge.allowance_mm for edge in edges if edge.name != on_fold)


def _fold_stretch(cut_line: FloatArray, fold: Edge) -> FloatArray:
    """The stretch of the cut line on the fold, towards +x."""
    y = float(fold.vertices[0, 1])
    on_line = cut_line[cut_line[:, 1] == y, 0]
    return np.array([[on_line.min(), y], [on_line.max(), y]])


def _stitching(edges: tuple[Edge, ...], on_fold: str | None) -> Feature:
    """The outline as drawn: closed, or, on a fold, open from one end of the fold edge round to the other."""
    if on_fold is None:
        ring = outline_ring(edges)
        return Feature(FeatureKind.STITCHING, "stitching line", np.vstack([ring, ring[:1]]))
    at = next(i for i, edge in enumerate(edges) if edge.name == on_fold)
    rest = (*edges[at + 1 :], *edges[:at])
    run = np.vstack([outline_ring(rest), rest[-1].vertices[-1:]])
    return Feature(FeatureKind.STITCHING, "stitching line", run)


def _notch(notch: Notch, edges: tuple[Edge, ...], cut_line: BaseGeometry) -> Feature:
    """Move a notch from the stitching line straight out to the cut line.

    The stretch on the fold is no part of that: nothing is cut there.
    """
    edge = next(edge for edge in edges if edge.name == notch.edge)
    run = shapely.LineString(edge.vertices)
    station = float(run.project(shapely.Point(notch.at)))
    # Direction of travel over a millimetre to each side, so that a vertex of a curve has one too.
    stations = np.clip([station - 1.0, station, station + 1.0], 0.0, run.length)
    behind, at, ahead = shapely.get_coordinates(shapely.line_interpolate_point(run, stations))
    along = (ahead - behind) / np.hypot(*(ahead - behind))
    outward = np.array([along[1], -along[0]])
    reach = MITRE_LIMIT * max(e.allowance_mm for e in edges) + 1.0
    ray = shapely.LineString([at - 0.01 * outward, at + reach * outward])
    met = shapely.get_coordinates(shapely.intersection(ray, cut_line))
    if len(met):
        on_cut = met[np.argmin(np.linalg.norm(met - at, axis=1))]
    else:  # The way out is trimmed off (a notch right at a corner): the nearest place on the cut line.
        on_cut = shapely.get_coordinates(cut_line.interpolate(cut_line.project(shapely.Point(at))))[0]
    return Feature(FeatureKind.NOTCH, notch.name, np.array([on_cut, on_cut - NOTCH_DEPTH_MM * outward]))


def _grain_line(outline: FloatArray, drawn: GrainLine | None) -> FloatArray:
    """A line along x, from foot to top.

    The one on the paper, where that lies well inside; else as long as wanted if there is room, and as far
    inside as possible.
    """
    polygon = shapely.Polygon(outline)
    if drawn is not None and polygon.buffer(-GRAIN_CLEAR_MM).covers(shapely.LineString(drawn)):
        return np.array(drawn)
    left, low, right, high = polygon.bounds
    wanted = GRAIN_SHARE * (right - left)
    best = (-1.0, 0.0, 0.0)
    found = np.zeros((2, 2))
    for y in np.linspace(low, high, GRAIN_LINES_TRIED + 2)[1:-1]:
        chords = polygon.intersection(shapely.LineString([(left - 1, y), (right + 1, y)]))
        for chord in shapely.get_parts(chords):
            if chord.is_empty:  # of an outline with coordinates near the least number there is
                continue
            start, _, end, _ = chord.bounds
            length = min(wanted, (1 - 2 * GRAIN_MARGIN) * (end - start))
            middle = (start + end) / 2
            line = np.array([[middle - length / 2, y], [middle + length / 2, y]])
            clear = float(polygon.boundary.distance(shapely.LineString(line)))
            # Length first, in steps of a twentieth of what is wanted; then room about it; then the middle.
            score = (float(round(20 * length / wanted)), round(clear, 3), -abs(y - (low + high) / 2))
            if score > best:
                best, found = score, line
    return found


def _is_symmetric(cut_line: FloatArray, marked: list[FloatArray]) -> bool:
    """Whether the outline, and all that is marked on it, is its own mirror image across the grain."""
    middle = (cut_line[:, 1].min() + cut_line[:, 1].max()) / 2
    flip = np.array([1.0, -1.0])
    ring = cut_line - [0.0, middle]
    line = shapely.LinearRing(ring)
    if not line.buffer(SYMMETRY_TOLERANCE_MM).covers(shapely.LinearRing(ring * flip)):
        return False
    places = np.concatenate([np.empty((0, 2)), *marked]) - [0.0, middle]
    gaps = np.linalg.norm(places[:, None] - places * flip, axis=2)
    return not len(places) or bool((gaps.min(axis=1) <= SYMMETRY_TOLERANCE_MM).all())
