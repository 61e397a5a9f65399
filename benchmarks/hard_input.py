"""Does a search end when it was told to, whatever it is given? ``python -m benchmarks.hard_input``.

What no one should ask of the engine, as in `tests/packing/test_bad_input.py`, each with a limit in seconds. A
JSON line each: seconds to the first lay and in all, how far past the limit that is, and whether the
verifier passes the lay; or the error that refused it.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Iterator

import numpy as np

from benchmarks.arguments import time_limit
from benchmarks.home import begin
from nesting.errors import EllwandError
from nesting.geometry import FloatArray
from nesting.packing import (
    Item,
    Packing,
    Progress,
    Seconds,
    StripProblem,
    Variant,
    pack,
    violations,
)

TURNS = (Variant(0), Variant(180), Variant(0, True), Variant(180, True))


def board(length: float, width: float) -> FloatArray:
    """A rectangle."""
    return np.array([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]])


def hook(size: float) -> FloatArray:
    """Three by two and a half times its size, with a corner taken out."""
    return size * np.array([[0, 0], [3, 0], [3, 1], [1, 1], [1, 2.5], [0, 2.5]])


def saw(teeth: int, depth: float, length: float = 600.0, width: float = 200.0) -> FloatArray:
    """A board, (N, 2) in mm, with both long sides toothed."""
    along = np.linspace(0.0, length, 2 * teeth + 1)
    edge = depth * (np.arange(2 * teeth + 1) % 2)
    return np.concatenate([np.column_stack([along, edge]), np.column_stack([along, width - edge])[::-1]])


def flower(count: int) -> FloatArray:
    """A smooth outline of so many vertices, 660 mm across."""
    turn = np.arange(count) / count * 2 * np.pi
    return (300 + 30 * np.cos(9 * turn))[:, None] * np.column_stack([np.cos(turn), np.sin(turn)])


def idle(count: int) -> FloatArray:
    """A board of 400 by 100 mm, one side of which has so many points that lie straight through."""
    along = np.linspace(0.0, 400.0, count)
    return np.concatenate([np.column_stack([along, np.zeros(count)]), [[400.0, 100.0], [0.0, 100.0]]])


def cases() -> Iterator[tuple[str, StripProblem]]:
    """Each kind of input, by name."""

    def of(ring: FloatArray, demand: int, width: float, gap: float = 0.0) -> StripProblem:
        return StripProblem(width, (Item("item", ring, demand, TURNS),), gap)

    yield "fits in no turn", of(board(500, 1200), 1, 1000.0)
    yield "none wanted", of(board(500, 200), 0, 1000.0)
    yield "5000 vertices, smooth", of(flower(5000), 6, 1400.0)
    yield "2000 teeth of 0.02 mm", of(saw(1000, 0.02), 12, 1400.0)
    yield "2000 teeth of 5 mm", of(saw(1000, 5.0), 12, 1400.0)
    yield "400 teeth of 5 mm", of(saw(200, 5.0), 12, 1400.0)
    yield "90 teeth of 5 mm", of(saw(45, 5.0), 12, 1400.0)
    yield "90 teeth of 5 mm, a gap of 5 mm", of(saw(45, 5.0), 12, 1400.0, 5.0)
    yield "2000 teeth of 5 mm, a gap of 5 mm", of(saw(1000, 5.0), 12, 1400.0, 5.0)
    yield "5000 points straight through", of(idle(5000), 6, 1000.0)
    yield "slivers", of(np.array([[0.0, 0.0], [400.0, 0.0], [200.0, 0.01]]), 20, 1000.0)
    yield "copies that touch all round", of(board(100, 100), 81, 900.0)
    yield "1e6 mm", of(hook(1e6), 12, 8e6)
    yield "0.01 mm", of(hook(0.01), 12, 0.08)
    yield "1000 hooks", of(hook(30.0), 1000, 1400.0)
    yield "1000 boards that touch", of(board(90, 90), 1000, 900.0)
    wall = board(50.0, 1000.0) + np.array([200.0, 0.0])
    long, short = Item("long", board(300, 800)), Item("short", board(150, 800))
    yield "an obstacle from side to side", StripProblem(1000.0, (long, short), obstacles=(wall,))


def tried(name: str, problem: StripProblem, seconds: float, workers: int) -> dict[str, object]:
    """What came of one case."""
    first: list[float] = []

    def seen(progress: Progress, packing: Packing) -> None:
        first.append(progress.seconds)

    begun = time.perf_counter()
    try:
        packing = pack(problem, stop=Seconds(seconds), walks=workers, on_progress=seen)
    except EllwandError as error:
        return {
            "case": name,
            "refused": f"{type(error).__name__}: {error}",
            "seconds used": time.perf_counter() - begun,
        }
    used = time.perf_counter() - begun
    return {
        "case": name,
        "first lay, s": round(first[0], 2),
        "seconds used": round(used, 2),
        "past the limit, s": round(max(0.0, used - seconds), 2),
        "length, mm": packing.length_mm,
        "verified": violations(problem, packing.placements) == (),
        "stopped because": packing.stopped_because.value,
    }


def main() -> None:
    """Read the command line and try each case."""
    parser = argparse.ArgumentParser(description="Hard input under a limit in seconds; JSON lines.")
    parser.add_argument("--seconds", type=time_limit, default=2.0)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    begin(StripProblem(500.0, (Item("hook", hook(50.0), 5, TURNS),)))
    for name, problem in cases():
        print(json.dumps(tried(name, problem, asked.seconds, asked.workers)), flush=True)


if __name__ == "__main__":
    main()
