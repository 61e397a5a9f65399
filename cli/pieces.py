"""``ellwand pieces``: the paper pieces at true size, with their allowances."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from nesting.errors import BadInput
from nesting.files.project.reading import read_project
from nesting.files.results.writing import require_writable
from nesting.lettering import quoted
from nesting.pattern.piece import Piece
from nesting.pattern.shaping import cut_shape
from nesting.project import Project
from nesting.units import Unit

from . import ctrl_c
from .paper import FullPaper, print_on
from .progress import SheetProgress
from .terminal import show
from .version import version_of
from .written import put_down

__all__ = ["run"]

_ROLL_ROOM_MM = (4900.0, 850.0)
"""Pieces are laid out on a roll so long and so high, unless its width is given."""
_LONGEST_STEM = 60


def run(
    file: Path,
    names: Sequence[str],
    *,
    size: str | None,
    alternative: str | None,
    to: Path | None,
    paper: FullPaper | None,
    margin: str | None,
    roll_width: str | None,
    pictures: bool,
) -> None:
    """Write the pieces, or those named, on sheets of the paper asked for."""
    project = version_of(_in_size(read_project(file), size), alternative)
    pieces = _named(project, names)
    usual = FullPaper.LETTER if project.unit is Unit.IN else FullPaper.A4
    on = print_on(paper or usual, margin, roll_width, project.unit)
    folder = to or file.with_name(f"{file.stem}-pieces")
    stem = "-".join([f"{file.stem}-pieces", *(["size", *_words(size)] if size else [])])
    pdf = folder / f"{stem}.pdf"
    drawn = [pdf]
    for number, piece in enumerate(pieces, start=1) if pictures else ():
        own = _file_stem(number, piece.name)
        drawn += [folder / f"{own}.svg", folder / f"{own}.png"]
    require_writable(folder, [f"{stem}-earlier-1.pdf", *(path.name for path in drawn)])
    ctrl_c.reach(ctrl_c.CHECKED)

    from nesting.drawing.ink.sheet import A4, LETTER, Book
    from nesting.drawing.pages.marks_table import marks_book
    from nesting.drawing.true_size.pages import full_size_pdf, full_size_png
    from nesting.drawing.true_size.paper_pieces import pieces_full_size
    from nesting.drawing.true_size.svg import full_size_svg
    from nesting.drawing.true_size.tiling import room_of

    if on.paper is not None:
        room = room_of(on.paper, margin_mm=on.margin_mm)
    elif on.roll_width_mm is not None:
        room = (_ROLL_ROOM_MM[0], on.roll_width_mm - 2 * on.margin_mm - 10.0)
    else:
        room = _ROLL_ROOM_MM
    drawings = pieces_full_size(project, pieces, room, lambda drawing: len(on.tiling(drawing).tiles))
    in_size = f"Size {project.size}. " if project.size else ""
    about = f"{in_size}Pieces with their allowances: {', '.join(piece.name for piece in pieces)}"

    def lists() -> Book:
        page = LETTER if project.unit is Unit.IN else A4
        return marks_book([cut_shape(piece) for piece in pieces], project.unit, page)

    with SheetProgress() as progress:
        told = progress.at("pieces")
        files = {pdf: full_size_pdf(drawings, project.title, about, on, lists=lists, on_sheet=told)}
    if pictures:
        for number, piece in enumerate(pieces, start=1):
            (drawing,) = pieces_full_size(project, (piece,), room)
            own = _file_stem(number, piece.name)
            files[folder / f"{own}.svg"] = full_size_svg(drawing, project.title)
            files[folder / f"{own}.png"] = full_size_png(drawing)
    put_down(files)
    show(f"True-size pieces: {pdf}", "Measure the squares on the first sheet before you cut by it.")


def _file_stem(number: int, name: str) -> str:
    """A piece's name as a file's name can be; the number keeps two apart that would come out alike."""
    return "-".join([f"{number:02d}", *_words(name)])[:_LONGEST_STEM]


def _words(name: str) -> list[str]:
    return "".join(c if c.isalnum() else " " for c in name).split()


def _in_size(project: Project, size: str | None) -> Project:
    """The project in that size, or as it is drawn.

    Raises
    ------
    BadInput
        When it has no such size.
    """
    if size is None or size == project.size:
        return project
    for one in project.sizes:
        if one.size == size:
            return one
    sizes = ", ".join(f"'{one.size}'" for one in project.sizes) or "one size only"
    raise BadInput.of(
        where=project.source or project.title,
        what=f"There is no size called {quoted(size)}.",
        remedy=f"It has: {sizes}.",
    )


def _named(project: Project, names: Sequence[str]) -> tuple[Piece, ...]:
    """The pieces of those names, or all.

    Raises
    ------
    BadInput
        When there is no piece of a name.
    """
    known = {piece.name: piece for piece in project.pieces}
    wrong = [name for name in dict.fromkeys(names) if name not in known]
    if wrong:
        raise BadInput.of(
            where=project.source or project.title,
            what=f"There is no piece called {', '.join(map(quoted, wrong))}.",
            remedy=f"It has: {', '.join(repr(name) for name in known)}.",
        )
    return tuple(known[name] for name in dict.fromkeys(names)) if names else project.pieces
