"""``ellwand check``: whether the project file is sound, what it asks for, and its pieces to look at."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Sized
from pathlib import Path

from nesting.cutting.findings import CannotBeLaid
from nesting.cutting.fit.fitting import require_fit
from nesting.doubts.kinds import Doubt
from nesting.doubts.looking import project_doubts, version_doubts
from nesting.doubts.points import likely_slips
from nesting.errors import BadInput
from nesting.files.project.readable import readable_pieces
from nesting.files.project.reading import read_project
from nesting.files.results.writing import require_writable
from nesting.project import Project
from nesting.words.doubts import doubt_place, doubt_words

from . import ctrl_c
from .paper import DraftPaper, draft_page
from .progress import SheetProgress
from .tables import counts_table, edges_table
from .terminal import show, typed
from .version import of_size, version_of
from .written import put_down

__all__ = ["run"]


def run(
    file: Path,
    *,
    size: str | None,
    alternative: str | None,
    to: Path | None,
    paper: DraftPaper | None,
    svg: bool,
    no_sheet: bool,
) -> None:
    """Print what the file asks for and what looks like a slip, and draw its pieces.

    The pieces are drawn, as far as they can be read, even where they cannot be used or laid: a person sees
    what a slip has made of one.

    Raises
    ------
    BadInput
        With every mistake of the file.
    CannotBeLaid
        With all pieces too large for their cloth and the like, in any version.
    NotWritten
        When the sheet cannot be.
    """
    folder, stem = to or file.with_name(f"{file.stem}-check"), f"{file.stem}-check"
    if not no_sheet:
        drawn = (f"{stem}.{ending}" for ending in ("pdf", "png", *(["svg"] if svg else [])))
        require_writable(folder, [f"{stem}-earlier-1.pdf", *drawn])
    ctrl_c.reach(ctrl_c.CHECKED)

    def draw(project: Project, doubts: Sequence[tuple[int, Doubt]]) -> None:
        if not no_sheet:
            pdf = _write_sheet(project, doubts, folder, stem, paper, svg=svg)
            pictures = ".png and .svg" if svg else ".png"
            show(f"The pieces, to hold against your paper: {pdf}, and as a picture, {pictures}")

    try:
        whole = read_project(file)
    except BadInput:
        readable = readable_pieces(file)
        if readable is not None:
            draw(readable, list(enumerate(_slips(readable), start=1)))
        raise
    project = version_of(of_size(whole, size), alternative)
    unfit = _unfit(whole)
    doubts = list(enumerate(project_doubts(whole), start=1))
    counts = f"{_number(project.pieces, 'piece')}, {_number(project.cloths, 'cloth')}"
    faults = "" if unfit else ", no faults found"
    show(f"{project.title}: {counts}{faults}.", counts_table(project), edges_table(project))
    show(items=project.notes)
    _show_doubts(doubts, project)
    if whole.alternatives and alternative is None and not unfit:
        names = ", ".join(f'"{version.version}"' for version in whole.alternatives)
        show(f"Alternatives: {names}. Set them side by side:  {typed('compare', file)}")
    draw(project, _numbered(project, doubts))
    if unfit:
        raise unfit


def _slips(project: Project) -> Iterator[Doubt]:
    """The points that are probably to blame where pieces cannot be used."""
    for piece in project.pieces:
        for slip in likely_slips(piece.draft) if piece.draft is not None else ():
            yield Doubt(slip, piece=piece.name)


def _unfit(project: Project) -> CannotBeLaid | None:
    """What keeps the pieces from going on their cloths, in any version."""
    try:
        require_fit(project, *project.alternatives)
    except CannotBeLaid as error:
        return error
    return None


def _show_doubts(doubts: Sequence[tuple[int, Doubt]], project: Project) -> None:
    """All that looks like a slip, each as a fault would be told; the sheet shows the numbers."""
    if not doubts:
        return
    show("\nLook here. It is no error, but it looks like a slip:")
    for number, doubt in doubts:
        what, ask = doubt_words(doubt.kind, project.unit)
        show(f"\n  ({number}) {doubt_place(doubt)}", f"    {what}", f"    {ask}")
    show("")


def _write_sheet(
    project: Project,
    doubts: Sequence[tuple[int, Doubt]],
    folder: Path,
    stem: str,
    paper: DraftPaper | None,
    *,
    svg: bool,
) -> Path:
    """Draw the pieces of this version and write them; give the PDF's path."""
    from nesting.drawing.drafts.sheets import draft_sheets  # drawing takes longest to load

    pdf = folder / f"{stem}.pdf"
    with SheetProgress():
        sheets = draft_sheets(project, doubts, draft_page(paper, project.unit))
        files = {pdf: sheets.pdf(), folder / f"{stem}.png": sheets.png()}
        if svg:
            files[folder / f"{stem}.svg"] = sheets.svg()
    put_down(files)
    return pdf


def _numbered(project: Project, listed: Sequence[tuple[int, Doubt]]) -> list[tuple[int, Doubt]]:
    """What looks like a slip in this version, by the numbers of the list, which names each thing once."""
    numbers: dict[object, int] = {}
    for number, doubt in listed:
        numbers.setdefault((doubt.kind, doubt.piece), number)
        numbers.setdefault(doubt.kind, number)  # an order calls the pieces of a size by another name
    own = version_doubts(project)
    return [(numbers[key], one) for one in own for key in [_key(one, numbers)] if key is not None]


def _key(doubt: Doubt, numbers: Mapping[object, int]) -> object:
    """By what a doubt is found in the list; None where it is not in it."""
    return next((key for key in ((doubt.kind, doubt.piece), doubt.kind) if key in numbers), None)


def _number(things: Sized, name: str) -> str:
    return f"{len(things)} {name}{'' if len(things) == 1 else 's'}"
