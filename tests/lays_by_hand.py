"""Lays made by hand, with outlines such as a cutter has: a theatre's short jacket and its small parts.

Pieces stand in rows one after another, box beside box, so that none can overlap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import pytest
import shapely

from nesting.cloth.cloth import Cloth, Nap, Spread
from nesting.cutting.lay import Face, Fold, Lay, LaySection, PlacedPiece, Yield
from nesting.estimate.estimate import Estimate, ProjectEstimate, Tally
from nesting.estimate.remarks import Remark
from nesting.geometry import counter_clockwise
from nesting.packing.problem import Item, Placement, StripProblem, Variant
from nesting.packing.result import StopReason
from nesting.pattern.cut_count import ReadAsPairs
from nesting.pattern.cut_shape import CutShape, Feature, FeatureKind
from nesting.project import Project
from nesting.units import Unit

ALLOWANCE_MM = 10.0


def curve(*control: tuple[float, float], points: int = 12) -> list[tuple[float, float]]:
    """A Bézier curve through its first and last control points."""
    at = np.array(control, dtype=float)
    t = np.linspace(0, 1, points)[:, None]
    levels = [np.repeat(p[None, :], points, axis=0) for p in at]
    while len(levels) > 1:
        levels = [(1 - t) * a + t * b for a, b in pairwise(levels)]
    return [(float(x), float(y)) for x, y in levels[0]]


def cut_shape(
    name: str,
    stitching: Sequence[tuple[float, float]],
    *,
    on_fold: bool = False,
    extra: Sequence[Feature] = (),
    notch_at: Sequence[int] = (),
    grain_y: float | None = None,
) -> CutShape:
    """A shape with its stitching line, a mitred allowance, a grain line up the middle, and notches."""
    seam = shapely.Polygon(stitching)
    cut = seam.buffer(ALLOWANCE_MM, join_style="mitre", mitre_limit=2)
    if on_fold:
        cut = cut.intersection(shapely.box(-1e4, 0, 1e4, 1e4))
    ring = counter_clockwise(np.array(cut.exterior.coords)[:-1])
    x0, y0, x1, y1 = seam.bounds
    middle = (y0 + y1) / 2 if grain_y is None else grain_y
    long = x1 - x0
    features = [
        Feature(FeatureKind.STITCHING, "", np.array(seam.exterior.coords)),
        Feature(FeatureKind.GRAIN, "", np.array([(x0 + 0.2 * long, middle), (x0 + 0.8 * long, middle)])),
        *extra,
    ]
    for index in notch_at:
        at = np.array(stitching[index])
        nearest = cut.exterior.interpolate(cut.exterior.project(shapely.Point(at)))
        outer = np.array([nearest.x, nearest.y])
        features.append(Feature(FeatureKind.NOTCH, "", np.array([outer, outer + 0.5 * (at - outer)])))
    fold = np.array([(x0, 0.0), (x1, 0.0)]) if on_fold else None
    return CutShape(name, ring, tuple(features), fold, symmetric=False)


def front() -> CutShape:
    dart = Feature(FeatureKind.DART, "waist", np.array([(10.0, 150), (230, 140), (10, 128)]))
    pocket = Feature(FeatureKind.MARK, "pocket", np.array([(120.0, 60), (120, 110), (250, 110), (250, 60)]))
    button = Feature(FeatureKind.MARK, "button", np.array([(300.0, 30)]))
    outline = [
        (0.0, 0.0),
        *curve((0, 0), (-15, 130), (10, 260)),
        *curve((10, 260), (180, 250), (330, 270))[1:],
        *curve((330, 270), (400, 170), (520, 200), (560, 190))[1:],
        (585, 90),
        *curve((585, 90), (500, 80), (490, 0))[1:],
    ][1:]
    return cut_shape("front", outline, extra=(dart, pocket, button), notch_at=(18, 30), grain_y=75)


def back() -> CutShape:
    outline = [
        (0.0, 0.0),
        *curve((0, 225), (170, 205), (340, 230)),
        *curve((340, 230), (420, 150), (510, 185), (545, 190))[1:],
        (590, 75),
        *curve((590, 75), (566, 60), (565, 0))[1:],
    ]
    return cut_shape("back", outline, on_fold=True, notch_at=(6, 16), grain_y=110)


def sleeve() -> CutShape:
    outline = [
        (0.0, 40.0),
        (0.0, 300.0),
        *curve((0, 300), (200, 330), (400, 350))[1:],
        *curve((400, 350), (450, 290), (590, 260), (590, 175), (590, 90), (440, 60), (400, 0), points=34)[1:],
        *curve((400, 0), (200, 30), (0, 40))[1:-1],
    ]
    return cut_shape("sleeve", outline, notch_at=(20, 36))


def collar() -> CutShape:
    outline = [
        *curve((0, 0), (110, 14), (220, 4), points=16),
        (228, 52),
        *curve((228, 52), (110, 66), (-4, 56)),
    ]
    return cut_shape("collar", outline, notch_at=(8,))


def pocket() -> CutShape:
    corners = [(0.0, 0.0), (150, 0), (150, 120), *curve((150, 120), (75, 124), (0, 120))[1:]]
    return cut_shape("patch pocket", corners)


def tab(name: str = "tab") -> CutShape:
    """4 by 6 cm as cut."""
    return cut_shape(name, [(0.0, 0), (32, 0), *curve((32, 0), (48, 10), (32, 20)), (0, 20)])


@dataclass(frozen=True, slots=True)
class Wish:
    """One placement to be made."""

    shape: CutShape
    copies: tuple[int, ...]
    of: int
    yields: Yield = Yield.ONE
    face: Face = Face.UP
    turned_deg: float = 0.0


def section(
    wishes: Sequence[Wish], spread: Spread, start_mm: float, width_mm: float, *, turns: tuple[float, ...]
) -> LaySection:
    """Place the wishes row after row: fold pieces at the fold, then the rest up each row while they fit."""
    placed: list[PlacedPiece] = []
    items: list[Item] = []
    placements: list[Placement] = []
    x = y = row_length = 0.0
    for wish in wishes:
        variant = Variant(wish.turned_deg, wish.face is Face.DOWN)
        turned = wish.shape.transformed(variant.matrix(), np.zeros(2))
        low, high = turned.cut_line.min(axis=0), turned.cut_line.max(axis=0)
        long, wide = (high - low).tolist()
        if y + wide > width_mm or wish.yields is Yield.WHOLE_ON_FOLD:
            x, y, row_length = x + row_length, 0.0, 0.0
        shift = np.array([x, y]) - low
        placed.append(
            PlacedPiece(
                wish.shape.name,
                wish.copies,
                wish.of,
                wish.yields,
                wish.face,
                wish.turned_deg,
                turned.transformed(np.eye(2), shift),
            )
        )
        variants = tuple(Variant(angle, mirrored) for mirrored in (False, True) for angle in turns)
        items.append(Item(wish.shape.name, wish.shape.cut_line, 1, variants))
        placements.append(Placement(len(items) - 1, 0, 0, *shift.tolist()))
        y += wide
        row_length = max(row_length, long)
    return LaySection(
        spread=spread,
        start_mm=start_mm,
        length_mm=x + row_length,
        width_mm=width_mm,
        layers=1 if spread is Spread.OPEN else 2,
        placed=tuple(placed),
        problem=StripProblem(width_mm, tuple(items)),
        placements=tuple(placements),
        bound_mm=0.8 * (x + row_length),
        fold=Fold.NONE if spread is Spread.OPEN else Fold.LOW,
    )


def estimate_of(
    cloth: Cloth, *sections: LaySection, spare_mm: float = 31.0, remarks: tuple[Remark, ...] = ()
) -> Estimate:
    """An estimate with figures that hang together well enough to be shown."""
    lay = Lay(cloth, sections[0].spread, sections, seed=0, evaluations=1000, stopped_because=StopReason.TIME)
    asked: dict[str, list[PlacedPiece]] = {}
    for part in sections:
        for placed in part.placed:
            asked.setdefault(placed.piece, []).append(placed)
    tallies = []
    for piece, group in asked.items():
        pairs = sum(p.yields is Yield.PAIR for p in group)
        tallies.append(
            Tally(
                piece=piece,
                asked=group[0].of,
                placed=sum(len(p.copies) for p in group),
                face_up=pairs + sum(p.yields is Yield.ONE and p.face is Face.UP for p in group),
                face_down=pairs + sum(p.yields is Yield.ONE and p.face is Face.DOWN for p in group),
                on_fold=sum(p.yields is Yield.WHOLE_ON_FOLD for p in group),
                remarks=remarks if piece == "collar" else (),
            )
        )
    washed = lay.length_mm + 2 * cloth.end_allowance_mm
    unwashed = washed / (1 - cloth.shrinkage_along_pct / 100)
    to_buy = np.ceil(unwashed / 100) * 100.0
    used = 100 * lay.pieces_area_mm2 / lay.lay_area_mm2
    return Estimate(
        lay=lay,
        washed_mm=washed,
        unwashed_mm=unwashed,
        to_buy_mm=to_buy,
        spare_mm=spare_mm,
        least_to_buy_mm=to_buy - 200,
        cost=None if cloth.price_per_m is None else cloth.price_per_m * to_buy / 1000,
        utilisation_pct=used,
        waste_pct=100 - used,
        waste_mm2=lay.lay_area_mm2 - lay.pieces_area_mm2,
        above_bound_pct=25.0,
        tallies=tuple(tallies),
    )


@pytest.fixture(scope="session")
def folded() -> Estimate:
    """Napped flannel on a fold: the back on it, pairs beside, then odd single pieces opened out."""
    cloth = Cloth(
        key="main",
        name="wool flannel",
        width_mm=1500,
        nap=Nap.ONE_WAY,
        price_per_m=24.5,
        shrinkage_along_pct=3,
        shrinkage_across_pct=2,
    )
    half = cloth.usable_width_mm / 2
    pair, down = Yield.PAIR, Face.DOWN
    first = section(
        [
            Wish(back(), (1,), 1, Yield.WHOLE_ON_FOLD),
            Wish(sleeve(), (1, 2), 2, pair),
            Wish(collar(), (1, 2), 4, pair, turned_deg=90),
            Wish(front(), (1, 2), 2, pair, down),
            Wish(collar(), (3, 4), 4, pair, down),
            Wish(pocket(), (1, 2), 2, pair),
            Wish(tab(), (1, 2), 2, pair),
        ],
        Spread.LENGTHWISE_FOLD,
        0.0,
        half,
        turns=(0.0,),
    )
    second = section(
        [Wish(replace(pocket(), name="breast pocket"), (1,), 1), Wish(tab("hanger"), (1,), 1)],
        Spread.OPEN,
        first.length_mm,
        2 * half,
        turns=(0.0,),
    )
    return estimate_of(cloth, first, second, remarks=(ReadAsPairs("collar", 4),))


@pytest.fixture(scope="session")
def opened() -> Estimate:
    """Plain lining in one layer: a left and a right of each, one of them face down."""
    cloth = Cloth(key="lining", name="viscose lining", width_mm=1400, price_per_m=9.8)
    wishes = []
    for shape in (sleeve(), front()):
        wishes += [Wish(shape, (1,), 2), Wish(shape, (2,), 2, face=Face.DOWN, turned_deg=180)]
    wishes += [Wish(pocket(), (k,), 3) for k in (1, 2, 3)]
    return estimate_of(cloth, section(wishes, Spread.OPEN, 0.0, cloth.usable_width_mm, turns=(0.0, 180.0)))


@pytest.fixture(scope="session")
def short_stretches() -> Estimate:
    """A fold of one pocket's length, then one pocket and a tab opened out: hardly room for any words."""
    cloth = Cloth(key="main", name="velveteen", width_mm=900, nap=Nap.ONE_WAY)
    half = cloth.usable_width_mm / 2
    first = section([Wish(pocket(), (1, 2), 3, Yield.PAIR)], Spread.LENGTHWISE_FOLD, 0.0, half, turns=(0.0,))
    wishes = [Wish(pocket(), (3,), 3), Wish(tab("hanger"), (1,), 1)]
    return estimate_of(cloth, first, section(wishes, Spread.OPEN, first.length_mm, 2 * half, turns=(0.0,)))


