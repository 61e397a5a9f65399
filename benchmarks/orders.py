"""Lays an order of jackets in three sizes, draws it, and measures what laying them together is worth.

Run from the folder of the project, ``python -m benchmarks.orders``: it writes the pictures and the table of
``docs/orders.md`` anew. Every lay is verified before it is let out. The counted budget is a sixth of what
``ellwand lay`` takes, so that this ends within minutes; the same budget for each lay compared.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from benchmarks.parts import DOCS, write_parts
from nesting.cloth.cloth import Nap, Spread
from nesting.cutting.search.laying import Effort, lay_cloth
from nesting.drawing.lay.figure import png_bytes
from nesting.estimate.estimate import Estimate
from nesting.estimate.estimating import estimate_lay
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project
from nesting.project import Project
from nesting.units import Unit

EFFORT = Effort(evaluations_per_placement=60_000)
ORDER = {"88": 1, "92": 1, "96": 1}
NAPS = (Nap.EITHER_WAY, Nap.EACH_GARMENT, Nap.ONE_WAY)
DPI = 100


def order(counts: dict[str, int], top: str = "") -> Project:
    """The jacket in those sizes."""
    text = example_text("jacket-sizes")
    sizes = ", ".join(f'"{size}" = {number}' for size, number in counts.items())
    text = text.replace('units = "cm"\n', f'units = "cm"\n{top}', 1)
    head, cloth, rest = text.partition("\n[cloth.main]")
    return parse_project(f"{head}\n[order]\nsizes = {{ {sizes} }}\n{cloth}{rest}", source="jacket-sizes.toml")


def laid(project: Project, nap: Nap, spread: Spread = Spread.LENGTHWISE_FOLD) -> Estimate:
    """The jackets' wool, on a lengthwise fold."""
    cloth = replace(project.cloths["main"], nap=nap, spread=spread)
    project = replace(project, cloths={"main": cloth})
    return estimate_lay(lay_cloth(project, cloth, effort=EFFORT), project)


def draw(estimate: Estimate, name: str, docs: Path) -> None:
    """Write a picture for the documents."""
    (docs / "pictures" / name).write_bytes(png_bytes(estimate, Unit.CM, dpi=DPI))


def rows(docs: Path) -> list[str]:
    """What each nap takes, one jacket after another and all together."""
    found = []
    for nap in NAPS:
        alone = [laid(order({size: 1}), nap) for size in ORDER]
        together = laid(order(ORDER), nap)
        if nap is Nap.EACH_GARMENT:
            draw(together, "order-of-three.png", docs)
        each = " + ".join(f"{one.to_buy_mm / 1000:.2f}" for one in alone)
        bought = sum(one.to_buy_mm for one in alone) / 1000
        found.append(
            f"| `{nap}` | {each} = {bought:.2f} m | {together.to_buy_mm / 1000:.2f} m "
            f"| {bought - together.to_buy_mm / 1000:.2f} m |"
        )
        print(found[-1], flush=True)
    return found


def main(docs: Path = DOCS) -> None:
    """Write it all."""
    table = order({"88": 2, "92": 1, "96": 1}, 'table_length = "2.4 m"\n')
    draw(laid(table, Nap.EITHER_WAY), "order-on-a-table.png", docs)
    heading = ["| nap | one after another | together | saved |", "|---|---|---|---|"]
    write_parts(docs / "orders.md", {"together": [*heading, *rows(docs)]})


if __name__ == "__main__":
    main()
