"""Writes a lay's sheets into one folder; what an earlier run left there is kept."""

from __future__ import annotations

from pathlib import Path

from nesting.drawing.ink.papers import PageSize
from nesting.drawing.lay.figure import png_bytes
from nesting.drawing.lay.left_picture import left_png_bytes
from nesting.drawing.pages.book import pdf_bytes
from nesting.drawing.true_size.full_size import lay_full_size
from nesting.drawing.true_size.pages import PrintOn, full_size_pdf, full_size_png
from nesting.drawing.true_size.svg import full_size_svg
from nesting.estimate.estimate import ProjectEstimate
from nesting.files.results.cut_list import cut_list_csv
from nesting.files.results.lay_json import estimate_json
from nesting.files.results.writing import keep_earlier, write_together
from nesting.words.in_hand import length_words
from nesting.words.spreads import how_to_spread

from .progress import SheetProgress

__all__ = ["write_sheets"]


def write_sheets(
    result: ProjectEstimate, folder: Path, *, stem: str, page: PageSize, full_size: PrintOn | None = None
) -> Path:
    """Write PDF, drawings, cut list and JSON; give the PDF's path.

    Parameters
    ----------
    result : ProjectEstimate
    folder : Path
        Made when missing.
    stem : str
        First part of every file's name.
    page : PageSize
    full_size : PrintOn or None
        What the lays are drawn on at true size, if they are wanted so.
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
        drawing = lay_full_size(estimate)
        files[folder / f"{stem}-{key}.svg"] = full_size_svg(drawing, result.project.title)
        if full_size is not None:
            bought = length_words(estimate, unit)
            about = f"{drawing.title}, {bought}. {how_to_spread(estimate.lay, unit)}"
            with SheetProgress(estimate.lay.cloth.name) as progress:
                sheets = full_size_pdf(
                    [drawing], result.project.title, about, full_size, on_sheet=progress.tell
                )
            files[folder / f"{stem}-{key}-full-size.pdf"] = sheets
            files[folder / f"{stem}-{key}-full-size.png"] = full_size_png(drawing)
        if estimate.left is not None:
            files[folder / f"{stem}-{key}-left.png"] = left_png_bytes(estimate, unit)
    keep_earlier(files)
    write_together(files)
    return pdf
