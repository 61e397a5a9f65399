"""What is wrong with a line that `tomllib` cannot read, in words for someone who never heard of TOML.

First what the line itself shows (the slips that people make), then what the library's message means.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable

from nesting.files.tables.wording import quoted

__all__ = ["told"]

Told = tuple[str, str]
"""What was found, what to do."""

_LEFT_OVER = "Expected newline or end of document"
_NO_VALUE = "Invalid value"
_NO_END_OF_LIST = "Unclosed array"
_NO_END_OF_BRACES = "Unclosed inline table"
_NO_EQUALS = "Expected '=' after a key"

_PLAIN_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        _NO_EQUALS,
        "There is a name without an equals sign after it.",
        'A name with a space in it needs quotation marks: "centre back" = "A B".',
    ),
    (
        "Expected ']' at the end of a table",
        "The heading in square brackets cannot be read.",
        'Close the bracket, and put a name with a space in quotation marks: [piece."under sleeve"].',
    ),
    (
        _NO_VALUE,
        "What stands after the equals sign cannot be read.",
        'Text goes between straight quotation marks: units = "cm".',
    ),
    ("Illegal character '\\n'", "A quotation mark is opened and not closed.", "Close it on the same line."),
    ("Unterminated string", "A quotation mark is opened and not closed.", "Close it on the same line."),
    (_NO_END_OF_LIST, "A square bracket is opened and not closed before this.", "Close it with ]."),
    (
        _NO_END_OF_BRACES,
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
        _LEFT_OVER,
        "There is something left over after the value.",
        'Keep one entry to a line, and write a length with its unit as text: "5/8 in".',
    ),
)
"""How `tomllib`'s messages begin (Python 3.11 to 3.14), what it means, what to do."""

_UNREADABLE = "What stands after the equals sign cannot be read."
_CURLY_QUOTES = re.compile("[\u2018\u2019\u201c\u201d\u201e\u201f\u00ab\u00bb]")


def told(message: str, line: str) -> Told:
    """What is wrong in that line, and what to do."""
    twice = _used_twice(message, line)
    if twice is not None:
        return (
            f"The name {twice} is used twice.",
            "Give one of them another name, or put what belongs together under one heading.",
        )
    if _CURLY_QUOTES.search(line):
        return "The quotation marks are curly ones.", 'Use straight ones: "like this".'
    for beginning, pattern, words in _SLIPS:
        found = pattern.search(line) if message.startswith(beginning) else None
        if found:
            return words(found)
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


def _decimal_comma(found: re.Match[str]) -> Told:
    return "There is a comma in a number.", f"Write decimals with a point: {found[1]}.{found[2]}."


def _no_comma(found: re.Match[str]) -> Told:
    return (
        "There is no comma between two numbers.",
        f"Write them with a comma between them: [{found[1]}, {found[2]}].",
    )


def _round_brackets(found: re.Match[str]) -> Told:
    return _UNREADABLE, f"Points stand in square brackets: [{found[1]}]."


def _true_or_false(found: re.Match[str]) -> Told:
    word = "true" if found[1].casefold() in ("true", "yes") else "false"
    return _UNREADABLE, f"Write {word}, in small letters and without quotation marks."


def _bare_text(found: re.Match[str]) -> Told:
    return _UNREADABLE, f'Text goes between straight quotation marks: {found[1]} = "{found[2]}".'


def _bare_fraction(found: re.Match[str]) -> Told:
    written = found[1] if found[1][-1].isalpha() else f"{found[1]} in"
    return "There is a fraction without quotation marks.", f'Write it as text, with its unit: "{written}".'


def _bare_unit(found: re.Match[str]) -> Told:
    return (
        "There is a unit after a number without quotation marks.",
        f'Write the length as text: {found[1]} = "{found[2]} {found[3]}".',
    )


def _money_sign(found: re.Match[str]) -> Told:
    return (
        "There is something left over after the price.",
        f'Write the number alone; the sign goes to the top of the file: currency = "{found[1]}".',
    )


def _more_of_an_edge(found: re.Match[str]) -> Told:
    return (
        "There is something left over after the closing quotation mark.",
        "Where there is more to say of an edge than its points, put all of it in braces: "
        f'{found[1]} = {{ through = {found[2]}, curve = "smooth" }}.',
    )


def _open_brace(_: re.Match[str]) -> Told:
    return (
        "A brace { is not closed on the same line, or has a comma too many.",
        "Keep what stands in braces on one line; or put a heading such as [piece.back.points] "
        "on a line of its own and one point on each line below it.",
    )


def _no_equals_sign(found: re.Match[str]) -> Told:
    return (
        "There is no equals sign in this line.",
        f"Put one between the name and what belongs to it: {found[1].strip()} = {found[2]}.",
    )


_FRACTION = re.compile(r"[=:]\s*((?:\d+\s+)?\d+\s*/\s*\d+(?:\s*(?:mm|cm|m|in|yd)\b)?)")
_SLIPS: tuple[tuple[str, re.Pattern[str], Callable[[re.Match[str]], Told]], ...] = (
    (_LEFT_OVER, _FRACTION, _bare_fraction),
    (_NO_END_OF_BRACES, _FRACTION, _bare_fraction),
    (_LEFT_OVER, re.compile(r"^\s*([\w.]+)\s*=\s*([\d.]+)\s*(mm|cm|m|in|yd)\b"), _bare_unit),
    (_LEFT_OVER, re.compile(r"^\s*[\w.]*price\s*=\s*[\d.]+\s*([$€£¥])"), _money_sign),
    (_LEFT_OVER, re.compile(r"(\d+),(\d+)"), _decimal_comma),
    (
        _LEFT_OVER,
        re.compile(r"""^\s*([^=]+?)\s*=\s*("[^"]*"|'[^']*')\s*[^\s#]"""),
        _more_of_an_edge,
    ),
    (_NO_END_OF_LIST, re.compile(r"\[\s*(-?[\d.]+)\s*(?:\s|;|/)\s*(-?[\d.]+)\s*\]"), _no_comma),
    (_NO_VALUE, re.compile(r"=\s*\(([^()]*)\)"), _round_brackets),
    (_NO_VALUE, re.compile(r"=\s*(true|false|yes|no)\s*(?:#.*)?$", re.IGNORECASE), _true_or_false),
    (_NO_VALUE, re.compile(r"^\s*([\w.-]+)\s*=\s*([^\W\d_][\w -]*?)\s*(?:#.*)?$"), _bare_text),
    ("Invalid initial character", re.compile(r"\{"), _open_brace),
    (_NO_EQUALS, re.compile(r"""^([^=]*?)[\s:]+("[^"=]*"|[\d.]+|true|false)\s*(?:#.*)?$"""), _no_equals_sign),
)
"""How the library's message begins, what the line then looks like, and what that slip is called.

The first that fits is told.
"""
