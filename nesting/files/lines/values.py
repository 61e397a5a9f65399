"""Slips in texts and in what stands after an equals sign."""

from __future__ import annotations

import re

from nesting.files.lines.slip import END, UNIT, At, Slip, shown
from nesting.lettering import quoted

__all__ = [
    "UNREADABLE",
    "after_text",
    "bare_text",
    "control_character",
    "double_sign",
    "ending",
    "nothing",
    "quotation_mark",
    "round_brackets",
    "true_or_false",
    "two_entries",
    "words_after",
]


_NOTE = "If it is a note to yourself, put # before it."


UNREADABLE = "What stands after the equals sign cannot be read."


def nothing(at: At) -> Slip | None:
    """No value at all."""
    if at.rest.strip() and not re.match(r"\s*[#}]", at.rest):
        return None
    return at.slip("Nothing stands after the equals sign.", "Write what belongs there, or delete the name.")


def double_sign(at: At) -> Slip | None:
    """``==``, or two commas."""
    if at.rest[:1] not in ("=", ",", ":"):
        return None
    sign = at.rest[0]
    mended = f"{at.before}{at.rest[1:]}" if sign != "," else f"{at.before.rstrip()}{at.rest[1:]}"
    what = f"There are two of {quoted(sign)}." if sign != ":" else "There is a ':' after the equals sign."
    return at.slip(what, f"One is enough: {shown(mended)}", mended)


def round_brackets(at: At) -> Slip | None:
    """``(10, 0)``."""
    found = re.match(r"\(([^()]*)\)", at.rest)
    if found is None:
        return None
    mended = f"{at.before}[{found[1]}]{at.rest[found.end() :]}"
    return at.slip(
        "There are round brackets after the equals sign.",
        f"Points stand in square brackets: [{shown(found[1])}].",
        mended,
    )


def true_or_false(at: At) -> Slip | None:
    """``True``, ``yes``."""
    found = re.match(rf"(true|false|yes|no){END}", at.rest, re.IGNORECASE)
    if found is None:
        return None
    word = "true" if found[1].casefold() in ("true", "yes") else "false"
    mended = f"{at.before}{word}{at.rest[found.end(1) :]}"
    return at.slip(UNREADABLE, f"Write {word}, in small letters and without quotation marks.", mended)


def bare_text(at: At) -> Slip | None:
    """``nap = one way``."""
    found = re.match(rf"([^\W\d_][^,}}\]#\"'=]*?){END}", at.rest)
    if found is None:
        return None
    key = re.search(r"([\w.-]+)\s*=\s*$", at.before)
    mended = f'{at.before}"{found[1]}"{at.rest[found.end(1) :]}'
    written = f'{key[1]} = "{found[1]}"' if key else f'"{found[1]}"'
    return at.slip(
        f"The text {quoted(found[1])} stands without quotation marks.",
        f"Text goes between straight quotation marks: {shown(written)}.",
        mended,
    )


def after_text(at: At) -> Slip | None:
    """``"A B" smooth``, and what else may stand behind a text."""
    found = re.match(r"""\s*([^=\s][^=]*)=\s*("[^"]*"|'[^']*')\s*(.*)""", at.line)
    if found is None or not found[3] or found[3].startswith("#"):
        return None
    key, text, more = found[1].rstrip(), found[2], found[3]
    inside = text[1:-1]
    if more.strip() in ('"', "'"):
        what = "There is a quotation mark too many."
        return at.slip(what, f"Write {shown(f'{key} = {text}')}.", f"{key} = {text}")
    if re.fullmatch(rf"{UNIT}\s*(#.*)?", more):
        length = f'{key} = "{inside} {more.split("#")[0].strip()}"'
        return at.slip("The unit stands outside the quotation marks.", f"Write {shown(length)}.", length)
    if text[0] == "'" and more.endswith("'") and at.line[at.column - 1 : at.column + 1].isprintable():
        whole = f'{key} = "{inside}\'{more[:-1]}"'
        what = "There is an apostrophe in a text between 'single' quotation marks, which ends it."
        return at.slip(what, f"Use double ones: {shown(whole)}.", whole)
    curve = re.fullmatch(r"""[,;]?\s*(?:curve\s*=\s*)?["']?(straight|smooth|arc)["']?\s*(?:#.*)?""", more)
    entry = re.fullmatch(r"""[,;]?\s*(curve\s*=\s*"\w+"|allowance\s*=\s*[^,}#]+?)\s*(?:#.*)?""", more)
    added = f'curve = "{curve[1]}"' if curve else entry[1] if entry else 'curve = "smooth"'
    whole = f"{key} = {{ through = {text}, {added} }}"
    return at.slip(
        "There is something left over after the closing quotation mark.",
        f"Where there is more to say of an edge than its points, put all of it in braces: {shown(whole)}.",
        whole if curve or entry else None,
    )


def two_entries(at: At) -> Slip | None:
    """``width = 150 nap = "one way"``."""
    found = re.match(r"""\s*[,;]?\s*("[^"]*"|[\w.-]+)\s*=""", at.rest)
    if found is None or found[1] in ("curve", "allowance"):
        return None
    return at.slip("Two entries stand on one line.", f"Begin a new line before {quoted(found[1])}.")


def words_after(at: At) -> Slip | None:
    """A word after a value, most likely a note."""
    if not re.match(r"\s*[^\W\d_]", at.rest) or "=" in at.rest:
        return None
    return at.slip(
        f"There is {quoted(at.rest.strip())} after the value.",
        f"Leave it out. {_NOTE}",
        f"{at.before} # {at.rest}",
    )


def ending(at: At) -> Slip | None:
    """A sign at the end of the line, as ends a sentence or a line of a program."""
    found = re.fullmatch(r"\s*([;,.:])\s*(#.*)?", at.rest)
    if found is None:
        return None
    mended = f"{at.before.rstrip()}{'  ' + found[2] if found[2] else ''}"
    return at.slip(
        f"There is a {quoted(found[1])} at the end of the line.",
        f"Leave it out: {shown(at.before)}",
        mended,
    )


def quotation_mark(at: At) -> Slip | None:
    """A text that is opened and not closed; what it should end at is guessed, and tried by who reads on."""
    for number in (at.number, at.number - 1):
        line = at.lines[number - 1] if number > 0 else ""
        mark = next((sign for sign in "\"'" if line.count(sign) % 2), "")
        if mark:
            head, _, tail = line.rpartition(mark)
            found = re.match(r"([^,}\]#=]*?)(\s*[,}\]#].*)?$", tail)
            sure = found is not None and head.rstrip().endswith(("=", "[", ","))
            mended = {number: f"{head}{mark}{found[1]}{mark}{found[2] or ''}"} if found and sure else {}
            return Slip(
                "A quotation mark is opened and not closed.", "Close it on the same line.", number, mended
            )
    return at.slip("A quotation mark is opened and not closed.", "Close it on the same line.")


def control_character(at: At) -> Slip | None:
    """A sign that cannot be seen."""
    mended = "".join(sign for sign in at.line if sign.isprintable() or sign == "\t")
    what = "There is a control character in the text."
    return at.slip(what, "Delete it and type the text again.", mended if mended != at.line else None)
