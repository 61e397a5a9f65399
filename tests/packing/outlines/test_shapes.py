"""Outlines on the grid: flips found, idle points dropped, many vertices thinned outwards."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from nesting.errors import InvalidShape
from nesting.packing import Evaluations, Item, StripProblem, Variant, pack, violations
from nesting.packing.outlines.shapes import (
    ROUGHEST,
    THIN,
    checked_ring,
    make_shape,
    roughness,
    thinned,
    units_per_mm,
)
from nesting.packing.problem import variant_outline

HOOK = np.array([[0.0, 0.0], [12.0, 0.0], [12.0, 4.0], [4.0, 4.0], [4.0, 9.0], [0.0, 9.0]])


FLIPS = (Variant(), Variant(180), Variant(0, mirrored=True), Variant(180, mirrored=True))


def blossom(count):
    turn = np.arange(count) / count * 2 * np.pi
    return (100 + 10 * np.sin(7 * turn))[:, None] * np.column_stack([np.cos(turn), np.sin(turn)])


def test_the_grid_is_a_power_of_two_fine_enough_for_anything_cut():
    scale = units_per_mm(1400.0)
    assert np.log2(scale) == int(np.log2(scale))
    assert scale > 1e6


@pytest.mark.parametrize("variant", FLIPS[1:])
def test_flips_of_an_outline_share_their_canonical_form(variant):
    plain, turned = (make_shape(variant_outline(HOOK, v), 1024.0) for v in (Variant(), variant))
    assert plain.key == turned.key
    assert plain.flip != turned.flip


@given(
    st.lists(st.floats(5.0, 50.0), min_size=4, max_size=9),
    st.floats(0.0, 1.0),
    st.sampled_from([1024.0, units_per_mm(1400.0)]),
)
def test_flips_share_it_wherever_their_corners_lie_on_the_grid(far, begin, scale):
    turn = begin + np.arange(len(far)) / len(far) * 2 * np.pi
    ring = np.array(far)[:, None] * np.column_stack([np.cos(turn), np.sin(turn)])
    assert len({make_shape(variant_outline(ring, variant), scale).key for variant in FLIPS}) == 1


def test_a_quarter_turn_is_another_shape():
    assert make_shape(variant_outline(HOOK, Variant(90)), 1024.0).key != make_shape(HOOK, 1024.0).key


def test_centre_and_half_give_the_box():
    shape = make_shape(HOOK, 1024.0)
    assert (shape.centre - shape.half).tolist() == [0.0, 0.0]
    assert (shape.centre + shape.half).tolist() == [12.0, 9.0]


def test_idle_and_repeated_points_are_dropped():
    idle = np.vstack([HOOK[:1], HOOK[:1], [[6.0, 0.0]], HOOK[1:], HOOK[-1:]])
    assert len(checked_ring(idle, "hook")) == len(HOOK)


def test_a_spike_without_width_is_refused():
    with pytest.raises(InvalidShape, match="'spike'"):
        checked_ring(
            np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 5.0], [20.0, 5.0], [10.0, 5.0], [10.0, 9.0]]), "spike"
        )


def test_few_vertices_are_left_alone():
    assert thinned(HOOK) is HOOK


def test_many_vertices_are_thinned_to_an_outline_round_them_all():
    ring = blossom(3000)
    fewer = thinned(ring)
    assert 5 * len(fewer) < len(ring)
    assert Polygon(fewer).covers(Polygon(ring))
    assert Polygon(fewer).hausdorff_distance(Polygon(ring)) < 3 * THIN * 220


def test_roughness_is_vertices_times_full_turns():
    assert roughness(np.array([[0.0, 0.0], [9.0, 0.0], [9.0, 5.0], [0.0, 5.0]])) == pytest.approx(4.0)
    assert roughness(HOOK) == pytest.approx(6 * 1.5)  # a quarter turn at each of six corners


def comb(teeth, depth):
    along = np.linspace(0.0, 100.0, 2 * teeth + 1)
    low = np.column_stack([along, depth * (np.arange(2 * teeth + 1) % 2)])
    return np.concatenate([low, [[100.0, 30.0], [0.0, 30.0]]])


@pytest.mark.parametrize("depth", [0.001, 0.5, 20.0])
def test_a_rough_outline_is_taken_so_loosely_that_it_is_smooth_enough(depth):
    ring = comb(1500, depth)
    fewer = thinned(ring)
    assert roughness(fewer) <= ROUGHEST < roughness(ring)
    assert Polygon(fewer).covers(Polygon(ring))
    assert Polygon(fewer).area < 100.0 * 30.0 * 1.05  # no looser than it must be: the teeth filled up


def test_thinned_outlines_give_right_lays():
    problem = StripProblem(450.0, (Item("blossom", blossom(1500), 4, (Variant(0), Variant(180))),))
    packing = pack(problem, stop=Evaluations(200_000))
    assert violations(problem, packing.placements) == ()
