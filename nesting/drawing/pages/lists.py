"""The last pages: every piece to cut with a box to tick, and what to mind before the shears close."""

from __future__ import annotations

from nesting.drawing.ink.sheet import Book, Column
from nesting.estimate.estimate import Estimate, ProjectEstimate, Tally

__all__ = ["CAUTIONS", "draw_cautions", "draw_cut_list", "tally_text"]

_FOLD_CAUTION = "Never cut along the edge of a piece that lies on the fold."
CAUTIONS = (
    "Cut and try a sample in cheap cloth first; altered paper wants a new lay.",
    "Wash the cloth as the garment will be washed, press it, and press out the fold it was sold with.",
    "Straighten the cut end along a thread. If the threads do not run square to the selvedge, pull the cloth "
    "true before laying.",
    "Measure the real cloth. Your own measurement decides: if it is narrower than reckoned with here, "
    "the lay does not hold.",
    "Look the whole length over for flaws, and find its right side and its direction, before you place "
    "anything.",
    "Place and weight or pin every piece before cutting any, and count them against this list.",
    "Check every grain line at both ends; both must be at their distance from the edge.",
    _FOLD_CAUTION,
    "Mind the blades: close shears and cover wheel cutters when you put them down, keep pins out of their "
    "way, and hands and children too.",
    "This is an estimate. It knows only what was written down about paper and cloth.",
)
_BOXES_A_ROW = 120
"""More than these are ticked in a further row, so that a row never outgrows its page."""
_COUNT_SHARES = (0.30, 0.28, 0.42)
_KEEP_MM = 30.0
"""A heading, the words below it, and some rows."""


def draw_cut_list(book: Book, estimate: Estimate) -> None:
    """Go on below what is on the page: a box for every piece to cut from one cloth."""
    columns = [
        Column(head, share * book.sheet.inner_width_mm, bold=head == "piece")
        for head, share in zip(("piece", "how many", "cut"), _COUNT_SHARES, strict=True)
    ]
    book.heading(f"Cut list of {estimate.lay.cloth.name}: {_pieces_text(estimate)}", keep_mm=_KEEP_MM)
    book.paragraph("One box for each piece of cloth: tick it when it is cut and marked.", 9)
    book.table(columns, [row for tally in estimate.tallies for row in _rows(tally)], size_pt=9)


def draw_cautions(book: Book, result: ProjectEstimate) -> None:
    """What to mind, kept together on one page; what does not apply to any of the cloths is left out."""
    on_fold = any(tally.on_fold for estimate in result.estimates for tally in estimate.tallies)
    said = [caution for caution in CAUTIONS if on_fold or caution is not _FOLD_CAUTION]
    book.heading("Before you cut", keep_mm=7.5 * len(said))
    for caution in said:
        book.paragraph(caution, bullet="•")


def tally_text(tally: Tally) -> str:
    """How many of a piece are cut, and how they lie.

    >>> tally_text(Tally("sleeve", asked=2, placed=2, face_up=1, face_down=1, on_fold=0))
    '2: 1 face up, 1 face down'
    """
    parts = [
        f"{count} {words}"
        for count, words in (
            (tally.on_fold, "on the fold"),
            (tally.face_up, "face up"),
            (tally.face_down, "face down"),
        )
        if count
    ]
    if len(parts) == 1 and tally.placed == tally.asked:
        return parts[0]
    more = f"; the lay gives {tally.placed}" if tally.placed != tally.asked else ""
    return f"{tally.asked}: {', '.join(parts)}{more}"


def _rows(tally: Tally) -> list[tuple[str, str, int]]:
    """A piece's row of the list, and further ones for very many boxes."""
    boxes = [min(_BOXES_A_ROW, tally.asked - done) for done in range(0, max(tally.asked, 1), _BOXES_A_ROW)]
    return [(tally.piece, tally_text(tally), boxes[0]), *(("", "", more) for more in boxes[1:])]


def _pieces_text(estimate: Estimate) -> str:
    count = sum(tally.asked for tally in estimate.tallies)
    return "1 piece" if count == 1 else f"{count} pieces"
