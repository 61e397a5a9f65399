"""The project file as text: read from disk and turned into a table, its faults told without jargon."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

from nesting.errors import BadInput, Problem
from nesting.files.wording import quoted

__all__ = ["parse_toml", "read_text"]

_POSITION = re.compile(r" \(at (?:line (?P<line>\d+), column \d+|end of document)\)$")
_CURLY_QUOTES = re.compile("[\u2018\u2019\u201c\u201d\u201e\u201f\u00ab\u00bb]")
_DECIMAL_COMMA = re.compile(r"(\d+),(\d+)")
_QUOTES_HINT = 'Text goes between straight quotation marks: units = "cm".'
_BARE_TEXT = re.compile(r"\s*(?P<name>[\w.-]+)\s*=\s*(?P<text>[^\W\d_][\w -]*?)\s*(?:#.*)?")
_TWO_NUMBERS = re.compile(r"\[\s*(-?[\d.]+)\s+(-?[\d.]+)\s*\]")
_AFTER_TEXT = re.compile(r"""\s*(?P<name>[^=]+?)\s*=\s*(?P<text>"[^"]*"|'[^']*')\s*[^\s#]""")

_PLAIN_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "Expected '=' after a key",
        "There is a name without an equals sign after it.",
        'A name with a space in it needs quotation marks: "centre back" = "A B".',
    ),
    (
        "Expected ']' at the end of a table",
        "The heading in square brackets cannot be read.",
        'Close the bracket, and put a name with a space in quotation marks: [piece."under sleeve"].',
    ),
    ("Invalid value", "What stands after the equals sign cannot be read.", _QUOTES_HINT),
    ("Illegal character '\\n'", "A quotation mark is opened and not closed.", "Close it on the same line."),
    ("Unterminated string", "A quotation mark is opened and not closed.", "Close it on the same line."),
    ("Unclosed array", "A square bracket is opened and not closed before this.", "Close it with ]."),
    (
        "Unclosed inline table",
        "A brace { is opened and not closed.",
        "Close it with } on the same line, with a comma between what stands in it.",
    ),
    (
        "Unescaped '\\'",
        "There is a backslash in the text.",
        "Leave it out, or write the text between 'single' quotation marks.",
    ),
    ("Illegal character", "There is a control character in the text.", "Delete it and type the text again."),
    (
        "Expected newline or end of document",
        "There is something left over after the value.",
        'Keep one entry to a line, and write a length with its unit as text: "5/8 in".',
    ),
)
"""How `tomllib`'s messages begin (Python 3.11 to 3.14), what it means, what to do."""


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
    return BadInput((Problem(where, what, remedy),))


def _told(message: str, text: str, source: str) -> Problem:
    """One of tomllib's messages in plain words, with its line."""
    lines = text.splitlines() or [""]
    position = _POSITION.search(message)
    stated = position.group("line") if position else None
    number = int(stated) if stated else max((n for n, line in enumerate(lines, 1) if line.strip()), default=1)
    message = _POSITION.sub("", message)
    line = lines[min(number, len(lines)) - 1]
    what, remedy = _meaning(message, line)
    return Problem(f"{source}, line {number}", what, remedy)


def _meaning(message: str, line: str) -> tuple[str, str]:
    """What is wrong in that line, and what to do."""
    twice = _used_twice(message, line)
    if twice is not None:
        return (
            f"The name {twice} is used twice.",
            "Give one of them another name, or put what belongs together under one heading.",
        )
    if _CURLY_QUOTES.search(line):
        return "The quotation marks are curly ones.", 'Use straight ones: "like this".'
    comma = _DECIMAL_COMMA.search(line)
    if message.startswith("Expected newline") and comma:
        return "There is a comma in a number.", f"Write decimals with a point: {comma[1]}.{comma[2]}."
    numbers = _TWO_NUMBERS.search(line)
    if numbers and message.startswith("Unclosed array"):
        return (
            "There is no comma between two numbers.",
            f"Write them with a comma between them: [{numbers[1]}, {numbers[2]}].",
        )
    bare = _BARE_TEXT.fullmatch(line)
    if bare and message.startswith("Invalid value"):
        remedy = f'Text goes between straight quotation marks: {bare["name"]} = "{bare["text"]}".'
        return "What stands after the equals sign cannot be read.", remedy
    said = _AFTER_TEXT.match(line)
    if said and message.startswith("Expected newline"):
        return (
            "There is something left over after the closing quotation mark.",
            "Where there is more to say of an edge than its points, put all of it in braces: "
            f'{said["name"]} = {{ through = {said["text"]}, curve = "smooth" }}.',
        )
    if message.startswith("Invalid initial character") and "{" in line:
        return (
            "A brace { is not closed on the same line, or has a comma too many.",
            "Keep what stands in braces on one line; or put a heading such as [piece.back.points] "
            "on a line of its own and one point on each line below it.",
        )
    for beginning, what, remedy in _PLAIN_WORDS:
        if message.startswith(beginning):
            return what, remedy
    return "This line cannot be read.", "Compare it with the lines of the example."


def _used_twice(message: str, line: str) -> str | None:
    """The doubled name in quotation marks, where the message is about one."""
    if message.startswith("Duplicate inline table key "):
        return message.removeprefix("Duplicate inline table key ")
    path = re.fullmatch(r"Cannot (?:declare (\(.*\)) twice|mutate immutable namespace (\(.*\)))", message)
    if path:
        names: tuple[str, ...] = ast.literal_eval(path[1] or path[2])
        return quoted(names[-1])
    if message.startswith("Cannot overwrite a value"):
        return quoted(line.split("=")[0].strip().strip('[]"'))
    return None
