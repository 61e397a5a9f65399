"""Quality on open instances: ``python -m benchmarks.strip FILE... --seconds S --seed N --workers K``.

Prints one JSON object per line. With ``--evaluations E`` instead of ``--seconds`` the run is reproducible
to the last digit. Instances are JSON files with ``strip_width`` and ``pieces`` (``outline``, ``quantity``,
``rotations`` in degrees); a directory stands for all such files in it. What is wrong with a file is told on
standard error and the others are packed; the exit code is 2 then.
"""

from __future__ import annotations

import argparse
import json
import sys
from operator import index
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.arguments import time_limit
from nesting.errors import EllwandError, InvalidProblem
from nesting.geometry import signed_area
from nesting.packing import Evaluations, Item, Packing, Seconds, StripProblem, Variant

__all__ = ["read_instance", "report"]


def read_instance(path: Path) -> StripProblem:
    """The strip problem in a file.

    Raises
    ------
    InvalidProblem
        When the file can't be read, or does not hold such a problem.
    """
    if path.is_dir():
        raise InvalidProblem("there is no .json file in this directory")
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise InvalidProblem(f"it can't be read ({error.strerror})") from error
    except ValueError as error:
        raise InvalidProblem(f"it is no JSON ({error})") from error
    try:
        width, pieces = float(data["strip_width"]), list(data["pieces"])
    except KeyError as error:
        raise InvalidProblem(f"it has no {error}") from error
    except (TypeError, ValueError) as error:
        raise InvalidProblem(f"its strip_width or pieces make no sense ({error})") from error
    return StripProblem(width, tuple(_item(k + 1, piece) for k, piece in enumerate(pieces)))


def _files_of(given: Path) -> list[Path]:
    """Those of a directory, or the one that is given."""
    return (sorted(given.glob("*.json")) if given.is_dir() else []) or [given]


def _item(number: int, piece: Any) -> Item:
    try:
        return Item(
            str(piece["id"]),
            np.array(piece["outline"], dtype=np.float64),
            index(piece["quantity"]),
            tuple(Variant(float(angle)) for angle in piece["rotations"]),
        )
    except KeyError as error:
        raise InvalidProblem(f"piece {number} has no {error}") from error
    except (TypeError, ValueError) as error:
        raise InvalidProblem(f"piece {number} makes no sense ({error})") from error


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
    budget.add_argument("--seconds", type=time_limit)
    budget.add_argument("--evaluations", type=int)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2, help="independent walks, one thread each")
    asked = parser.parse_args()
    from nesting.packing import pack
    from nesting.packing.walks.preparing import beside_the_first_lay

    faulty = False
    stop = Evaluations(asked.evaluations) if asked.seconds is None else Seconds(asked.seconds)
    for path in (path for given in asked.files for path in _files_of(given)):
        try:
            problem = read_instance(path)
            with beside_the_first_lay():
                packing = pack(problem, stop=stop, seed=asked.seed, walks=asked.workers)
        except EllwandError as error:
            faulty = True
            print(f"{path}: {error}", file=sys.stderr, flush=True)
            continue
        print(report(path, problem, packing, asked.seconds, asked.workers), flush=True)
    if faulty:
        sys.exit(2)


if __name__ == "__main__":
    main()
