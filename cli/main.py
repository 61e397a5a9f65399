"""The command ``ellwand``: reads arguments, calls `nesting`, prints. One module a command.

Heavy imports happen inside the commands, so that help is shown at once.
Exit codes: 0 done; 2 what was written or asked for cannot be used; 3 not all goes on a cloth in hand; 1 a
failure of ours.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from nesting.cloth.cloth import Nap
from nesting.errors import BadInput, EllwandError, LayRefused

from .ctrl_c import watched
from .paper import DraftPaper, FullPaper, Paper
from .streams import PatientStream

__all__ = ["app", "main"]

app = typer.Typer(
    name="ellwand",
    help="From a finished paper pattern to cloth: how many metres to buy, and a lay to cut by.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

ProjectFile = Annotated[
    Path, typer.Argument(help="Your project file, for example jacket.toml.", metavar="FILE")
]
Alternative = Annotated[
    str | None,
    typer.Option(
        "--alternative", metavar="NAME", help="Take this alternative of the file, not its plain version."
    ),
]
Seconds = Annotated[
    float | None,
    typer.Option(
        "--seconds",
        metavar="SECONDS",
        min=0.1,
        max=86_400,
        help="Look this long for a shorter lay of each cloth (the answer then depends on the machine).",
    ),
]
Seed = Annotated[
    int, typer.Option("--seed", metavar="NUMBER", min=0, help="Another seed looks in another order.")
]
Afresh = Annotated[
    bool,
    typer.Option("--afresh", help="Work everything out anew, not using results kept from earlier runs."),
]
PaperSize = Annotated[
    Paper | None,
    typer.Option("--paper", help="Sheets of this size (default: letter for inches, else a4)."),
]
Workers = Annotated[
    int | None,
    typer.Option(
        "--workers", metavar="NUMBER", min=1, max=64, help="Lay so many at once (default: one for each core)."
    ),
]
Scheduler = Annotated[
    str | None,
    typer.Option(
        "--scheduler", metavar="ADDRESS", help="Have the workers of this Dask scheduler do the laying."
    ),
]

Margin = Annotated[
    str | None,
    typer.Option(
        "--margin", metavar="LENGTH", help="What the printer cannot reach at true size (usually 1 cm)."
    ),
]
RollWidth = Annotated[
    str | None,
    typer.Option(
        "--roll-width", metavar="LENGTH", help="Width of the roll of paper (default: all that is drawn)."
    ),
]


def _say_version(asked: bool) -> None:
    if asked:
        from nesting import __version__

        print(f"ellwand {__version__}")
        raise typer.Exit


@app.callback()
def ellwand(
    version: Annotated[
        bool,
        typer.Option("--version", is_eager=True, callback=_say_version, help="Say which version this is."),
    ] = False,
) -> None:
    """From a finished paper pattern to cloth: how many metres to buy, and a lay to cut by."""


@app.command()
def new(
    file: Annotated[Path, typer.Argument(help="The file to make.", metavar="FILE")] = Path("jacket.toml"),
    example: Annotated[
        str,
        typer.Option(
            "--example",
            metavar="NAME",
            help="Which example: jacket, or jacket-sizes (the same in six sizes).",
        ),
    ] = "jacket",
) -> None:
    """Make a project file from an example."""
    from .new import run

    run(file, example)


@app.command()
def check(
    file: ProjectFile,
    size: Annotated[
        str | None, typer.Option("--size", metavar="SIZE", help="In this size (default: as drawn).")
    ] = None,
    alternative: Alternative = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the sheet (default: the file's name and '-check')."
        ),
    ] = None,
    paper: Annotated[
        DraftPaper | None,
        typer.Option("--paper", help="Sheets of this size (default: letter for inches, else a4)."),
    ] = None,
    svg: Annotated[bool, typer.Option("--svg", help="The picture as SVG as well.")] = False,
    no_sheet: Annotated[bool, typer.Option("--no-sheet", help="Draw nothing: only say it.")] = False,
) -> None:
    """Say what is wrong with a project file, or what it asks for; draw its pieces."""
    from .check import run

    run(file, size=size, alternative=alternative, to=to, paper=paper, svg=svg, no_sheet=no_sheet)


@app.command()
def lay(
    file: ProjectFile,
    alternative: Alternative = None,
    size: Annotated[
        str | None,
        typer.Option("--size", metavar="SIZE", help="One garment in this size (default: what is ordered)."),
    ] = None,
    cloths: Annotated[
        list[str] | None,
        typer.Option("--cloth", metavar="CLOTH", help="Only this cloth; repeat for more (default: all)."),
    ] = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the sheets (default: the file's name and '-lay')."
        ),
    ] = None,
    paper: PaperSize = None,
    full_size: Annotated[
        FullPaper | None,
        typer.Option(
            "--full-size", help="Draw each lay at true size too, on sheets to be joined or on a roll."
        ),
    ] = None,
    margin: Margin = None,
    roll_width: RollWidth = None,
    seconds: Seconds = None,
    seed: Seed = 0,
) -> None:
    """Lay every cloth: what to buy, sheets to cut by."""
    from .lay import run

    run(
        file,
        alternative=alternative,
        size=size,
        cloths=cloths or [],
        to=to,
        paper=paper,
        full_size=full_size,
        margin=margin,
        roll_width=roll_width,
        seconds=seconds,
        seed=seed,
    )


@app.command()
def pieces(
    file: ProjectFile,
    names: Annotated[
        list[str] | None, typer.Argument(help="Which pieces (default: all).", metavar="PIECE")
    ] = None,
    size: Annotated[
        str | None, typer.Option("--size", metavar="SIZE", help="In this size (default: as drawn).")
    ] = None,
    alternative: Alternative = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the sheets (default: the file's name and '-pieces')."
        ),
    ] = None,
    paper: Annotated[
        FullPaper | None,
        typer.Option("--paper", help="Sheets of this size (default: letter for inches, else a4)."),
    ] = None,
    margin: Margin = None,
    roll_width: RollWidth = None,
    pictures: Annotated[
        bool, typer.Option("--pictures", help="Each piece as SVG and as PNG as well, at true size.")
    ] = False,
) -> None:
    """Draw the pieces at true size, with their allowances."""
    from .pieces import run

    run(
        file,
        names or [],
        size=size,
        alternative=alternative,
        to=to,
        paper=paper,
        margin=margin,
        roll_width=roll_width,
        pictures=pictures,
    )


@app.command()
def compare(
    file: ProjectFile,
    alternatives: Annotated[
        list[str] | None,
        typer.Argument(help="Which alternatives of the file (default: all).", metavar="ALTERNATIVE"),
    ] = None,
    widths: Annotated[
        list[str] | None,
        typer.Option(
            "--width",
            metavar="WIDTH",
            help="Another width of the first cloth, or CLOTH=WIDTH; may be repeated.",
        ),
    ] = None,
    naps: Annotated[
        list[str] | None,
        typer.Option(
            "--nap", metavar="NAP", help='"one way" or "either way", likewise, or CLOTH=NAP; may be repeated.'
        ),
    ] = None,
    spreads: Annotated[
        list[str] | None,
        typer.Option(
            "--spread", metavar="SPREAD", help="Another spread, likewise, or CLOTH=SPREAD; may be repeated."
        ),
    ] = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    afresh: Afresh = False,
) -> None:
    """Set alternatives beside the plain version."""
    from nesting.files.project.asked import ClothChange

    from .compare import run

    asked = (("width", widths), ("nap", naps), ("spread", spreads))
    changes = [ClothChange(entry, text) for entry, texts in asked for text in texts or []]
    run(file, alternatives or [], changes=changes, seconds=seconds, seed=seed, afresh=afresh)


@app.command()
def shopping(
    files: Annotated[
        list[Path], typer.Argument(help="One project file, or several to shop for together.", metavar="FILE")
    ],
    alternative: Alternative = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the list (default: the file's name and '-shopping')."
        ),
    ] = None,
    paper: PaperSize = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    afresh: Afresh = False,
) -> None:
    """List what to buy: on paper, as text, for a phone."""
    from .shopping import run

    run(files, alternative=alternative, to=to, paper=paper, seconds=seconds, seed=seed, afresh=afresh)


@app.command()
def chart(
    file: ProjectFile,
    widths: Annotated[
        list[str] | None,
        typer.Option("--width", metavar="WIDTH", help="A width; repeat for more (default: as in shops)."),
    ] = None,
    naps: Annotated[
        list[Nap] | None,
        typer.Option("--nap", help="Only this; repeat for more (default: either way and one way)."),
    ] = None,
    cloths: Annotated[
        list[str] | None,
        typer.Option("--cloth", metavar="CLOTH", help="Only this cloth; repeat for more (default: all)."),
    ] = None,
    sizes: Annotated[
        list[str] | None,
        typer.Option("--size", metavar="SIZE", help="Only this size; repeat for more (default: all)."),
    ] = None,
    alternatives: Annotated[
        list[str] | None,
        typer.Option("--alternative", metavar="NAME", help="This alternative too; repeat for more."),
    ] = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the chart (default: the file's name and '-chart')."
        ),
    ] = None,
    paper: PaperSize = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    afresh: Afresh = False,
) -> None:
    """Chart how much cloth each size takes at each width."""
    from .chart import run

    run(
        file,
        widths=widths or [],
        naps=naps or [],
        cloths=cloths or [],
        sizes=sizes or [],
        alternatives=alternatives or [],
        to=to,
        paper=paper,
        workers=workers,
        scheduler=scheduler,
        seconds=seconds,
        seed=seed,
        afresh=afresh,
    )


@app.command()
def widths(
    file: ProjectFile,
    cloth: Annotated[
        str | None, typer.Option("--cloth", metavar="CLOTH", help="Which cloth (default: the file's first).")
    ] = None,
    alternative: Alternative = None,
    narrowest: Annotated[
        str | None, typer.Option("--from", metavar="WIDTH", help="The narrowest (default: 80 cm, 35 in).")
    ] = None,
    widest: Annotated[
        str | None, typer.Option("--up-to", metavar="WIDTH", help="The widest (default: 160 cm, 62 in).")
    ] = None,
    every: Annotated[
        str | None, typer.Option("--every", metavar="LENGTH", help="How far apart (default: 5 cm, 1 in).")
    ] = None,
    to: Annotated[
        Path | None,
        typer.Option(
            "--to", metavar="FOLDER", help="Folder for the plot (default: the file's name and '-widths')."
        ),
    ] = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    seconds: Seconds = None,
    seed: Seed = 0,
    afresh: Afresh = False,
) -> None:
    """Plot how much to buy as the cloth gets wider."""
    from .widths import run

    run(
        file,
        cloth=cloth,
        alternative=alternative,
        narrowest=narrowest,
        widest=widest,
        every=every,
        to=to,
        workers=workers,
        scheduler=scheduler,
        seconds=seconds,
        seed=seed,
        afresh=afresh,
    )


def main() -> None:
    """Run the command; every expected failure ends in a message and an exit code, never a traceback."""
    out = PatientStream(sys.stdout)
    sys.stdout, sys.stderr = out, PatientStream(sys.stderr)
    with watched():
        try:
            app(standalone_mode=True)
        except SystemExit as end:
            out.flush()
            if out.trouble:
                print(f"What was to be printed could not be written: {out.trouble}.", file=sys.stderr)
            sys.exit(end.code or (2 if out.trouble else 0))
        except EllwandError as error:
            sys.exit(_tell(error))


def _tell(error: EllwandError) -> int:
    """Say what went wrong; give the exit code."""
    from nesting.words.mistakes import told

    error = told(error)
    if isinstance(error, BadInput):
        count = len(error.mistakes)
        print(f"{count} thing{'' if count == 1 else 's'} to put right:", file=sys.stderr)
        for mistake in error.mistakes:
            print(f"\n  {mistake.where}\n    {mistake.what}\n    {mistake.remedy}", file=sys.stderr)
        return 2
    print(error, file=sys.stderr)
    if isinstance(error, LayRefused):
        print("This is a fault of the program, not of your pattern.", file=sys.stderr)
        return 1
    return 2
