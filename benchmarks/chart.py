"""Times the requirements chart of the example in six sizes: 1 worker, 2 workers, and Dask with two workers.

Run from the folder of the project on a machine with nothing else to do: ``python -m benchmarks.chart``.
Starting the processes counts. Each way works out all lays anew, and all must give the same figures to the
last digit. The efficiency of the second worker is what it adds, as a share of what the first does: time with
one worker over time with two, less one.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable

from nesting.cutting.search.laying import Effort
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.crew import Crew, ProcessCrew, SchedulerCrew
from nesting.estimate.many.jobs import NothingKept, work
from nesting.estimate.many.side_by_side import Watcher, lay_side_by_side, still_to_do
from nesting.estimate.overview.chart import ChartPlan, plan_chart
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project


def timed(plan: ChartPlan, crew: Callable[[], Crew]) -> tuple[float, dict[str, ClothFigures]]:
    """Seconds for the whole chart, the start of the crew included, and its figures."""
    _, jobs = still_to_do(plan.jobs, NothingKept())
    begun = time.perf_counter()
    with crew() as ready:
        found = lay_side_by_side(jobs, ready, NothingKept(), Watcher())
        return time.perf_counter() - begun, found


def main() -> None:
    """Print a table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--cloth", action="append", help="only this cloth (default: main)")
    asked.add_argument("--sizes", type=int, default=6, help="so many of the sizes")
    asked.add_argument("--evaluations", type=int, default=Effort().evaluations_per_placement)
    asked.add_argument("--no-dask", action="store_true")
    options = asked.parse_args()
    project = parse_project(example_text("jacket-sizes"), source="jacket-sizes.toml")
    plan = plan_chart(
        project,
        cloths=options.cloth or ["main"],
        sizes=[one.size for one in project.sizes][: options.sizes],
        effort=Effort(evaluations_per_placement=options.evaluations),
    )
    _, jobs = still_to_do(plan.jobs, NothingKept())
    work(jobs[-1])  # so that a machine's first run is over
    widths = len({row.cloth.width_mm for row in plan.rows})
    cloths = ", ".join(options.cloth or ["main"])
    print(f"{len(plan.sizes)} sizes, {widths} widths, {len(jobs)} lays of {cloths}")
    one_s, figures = timed(plan, lambda: ProcessCrew(1))
    print(f"1 worker           {one_s:7.1f} s")
    ways: list[tuple[str, float, dict[str, ClothFigures]]] = [
        ("2 workers", *timed(plan, lambda: ProcessCrew(2)))
    ]
    if not options.no_dask:
        from distributed import LocalCluster

        begun = time.perf_counter()
        with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster:
            started_s = time.perf_counter() - begun
            seconds, found = timed(plan, lambda: SchedulerCrew(cluster.scheduler_address))
        ways.append(("Dask, 2 workers", seconds, found))
        print(f"(the Dask cluster itself took {started_s:.1f} s to start, not counted)")
    for name, seconds, found in ways:
        if found != figures:
            raise SystemExit(f"{name}: other figures than one worker gives")
        print(f"{name:17} {seconds:8.1f} s   second worker at {100 * (one_s / seconds - 1):.0f} %")


if __name__ == "__main__":
    main()
