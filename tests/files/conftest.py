from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from nesting.packing.mistake import Placement, variant_outline

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Face, Lay, LaySection, PlacedPiece, TriedSpread
from nesting.cutting.plan.demand import wanted
from nesting.cutting.plan.sharing import plans
from nesting.estimate.estimate import ProjectEstimate
from nesting.estimate.estimating import estimate_lay

DATA = Path(__file__).parent.parent / "data"


def in_a_row(stretch, start_mm):
    """All orders of a stretch one after another along the cloth, each down at y = 0."""
    x, placed, placements = 0.0, [], []
    for index, order in enumerate(stretch.orders):
        variant = order.item.variants[0]
        outline = variant_outline(order.shape.cut_line, variant)
        for copy, numbers in enumerate(order.copies):
            shift = np.array([x, 0.0]) - outline.min(axis=0)
            face = Face.DOWN if variant.mirrored else Face.UP
            shape = order.shape.transformed(variant.matrix(), shift)
            placed.append(
                PlacedPiece(order.piece, numbers, order.of, order.yields, face, variant.angle_deg, shape)
            )
            placements.append(Placement(index, copy, 0, *shift.tolist()))
            x += float(np.ptp(outline[:, 0]))
    return LaySection(
        stretch.zone.spread,
        start_mm,
        x,
        stretch.mistake.width_mm,
        stretch.zone.layers,
        tuple(placed),
        stretch.mistake,
        tuple(placements),
        bound_mm=x / 2,
        fold=stretch.zone.fold,
    )


@pytest.fixture
def estimate(jacket_like):
    """Hooks as a pair and a box on a lengthwise fold, an odd welt on the opened-out length after it."""
    cloth = replace(jacket_like.cloths["main"], name='damask, "old rose"', price_per_m=18.5)
    project = replace(jacket_like, cloths={"main": cloth}, currency="£", notes=("ein Ärmel",))
    sections = []
    for stretch in plans(wanted(project, cloth), cloth, Spread.LENGTHWISE_FOLD)[0].zones:
        sections.append(in_a_row(stretch, sum(section.length_mm for section in sections)))
    tried = (TriedSpread(Spread.OPEN, None, None, None, "not searched", searched=False),)
    lay = Lay(cloth, Spread.LENGTHWISE_FOLD, tuple(sections), 7, 1234, "the bound is reached", tried)
    return ProjectEstimate(project, (estimate_lay(lay, project),))
