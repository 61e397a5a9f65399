"""Density against time: ``python -m benchmarks.curve DIRECTORY --seconds 60 --picture FILE``.

Lays each instance file of a directory once and prints a JSON line with every better lay, and last the
end of the search: seconds and density.
All are drawn into one picture, time on a logarithmic axis; the ending of its name decides the kind of file.
With ``--printed FILE`` the lines that earlier runs of the same seed and workers printed are drawn, too, so
that a long evening may be cut into pieces.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from benchmarks.arguments import time_limit
from benchmarks.garments import order
from benchmarks.home import begin
from benchmarks.strip import read_instance
from nesting.geometry import signed_area
from nesting.packing import Packing, Progress, Seconds

Curve = list[tuple[float, float]]


def draw(curves: dict[str, Curve], picture: Path, note: str) -> None:
    """One small drawing for each instance."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    columns = min(4, len(curves))
    rows = -(-len(curves) // columns)
    figure, axes = pyplot.subplots(rows, columns, figsize=(3 * columns, 2.3 * rows), squeeze=False)
    for axis in axes.flat[len(curves) :]:
        axis.set_visible(False)
    for axis, (name, curve) in zip(axes.flat, curves.items(), strict=False):
        seconds, density = zip(*curve, strict=True)
        axis.step(seconds, density, where="post", color="black", linewidth=1)
        axis.set_xscale("log")
        axis.xaxis.set_minor_formatter("")  # only powers of ten are named
        axis.set_title(f"{name}: {density[-1]:.2f} %", fontsize=9)
        axis.tick_params(labelsize=7)
        axis.grid(color="0.9")
    figure.supxlabel("seconds", fontsize=9)
    figure.supylabel("per cent of the strip covered", fontsize=9)
    figure.text(0.995, 0.005, note, ha="right", fontsize=6, color="0.4")
    figure.tight_layout()
    figure.savefig(picture, metadata={"Date": None} if picture.suffix == ".svg" else None)


def printed(lines: Path) -> dict[str, Curve]:
    """The curves that earlier runs printed."""
    read = [json.loads(line) for line in lines.read_text(encoding="utf-8").splitlines()]
    return {line["instance"]: [(seconds, density) for seconds, density in line["curve"]] for line in read}


def main() -> None:
    """Read the command line, lay and draw."""
    parser = argparse.ArgumentParser(description="Density against time on a directory of instances.")
    parser.add_argument("directory", type=Path)
    parser.add_argument("--seconds", type=time_limit, default=60.0)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--picture", type=Path, default=Path("docs/pictures/density-against-time.svg"))
    parser.add_argument("--printed", type=Path, help="lines that earlier runs printed, to be drawn, too")
    parser.add_argument("--note", default="", help="the machine, in general words; written into the corner")
    asked = parser.parse_args()
    from nesting.packing import pack

    curves = printed(asked.printed) if asked.printed else {}
    begin(order(0, 1))
    for path in sorted(asked.directory.glob("*.json")):
        problem = read_instance(path)
        area = sum(item.demand * abs(signed_area(item.outline)) for item in problem.items)
        curve = curves[path.stem] = []

        def better(
            progress: Progress, packing: Packing, curve: Curve = curve, most: float = area / problem.width_mm
        ) -> None:
            curve.append((round(progress.seconds, 3), round(100 * most / packing.length_mm, 3)))

        stop = Seconds(asked.seconds)
        ended = pack(problem, stop=stop, seed=asked.seed, walks=asked.workers, on_progress=better)
        curve.append((round(ended.seconds, 3), curve[-1][1]))
        print(json.dumps({"instance": path.stem, "seed": asked.seed, "curve": curve}), flush=True)
    if not curves:
        parser.error(f"{asked.directory} holds no .json file")
    note = f"{asked.workers} workers, seed {asked.seed}. {asked.note}"
    draw(dict(sorted(curves.items())), asked.picture, note)


if __name__ == "__main__":
    main()
