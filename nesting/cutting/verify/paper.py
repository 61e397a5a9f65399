"""What must come off the table, told from the paper alone.

What is cut has room between what must be cut and what may be (`nesting.cutting.verify.room`).

How the paper lies on the cloth is not looked for either. A piece says of itself where on the paper its grain
line is (`CutShape.grain_on_paper`): two points on the paper and the same two on the cloth leave open only
which side of the paper is up. All else must then be where the paper has it. A piece that says so wrongly is
refused.

Shares nothing with `nesting.pattern.allowance`, `shaping` and `unfold`, which it is to find out.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from nesting.cutting.flat.rebuilding import Cut
from nesting.cutting.verify.room import SAME_POINT_MM, edges_of, ends, outward, over_line, room, side_of, unit
from nesting.geometry import FloatArray
from nesting.pattern.cut_shape import Feature, FeatureKind
from nesting.pattern.piece import Edge, Notch, Piece

__all__ = ["ANGLE_TOLERANCE_DEG", "SHAPE_TOLERANCE_MM", "Paper", "SheetOn", "paper_of"]

SHAPE_TOLERANCE_MM = 0.05
"""The cut line, and all that is marked, may be off the paper by no more: half the width of a pencil line, and
five times what is lost where vertices are left out that hardly turn the line."""
ANGLE_TOLERANCE_DEG = 1e-4
"""Rounding allowed in an angle that is read off two points: over a metre a fiftieth of a hair, 0.002 mm."""

_NOTCH_DEPTH_MM = 5.0
"""How deep a notch is slit."""
_NOTCH_ALONG_MM = 1.0
"""A notch goes out square to the paper's edge as it runs for so much to either side."""

_CARRIED = {FeatureKind.DART, FeatureKind.MARK, FeatureKind.MATCH}
Named = tuple[FeatureKind, str, FloatArray]


@dataclass(frozen=True, slots=True)
class SheetOn:
    """How the paper lies over a piece of cloth: ``p -> turn * p + shift``, of the paper or its mirror image.

    Points are complex numbers, x + iy.

    Attributes
    ----------
    mirrored : bool
        Whether it is the mirror image (x + iy becomes x - iy first).
    turn, shift : complex
        `turn` has length 1.
    """

    mirrored: bool
    turn: complex
    shift: complex

    def on_paper(self, points: FloatArray) -> FloatArray:
        """Points of the cloth, (N, 2), where they are on the paper."""
        away = (points[:, 0] + 1j * points[:, 1] - self.shift) * self.turn.conjugate()
        return np.column_stack([away.real, -away.imag if self.mirrored else away.imag])

    def turned_deg(self, top_deg: float) -> float:
        """How far a paper whose top is in that direction is turned from "top towards the far end"."""
        turn = math.degrees(cmath.phase(self.turn))
        return (turn - top_deg if self.mirrored else turn + top_deg) % 360.0


@dataclass(frozen=True, slots=True, eq=False)
class Snip:
    """Where a notch leaves the edge.

    Attributes
    ----------
    name : str
    at, out : (2,) float64 arrays
        Its place, and the way out there, square to the edge, length 1.
    half : Polygon or None
        Of a piece on the fold, the side of the fold that it is on, and on which its cut line is.
    on_fold : bool
        Whether its edge is the fold edge, outside which nothing is cut.
    """

    name: str
    at: FloatArray
    out: FloatArray
    half: shapely.Polygon | None
    on_fold: bool

    def slits(self, ring: shapely.LinearRing) -> list[FloatArray]:
        """Where it may be slit: where its way out first meets the cut line, or nearest to its place."""
        if self.on_fold:
            return [self._slit(self.at)]
        line = ring if self.half is None else ring.intersection(self.half)
        way = shapely.LineString([self.at - 0.01 * self.out, self.at + (ring.length + 1.0) * self.out])
        met = shapely.get_coordinates(shapely.intersection(way, line))
        ends = [shapely.get_coordinates(shapely.shortest_line(shapely.Point(self.at), line))[1]]
        if len(met):
            ends.append(met[np.argmin(np.linalg.norm(met - self.at, axis=1))])
        return [self._slit(end) for end in ends]

    def _slit(self, end: FloatArray) -> FloatArray:
        return np.array([end, end - _NOTCH_DEPTH_MM * self.out])


