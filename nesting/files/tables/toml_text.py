"""The project file as text: read from disk and turned into a table, its faults told without jargon."""

from __future__ import annotations

import os
import re
import stat
import tomllib
import unicodedata
from pathlib import Path

from nesting.errors import BadInput, Mistake
from nesting.files.lines.faults import slip_at
from nesting.files.lines.slip import Slip
from nesting.files.tables.ranges import LONGEST_LINE, MOST_BYTES
from nesting.files.tables.wording import quoted

__all__ = ["parse_toml", "read_text", "require_file_name", "told_name"]

_POSITION = re.compile(r" \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")
_MOST_SLIPS = 30
"""Lines mended; a file with more is no project file."""
_MUCH_TEXT = 200_000
"""Characters; of a longer file the first line that cannot be read is told alone."""
_MOST_DOTS = 60
_DOTTED = re.compile(rf"(?:\.\s*+[\"']?+[\w-]*+[\"']?+\s*+){{{_MOST_DOTS}}}")
_OTHER_PROGRAMS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"{\\rtf", b"%PDF")
"""How files of word processors begin: zipped (Open Document, Office Open XML), old binary, RTF; and PDF."""

_NO_LETTERS = ("Cc", "Cs")
"""Control characters; and surrogates, by which Python shows the bytes of a name that is not UTF-8."""
_LONGEST_FILE_NAME = 80
"""Characters of a file's name that are told."""


def read_text(path: Path) -> str:
    """The text of the file.

    Raises
    ------
    BadInput
        Where there is no such file, or it cannot be read as text.
    """
    require_file_name(path)
    name = told_name(path)
    try:
        _require_plain_file(path, name)
        data = path.read_bytes()
    except FileNotFoundError:
        raise _refused(
            name, f"There is no such file in {path.absolute().parent}.", _what_is_there(path)
        ) from None
    except IsADirectoryError:
        raise _refused(name, "This is a folder.", "Name the project file in it.") from None
    except OSError as error:
        reason = error.strerror or "it cannot be opened"
        raise _refused(name, f"The file cannot be read ({reason}).", "Check that you may open it.") from error
    if data.startswith(_OTHER_PROGRAMS):
        raise _refused(
            name,
            "This is no plain text: a word processor or another program wrote it.",
            "Save it from there as plain text (.txt), give it the ending .toml, and go on in a text editor.",
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise _refused(
            f"{name}, line {line}",
            "This is not text in UTF-8, as a project file must be.",
            'Open it in a plain text editor and save it again with the encoding "UTF-8".',
        ) from error


def told_name(path: Path) -> str:
    """What messages and sheets call the file."""
    name = path.name
    return name if len(name) <= _LONGEST_FILE_NAME else f"{name[: _LONGEST_FILE_NAME - 1]}…"


def require_file_name(path: Path) -> None:
    """That a project file has a name which can stand on its sheets.

    Raises
    ------
    BadInput
        Where it has none, or one with control characters or bytes that are no letters.
    """
    if path.name in ("", ".."):
        raise _refused(str(path), "This is a folder.", "Name a file in it, such as jacket.toml.")
    if any(unicodedata.category(letter) in _NO_LETTERS for letter in path.name):
        raise _refused(
            quoted(path.name),
            "The name of the file has a character in it that is no letter and cannot be printed.",
            "Give the file another name: it stands on every sheet.",
        )


def _require_plain_file(path: Path, name: str) -> None:
    """No pipe, which may never end, and nothing endless."""
    found = path.stat()
    if not (stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode)):
        raise _refused(
            name,
            "This is no file on a disk, but a pipe or a device.",
            "Write what comes from there into a file first.",
        )
    if found.st_size > MOST_BYTES:
        raise _refused(
            name,
            f"The file is {found.st_size / 1e6:.1f} MB large, more than a project file can be "
            f"({MOST_BYTES / 1e6:g} MB).",
            "Is it another file? Or leave points out: three or four along a curve are enough.",
        )


def _what_is_there(path: Path) -> str:
    """The file that was probably meant, or what to check."""
    whole = path.with_name(f"{path.name}.toml") if path.name else path
    if os.path.isfile(whole):  # unlike the path's own, it takes a name that is too long for a no
        return f"Did you mean {whole.name}? Write the name with its ending."
    return "Check the name and the folder."


def parse_toml(text: str, source: str) -> tuple[dict[str, object], tuple[Mistake, ...]]:
    """The text as a table, and what is wrong with its lines.

    A line that cannot be read is told and, where it is certain what was meant, read as that: so what else is
    wrong with the file can be told with it.

    Parameters
    ----------
    text : str
    source : str
        Name of the file, for messages.

    Raises
    ------
    BadInput
        With the lines at fault, where one of them cannot be mended.
    """
    lines = text.replace("\r\n", "\n").split("\n")
    _require_readable(lines, source)
    mistakes: dict[tuple[int, str], Mistake] = {}
    for _ in range(_MOST_SLIPS if len(text) < _MUCH_TEXT else 1):
        try:
            return tomllib.loads("\n".join(lines)), tuple(mistakes.values())
        except tomllib.TOMLDecodeError as error:
            slip = _slip(str(error), lines)
        except ValueError:  # Python's own limit on digits
            raise _refused(
                source, "It has a number of thousands of digits in it.", "Shorten the number."
            ) from None
        except RecursionError:
            raise _refused(source, "Its brackets are nested without end.", "Write it anew.") from None
        mistake = Mistake(f"{source}, line {slip.line}", slip.what, slip.remedy)
        mistakes.setdefault((slip.line, slip.what), mistake)
        if all(lines[number - 1] == line for number, line in slip.mended.items()):
            break  # it is not known what was meant
        for number, line in slip.mended.items():
            lines[number - 1] = line
    raise BadInput(tuple(mistakes.values()))


def _refused(where: str, what: str, remedy: str) -> BadInput:
    return BadInput((Mistake(where, what, remedy),))


def _require_readable(lines: list[str], source: str) -> None:
    """No line that would take `tomllib` for ever: it compares each part of a name with all before it."""
    for number, line in enumerate(lines, 1):
        if len(line) > LONGEST_LINE:
            what = f"This line is {len(line):,} characters long, more than a line can be ({LONGEST_LINE:,})."
            raise _refused(
                f"{source}, line {number}", what, "Put what belongs to a heading on lines of its own."
            )
        if line.count(".") > _MOST_DOTS and _DOTTED.search(line):
            what = f"A name in this line has more than {_MOST_DOTS} parts with dots between."
            raise _refused(f"{source}, line {number}", what, "Write it anew.")


def _slip(message: str, lines: list[str]) -> Slip:
    """What one of tomllib's messages means, with its line."""
    position = _POSITION.search(message)
    if position and position["line"]:
        number, column = int(position["line"]), int(position["column"])
    else:
        number = max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
        column = len(lines[number - 1]) + 1
    return slip_at(_POSITION.sub("", message), lines, min(number, len(lines)), column)
