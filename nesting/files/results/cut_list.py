"""The cut list for any spreadsheet: comma-separated values (RFC 4180), one row a piece and cloth."""

from __future__ import annotations

from nesting.estimate.estimate import ProjectEstimate
from nesting.files.results.spreadsheet import csv_text
from nesting.words.counts import count_words
from nesting.words.remarks import tally_remark

__all__ = ["COLUMNS", "cut_list_csv"]

COLUMNS = (
    "cloth",
    "piece",
    "asked",
    "placed",
    "face up",
    "face down",
    "on the fold",
    "how cut",
    "remark",
    "size",
    "garments",
)


def cut_list_csv(project_estimate: ProjectEstimate) -> str:
    """The cut list, a heading and then cloths and pieces in the order of the project file.

    Returns
    -------
    str
        Lines end with CR LF, as RFC 4180 asks; to be written as UTF-8.
    """
    pieces = {piece.name: piece for piece in project_estimate.project.pieces}
    rows: list[tuple[object, ...]] = [COLUMNS]
    for estimate in project_estimate.estimates:
        cloth = estimate.lay.cloth
        for tally in estimate.tallies:
            rows.append(
                (
                    cloth.name,
                    tally.piece,
                    tally.asked,
                    tally.placed,
                    tally.face_up,
                    tally.face_down,
                    tally.on_fold,
                    count_words(pieces[tally.piece].cuts[cloth.key]),
                    tally_remark(tally),
                    pieces[tally.piece].size,
                    " ".join(map(str, pieces[tally.piece].cuts[cloth.key].garments)),
                )
            )
    return csv_text(rows)
