"""From a home project to a workroom order: ``python -m benchmarks.scaling --seconds 60``.

The same made-up garment of ten placements, 1, 2, 4 … 32 times on cloth of 1400 mm. One JSON line each:
seconds to the first verified lay and until within 2 % of the final density, both with set-up and bound in
them; evaluations a second since the first lay; and the most memory the process has held so far (so run the
sizes in rising order, as this does). What a move costs, which may grow no faster than n·log n, can't be told
from these, for a move takes more evaluations in a larger lay: ``python -m benchmarks.kernels --garments``
times moves.
"""

from __future__ import annotations

import argparse
import json
import resource

from benchmarks.arguments import time_limit
from benchmarks.garments import order
from benchmarks.home import begin
from nesting.geometry import signed_area
from nesting.packing import Evaluations, Packing, Progress, Seconds, StopRule

ENOUGH = 0.98


def main() -> None:
    """Read the command line and lay each order."""
    parser = argparse.ArgumentParser(description="Lays of growing orders; one JSON object per line.")
    budget = parser.add_mutually_exclusive_group(required=True)
    budget.add_argument("--seconds", type=time_limit)
    budget.add_argument("--evaluations", type=int)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--garments", type=int, nargs="+", default=[1, 2, 4, 8, 16, 32])
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    from nesting.packing import pack

    begin(order(0, 1))
    stop: StopRule = Evaluations(asked.evaluations) if asked.seconds is None else Seconds(asked.seconds)
    for garments in sorted(asked.garments):
        problem = order(asked.seed, garments)
        told: list[tuple[float, float]] = []

        def better(progress: Progress, packing: Packing, told: list[tuple[float, float]] = told) -> None:
            told.append((progress.seconds, packing.length_mm))

        packing = pack(problem, stop=stop, seed=asked.seed, walks=asked.workers, on_progress=better)
        area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
        searched = packing.seconds - told[0][0]
        near = next(seconds for seconds, length in told if ENOUGH * length <= packing.length_mm)
        line = {
            "placements": sum(item.demand for item in problem.items),
            "first lay, s": round(told[0][0], 3),
            "within 2 per cent, s": round(near, 3),
            "density, per cent": round(100 * area / (problem.width_mm * packing.length_mm), 2),
            "seconds": round(packing.seconds, 2),
            "evaluations": packing.evaluations,
            "evaluations a second": round(packing.evaluations / searched) if searched > 0 else None,
            "peak memory, MiB": round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024),
        }
        print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
