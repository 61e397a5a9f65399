"""Quality on open instances: ``python -m benchmarks.strip FILE... --seconds S --seed N --workers K``.

Prints one JSON object per line. With ``--evaluations E`` instead of ``--seconds`` the run is reproducible
to the last digit. Instances are JSON files with ``strip_width`` and ``pieces`` (``outline``, ``quantity``,
``rotations`` in degrees); a directory stands for all such files in it.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import numpy as np

from nesting.geometry import signed_area
from nesting.packing import Evaluations, Item, Packing, Seconds, StripProblem, Variant

__all__ = ["read_instance", "report"]


def read_instance(path: Path) -> StripProblem:
    """The strip problem in a file."""
    data = json.loads(path.read_text())
    items = tuple(
        Item(
            piece["id"],
            np.array(piece["outline"], dtype=np.float64),
            piece["quantity"],
            tuple(Variant(angle) for angle in piece["rotations"]),
        )
        for piece in data["pieces"]
    )
    return StripProblem(float(data["strip_width"]), items)


def report(path: Path, problem: StripProblem, packing: Packing, seconds: float | None, workers: int) -> str:
    """One line of JSON about a run."""
    from nesting.packing import violations

    area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
    return json.dumps(
        {
            "instance": path.stem,
            "seconds asked": seconds,
            "seconds used": round(packing.seconds, 3),
            "seed": packing.seed,
            "workers": workers,
            "length": packing.length_mm,
            "density": 100.0 * area / (problem.width_mm * packing.length_mm),
            "bound": packing.bound_mm,
            "verified": not violations(problem, packing.placements),
            "evaluations": packing.evaluations,
        }
    )


def main() -> None:
    """Read the command line and run each instance."""
    parser = argparse.ArgumentParser(
        description="Pack open strip-packing instances; one JSON object per line."
    )
    parser.add_argument("files", nargs="+", type=Path, help="instance files, or directories of them")
    budget = parser.add_mutually_exclusive_group(required=True)
    budget.add_argument("--seconds", type=float)
    budget.add_argument("--evaluations", type=int)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2, help="independent walks, one thread each")
    asked = parser.parse_args()
    from nesting.packing import pack

    for given in asked.files:
        for path in sorted(given.glob("*.json")) if given.is_dir() else [given]:
            problem = read_instance(path)
            stop = Evaluations(asked.evaluations) if asked.seconds is None else Seconds(asked.seconds)
            packing = pack(problem, stop=stop, seed=asked.seed, walks=asked.workers)
            print(report(path, problem, packing, asked.seconds, asked.workers), flush=True)


if __name__ == "__main__":
    main()
