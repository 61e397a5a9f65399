"""The engine against answers that others know: jigsaws, dissected rectangles, and a general solver."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from ortools.sat.python import cp_model

from nesting.packing import AnyOf, Evaluations, Item, LengthReached, StripProblem, Variant, pack, violations

JIGSAWS = Path(__file__).resolve().parents[1] / "data" / "jigsaws"


def area_of(ring):
    x, y = ring[:, 0], ring[:, 1]
    return 0.5 * abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))


@pytest.mark.parametrize("name", [pytest.param("dighe1", marks=pytest.mark.heavy), "dighe2"])
def test_jigsaws_are_solved(name):
    """A lay of length 100 exists. Source: Dighe and Jakiela 1996, ESICUP data sets (CC0)."""
    data = json.loads((JIGSAWS / f"{name}.json").read_text())
    items = tuple(Item(p["id"], np.array(p["outline"], dtype=float), p["quantity"]) for p in data["pieces"])
    problem = StripProblem(data["strip_width"], items)
    packing = pack(problem, stop=AnyOf(Evaluations(250_000_000), LengthReached(100.01)))
    assert violations(problem, packing.placements) == ()
    assert packing.bound_mm <= 100.0
    assert packing.length_mm <= 100.01


def dissection(length, width, cuts, rng):
    """Cut a rectangle in two, again and again, by straight slanted cuts through the largest part."""
    parts = [np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])]
    for _ in range(cuts):
        parts.sort(key=area_of)
        whole = parts.pop()
        middle = whole.mean(axis=0)
        spread = whole - middle
        across = np.linalg.svd(spread)[2][0]  # the long way of the part: cut square to it, more or less
        turn = rng.uniform(-0.5, 0.5)
        normal = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ across
        side = spread @ normal
        for sign in (1.0, -1.0):
            kept = []
            for k in range(len(whole)):
                here, there = sign * side[k], sign * side[(k + 1) % len(whole)]
                if here >= 0:
                    kept.append(whole[k])
                if (here > 0) != (there > 0) and here != there:
                    kept.append(whole[k] + here / (here - there) * (whole[(k + 1) % len(whole)] - whole[k]))
            parts.append(np.array(kept))
    return parts


@pytest.mark.parametrize("seed", [0, *(pytest.param(seed, marks=pytest.mark.heavy) for seed in (1, 2, 3))])
def test_dissected_rectangles(seed):
    """Known by construction: the parts fill 120 by 80 without a remainder, so nothing is shorter than 120."""
    parts = dissection(120.0, 80.0, 7, np.random.default_rng(seed))
    assert sum(area_of(part) for part in parts) == pytest.approx(120.0 * 80.0)
    items = tuple(Item(f"part {k}", part - part[0]) for k, part in enumerate(parts))
    problem = StripProblem(80.0, items)
    packing = pack(problem, stop=AnyOf(LengthReached(120.001), Evaluations(30_000_000)), seed=seed)
    assert violations(problem, packing.placements) == ()
    assert packing.bound_mm <= 120.0
    assert 120.0 - 1e-3 <= packing.length_mm <= 1.04 * 120.0


def cp_sat_optimum(width, boards):
    """Least strip length for rectangles (whole numbers) that may turn a quarter, proven by CP-SAT."""
    model = cp_model.CpModel()
    horizon = sum(max(board) for board in boards)
    length = model.new_int_var(0, horizon, "length")
    along, across = [], []
    for k, (a, b) in enumerate(boards):
        turned = model.new_bool_var(f"turned {k}")
        size = [model.new_int_var(min(a, b), max(a, b), f"{name} {k}") for name in "xy"]
        model.add(size[0] == a + (b - a) * turned)
        model.add(size[1] == b + (a - b) * turned)
        start = [model.new_int_var(0, horizon, f"x {k}"), model.new_int_var(0, width, f"y {k}")]
        end = [model.new_int_var(0, horizon, f"right {k}"), model.new_int_var(0, width, f"top {k}")]
        along.append(model.new_interval_var(start[0], size[0], end[0], f"along {k}"))
        across.append(model.new_interval_var(start[1], size[1], end[1], f"across {k}"))
        model.add(end[0] <= length)
    model.add_no_overlap_2d(along, across)
    model.minimize(length)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(6))
def test_rectangles_against_cp_sat(seed):
    """OR-Tools' CP-SAT proves the optimum of small rectangle cases."""
    rng = np.random.default_rng(seed)
    width = 12
    boards = [tuple(int(n) for n in rng.integers(2, 9, 2)) for _ in range(6)]
    best = cp_sat_optimum(width, boards)
    items = tuple(
        Item(
            f"board {k}",
            np.array([[0, 0], [a, 0], [a, b], [0, b]], dtype=float),
            1,
            (Variant(0), Variant(90)),
        )
        for k, (a, b) in enumerate(boards)
    )
    packing = pack(
        StripProblem(float(width), items), stop=AnyOf(LengthReached(best + 1e-6), Evaluations(3_000_000))
    )
    assert packing.bound_mm <= best
    assert best - 1e-6 <= packing.length_mm <= best * 1.01