@pytest.fixture(scope="session")
def three_pieces() -> Estimate:
    """Interfacing: nothing but three collars, in any direction."""
    cloth = Cloth(
        key="interfacing", name="woven interfacing", width_mm=900, selvedge_mm=0, end_allowance_mm=0
    )
    wishes = [Wish(collar(), (k,), 3, turned_deg=90.0 * k) for k in (1, 2, 3)]
    turns = (0.0, 90.0, 180.0, 270.0)
    return estimate_of(cloth, section(wishes, Spread.OPEN, 0.0, 900.0, turns=turns), spare_mm=0.0)


@pytest.fixture(scope="session")
def sixty_pieces() -> Estimate:
    """Calico for a whole chorus: sixty placements, many of them tabs of 4 by 6 cm."""
    cloth = Cloth(key="sample", name="calico", width_mm=1600, price_per_m=4.0)
    wishes = []
    for k in range(5):
        wishes += [Wish(sleeve(), (2 * k + 1, 2 * k + 2), 10, Yield.PAIR)]
        wishes += [Wish(front(), (2 * k + 1, 2 * k + 2), 10, Yield.PAIR, Face.DOWN if k % 2 else Face.UP)]
        wishes += [Wish(collar(), (2 * k + 1, 2 * k + 2), 10, Yield.PAIR, turned_deg=180.0)]
        for n in range(9):
            number = 9 * k + n
            wishes += [Wish(tab(), (2 * number + 1, 2 * number + 2), 90, Yield.PAIR)]
    strip = cloth.usable_width_mm / 2
    return estimate_of(cloth, section(wishes, Spread.LENGTHWISE_FOLD, 0.0, strip, turns=(0.0, 180.0)))


