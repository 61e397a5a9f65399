"""Home-size lays: is the ordinary effort enough? ``python -m benchmarks.home --seconds 300 --count 20``.

Made-up garments of 6 to 20 placements at 1150 and 1500 mm, folded and opened out, one after the other, and
with ``--example`` the lays of the example project. Each is laid twice: with the ordinary effort (what
`Effort` allows, or ``--short-seconds``) and with a long search (``--seconds`` or ``--evaluations``). First
come all short searches, one by one, then the long ones, ``--at-once`` of them side by side, each in a process
and with that share of the workers. Prints a JSON line for each lay and one with the median and worst excess
of the short over the long, and how often the bound met the lay: within a thousandth of a millimetre, one per
mille and one per cent.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from statistics import median
from typing import Any

from benchmarks.arguments import time_limit
from benchmarks.garments import garment_lay
from nesting.packing import Evaluations, Packing, Seconds, StopRule, StripProblem

ROUNDING_MM = 1e-3
"""As near as a length and a bound are taken for the same."""

PROVABLE = 8
"""Placements up to which a proof of the shortest lay is hoped for."""

MET = {"0.001 mm": 0.0, "0.1 %": 1e-3, "1 %": 1e-2}


def generated(seed: int, count: int, least: int, most: int) -> Iterator[tuple[str, StripProblem]]:
    """Lays of every size in turn, both widths and both ways of lying."""
    for k in range(count):
        placements, width, folded = (
            least + (7 * k) % (most - least + 1),
            (1150.0, 1500.0)[k % 2],
            k // 2 % 2 == 0,
        )
        name = f"{placements} at {width:.0f} {'folded' if folded else 'open'}, seed {seed + k}"
        yield name, garment_lay(seed + k, placements, width, folded=folded)


def example() -> Iterator[tuple[str, StripProblem]]:
    """The stretches of the example's cloths in both spreads that have something to search."""
    from importlib.resources import as_file, files

    from nesting import read_project
    from nesting.cloth.cloth import Spread
    from nesting.cutting.plan.demand import wanted
    from nesting.cutting.plan.sharing import plans

    with as_file(files("nesting.files") / "examples" / "jacket.toml") as path:
        project = read_project(path)
    for cloth in project.cloths.values():
        for spread in (Spread.LENGTHWISE_FOLD, Spread.OPEN):
            for plan in plans(wanted(project, cloth), cloth, spread)[:1]:
                for zone in plan.zones:
                    if sum(item.demand for item in zone.problem.items) > 1:
                        yield f"example, {cloth.key}, {spread}", zone.problem


def searched(problem: StripProblem, stop: StopRule, seed: int, walks: int) -> Packing:
    """One search, for another process."""
    from nesting.packing import pack

    return pack(problem, stop=stop, seed=seed, walks=walks)


def begin(problem: StripProblem) -> None:
    """Kernels compiled or loaded before the clock of this process starts."""
    from nesting.packing.walks.preparing import beside_the_first_lay

    with beside_the_first_lay():
        searched(problem, Evaluations(1_000_000), 0, 1)


def compared(name: str, placements: int, quick: Packing, best: Packing) -> dict[str, Any]:
    """What is told of one lay."""
    shortest = min(best.length_mm, quick.length_mm)
    bound = best.bound_mm
    if bound > shortest + ROUNDING_MM:
        raise AssertionError(f"{name}: the bound, {bound} mm, is above a lay of {shortest} mm")
    return {
        "lay": name,
        "placements": placements,
        "short, mm": quick.length_mm,
        "short, s": round(quick.seconds, 2),
        "long, mm": best.length_mm,
        "long, s": round(best.seconds, 2),
        "excess, per cent": round(100 * (quick.length_mm / shortest - 1), 3),
        "bound, mm": bound,
        "gap to bound, share": 0.0 if shortest - bound <= ROUNDING_MM else 1 - bound / shortest,
    }


def met(lines: list[dict[str, Any]]) -> dict[str, int]:
    """How many lays the bound comes that near to."""
    return {
        name: sum(line["gap to bound, share"] <= within for line in lines) for name, within in MET.items()
    }


def main() -> None:
    """Read the command line, lay everything twice, sum up."""
    parser = argparse.ArgumentParser(
        description="Ordinary against long search on home-size lays; JSON lines."
    )
    budget = parser.add_mutually_exclusive_group(required=True)
    budget.add_argument("--seconds", type=time_limit, help="of the long search")
    budget.add_argument("--evaluations", type=int, help="of the long search")
    parser.add_argument(
        "--short-seconds", type=time_limit, help="of the short one, instead of the ordinary effort"
    )
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--least", type=int, default=6, help="placements")
    parser.add_argument("--most", type=int, default=20, help="placements")
    parser.add_argument("--example", action="store_true", help="the example's lays, too")
    parser.add_argument(
        "--workers", type=int, default=2, help="of a short search; shared out among long ones"
    )
    parser.add_argument("--at-once", type=int, default=1, help="long searches side by side")
    asked = parser.parse_args()
    from nesting.cutting.search.laying import Effort

    long: StopRule = Evaluations(asked.evaluations) if asked.seconds is None else Seconds(asked.seconds)
    lays = list(generated(asked.seed, asked.count, asked.least, asked.most))
    lays += example() if asked.example else ()
    problems = [problem for _, problem in lays]
    sizes = [sum(item.demand for item in problem.items) for problem in problems]
    begin(problems[-1])
    quicks = []
    for problem, placements in zip(problems, sizes, strict=True):
        ordinary = Evaluations(Effort().evaluations_per_placement * placements)
        short = Seconds(asked.short_seconds) if asked.short_seconds else ordinary
        quicks.append(searched(problem, short, 0, asked.workers))
    at_length = partial(searched, stop=long, seed=1, walks=max(1, asked.workers // asked.at_once))
    lines = []
    pool = ProcessPoolExecutor(
        asked.at_once, mp_context=get_context("spawn"), initializer=begin, initargs=(problems[-1],)
    )
    with pool as processes:
        bests = processes.map(at_length, problems)
        for (name, _), placements, quick, best in zip(lays, sizes, quicks, bests, strict=True):
            lines.append(compared(name, placements, quick, best))
            print(json.dumps(lines[-1]), flush=True)
    small = [line for line in lines if line["placements"] <= PROVABLE]
    summary = {
        "lays": len(lines),
        "median excess, per cent": round(median(line["excess, per cent"] for line in lines), 3),
        "worst excess, per cent": max(line["excess, per cent"] for line in lines),
        "bound met lay within": met(lines),
        f"lays of up to {PROVABLE}": len(small),
        "bound met these within": met(small),
    }
    print(json.dumps(summary))


if __name__ == "__main__":
    main()
