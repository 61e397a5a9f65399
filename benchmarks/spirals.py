"""A hunt for lays that are refused: ``python -m benchmarks.spirals --cases N --seed S``.

Two square spirals whose slot is exactly as wide as the arm, turned by a random angle: each goes into the
other, and fits there to the last unit. Their no-fit polygon then has a hole of no size, or of no width, and
corners that were rounded on the grid. Told: of how many the first lay failed the verifier. Exit code 1 if any
did.
"""

from __future__ import annotations

import argparse
import json
import sys

import numpy as np
import shapely

from nesting.geometry import FloatArray
from nesting.packing import Item, StripProblem, Variant, violations
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import placements_of
from nesting.packing.walks.construct import construct

__all__ = ["first_lay_faults", "two_spirals"]

WAYS = (
    (Variant(0), Variant(180)),
    tuple(Variant(90.0 * k) for k in range(4)),
    (Variant(0), Variant(180), Variant(0, True), Variant(180, True)),
)
DIGITS = (1, 2, 6, 12)
"""Behind the point of a millimetre, to which corners are rounded."""


def two_spirals(seed: int, number: int) -> StripProblem:
    """Two of one spiral, of three to six arms 10 to 40 mm wide, on a strip it goes on in any turn."""
    rng = np.random.default_rng([seed, number])
    arm, arms = rng.uniform(10.0, 40.0), int(rng.integers(3, 7))
    at, ahead = np.zeros(2), np.array([1.0, 0.0])
    middle = [at]
    for k in range(arms):
        at = at + ahead * 2 * arm * (k // 2 + 1)
        middle.append(at)
        ahead = np.array([-ahead[1], ahead[0]])
    whole = shapely.LineString(middle).buffer(arm / 2, cap_style="square", join_style="mitre")
    turn = Variant(rng.uniform(0.0, 360.0)).matrix()
    ring: FloatArray = np.array(whole.exterior.coords)[:-1] @ turn.T
    ring = np.round(ring - ring.min(axis=0), DIGITS[number % len(DIGITS)])
    width = float(np.round(rng.uniform(1.05, 4.0) * np.hypot(*np.ptp(ring, axis=0)), 1))
    return StripProblem(width, (Item("spiral", ring, 2, WAYS[number % len(WAYS)]),))


def first_lay_faults(problem: StripProblem) -> tuple[str, ...]:
    """What the verifier says of the lay that the engine constructs."""
    layout = build(checked(problem))
    xy, shape, _, _ = construct(layout)
    return violations(problem, placements_of(layout, xy, shape))


def main() -> None:
    """Read the command line, hunt, sum up."""
    parser = argparse.ArgumentParser(description="Hunt for first lays that are refused; JSON lines.")
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    asked = parser.parse_args()
    refused = 0
    for number in range(asked.cases):
        faults = first_lay_faults(two_spirals(asked.seed, number))
        if faults:
            refused += 1
            print(json.dumps({"seed": asked.seed, "case": number, "faults": faults}), flush=True)
    print(json.dumps({"cases": asked.cases, "seed": asked.seed, "refused": refused}))
    sys.exit(refused > 0)


if __name__ == "__main__":
    main()
