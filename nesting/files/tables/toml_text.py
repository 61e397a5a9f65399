"""The project file as text: read from disk and turned into a table, its faults told without jargon."""

from __future__ import annotations

import os
import re
import stat
import tomllib
import unicodedata
from pathlib import Path

from nesting.errors import BadInput, Mistake
from nesting.files.tables.ranges import MOST_BYTES
from nesting.files.tables.toml_faults import told
from nesting.files.tables.wording import quoted

__all__ = ["parse_toml", "read_text", "require_file_name", "told_name"]

_POSITION = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
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


def parse_toml(text: str, source: str) -> dict[str, object]:
    """The text as a table.

    Parameters
    ----------
    text : str
    source : str
        Name of the file, for messages.

    Raises
    ------
    BadInput
        With the line at fault. The format allows only the first fault to be found.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadInput((_told(str(error), text, source),)) from None
    except ValueError:  # Python's own limit on digits
        raise _refused(
            source, "It has a number of thousands of digits in it.", "Shorten the number."
        ) from None
    except RecursionError:
        raise _refused(source, "Its brackets are nested without end.", "Write it anew.") from None


def _refused(where: str, what: str, remedy: str) -> BadInput:
    return BadInput((Mistake(where, what, remedy),))


def _told(message: str, text: str, source: str) -> Mistake:
    """One of tomllib's messages in plain words, with its line."""
    lines = text.splitlines() or [""]
    position = _POSITION.search(message)
    stated = position.group("line") if position else None
    number = int(stated) if stated else max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
    message = _POSITION.sub("", message)
    line = lines[min(number, len(lines)) - 1]
    what, remedy = told(message, line)
    return Mistake(f"{source}, line {number}", what, remedy)
