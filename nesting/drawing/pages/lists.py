"""What to mind before the shears close, and every piece to cut with a box to tick."""

from __future__ import annotations

from collections.abc import Sequence

from nesting.cutting.lay import PlacedPiece
from nesting.drawing.ink.sheet import Book, Column
from nesting.estimate.estimate import Estimate, ProjectEstimate, Tally
from nesting.words.placing import how_all_lie, how_text

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
    "Place and weight or pin every piece before cutting any, and count them against the cut list.",
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
"""Below the heading, the words and some rows."""
_WORDS_MM = 7.0
_MOST_MM = 220.0
"""A list no longer than this is kept together on one page."""


def draw_cut_list(book: Book, estimate: Estimate) -> None:
    """Go on below what is on the page: a box for every piece to cut from one cloth."""
    columns = [
        Column(head, share * book.sheet.inner_width_mm, bold=head == "piece")
        for head, share in zip(("piece", "how many", "cut"), _COUNT_SHARES, strict=True)
    ]
    rows = []
    for tally in estimate.tallies:
        placed = [
            one for section in estimate.lay.sections for one in section.placed if one.piece == tally.piece
        ]
        rows += _rows(tally, placed)
    whole_mm = _WORDS_MM + book.table_mm(columns, rows, size_pt=9)
    keep_mm = whole_mm if whole_mm < _MOST_MM else _KEEP_MM
    book.heading(f"Cut list of {estimate.lay.cloth.name}: {_pieces_text(estimate)}", keep_mm=keep_mm)
    book.paragraph("One box for each piece of cloth: tick it when it is cut and marked.", 9)
    book.table(columns, rows, size_pt=9)


def draw_cautions(book: Book, result: ProjectEstimate) -> None:
    """What to mind, kept together on one page; what does not apply to any of the cloths is left out."""
    on_fold = any(tally.on_fold for estimate in result.estimates for tally in estimate.tallies)
    said = [caution for caution in CAUTIONS if on_fold or caution is not _FOLD_CAUTION]
    book.heading("Before you cut", keep_mm=7.5 * len(said))
    for caution in said:
        book.paragraph(caution, bullet="•")


def tally_text(tally: Tally, placed: Sequence[PlacedPiece]) -> str:
    """How many of a piece are cut, and how they lie, in the words of the table of distances."""
    how = how_all_lie(placed)
    if len(placed) == tally.asked == tally.placed and len({how_text(one) for one in placed}) == 1:
        return how
    more = f"; the lay gives {tally.placed}" if tally.placed != tally.asked else ""
    return f"{tally.asked}: {how}{more}"


def _rows(tally: Tally, placed: Sequence[PlacedPiece]) -> list[tuple[str, str, int]]:
    """A piece's row of the list, and further ones for very many boxes."""
    boxes = [min(_BOXES_A_ROW, tally.asked - done) for done in range(0, max(tally.asked, 1), _BOXES_A_ROW)]
    return [(tally.piece, tally_text(tally, placed), boxes[0]), *(("", "", more) for more in boxes[1:])]


def _pieces_text(estimate: Estimate) -> str:
    count = sum(tally.asked for tally in estimate.tallies)
    return "1 piece" if count == 1 else f"{count} pieces"
