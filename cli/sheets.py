"""All sheets of a lay, drawn."""

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
from nesting.files.results.naming import SheetNames
from nesting.words.in_hand import length_words
from nesting.words.spreads import how_to_spread

from .progress import SheetProgress

__all__ = ["sheets_of"]


def sheets_of(
    result: ProjectEstimate,
    names: SheetNames,
    *,
    page: PageSize,
    full_size: PrintOn | None = None,
    progress: SheetProgress,
) -> dict[Path, bytes]:
    """Draw PDF, pictures, cut list and JSON.

    Parameters
    ----------
    result : ProjectEstimate
    names : SheetNames
    page : PageSize
    full_size : PrintOn or None
        What the lays are drawn on at true size, if they are wanted so.
    progress : SheetProgress
        In use already.
    """
    unit = result.project.unit
    files = {
        names.book: pdf_bytes(result, page=page),
        names.cut_list: cut_list_csv(result).encode(),
        names.data: estimate_json(result).encode(),
    }
    for estimate in result.estimates:
        key = estimate.lay.cloth.key
        files[names.of_cloth(key, ".png")] = png_bytes(estimate, unit)
        drawing = lay_full_size(estimate, unit)
        files[names.of_cloth(key, ".svg")] = full_size_svg(drawing, result.project.title)
        if full_size is not None:
            bought = length_words(estimate, unit)
            about = f"{drawing.title}, {bought}. {how_to_spread(estimate.lay, unit)}"
            files[names.of_cloth(key, "-full-size.pdf")] = full_size_pdf(
                [drawing],
                result.project.title,
                about,
                full_size,
                on_sheet=progress.at(estimate.lay.cloth.name),
            )
            files[names.of_cloth(key, "-full-size.png")] = full_size_png(drawing)
        if estimate.left is not None:
            files[names.of_cloth(key, "-left.png")] = left_png_bytes(estimate, unit)
    return files
