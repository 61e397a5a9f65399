"""What each kind of constraint costs: ``python -m benchmarks.constraints --evaluations 5000000``.

One made-up lay of ten placements, opened out, and the same with one constraint more at a time, each with the
same number of evaluations, in turn and as often as asked: the quickest of each counts. A JSON line each:
seconds of search (set-up and bound taken off), how many times as slow as with none, and the set-up. The lays
differ in length, of course: that's no fault.
"""

from __future__ import annotations

import argparse
import json
from dataclasses import replace
from typing import Any

import numpy as np

from benchmarks.garments import FACE_DOWN, FACE_UP, garment_lay
from benchmarks.home import begin
from nesting.packing import EdgeRule, Evaluations, Lattice, Packing, Progress, StripProblem, Variant


def variations(seed: int) -> dict[str, StripProblem]:
    """The lay with nothing asked of it, and with each constraint by itself."""
    plain = garment_lay(seed, 10, 1500.0, folded=False)

    def each(**changed: Any) -> StripProblem:  # fields of an item
        return replace(plain, items=tuple(replace(item, **changed) for item in plain.items))

    block = np.array([[300.0, 300.0], [420.0, 300.0], [420.0, 700.0], [300.0, 700.0]])
    first, *others = plain.items
    return {
        "none": plain,
        "edge, one item": replace(plain, items=(replace(first, edge=EdgeRule.LOW), *others)),
        "edge, every item, either side": each(edge=EdgeRule.EITHER),
        "mirrored variants": each(variants=FACE_UP + FACE_DOWN),
        "lattice along": each(x_lattice=Lattice(80.0)),
        "lattice across": each(y_lattice=Lattice(60.0)),
        "lattice both ways": each(x_lattice=Lattice(80.0), y_lattice=Lattice(60.0)),
        "obstacle": replace(plain, obstacles=(block,)),
        "gap": replace(plain, gap_mm=5.0),
        "quarter turns": each(variants=tuple(Variant(turn) for turn in (0, 90, 180, 270))),
        "eighths of a turn": each(variants=tuple(Variant(45 * k) for k in range(8))),
        "a window along": replace(
            plain,
            items=(replace(first, x_window_mm=(300.0, 300.0 + 2 * float(np.ptp(first.outline)))), *others),
        ),
    }


def main() -> None:
    """Read the command line and time each variation."""
    parser = argparse.ArgumentParser(description="Slowdown of each kind of constraint; JSON lines.")
    parser.add_argument("--evaluations", type=int, default=5_000_000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--repeats", type=int, default=3, help="the quickest counts")
    parser.add_argument("--workers", type=int, default=1)
    asked = parser.parse_args()
    from nesting.packing import pack

    problems = variations(asked.seed)
    timed: dict[str, list[tuple[float, float, Packing]]] = {name: [] for name in problems}
    begin(next(iter(problems.values())))
    for _ in range(asked.repeats):
        for name, problem in problems.items():
            begun: list[float] = []

            def first(progress: Progress, packing: Packing, begun: list[float] = begun) -> None:
                begun.append(progress.seconds)

            packing = pack(
                problem,
                stop=Evaluations(asked.evaluations),
                seed=asked.seed,
                walks=asked.workers,
                on_progress=first,
            )
            timed[name].append((packing.seconds - begun[0], begun[0], packing))
    plain_seconds = None
    for name, times in timed.items():
        seconds, set_up, packing = min(times, key=lambda timed: timed[0])
        plain_seconds = plain_seconds or seconds / packing.evaluations
        line = {
            "constraint": name,
            "search, s": round(seconds, 3),
            "times as slow": round(seconds / packing.evaluations / plain_seconds, 2),
            "set-up and first lay, s": round(set_up, 3),
            "evaluations": packing.evaluations,
            "length, mm": round(packing.length_mm, 1),
        }
        print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