@pytest.fixture(scope="session")
def long_lay() -> Estimate:
    """Calico for twenty-two choristers in one layer: more than thirteen metres."""
    cloth = Cloth(key="sample", name="calico", width_mm=1500, nap=Nap.ONE_WAY, price_per_m=4.0)
    count = 22
    wishes = []
    for k in range(count):
        for shape in (sleeve(), front()):
            wishes += [
                Wish(shape, (2 * k + 1,), 2 * count),
                Wish(shape, (2 * k + 2,), 2 * count, face=Face.DOWN),
            ]
        wishes += [Wish(collar(), (k + 1,), count), Wish(tab(), (k + 1,), count)]
    return estimate_of(cloth, section(wishes, Spread.OPEN, 0.0, cloth.usable_width_mm, turns=(0.0,)))


def project_of(estimates: Sequence[Estimate], unit: Unit, title: str, notes: tuple[str, ...]) -> Project:
    cloths = {estimate.lay.cloth.key: estimate.lay.cloth for estimate in estimates}
    return Project(title=title, unit=unit, currency="£", cloths=cloths, pieces=(), notes=notes)


@pytest.fixture(scope="session")
def jacket(folded: Estimate, opened: Estimate, three_pieces: Estimate) -> ProjectEstimate:
    """A whole project of three cloths, in centimetres."""
    estimates = (folded, opened, three_pieces)
    notes = ("The back is cut on the fold; the alternative with a seam is not shown here.",)
    return ProjectEstimate(
        project_of(estimates, Unit.CM, "Short jacket for the village theatre", notes), estimates
    )


@pytest.fixture(params=["folded", "opened", "three_pieces", "short_stretches", "sixty_pieces"])
def any_estimate(request: pytest.FixtureRequest) -> Estimate:
    """Each of the lays in turn."""
    estimate = request.getfixturevalue(request.param)
    assert isinstance(estimate, Estimate)
    return estimate
