"""Lays one pattern in every spread, draws each lay, and measures what each spread costs three garments.

Run from the folder of the project, ``python -m benchmarks.spreads``: it writes the pictures in
``docs/pictures`` and the tables of ``docs/spreads.md`` anew. Every lay is verified before it is let out.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from benchmarks.parts import DOCS, write_parts
from nesting.cloth.cloth import Cloth, Spread
from nesting.cutting.fit.fitting import fit_findings
from nesting.cutting.search.laying import lay_cloth
from nesting.cutting.verify.faults import require_sound
from nesting.drawing.lay.figure import png_bytes
from nesting.estimate.estimate import Estimate
from nesting.estimate.estimating import estimate_lay
from nesting.files.example import example_text
from nesting.files.project.reading import parse_project, read_project
from nesting.project import Project
from nesting.units import Unit
from nesting.words.lying import lies_words

HERE = Path(__file__).parent
SPREADS = [spread for spread in Spread if spread is not Spread.BEST]
WIDTHS_MM = (1150.0, 1500.0)
DPI = 62


def laid(project: Project, cloth: Cloth, spread: Spread) -> Estimate | None:
    """The project's one cloth in that spread, verified; None where it cannot be laid so."""
    if spread is Spread.TUBE:
        # The same round of cloth, knitted: as wide when it lies flat as the other on a fold.
        cloth = replace(cloth, tube=True, selvedge_mm=0.0, width_mm=cloth.usable_width_mm / 2)
    cloth = replace(cloth, spread=spread)
    project = replace(project, cloths={cloth.key: cloth})
    if fit_findings(project):
        return None
    lay = lay_cloth(project, cloth)
    require_sound(lay, project)
    return estimate_lay(lay, project)


def pictures(docs: Path) -> list[str]:
    """Rows of the table of the example, one picture written for each."""
    project = parse_project(example_text(), source="jacket.toml")
    rows = []
    for key, spread in [*(("sample", spread) for spread in SPREADS), ("main", Spread.LENGTHWISE_FOLD)]:
        estimate = laid(project, project.cloths[key], spread)
        if estimate is None:
            raise RuntimeError(f"the example cannot be laid on a {spread}")
        lies = lies_words(estimate.lay)
        name = f"spread-{re.sub(r'[^a-z]+', '-', lies)}.png"
        (docs / "pictures" / name).write_bytes(png_bytes(estimate, Unit.CM, dpi=DPI))
        length, buy = estimate.lay.length_mm / 10, estimate.to_buy_mm / 1000
        rows.append(
            f"| [{lies}](pictures/{name}) | {estimate.lay.cloth.name} | {length:.0f} cm | {buy:.2f} m "
            f"| {estimate.waste_pct:.0f} % |"
        )
    return ["| the cloth lies | cloth | lay | buy | waste |", "|---|---|---|---|---|", *rows]


def costs() -> list[str]:
    """Rows of the table of costs: cloth under the lay, and in brackets what is bought."""
    bodice = read_project(HERE.parent / "tests" / "outside" / "wrapped_bodice.toml")
    garments = [
        ("jacket", parse_project(example_text(), source="jacket.toml"), "main"),
        ("wrapped bodice", bodice, "wide"),
        ("tunic", read_project(HERE / "tunic.toml"), "main"),
    ]
    lines = [
        f"| garment, width | {' | '.join(SPREADS)} |",
        f"|---|{'---|' * len(SPREADS)}",
    ]
    for name, project, key in garments:
        for width_mm in WIDTHS_MM:
            cloth = replace(project.cloths[key], width_mm=width_mm)
            found = [laid(project, cloth, spread) for spread in SPREADS]
            least = min(one.to_buy_mm for one in found if one is not None)
            cells = [_cell(one, least) for one in found]
            lines.append(f"| {name}, {width_mm / 10:.0f} cm | {' | '.join(cells)} |")
    return lines


def _cell(estimate: Estimate | None, least_mm: float) -> str:
    if estimate is None:
        return "–"
    words = f"{estimate.lay.length_mm / 10:.0f} ({estimate.to_buy_mm / 1000:.2f})"
    return f"**{words}**" if estimate.to_buy_mm == least_mm else words


def main(docs: Path = DOCS) -> None:
    """Write pictures and tables."""
    write_parts(docs / "spreads.md", {"one pattern": pictures(docs), "three garments": costs()})


if __name__ == "__main__":
    main()
