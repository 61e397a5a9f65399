"""Where the search spends its time: ``python -m benchmarks.kernels FILE... --garments N... --evaluations E``.

The search runs for a while; from the lay it has then, with its overlaps and weights, every piece is asked
each question many times over. The same few questions again and again are answered faster than in a search,
where each comes once (two to three times, on large lays), so moves are timed in ordinary passes, too. One
JSON object per instance, and one per order of N made-up garments (as in
`benchmarks.scaling`), to see what a move costs as orders grow: microseconds of processor time for one call,
and how many evaluations it counts.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Callable
from pathlib import Path

import numba
import numpy as np

from benchmarks.garments import order
from benchmarks.strip import read_instance
from nesting.packing import StripProblem
from nesting.packing.bounds.bound import lower_bound
from nesting.packing.kernels.line import line_search
from nesting.packing.kernels.move import refine
from nesting.packing.kernels.settle import settle
from nesting.packing.kernels.sight import Scratch, cost_at, look_round, new_scratch, touching_spot
from nesting.packing.outlines.checks import checked
from nesting.packing.outlines.shapes import IntArray
from nesting.packing.outlines.table_building import build
from nesting.packing.outlines.tables import Tables
from nesting.packing.walks.attempt import (
    AIM,
    Attempt,
    bring_onto,
    copy_lay,
    measure,
    overlaps,
)
from nesting.packing.walks.construct import construct
from nesting.packing.walks.separate import move_piece, raise_weights, walk_on, window_at
from nesting.packing.walks.settings import ROAM, Settings
from nesting.packing.walks.walk import new_walk

__all__ = ["times_of"]

Question = Callable[[Tables, Attempt, Scratch, Settings, int], None]

ROUNDS, PASSES = 200, 1000

_compiled = numba.njit(nogil=True, error_model="numpy", _nrt=False)


@_compiled
def _look(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int) -> None:
    s = attempt.shape[i]
    window = window_at(tables, s, attempt.xy[i, 0], settings)
    look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, window, scratch)


@_compiled
def _look_and_touch(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int) -> None:
    s = attempt.shape[i]
    m = look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, (-np.inf, np.inf), scratch)
    for _ in range(10):
        x, y = touching_spot(tables, scratch, m, s, attempt.number[AIM], attempt.rng)
        cost_at(tables, scratch, m, x, y, 0.0, np.inf, attempt.used)


@_compiled
def _look_and_search_a_line(
    tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int
) -> None:
    s, x, y = attempt.shape[i], attempt.xy[i, 0], attempt.xy[i, 1]
    window = window_at(tables, s, x, settings)
    m = look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, window, scratch)
    line, span = (x, y, 0.0, 1.0), (-np.inf, np.inf)
    line_search(tables, scratch, m, s, attempt.number[AIM], window, line, span, 0.0, np.inf, attempt.used)


@_compiled
def _look_and_refine(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int) -> None:
    s, x, y = attempt.shape[i], attempt.xy[i, 0], attempt.xy[i, 1]
    window = window_at(tables, s, x, settings)
    m = look_round(tables, attempt.xy, attempt.shape, attempt.weight, i, s, window, scratch)
    now = cost_at(tables, scratch, m, x, y, 0.0, np.inf, attempt.used)
    refine(tables, scratch, m, s, attempt.number[AIM], window, x, y, now, 0.0, attempt.used)


@_compiled
def _measure(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int) -> None:
    measure(tables, attempt, i)


@_compiled
def _move(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, i: int) -> None:
    move_piece(tables, attempt, scratch, i, settings)


@_compiled
def _push_all(tables: Tables, attempt: Attempt, n: int) -> None:
    """Push all pieces of the lay of least overlap apart at once, `n` times."""
    for _ in range(n):
        copy_lay(attempt.low_xy, attempt.low_shape, attempt.xy, attempt.shape)
        settle(tables, attempt.xy, attempt.shape, attempt.number[AIM], attempt.used)


@_compiled
def _passes(tables: Tables, attempt: Attempt, scratch: Scratch, settings: Settings, n: int) -> int:
    """So many passes as in a search, anew from the lay of least overlap when none is left; moves made."""
    moves = 0
    for _ in range(n):
        before = moves
        for i in range(tables.moving):
            if overlaps(attempt, i):
                move_piece(tables, attempt, scratch, i, settings)
                moves += 1
        if moves > before:
            raise_weights(tables, attempt, settings)
        else:
            copy_lay(attempt.low_xy, attempt.low_shape, attempt.xy, attempt.shape)
            for i in range(tables.moving):
                measure(tables, attempt, i)
    return moves


@_compiled
def _ask(
    question: Question,
    tables: Tables,
    attempt: Attempt,
    scratch: Scratch,
    settings: Settings,
    pieces: IntArray,
    n: int,
) -> None:
    """Ask of each of the pieces, `n` times, always about the lay of least overlap."""
    for _ in range(n):
        copy_lay(attempt.low_xy, attempt.low_shape, attempt.xy, attempt.shape)
        for i in pieces:
            question(tables, attempt, scratch, settings, i)


def times_of(name: str, problem: StripProblem, evaluations: int) -> dict[str, object]:
    """Microseconds and evaluations of each question about the lay the search has after that long."""
    problem = checked(problem)
    layout = build(problem)
    tables = layout.tables
    xy, shape, length, _ = construct(layout)
    walk = new_walk(tables, xy, shape, length, lower_bound(problem, layout), 7)
    attempt, scratch = walk.attempt, new_scratch(tables, len(shape))
    walk_on(tables, walk, scratch, ROAM, 1000)  # compiles
    spent, begun = int(attempt.used[0]), time.process_time()
    walk_on(tables, walk, scratch, ROAM, evaluations)
    found: dict[str, object] = {
        "instance": name,
        "pieces": tables.moving,
        "edges of a no-fit polygon": round(len(tables.edge) / len(tables.box), 1),
        "million evaluations a second": round(
            (int(attempt.used[0]) - spent) / (time.process_time() - begun) / 1e6, 2
        ),
    }

    attempt.xy[:], attempt.shape[:] = attempt.low_xy, attempt.low_shape
    bring_onto(tables, attempt)
    pieces = np.flatnonzero((attempt.over[: tables.moving] > 0).any(axis=1))
    found["pieces that overlap"] = len(pieces)
    if not len(pieces):
        raise SystemExit(f"{name}: no piece overlaps after so many evaluations; ask for other --evaluations")

    def note(name: str, question: Question, chosen: Settings = ROAM) -> None:
        calls = ROUNDS * len(pieces)
        _ask(question, tables, attempt, scratch, chosen, pieces, 1)  # compiles
        spent, begun = int(attempt.used[0]), time.process_time()
        _ask(question, tables, attempt, scratch, chosen, pieces, ROUNDS)
        taken = time.process_time() - begun
        asked = (int(attempt.used[0]) - spent) / calls
        found[name] = {"µs": round(1e6 * taken / calls, 2), "evaluations": round(asked, 1)}

    note("look round", _look)
    note("look round everywhere, ten touching spots", _look_and_touch)
    note("look round, one line across", _look_and_search_a_line)
    note("look round, walk from corner to corner", _look_and_refine)
    note("measure a piece anew", _measure)
    note("move, near by only", _move, ROAM._replace(samples=0))
    note("move", _move)
    _passes(tables, attempt, scratch, ROAM, 1)  # compiles
    spent, begun = int(attempt.used[0]), time.process_time()
    moves = _passes(tables, attempt, scratch, ROAM, PASSES)
    taken = time.process_time() - begun
    found["move, in passes as in a search"] = {
        "µs": round(1e6 * taken / moves, 2),
        "evaluations": round((int(attempt.used[0]) - spent) / moves, 1),
        "moves a pass": round(moves / PASSES, 1),
    }
    _push_all(tables, attempt, 1)  # compiles
    begun = time.process_time()
    _push_all(tables, attempt, ROUNDS)
    found["push all pieces at once"] = {"µs": round(1e6 * (time.process_time() - begun) / ROUNDS, 2)}
    return found


def main() -> None:
    """Read the command line and time each instance."""
    parser = argparse.ArgumentParser(description="Time the kernels of the search; one JSON object per line.")
    parser.add_argument("files", nargs="*", type=Path, help="instance files")
    parser.add_argument("--garments", type=int, nargs="+", default=[], help="sizes of made-up orders")
    parser.add_argument("--evaluations", type=int, default=20_000_000, help="how long to search before")
    asked = parser.parse_args()
    problems = [(path.stem, read_instance(path)) for path in asked.files]
    problems += [(f"order of {garments}", order(0, garments)) for garments in asked.garments]
    if not problems:
        parser.error("give instance files, or --garments")
    for name, problem in problems:
        print(json.dumps(times_of(name, problem, asked.evaluations), ensure_ascii=False), flush=True)


if __name__ == "__main__":
    main()
