"""Would a test notice? ``nice python -m benchmarks.mutants nesting/units.py``; needs ``.[mutation]``.

One small fault at a time is put into a module, and the tests that concern it are run; a fault that all of
them pass shows what no test asks. The faults (mutants) are those of Cosmic Ray's operators, to which leaving
out a statement is added. Cosmic Ray's own command starts Python anew for each of them, two and a half seconds
of processor time where a test takes a hundredth; here the tests are run once, what they loaded is kept, and
each mutant is tried in a fork of that process. No file is changed.

Which tests concern a module stands in ``mutating/plan.py``; the mutants that no test can tell from the
module, each with why, in ``mutating/judged.py``. Only tests that run the mutated function are run, the quick
ones first. A mutant is killed when a test fails, when the module cannot be imported, and when it takes three
times the processor time of the module as it is, ten seconds at least.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from benchmarks.mutating.judged import EFFORT, SAME
from benchmarks.mutating.making import Mutant, function_at, mutant_at, spots_in
from benchmarks.mutating.plan import PLAN
from benchmarks.mutating.trying import forked, survives, watched

ROOT = Path(__file__).parent.parent


def main() -> None:
    """Read the command line, try the mutants of each module, tell."""
    parser = argparse.ArgumentParser(description="Put small faults into a module; does a test notice?")
    parser.add_argument("modules", nargs="*", help="paths; all that are planned if none is given")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--lines", default="", help="only mutants of these lines: 10-40")
    parser.add_argument("--sample", type=int, default=0, help="only so many spots, drawn by chance (seed 0)")
    asked = parser.parse_args()
    os.chdir(ROOT)
    for name in asked.modules or PLAN:
        line = forked(lambda name=name: (0, try_all(name, asked)))[1]
        print(line, flush=True)


def try_all(name: str, asked: argparse.Namespace) -> str:
    """Try the mutants of one module; a JSON object of what came of it."""
    path, module = ROOT / name, name.removesuffix(".py").replace("/", ".")
    plan = PLAN[name]
    os.environ.update(plan.environment)
    began = time.perf_counter()
    tests = watched(module, path, plan.run)
    source = path.read_text(encoding="utf-8")
    if not survives(module, path, Mutant(0, "", "", source), tests, None):
        raise SystemExit(f"The tests of {path} do not pass in a fork.")
    spots = spots_in(source)
    drawn = random.Random(0).sample(range(len(spots)), min(asked.sample or len(spots), len(spots)))
    chosen = [mutant for k in sorted(drawn) if (mutant := mutant_at(source, spots[k]))]
    if asked.lines:
        first, last = map(int, asked.lines.split("-"))
        chosen = [mutant for mutant in chosen if first <= mutant.line <= last]
    same = [m for m in chosen if (m.was, m.became) in SAME.get(name, {})]
    effort = [m for m in chosen if m.was in EFFORT.get(name, ())]
    tried = [m for m in chosen if m not in same and m not in effort]
    # Where results are kept from one test to the next, the first alone is seen to run what made them.
    functions = [None if plan.keeps_results else function_at(source, mutant.line) for mutant in tried]
    survived = []
    with ThreadPoolExecutor(asked.jobs) as pool:
        lives = pool.map(lambda m, f: survives(module, path, m, tests, f), tried, functions)
        for done, (mutant, lived) in enumerate(zip(tried, lives, strict=True), start=1):
            print(f"\r{done} of {len(tried)}", end="", file=sys.stderr, flush=True)
            if lived:
                survived.append(mutant)
                print(f"{name}:{mutant.line}\n  - {mutant.was}\n  + {mutant.became}", flush=True)
    found = {
        "module": name,
        "spots": len(spots),
        "mutants": len(chosen),
        "the same": len(same),
        "mere effort": len(effort),
        "killed": len(tried) - len(survived),
        "survived": len(survived),
        "killed, pct of all": round(100 * (len(tried) - len(survived)) / len(chosen), 1),
        "killed, pct of those that differ": round(100 * (1 - len(survived) / len(tried)), 1),
        "tests": len(tests.seconds),
        "seconds": round(time.perf_counter() - began),
    }
    return json.dumps(found)


if __name__ == "__main__":
    main()
