"""Writes a lay's sheets into one folder; what an earlier run left there is kept."""

from __future__ import annotations

from pathlib import Path

from nesting.drawing.figure import png_bytes, svg_bytes
from nesting.drawing.pages import pdf_bytes
from nesting.drawing.sheet import PageSize
from nesting.estimate.estimate import ProjectEstimate
from nesting.files.cut_list import cut_list_csv
from nesting.files.lay_json import estimate_json
from nesting.files.writing import keep_earlier, write_together

__all__ = ["write_sheets"]


def write_sheets(result: ProjectEstimate, folder: Path, *, stem: str, page: PageSize) -> Path:
    """Write PDF, drawings, cut list and JSON; give the PDF's path.

    Parameters
    ----------
    result : ProjectEstimate
    folder : Path
        Made when missing.
    stem : str
        First part of every file's name.
    page : PageSize
    """
    unit = result.project.unit
    pdf = folder / f"{stem}.pdf"
    files = {
        pdf: pdf_bytes(result, page=page),
        folder / f"{stem}-cut-list.csv": cut_list_csv(result).encode(),
        folder / f"{stem}-lay.json": estimate_json(result).encode(),
    }
    for estimate in result.estimates:
        key = estimate.lay.cloth.key
        files[folder / f"{stem}-{key}.png"] = png_bytes(estimate, unit)
        files[folder / f"{stem}-{key}.svg"] = svg_bytes(estimate, unit)
    keep_earlier(files)
    write_together(files)
    return pdf
