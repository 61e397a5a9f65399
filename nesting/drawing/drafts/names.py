"""What is written beside a piece: names of points, edges, notches, darts, marks; numbers of doubts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from nesting.doubts.kinds import DoubtKind, LargePiece, OddCloth, SlightShrinkage, SmallPieces
from nesting.drawing.ink.tags import Spot, Tag
from nesting.drawing.ink.text import SMALLEST_PT, wrapped
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.pattern.edges import edge_length_mm
from nesting.pattern.piece import Edge, Piece
from nesting.units import Unit, format_length
from nesting.words.allowances import allowance_tag

__all__ = ["DOUBT_PT", "doubt_tags", "edge_tags", "mark_tags", "notch_tags", "point_tags"]

DOUBT_PT = 8.0
_ALONG = (0.5, 0.38, 0.62, 0.26, 0.74, 0.14, 0.86)
"""Where along an edge its tag may stand."""
_CLEAR_MM = 1.0
_WIDEST_PT = 54.0
"""Of a line of a name: about as wide as the length of an edge."""
_NAMED_INSIDE = (FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH)


def doubt_tags(piece: Piece, doubts: Sequence[tuple[int, DoubtKind]]) -> Iterator[Tag]:
    """The number of each doubt, at its place."""
    for number, kind in doubts:
        match kind:
            case LargePiece() | SmallPieces() | OddCloth() | SlightShrinkage():
                continue
        place = getattr(kind, "at", None)
        if place is None:
            place = _along(piece.edge(kind.edge).vertices, 0.5)[0]
        yield Tag((str(number),), (Spot(place),), inside=False, size_pt=DOUBT_PT, ringed=True)


def point_tags(piece: Piece) -> Iterator[Tag]:
    """The name of every point of the file, those of the outline first."""
    if piece.draft is None:
        return
    named = dict.fromkeys(name for walk in piece.draft.walks for name in walk.through)
    for name in dict.fromkeys((*named, *piece.draft.points)):
        yield Tag((name,), (Spot(piece.draft.points[name]),), inside=True)


def edge_tags(piece: Piece, shape: CutShape, unit: Unit) -> Iterator[Tag]:
    """Name, length and allowance of every edge, outside it."""
    inside = shapely.Polygon(np.concatenate([edge.vertices[:-1] for edge in piece.edges])).buffer(0)
    cut = shapely.LinearRing(shape.cut_line)
    for edge in piece.edges:
        length = format_length(edge_length_mm(edge.vertices), unit)
        spots = tuple(_outside(edge, share, inside, cut) for share in _ALONG)
        yield Tag((*_broken(edge.name), f"{length}{allowance_tag(piece, edge, unit)}"), spots, inside=False)


def notch_tags(shape: CutShape) -> Iterator[Tag]:
    """The names of notches, outside."""
    for feature in shape.features:
        if feature.kind is FeatureKind.NOTCH and feature.name:
            on_cut, inner = feature.vertices
            away = on_cut - inner
            away = away / max(float(np.hypot(*away)), 1e-9)
            yield Tag(_broken(f"notch: {feature.name}"), (Spot(_place(on_cut), _place(away)),), inside=False)


def mark_tags(shape: CutShape) -> Iterator[Tag]:
    """The names of darts, marks and points to match, inside."""
    for feature in shape.features:
        if feature.kind in _NAMED_INSIDE and feature.name:
            said = f"dart: {feature.name}" if feature.kind is FeatureKind.DART else feature.name
            yield Tag(_broken(said), tuple(_beside(feature)), inside=True)


def _broken(name: str) -> tuple[str, ...]:
    """A long name in several lines."""
    return wrapped(name, _WIDEST_PT, SMALLEST_PT)


def _beside(feature: Feature) -> Iterator[Spot]:
    """Places along a line, off its ends and, for a dart, off its tip; a point itself."""
    if len(feature.vertices) == 1:
        yield Spot(_place(feature.vertices[0]))
        return
    shares = (0.25, 0.75, 0.12, 0.88, 0.4, 0.6) if feature.kind is FeatureKind.DART else (0.5, 0.3, 0.7)
    for share in shares:
        yield Spot(_along(feature.vertices, share)[0])


def _outside(edge: Edge, share: float, inside: shapely.Polygon, cut: shapely.LinearRing) -> Spot:
    """A place on the cutting line beyond an edge, and the way out."""
    at, along = _along(edge.vertices, share)
    out = np.array([along[1], -along[0]])
    if shapely.contains_xy(inside, *(np.array(at) + _CLEAR_MM * out)):
        out = -out
    reach = 2.0 * edge.allowance_mm + _CLEAR_MM
    ray = shapely.LineString([np.array(at) - 0.01 * out, np.array(at) + reach * out])
    met = shapely.get_coordinates(shapely.intersection(ray, cut))
    beyond = met[np.linalg.norm(met - np.array(at), axis=1).argmin()] if len(met) else np.array(at)
    return Spot(_place(beyond), _place(out))


def _along(vertices: FloatArray, share: float) -> tuple[tuple[float, float], FloatArray]:
    """The place that far along a line, and the direction there."""
    steps = np.diff(vertices, axis=0)
    lengths = np.hypot(*steps.T)
    if not len(steps) or lengths.sum() == 0:
        return _place(vertices[0]), np.array([1.0, 0.0])
    ends = np.cumsum(lengths)
    k = int(min(np.searchsorted(ends, share * ends[-1]), len(steps) - 1))
    before = ends[k] - lengths[k]
    place = vertices[k] + steps[k] * (share * ends[-1] - before) / max(lengths[k], 1e-9)
    return _place(place), steps[k] / max(lengths[k], 1e-9)


def _place(point: FloatArray) -> tuple[float, float]:
    return float(point[0]), float(point[1])
