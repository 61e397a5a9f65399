"""What is wrong with a line that `tomllib` cannot read, in words for someone who never heard of TOML.

`tomllib` says where it gave up and what it waited for there. What stands at that place shows which slip it
was. Where that is certain, the line is mended too, so that the rest of the file can be judged at once.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Sequence

from nesting.files.lines import brackets, names, numbers, values
from nesting.files.lines.lookalikes import in_plain_signs, plain_sign
from nesting.files.lines.slip import At, Judge, Slip, shown
from nesting.lettering import quoted

__all__ = ["slip_at"]


_CURLY_QUOTES = "\u2018\u2019\u201a\u201b\u201c\u201d\u201e\u201f\u00ab\u00bb"


_LONGEST_JUDGED = 4000
"""Characters; the judges go through a longer line too often to be quick."""


def slip_at(message: str, lines: Sequence[str], number: int, column: int) -> Slip:
    """What is wrong there.

    Parameters
    ----------
    message : str
        Of `tomllib`, without the place.
    lines : sequence of str
        The whole file.
    number, column : int
        The place, both from 1.
    """
    at = At(lines, number, column - 1)
    if len(at.line) > _LONGEST_JUDGED:
        what = f"This line cannot be read from its character {column} on: {quoted(at.rest)}."
        return at.slip(what, "Put what belongs to a heading on lines of its own, one entry to a line.")
    for beginning, judges in _JUDGES:
        if message.startswith(beginning):
            for judge in (_twice_named(message), _lookalike, *judges):
                slip = judge(at)
                if slip is not None:
                    return slip
    return at.slip("This line cannot be read.", "Compare it with the lines of the example.")


def _twice_named(message: str) -> Judge:
    def judge(at: At) -> Slip | None:
        twice = _used_twice(message, at.line)
        if twice is None:
            return None
        return at.slip(
            f"The name {twice} is used twice.",
            "Give one of them another name, or put what belongs together under one heading.",
        )

    return judge


def _used_twice(message: str, line: str) -> str | None:
    """The doubled name in quotation marks, where the message is about one."""
    if message.startswith(_TWICE_IN_BRACES):
        name = message.removeprefix(_TWICE_IN_BRACES).strip()
        return quoted(ast.literal_eval(name) if name[:1] in "\"'" else name)
    path = re.fullmatch(r"Cannot (?:declare (\(.*\)) twice|mutate immutable namespace (\(.*\)))", message)
    if path:
        names: tuple[str, ...] = ast.literal_eval(path[1] or path[2])
        return quoted(names[-1])
    if message.startswith(_OVERWRITTEN):
        return quoted(line.split("=")[0].strip().strip('[]"'))
    return None


def _lookalike(at: At) -> Slip | None:
    """A sign that the keyboard does not have, outside quotation marks."""
    mended, sign = in_plain_signs(at.line)
    if not sign:
        return None
    plain = plain_sign(sign)
    if sign in _CURLY_QUOTES:
        return at.slip("The quotation marks are curly ones.", 'Use straight ones: "like this".', mended)
    if plain.strip() == "":
        what = "There is an invisible sign in this line, as comes with text copied from elsewhere."
        return at.slip(what, f"Type the line anew: {shown(mended)}", mended)
    if plain == "-":
        what = f"There is a dash, {quoted(sign)}, where a minus sign should be."
        return at.slip(what, f"Type the minus sign of the keyboard: {shown(mended)}", mended)
    what = f"There is a {quoted(sign)} in this line that only looks like {quoted(plain)}."
    return at.slip(what, f"Type it anew: {shown(mended)}", mended)


def _always(what: str, remedy: str) -> Judge:
    return lambda at: at.slip(what, remedy)


_TWICE_IN_BRACES = "Duplicate inline table key "


_OVERWRITTEN = "Cannot overwrite a value"


_IN_LIST: tuple[Judge, ...] = (
    numbers.fraction,
    numbers.bare_unit,
    numbers.no_comma_between_numbers,
    numbers.letter_in_number,
    numbers.leading_zero,
    brackets.no_comma_in_list,
    brackets.bracket_not_closed,
    _always("A square bracket is opened and not closed before this.", "Close it with ]."),
)


_HEADING: tuple[Judge, ...] = (
    names.accent,
    names.heading,
    _always(
        "The heading in square brackets cannot be read.",
        'Close the bracket, and put a name with a space in quotation marks: [piece."under sleeve"].',
    ),
)


_TEXT: tuple[Judge, ...] = (values.quotation_mark,)


_JUDGES: tuple[tuple[str, tuple[Judge, ...]], ...] = (
    (
        "Expected newline or end of document",
        (
            names.after_heading,
            numbers.fraction,
            numbers.bare_unit,
            numbers.money_sign,
            numbers.sign_after,
            numbers.thousands,
            numbers.two_numbers,
            numbers.letter_in_number,
            numbers.leading_zero,
            values.ending,
            values.two_entries,
            values.after_text,
            brackets.bracket_left,
            values.words_after,
            _always(
                "There is something left over after the value.",
                'Keep one entry to a line, and write a length with its unit as text: "5/8 in".',
            ),
        ),
    ),
    (
        "Invalid value",
        (
            values.nothing,
            brackets.list_runs_on,
            values.double_sign,
            values.round_brackets,
            values.true_or_false,
            numbers.money_sign,
            numbers.no_zero,
            numbers.letter_in_number,
            values.bare_text,
            _always(values.UNREADABLE, 'Text goes between straight quotation marks: units = "cm".'),
        ),
    ),
    ("Unclosed array", _IN_LIST),
    (
        "Unclosed inline table",
        (
            brackets.no_comma_between_entries,
            numbers.fraction,
            numbers.bare_unit,
            numbers.sign_after,
            numbers.letter_in_number,
            numbers.leading_zero,
            brackets.semicolon,
            brackets.bracket_left,
            brackets.brace_not_closed,
            _always(
                "There is something between the braces that does not belong there.",
                "Put a comma between what stands in braces, and text between quotation marks.",
            ),
        ),
    ),
    (
        "Expected '=' after a key",
        (
            names.name_half_quoted,
            names.accent,
            numbers.comma_in_braces,
            names.number_without_name,
            names.curve_without_name,
            names.no_equals_sign,
            names.name_with_space,
            names.prose,
            _always(
                "There is a name without an equals sign after it.",
                'A name with a space in it needs quotation marks: "centre back" = "A B".',
            ),
        ),
    ),
    ("Invalid statement", (names.accent, brackets.bracket_left, names.prose)),
    ("Expected ']' at the end of a table", _HEADING),
    ("Expected ']]' at the end of an array", _HEADING),
    (
        "Invalid initial character",
        (names.heading, brackets.comma_too_many, brackets.braces_over_lines, names.accent),
    ),
    ("Illegal character '\\n'", _TEXT),
    ("Unterminated string", _TEXT),
    ('Expected "\'"', _TEXT),
    (
        "Unescaped '\\'",
        (
            _always(
                "There is a backslash in the text.",
                "Leave it out, or write the text between 'single' quotation marks.",
            ),
        ),
    ),
    ("Illegal character", (values.control_character,)),
    ("Found invalid character", (values.control_character,)),
    ("", ()),
)
