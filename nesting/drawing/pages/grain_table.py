"""Where the grain line of each paper piece lies, for papers that do not carry it: once for all cloths."""

from __future__ import annotations

from nesting.cutting.flat.placing import numbered
from nesting.drawing.ink.sheet import Book, Column
from nesting.estimate.estimate import ProjectEstimate
from nesting.pattern.laid_by import corners_of
from nesting.units import Unit, format_length

__all__ = ["draw_grain_table"]

_PIECE_MM = 74.0
_MEASURE_MM = 27.0
_KEEP_MM = 34.0
"""The words below the heading, the table's head and a few rows."""
_ROW_MM = 5.8
_MOST_MM = 200.0
"""A table no longer than this is kept together on one page."""
_BACK = ("left", "down") * 2
"""What is said of foot and top where they lie on the other side of the corner."""


def draw_grain_table(book: Book, result: ProjectEstimate) -> None:
    """Go on below what is on the page: a row for each piece, to the right and up for foot and top."""
    unit = result.project.unit
    found = {
        placed.piece: placed.shape.grain_on_paper
        for estimate in result.estimates
        for section in estimate.lay.sections
        for placed in section.placed
        if placed.shape.grain_on_paper is not None
    }
    if not found:
        return
    in_file_order = [piece.name for piece in result.project.pieces if piece.name in found]
    rows = [
        (piece, *(_place(float(mm), unit, way) for mm, way in zip(found[piece].ravel(), _BACK, strict=True)))
        for piece in dict.fromkeys((*in_file_order, *found))
    ]
    beyond = any(place.endswith(_BACK) for _, *places in rows for place in places)
    whole_mm = _KEEP_MM + _ROW_MM * len(rows)
    keep_mm = whole_mm if whole_mm < _MOST_MM else _KEEP_MM
    book.heading("On the paper first: the grain lines", keep_mm=keep_mm)
    book.paragraph(
        "The lays are placed by these lines. They are measured like the points of the pattern: to the "
        "right, and up, from the corner of the paper. Where your paper's own line lies elsewhere, draw this "
        "one too."
        + (" To the left, or down, where it says so: on the other side of that corner." if beyond else ""),
        9,
    )
    columns = [Column("piece", _PIECE_MM, bold=True)]
    for heading in ("foot, right", "foot, up", "top, right", "top, up"):
        columns.append(Column(heading, _MEASURE_MM, "right"))
    book.table(columns, rows, size_pt=9)
    _draw_corners(book, result)


def _draw_corners(book: Book, result: ProjectEstimate) -> None:
    """Where the corners are that some pieces are laid by, besides their grain lines."""
    unit = result.project.unit
    used = {
        (item.placed.piece, name)
        for estimate in result.estimates
        for item in numbered(estimate.lay)
        if item.distances is not None
        for name, *_ in item.distances.corners
    }
    rows = [
        (piece.name, f"where {name.replace(' / ', ' and ')} meet", *map(_place, at, [unit, unit], _BACK[:2]))
        for piece in result.project.pieces
        for name, at in corners_of(piece.edges).items()
        if (piece.name, name) in used
    ]
    if not rows:
        return
    book.need(_KEEP_MM + _ROW_MM * min(len(rows), 6))
    book.paragraph(
        "Some pieces are so short along the grain that a millimetre at their grain line would be several at "
        "their far end. They are laid by a corner as well, where the outline has it that you measured; the "
        "lay shows it with a small square.",
        9,
    )
    columns = [
        Column("piece", _PIECE_MM, bold=True),
        Column("corner", 2 * _MEASURE_MM),
        Column("right", _MEASURE_MM, "right"),
        Column("up", _MEASURE_MM, "right"),
    ]
    book.table(columns, rows, size_pt=9)


def _place(mm: float, unit: Unit, back: str) -> str:
    """How far from the corner, and which way where it is not the usual one.

    >>> _place(-183.0, Unit.CM, "down"), _place(183.0, Unit.CM, "down"), _place(-1e-9, Unit.CM, "down")
    ('18.3 cm down', '18.3 cm', '0 cm')
    """
    told = format_length(abs(mm), unit)
    return told if mm >= 0 or told == format_length(0.0, unit) else f"{told} {back}"
