"""Pictures for `docs/table.md` and the README: ``python -m benchmarks.table_pictures`` (needs pdftoppm).

The example is laid with its usual effort; the long lay is its lining for nine, in one layer.
"""

from __future__ import annotations

import re
import subprocess
import tempfile
from dataclasses import replace
from io import BytesIO
from pathlib import Path

from pypdf import PdfReader

from benchmarks.parts import DOCS
from nesting.cloth.cloth import Spread
from nesting.cutting.search.laying import Effort
from nesting.drawing.ink.papers import A4
from nesting.drawing.lay.figure import png_bytes
from nesting.drawing.pages.book import pdf_bytes
from nesting.drawing.true_size.full_size import lay_full_size
from nesting.drawing.true_size.pages import PrintOn, full_size_pdf
from nesting.estimate.estimating import lay_project
from nesting.files.example import example_text
from nesting.files.project.reading import read_project
from nesting.project import Project

CHORUS = 9


def picture(pdf: bytes, page: int, target: Path, dpi: int = 75) -> None:
    """One page of a PDF as a PNG, whose name is given without its ending."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "sheets.pdf")
        file.write_bytes(pdf)
        which = ["-r", str(dpi), "-f", str(page), "-l", str(page), "-singlefile", "-png"]
        subprocess.run(["pdftoppm", *which, file, target], check=True)


def page_with(pdf: bytes, words: str) -> int:
    """The first page, counted from 1, that has the words (a regular expression)."""
    for number, page in enumerate(PdfReader(BytesIO(pdf)).pages, start=1):
        if re.search(words, " ".join(page.extract_text().split())):
            return number
    raise LookupError(words)


def chorus(project: Project) -> Project:
    """The lining alone, in one layer, for so many that it fills several pages."""
    cloth = replace(project.cloths["lining"], spread=Spread.OPEN)
    pieces = tuple(
        replace(piece, cuts={"lining": replace(count, number=count.number * CHORUS)}, on_fold=None)
        for piece in project.pieces
        for key, count in piece.cuts.items()
        if key == "lining" and not piece.on_fold
    )
    return replace(project, cloths={"lining": cloth}, pieces=pieces)


def main(docs: Path = DOCS) -> None:
    """Lay, draw, write the pictures."""
    pictures = docs / "pictures"
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "jacket.toml")
        file.write_text(example_text(), encoding="utf-8")
        project = read_project(file)
    result = lay_project(project)
    (pictures / "jacket-main.png").write_bytes(png_bytes(result.estimates[0], project.unit))
    sheets = pdf_bytes(result, page=A4)
    picture(sheets, page_with(sheets, "grey wool hopsack: the lay"), pictures / "sheet-lay")
    picture(sheets, page_with(sheets, "Distances that place each piece"), pictures / "sheet-distances")
    tiles = full_size_pdf(
        [lay_full_size(result.estimates[0])],
        project.title,
        f"{project.cloths['main'].name}: the lay",
        PrintOn(A4),
    )
    picture(tiles, 1, pictures / "true-size-first-sheet", 60)
    picture(tiles, page_with(tiles, "sleeve"), pictures / "true-size-sheet", 60)
    long = lay_project(chorus(project), effort=Effort(evaluations_per_placement=20_000, walks=1))
    long_sheets = pdf_bytes(long, page=A4)
    picture(long_sheets, page_with(long_sheets, r"page 2 of \d+ along"), pictures / "sheet-long-lay")


if __name__ == "__main__":
    main()
