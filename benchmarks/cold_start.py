"""How long a person waits before anything happens: ``python -m benchmarks.cold_start``.

Each in a fresh process, as JSON lines: the terminal program printing its help (the quickest of some runs); a
first lay whose kernels must be compiled, with an empty directory to keep them in and a second process beside
it, as the commands ask for; and one that finds them there. Of the lays also what the process needs for
imports alone.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time

HELP = "import sys; sys.argv = ['ellwand', '--help']; from nesting.cli.main import main; main()"
IMPORT = "import nesting.packing.search"
LAY = """
import time, numpy as np
from nesting.packing import Evaluations, Item, StripProblem, Variant, pack
from nesting.packing.walks.preparing import beside_the_first_lay
hook = np.array([[0, 0], [12, 0], [12, 4], [4, 4], [4, 9], [0, 9]], dtype=float)
problem = StripProblem(30.0, (Item("hook", hook, 5, (Variant(0), Variant(180))),))
begun = time.perf_counter()
with beside_the_first_lay():
    pack(problem, stop=Evaluations(200000))
first = time.perf_counter() - begun
begun = time.perf_counter()
pack(problem, stop=Evaluations(200000))
print(first - (time.perf_counter() - begun))
"""


def timed(arguments: list[str], **environment: str) -> tuple[float, str]:
    """Seconds of a process and what it printed."""
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, *arguments],
        check=True,
        capture_output=True,
        text=True,
        env={**os.environ, **environment},
    )
    return time.perf_counter() - begun, done.stdout


def main() -> None:
    """Read the command line and time each start."""
    parser = argparse.ArgumentParser(description="Time from start to help, and to the first lay; JSON lines.")
    parser.add_argument("--repeats", type=int, default=3, help="of what is quick; the quickest counts")
    asked = parser.parse_args()

    def quickest(arguments: list[str], **environment: str) -> float:
        return min(timed(arguments, **environment)[0] for _ in range(asked.repeats))

    if "Usage" not in timed(["-c", HELP])[1]:
        parser.error("the terminal program printed no help, so there is nothing to time")

    with tempfile.TemporaryDirectory() as kept:
        help_seconds = quickest(["-c", HELP])
        print(json.dumps({"what": "help", "seconds": round(help_seconds, 2)}), flush=True)
        imports = quickest(["-c", IMPORT], NUMBA_CACHE_DIR=kept)
        print(json.dumps({"what": "import of the engine", "seconds": round(imports, 2)}), flush=True)
        for what in ("kernels compiled", "kernels loaded"):
            whole, printed = timed(["-c", LAY], NUMBA_CACHE_DIR=kept)
            line = {"what": what, "kernels alone, s": round(float(printed), 2), "process, s": round(whole, 2)}
            print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
