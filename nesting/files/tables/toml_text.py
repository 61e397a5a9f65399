"""The project file as text: read from disk and turned into a table, its faults told without jargon."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from nesting.errors import BadInput, Mistake
from nesting.files.tables.toml_faults import told

__all__ = ["parse_toml", "read_text"]

_POSITION = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_OTHER_PROGRAMS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"{\\rtf", b"%PDF")
"""How files of word processors begin: zipped (Open Document, Office Open XML), old binary, RTF; and PDF."""


def read_text(path: Path) -> str:
    """The text of the file.

    Raises
    ------
    BadInput
        Where there is no such file, or it cannot be read as text.
    """
    name = path.name or str(path)
    try:
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


def _what_is_there(path: Path) -> str:
    """The file that was probably meant, or what to check."""
    whole = path.with_name(f"{path.name}.toml") if path.name else path
    if whole.is_file():
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
