"""Makes every table, listing and picture of the documents anew that shows what the program does with cloth.

Run from the folder of the project: ``python -m benchmarks.documents``. With ``--compare`` nothing is
written: all is made in another folder, and what differs from the documents is told (exit code 1). It needs
what each maker needs: the test extra, pdftoppm and an installed Chromium. The pages of the engine are not
among them: their figures take hours on a machine with nothing else to do.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import numpy as np

from benchmarks import (
    check_pictures,
    in_hand,
    mistakes,
    orders,
    shop_pictures,
    spreads,
    stripes,
    table_pictures,
)
from benchmarks.parts import DOCS

__all__ = ["MAKERS", "differing", "looks_the_same"]

MAKERS: dict[str, Callable[[Path], None]] = {
    "check": check_pictures.main,
    "in-hand": in_hand.main,
    "stripes": stripes.main,
    "spreads": spreads.main,
    "orders": orders.main,
    "shop": shop_pictures.main,
    "table": table_pictures.main,
    "mistakes": mistakes.main,
}
LEAST_STEP = 48
"""Two shades, of 256, this far apart are told apart; less is how another version smooths its edges."""
LEAST_SHARE = 0.002
"""Of a picture, this much must differ: one word or one line, and not how another version draws letters."""


def looks_the_same(made: bytes, shown: bytes) -> bool:
    """Whether two PNGs show the same, pixel by pixel but for how letters and edges are smoothed."""
    from matplotlib.image import imread

    one, other = (np.atleast_3d(imread(BytesIO(data)))[..., :3] for data in (made, shown))
    if one.shape != other.shape:
        return False
    differs = np.abs(one - other).max(axis=2) > LEAST_STEP / 255
    return float(differs.mean()) < LEAST_SHARE


def differing(made: Path, shown: Path) -> Iterator[str]:
    """Pages and pictures of one folder of documents that the other shows otherwise or has not."""
    for path in sorted(made.rglob("*")):
        name = path.relative_to(made)
        if path.suffix not in (".md", ".png"):
            continue
        there = shown / name
        if not there.is_file():
            yield f"{name} is new"
        elif path.suffix == ".md" and path.read_bytes() != there.read_bytes():
            yield f"{name} says something else now"
        elif path.suffix == ".png" and not looks_the_same(path.read_bytes(), there.read_bytes()):
            yield f"{name} shows something else now"


def main() -> int:
    """Make all, or compare all."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--compare", action="store_true", help="write nothing, tell what is older")
    asked.add_argument("--only", action="append", choices=MAKERS, help="only this part (may be repeated)")
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        docs = Path(name, "docs") if options.compare else DOCS
        if options.compare:
            shutil.copytree(DOCS, docs)
        for part in options.only or MAKERS:
            print(f"{part} …", flush=True)
            MAKERS[part](docs)
        older = list(differing(docs, DOCS))
    for line in older:
        print(line)
    return 1 if older else 0


if __name__ == "__main__":
    raise SystemExit(main())
