"""Every bound says of every field of a problem how it treats it, and does so."""

from dataclasses import fields, replace

import numpy as np
import pytest

from nesting.packing import EdgeRule, Item, Lattice, StripProblem, Variant
from nesting.packing.bounds import bound, proof, rows, slices
from nesting.packing.bounds.treatment import Treatment
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build


def board(length, width):
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


LATH = Item("lath", board(6.0, 4.0), 3)
BASES = (StripProblem(7.0, (LATH,)), StripProblem(20.0, (LATH,)))
"""On the narrow strip none lies beside another unless they are turned; on the wide one all three do."""


def items(**changes):
    return lambda base: replace(base, items=tuple(replace(item, **changes) for item in base.items))


# A change to each field which a bound that obeys it must answer to, and one that ignores it must not.
CHANGED = {
    "Item.name": items(name="board"),
    "Item.outline": items(outline=board(6.5, 5.5)),
    "Item.demand": items(demand=5),
    "Item.variants": items(variants=(Variant(), Variant(90))),
    "Item.edge": items(edge=EdgeRule.LOW),
    "Item.x_lattice": items(x_lattice=Lattice(7.0, 3.0)),
    "Item.y_lattice": items(y_lattice=Lattice(6.0)),
    "Item.x_window_mm": items(x_window_mm=(2.0, np.inf)),
    "Item.any_turn": items(any_turn=True),
    "StripProblem.width_mm": lambda base: replace(base, width_mm=13.0),
    "StripProblem.items": lambda base: replace(base, items=(*base.items, Item("pole", board(30.0, 6.0)))),
    "StripProblem.gap_mm": lambda base: replace(base, gap_mm=0.5),
    "StripProblem.obstacles": lambda base: replace(base, obstacles=(board(2.0, 2.0),)),
}


def layout_without_gap(problem):
    layout, loose = bound._without_excess(problem, build(problem))
    return layout, loose


def by_slices(problem):
    return slices.slice_bound(problem, 0.0)


def by_rows(problem):
    layout, loose = layout_without_gap(problem)
    distances = rows.Distances(layout.tables, problem.gap_mm, loose)
    edges = [problem.items[i].edge for i in layout.piece_item]
    return max(rows.chain_bound(layout.tables, distances), rows.row_bound(layout.tables, distances, edges))


def by_exhaustion(problem):
    layout, loose = layout_without_gap(problem)
    mirror = bound._mirrored(problem, layout)
    return proof.proven_length(layout.tables, mirror, 1.0, gap_mm=problem.gap_mm, loose_mm=loose, columns=100)


FINE = 1e5
"""Grid units in a millimetre."""


def by_one_item(problem):
    if problem.items[0].any_turn:
        return bound._any_angle_bound(problem, FINE)
    return bound._single_bound(build(problem).tables)


BOUNDS = {
    "slices": (by_slices, slices.TREATED),
    "rows": (by_rows, rows.TREATED),
    "exhaustion": (by_exhaustion, proof.TREATED),
    "area": (bound._area_bound, bound.AREA_TREATED),
    "one item": (by_one_item, bound.SINGLE_TREATED),
}
FIELDS = [f"{kind.__name__}.{one.name}" for kind in (Item, StripProblem) for one in fields(kind)]


@pytest.mark.parametrize("name", BOUNDS)
def test_a_bound_declares_every_field_and_says_why(name):
    _, treated = BOUNDS[name]
    assert sorted(treated) == sorted(FIELDS) == sorted(CHANGED)
    assert all(bool(why) is (how is not Treatment.OBEYED) for how, why in treated.values())


@pytest.mark.parametrize("field", FIELDS)
@pytest.mark.parametrize("name", BOUNDS)
def test_a_bound_treats_a_field_as_it_says(name, field):
    length, treated = BOUNDS[name]
    how, _ = treated[field]
    lengths = [(length(checked(base)), length(checked(CHANGED[field](base)))) for base in BASES]
    if how is Treatment.IGNORED:
        assert all(after == pytest.approx(before, rel=1e-9) for before, after in lengths)
    if how is Treatment.OBEYED:
        assert any(after != pytest.approx(before, rel=1e-3) for before, after in lengths)
