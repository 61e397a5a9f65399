"""Slips in brackets, braces, and the commas in them."""

from __future__ import annotations

import re

from nesting.files.lines.slip import At, Slip, shown
from nesting.lettering import quoted

__all__ = [
    "brace_not_closed",
    "braces_over_lines",
    "bracket_left",
    "bracket_not_closed",
    "comma_too_many",
    "list_runs_on",
    "no_comma_between_entries",
    "no_comma_in_list",
    "semicolon",
]


def no_comma_between_entries(at: At) -> Slip | None:
    """``{ A = [0, 0] B = [1, 0] }``."""
    found = re.match(r"""\s*("[^"]*"|[\w-]+)\s*=""", at.rest)
    if found is None:
        return None
    mended = f"{at.before.rstrip()}, {at.rest.lstrip()}"
    return at.slip(
        f"There is no comma before {quoted(found[1])}.",
        "Put one there: what stands in braces has commas between.",
        mended,
    )


def semicolon(at: At) -> Slip | None:
    """``{ main = 1; lining = 1 }``."""
    found = re.match(r"\s*[;/|]\s*", at.rest)
    if found is None:
        return None
    mended = f"{at.before}, {at.rest[found.end() :]}"
    what = f"There is a {quoted(found[0].strip())} between the braces where a comma should be."
    return at.slip(what, "Put a comma between what stands in braces.", mended)


def brace_not_closed(at: At) -> Slip | None:
    """A brace that is open at the end of the line."""
    if at.rest.strip() and not at.rest.lstrip().startswith("#"):
        return None
    mended = f"{at.before.rstrip()} }}"
    return at.slip("A brace { is opened and not closed.", "Close it with } on the same line.", mended)


def braces_over_lines(at: At) -> Slip | None:
    """Braces that go on on the next line: put together on the first."""
    if at.rest.strip() and not at.rest.lstrip().startswith("#"):
        return None
    whole, last = "", at.number
    for last in range(at.number, len(at.lines) + 1):
        whole += " " + re.sub(r"#[^\"']*$", "", at.lines[last - 1]).strip()
        if whole.count("{") <= whole.count("}"):
            break
    closed = whole.count("{") == whole.count("}")
    mended = {at.number: re.sub(r",\s*}", " }", whole.strip())} | dict.fromkeys(
        range(at.number + 1, last + 1), ""
    )
    return Slip(
        "A brace { is not closed on the same line.",
        "Keep what stands in braces on one line; or put a heading such as [piece.back.points] "
        "on a line of its own and one point on each line below it.",
        at.number,
        mended if closed else {},
    )


def comma_too_many(at: At) -> Slip | None:
    """Two commas, or one before the closing brace."""
    found = re.match(r"\s*([},])", at.rest)
    if found is None or not at.before.rstrip().endswith(","):
        return None
    mended = f"{at.before.rstrip()[:-1]}{'' if found[1] == ',' else ' '}{at.rest.lstrip()}"
    what = "There are two commas." if found[1] == "," else "There is a comma before the closing brace }."
    return at.slip(what, "Leave one out." if found[1] == "," else "Leave it out.", mended)


def no_comma_in_list(at: At) -> Slip | None:
    """``["A" "B"]``; or a comma missing at the end of a line of a long list."""
    if not re.match(r"""\s*["'{\[\d-]""", at.rest):
        return None
    if at.before.strip():
        mended = f"{at.before.rstrip()}, {at.rest.lstrip()}"
        return at.slip("There is no comma between two entries of the list.", "Put one there.", mended)
    above = next((n for n in range(at.number - 1, 0, -1) if at.lines[n - 1].strip()), at.number)
    line = at.lines[above - 1].rstrip()
    return Slip(
        "There is no comma at the end of this line.",
        "Put one there: a list goes on.",
        above,
        {above: f"{line},"},
    )


def list_runs_on(at: At) -> Slip | None:
    """``{ B = [6, 0, C = [6, 80] }``: the next entry stands where a number should."""
    found = re.match(r"""\s*("[^"]*"|[\w-]+)\s*=""", at.rest)
    if found is None or at.before.count("[") <= at.before.count("]"):
        return None
    if at.before.rstrip().endswith("["):
        entries, bracket, more = at.rest.rpartition("]")
        mended = f"{at.before.rstrip()[:-1]}{{ {entries} }}{more}"
        what = "There are square brackets round entries that have names."
        return at.slip(what, "They stand in braces: { and }.", mended if bracket else None)
    mended = f"{at.before.rstrip().rstrip(',')}], {at.rest.lstrip()}"
    what = f"A square bracket is opened and not closed before {quoted(found[1])}."
    return at.slip(what, "Close it with ].", mended)


def bracket_not_closed(at: At) -> Slip | None:
    """A list whose bracket is missing: on this line, or on one above."""
    if re.match(r"\s*\}", at.rest) or (
        re.match(r"\s*(#.*)?$", at.rest) and at.before.count("[") > at.before.count("]")
    ):
        mended = f"{at.before.rstrip()}]{' ' if at.rest.lstrip()[:1] == '}' else ''}{at.rest.lstrip()}"
        return at.slip(
            "A square bracket is opened and not closed.", f"Close it with ]: {shown(mended)}", mended
        )
    for number in range(at.number, 0, -1):
        line = at.lines[number - 1]
        if line.count("[") > line.count("]") and "=" in line:
            closed = {number: f"{line.rstrip()}]"} if "#" not in line else {}
            return Slip("A square bracket is opened and not closed.", "Close it with ].", number, closed)
    return None


def bracket_left(at: At) -> Slip | None:
    """A closing bracket that nothing opened."""
    found = re.match(r"\s*([\])}])", at.rest)
    if found is None:
        return None
    mended = f"{at.before}{at.rest[found.end() :]}"
    return at.slip(f"There is a bracket {found[1]} too many.", "Leave it out.", mended)
