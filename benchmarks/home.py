"""Home-size lays: is the ordinary effort enough? ``python -m benchmarks.home --seconds 300 --count 20``.

Made-up garments of 6 to 20 placements at 1150 and 1500 mm, folded and opened out, one after the other, and
with ``--example`` the lays of the example project. Each is laid twice: with the ordinary effort (what
`Effort` allows, or ``--short-seconds``) and with a long search (``--seconds`` or ``--evaluations``). Prints a
JSON line for each lay and one with the median and worst excess of the short over the long, and how often the
bound met the lay: within a thousandth of a millimetre, one per mille and one per cent.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from statistics import median

from benchmarks.garments import garment_lay
from nesting.packing import Evaluations, Seconds, StopRule, StripProblem

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
    from nesting.cutting.demand import wanted
    from nesting.cutting.sharing import plans

    with as_file(files("nesting.files") / "examples" / "jacket.toml") as path:
        project = read_project(path)
    for cloth in project.cloths.values():
        for spread in (Spread.LENGTHWISE_FOLD, Spread.OPEN):
            for plan in plans(wanted(project, cloth), cloth, spread)[:1]:
                for zone in plan.zones:
                    if sum(item.demand for item in zone.problem.items) > 1:
                        yield f"example, {cloth.key}, {spread}", zone.problem


def main() -> None:
    """Read the command line, lay everything twice, sum up."""
    parser = argparse.ArgumentParser(
        description="Ordinary against long search on home-size lays; JSON lines."
    )
    budget = parser.add_mutually_exclusive_group(required=True)
    budget.add_argument("--seconds", type=float, help="of the long search")
    budget.add_argument("--evaluations", type=int, help="of the long search")
    parser.add_argument(
        "--short-seconds", type=float, help="of the short one, instead of the ordinary effort"
    )
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--least", type=int, default=6, help="placements")
    parser.add_argument("--most", type=int, default=20, help="placements")
    parser.add_argument("--example", action="store_true", help="the example's lays, too")
    asked = parser.parse_args()
    from nesting.cutting.laying import Effort
    from nesting.packing import pack

    long: StopRule = Evaluations(asked.evaluations) if asked.seconds is None else Seconds(asked.seconds)
    lays = list(generated(asked.seed, asked.count, asked.least, asked.most))
    excess, gaps = [], []
    for name, problem in [*lays, *(example() if asked.example else ())]:
        placements = sum(item.demand for item in problem.items)
        ordinary = Evaluations(Effort().evaluations_per_placement * placements)
        quick = pack(problem, stop=Seconds(asked.short_seconds) if asked.short_seconds else ordinary)
        best = pack(problem, stop=long, seed=1)
        shortest = min(best.length_mm, quick.length_mm)
        excess.append(100 * (quick.length_mm / shortest - 1))
        gaps.append(shortest - quick.bound_mm if shortest - quick.bound_mm > 1e-3 else 0.0)
        line = {
            "lay": name,
            "placements": placements,
            "short, mm": quick.length_mm,
            "short, s": round(quick.seconds, 2),
            "long, mm": best.length_mm,
            "excess, per cent": round(excess[-1], 3),
            "bound, mm": quick.bound_mm,
            "bound to lay": round(quick.bound_mm / shortest, 4),
        }
        gaps[-1] /= shortest
        print(json.dumps(line), flush=True)
    met = {name: sum(gap <= within for gap in gaps) for name, within in MET.items()}
    print(
        json.dumps(
            {
                "lays": len(excess),
                "median excess, per cent": round(median(excess), 3),
                "worst excess, per cent": round(max(excess), 3),
                "bound met lay within": met,
            }
        )
    )


if __name__ == "__main__":
    main()