@dataclass(frozen=True, slots=True, eq=False)
class Paper:
    """What is to be cut of a piece, in paper coordinates.

    Attributes
    ----------
    least, most : Polygon
        What must be cut and what may be, `SHAPE_TOLERANCE_MM` taken off and added.
    stitched : MultiLineString or None
        What the stitching line shows: the edges as drawn, but for a fold edge. None where the outline is the
        cutting line.
    carried : tuple of (kind, name, points)
        Darts, marks and matching points.
    notches : tuple of Snip
    corners : tuple of (kind, name, points)
        Where two edges meet, called by both: what a piece may be laid by besides its grain line.
    fold : (2, 2) float64 array or None
    top_deg : float
        Direction on the paper that lies towards the far end of the cloth.
    grain_deg : tuple of float
        Directions that the grain line may have: of a piece on the fold also the fold's.
    """

    least: BaseGeometry
    most: BaseGeometry
    stitched: shapely.MultiLineString | None
    carried: tuple[Named, ...]
    notches: tuple[Snip, ...]
    corners: tuple[Named, ...]
    fold: FloatArray | None
    top_deg: float
    grain_deg: tuple[float, ...]

    def lies(self, cut: Cut, *, mirrored: bool) -> SheetOn | None:
        """How the paper, or its mirror image, lies on what is cut, if that is what it asks for; else None.

        Parameters
        ----------
        cut : Cut
        mirrored : bool
        """
        sheet = self._laid_by_grain(cut, mirrored)
        if sheet is None or not cut.polygon.is_valid:
            return None
        features = [Feature(one.kind, one.name, sheet.on_paper(one.vertices)) for one in cut.features]
        polygon = shapely.transform(cut.polygon, sheet.on_paper)
        right = (
            self._carries(features)
            and self._is_laid_by_corners(features)
            and self._is_notched(features, polygon.exterior)
            and self._is_drawn(features, polygon.exterior)
            and self.most.covers(polygon)
            and polygon.covers(self.least)
        )
        return sheet if right else None

    def _laid_by_grain(self, cut: Cut, mirrored: bool) -> SheetOn | None:
        """How the paper must lie for its grain line to be where the cloth has it."""
        lines = [one.vertices for one in cut.features if one.kind is FeatureKind.GRAIN]
        if not lines or cut.grain_on_paper is None:
            return None
        foot, top = (complex(x, y) for x, y in lines[0])
        on_paper = [complex(x, y) for x, y in cut.grain_on_paper]
        way = on_paper[1] - on_paper[0]
        if abs(way) < SAME_POINT_MM or abs(abs(top - foot) - abs(way)) > SHAPE_TOLERANCE_MM:
            return None
        run = math.degrees(cmath.phase(way))
        if min(_between_deg(run, one) for one in self.grain_deg) > ANGLE_TOLERANCE_DEG:
            return None
        if mirrored:
            on_paper, way = [point.conjugate() for point in on_paper], way.conjugate()
        turn = (top - foot) / way
        turn /= abs(turn)
        return SheetOn(mirrored, turn, foot - turn * on_paper[0])

    def _carries(self, features: Sequence[Feature]) -> bool:
        """Whether darts, marks and matching points are those of the paper, each at its place."""
        had = [(one.kind, one.name, one.vertices) for one in features if one.kind in _CARRIED]
        return all(any(_same(one, other) for other in self.carried) for one in had) and all(
            any(_same(one, other) for other in had) for one in self.carried
        )

    def _is_laid_by_corners(self, features: Sequence[Feature]) -> bool:
        """Whether every corner to lay by is one of the paper's."""
        had = [(one.kind, one.name, one.vertices) for one in features if one.kind is FeatureKind.CORNER]
        return all(any(_same(one, other) for other in self.corners) for one in had)

    def _is_notched(self, features: Sequence[Feature], ring: shapely.LinearRing) -> bool:
        """Whether every notch is a slit from the cut line inward, straight out from its place."""
        had = [(one.name, one.vertices) for one in features if one.kind is FeatureKind.NOTCH]
        asked = [(snip.name, snip.slits(ring)) for snip in self.notches]

        def right(name: str, slit: FloatArray, other: str, ways: Sequence[FloatArray]) -> bool:
            return name == other and any(_close(slit, way) for way in ways)

        return all(any(right(*one, *other) for other in asked) for one in had) and all(
            any(right(*one, *other) for one in had) for other in asked
        )

    def _is_drawn(self, features: Sequence[Feature], ring: shapely.LinearRing) -> bool:
        """Whether the stitching line is the paper's outline, and the fold line its fold from end to end."""
        lines = [one.vertices for one in features if one.kind is FeatureKind.STITCHING]
        if (self.stitched is None) != (not lines):
            return False
        if self.stitched is not None:
            drawn = shapely.MultiLineString(lines)
            if drawn.hausdorff_distance(self.stitched) > SHAPE_TOLERANCE_MM:
                return False
        folds = [one.vertices for one in features if one.kind is FeatureKind.FOLD]
        if self.fold is None:
            return not folds
        return bool(folds) and all(self._is_fold(line, ring) for line in folds)

    def _is_fold(self, line: FloatArray, ring: shapely.LinearRing) -> bool:
        """Whether a line lies on the fold, takes in the whole fold edge and ends on the cut line."""
        assert self.fold is not None
        along = unit(self.fold[1] - self.fold[0])
        away = line - self.fold[0]
        off = np.abs(along[0] * away[:, 1] - along[1] * away[:, 0])
        reach, whole = np.sort(away @ along), float(np.linalg.norm(self.fold[1] - self.fold[0]))
        ends = shapely.distance(shapely.points(line), ring)
        return bool(max(off.max(), ends.max(), reach[0], whole - reach[-1]) <= SHAPE_TOLERANCE_MM)


