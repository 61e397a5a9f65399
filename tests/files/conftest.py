from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, TriedSpread
from nesting.cutting.plan.demand import wanted
from nesting.cutting.plan.sharing import plans
from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.estimating import estimate_lay
from nesting.packing.problem import Placement, variant_outline

DATA = Path(__file__).parent.parent / "data"


def in_a_row(zone, start_mm):
    """All batches of a zone one after another along the cloth, each down at y = 0."""
    x, placed, placements = 0.0, [], []
    for index, batch in enumerate(zone.batches):
        variant = batch.item.variants[0]
        outline = variant_outline(batch.shape.cut_line, variant)
        for copy, numbers in enumerate(batch.copies):
            shift = np.array([x, 0.0]) - outline.min(axis=0)
            face = Face.DOWN if variant.mirrored else Face.UP
            shape = batch.shape.transformed(variant.matrix(), shift)
            placed.append(
                PlacedPiece(batch.piece, numbers, batch.of, batch.yields, face, variant.angle_deg, shape)
            )
            placements.append(Placement(index, copy, 0, *shift.tolist()))
            x += float(np.ptp(outline[:, 0]))
    return LaySection(
        zone.zone.spread,
        start_mm,
        x,
        zone.problem.width_mm,
        zone.zone.layers,
        tuple(placed),
        zone.problem,
        tuple(placements),
        bound_mm=x / 2,
        fold=zone.zone.fold,
    )


@pytest.fixture
def estimate(jacket_like):
    """Hooks as a pair and a box on a lengthwise fold, an odd welt on the opened-out length after it."""
    cloth = replace(jacket_like.cloths["main"], name='damask, "old rose"', price_per_m=18.5)
    project = replace(jacket_like, cloths={"main": cloth}, currency="£", notes=("ein Ärmel",))
    sections = []
    for zone in plans(wanted(project, cloth), cloth, Spread.LENGTHWISE_FOLD)[0].zones:
        sections.append(in_a_row(zone, sum(section.length_mm for section in sections)))
    tried = (TriedSpread(Spread.OPEN, None, None, None, "not searched", searched=False),)
    lay = Lay(cloth, Spread.LENGTHWISE_FOLD, tuple(sections), 7, 1234, "the bound is reached", tried)
    return ProjectEstimate(project, (estimate_lay(lay, project),))