@lru_cache(maxsize=1024)  # asked for each better lay, of each of its pieces
def paper_of(piece: Piece, *, whole: bool) -> Paper:
    """What is to be cut of a piece.

    Parameters
    ----------
    piece : Piece
        Free of the mistakes `nesting.pattern.outline.piece_mistakes` reports.
    whole : bool
        Of a piece whose paper is half of it: whether it is cut opened out.
    """
    edges = edges_of(piece)
    fold = None if piece.on_fold is None else ends(piece.edge(piece.on_fold))
    outline = np.concatenate([edge.vertices[:-1] for edge in edges])
    least, most = room(edges, fold)
    stitched = [edge.vertices for edge in edges if edge.name != piece.on_fold]
    carried = [
        *((FeatureKind.DART, one.name, np.array(one.legs_and_tip)) for one in piece.darts),
        *((FeatureKind.MARK, one.name, np.array(one.points)) for one in piece.marks),
        *((FeatureKind.MATCH, one.name, np.array(one.points)) for one in piece.matching),
    ]
    top_deg = piece.grain_deg
    half = None
    if fold is not None:
        run = math.degrees(math.atan2(*(fold[1] - fold[0])[::-1]))
        top_deg = run if _between_deg(run, piece.grain_deg) < 90.0 else run + 180.0
        half = side_of(fold, outline)
    notches = [_snip(one, edges, piece.on_fold, half) for one in piece.notches]
    if fold is not None and whole:

        def over(points: FloatArray) -> FloatArray:
            return over_line(points, fold)

        stitched += [over(one) for one in stitched]
        carried += [(kind, name, over(points)) for kind, name, points in carried]
        notches += [_snip_over(one, over) for one in notches]
    elif half is not None:
        least, most = least.intersection(half), most.intersection(half)
    least, most = least.buffer(-SHAPE_TOLERANCE_MM), most.buffer(SHAPE_TOLERANCE_MM)
    shapely.prepare(most)
    return Paper(
        least=least,
        most=most,
        stitched=None if piece.allowance_included else shapely.MultiLineString(stitched),
        carried=tuple(carried),
        notches=tuple(notches),
        corners=tuple(
            (FeatureKind.CORNER, f"{before.name} / {after.name}", after.vertices[:1])
            for before, after in zip((piece.edges[-1], *piece.edges), piece.edges, strict=False)
        ),
        fold=fold,
        top_deg=top_deg,
        grain_deg=(piece.grain_deg, top_deg),
    )


def _snip(notch: Notch, edges: Sequence[Edge], on_fold: str | None, half: shapely.Polygon | None) -> Snip:
    """The place on the edge, and the way out there, square to the edge as it runs just there."""
    line = next(shapely.LineString(edge.vertices) for edge in edges if edge.name == notch.edge)
    station = line.project(shapely.Point(notch.at))
    behind, ahead = max(0.0, station - _NOTCH_ALONG_MM), min(line.length, station + _NOTCH_ALONG_MM)
    p, at, q = (np.array(line.interpolate(one).coords[0]) for one in (behind, station, ahead))
    # A hair off the fold line, so that none of the cut line's stretch on it remains.
    free = None if half is None else half.buffer(-1e-4, join_style="mitre")
    return Snip(notch.name, at, outward(np.array([p, q]))[0], free, notch.edge == on_fold)


def _snip_over(snip: Snip, over: Callable[[FloatArray], FloatArray]) -> Snip:
    """The same on the other half of a piece opened out."""
    at, end = over(np.array([snip.at, snip.at + snip.out]))
    return Snip(snip.name, at, end - at, shapely.transform(snip.half, over), snip.on_fold)


def _same(one: Named, other: Named) -> bool:
    return one[:2] == other[:2] and _close(one[2], other[2])


def _close(one: FloatArray, other: FloatArray) -> bool:
    return one.shape == other.shape and bool(np.abs(one - other).max() <= SHAPE_TOLERANCE_MM)


def _between_deg(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)
