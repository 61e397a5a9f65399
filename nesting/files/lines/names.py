"""Slips in names: before an equals sign, and in headings."""

from __future__ import annotations

import re

from nesting.files.lines.slip import At, Slip, shown
from nesting.lettering import quoted

__all__ = [
    "UNDERLINED",
    "accent",
    "after_heading",
    "curve_without_name",
    "heading",
    "name_half_quoted",
    "name_with_space",
    "no_equals_sign",
    "number_without_name",
    "prose",
]


_PART = re.compile(r'"[^"]*"|[^."]+')
"""One of the names that dots join."""
_NEEDS_NO_MARKS = re.compile(r'"[^"]*"|[A-Za-z0-9_-]+')
_KINDS = ("cloth", "piece", "alternative", "size")
"""What a heading may begin with before its name."""
UNDERLINED = frozenset(
    (
        "base_size",
        "cut_away",
        "end_allowance",
        "from_end",
        "from_start",
        "from_waste",
        "grain_tolerance",
        "in_hand",
        "may_be_left_off",
        "on_fold",
        "on_line",
        "part_pairs",
        "price_per",
        "right_side",
        "seam_allowance",
        "spare_at_least",
        "table_length",
    )
)
"""Entries of a project file that have an underline in their name; a test holds them to the schema."""
_NOTE = "If it is a note to yourself, put # before it."


def name_half_quoted(at: At) -> Slip | None:
    """``"centre back = "A B"``: the name's second quotation mark is missing."""
    found = re.fullmatch(r'\s*"([^"=]+?)\s*=\s*"([^"]*)"\s*(?:#.*)?', at.line)
    if found is None:
        return None
    mended = f'"{found[1]}" = "{found[2]}"'
    return at.slip("A quotation mark is opened and not closed.", f"Write {shown(mended)}.", mended)


def accent(at: At) -> Slip | None:
    """A letter that a name may have only between quotation marks."""
    if at.rest[:1].isascii() or not at.rest[:1].isalpha():
        return None
    begin = re.search(r"[\w-]*$", at.before)
    end = re.match(r"[\w-]+", at.rest)
    assert begin is not None
    assert end is not None  # both match: one may be empty, the other begins with a letter
    name = f"{begin[0]}{end[0]}"
    mended = f'{at.line[: begin.start()]}"{name}"{at.line[at.column + end.end() :]}'
    heading = at.line.lstrip().startswith("[")
    written = mended if heading else f'"{name}"'
    return at.slip(
        f"The name {quoted(name)} has a letter in it, {quoted(at.rest[0])}, that needs quotation marks.",
        f"Put them round it, here and wherever it stands before an equals sign: {shown(written)}.",
        mended,
    )


def no_equals_sign(at: At) -> Slip | None:
    """``hem: "A B"``, ``hem "A B"``."""
    value = r"""("[^"=]*"|'[^'=]*'|[\d.]+|true\b|false\b|\[.*|\{.*)"""
    found = re.match(rf"[\s:]*{value}", at.rest) or re.match(r"\s*:\s*(\w+)\s*$", at.rest)
    name = re.search(r"""("[^"]*"|[\w.-]+)\s*$""", at.before)
    if found is None or name is None:
        return None
    mended = f"{at.before.rstrip()} = {at.rest[found.start(1) :]}"
    colon = ", but a colon" if ":" in at.rest[: found.start(1)] else ""
    told = at.rest[found.start(1) :] if "{" not in at.before else found[1]
    return at.slip(
        f"There is no equals sign in this line{colon}."
        if "{" not in at.before
        else f"There is no equals sign after {quoted(name[1])}.",
        f"Put one between the name and what belongs to it: {shown(f'{name[1]} = {told}')}.",
        mended,
    )


def name_with_space(at: At) -> Slip | None:
    """``centre back = "A B"``."""
    name, sign, value = at.line.partition("=")
    if not sign or "{" in at.before:
        return None
    joined = "_".join(name.split())
    if joined in UNDERLINED:
        what = f"There is a space in {quoted(name.strip())}, where the name has an underline."
        return at.slip(what, f"Write {shown(f'{joined} ={value}')}.", f"{joined} ={value}")
    key = _quoted_parts(name.strip())
    return at.slip(
        f"There is a name without an equals sign after it: {quoted(name.strip())}.",
        f"A name with a space or a sign in it needs quotation marks: {shown(f'{key} ={value}')}",
        f"{key} ={value}",
    )


def number_without_name(at: At) -> Slip | None:
    """``{ 0, 0 }``, ``{ 1 main }``: a number where a name should be."""
    found = re.search(r"\{\s*(-?[\d.]+)\s*(?:,\s*(-?[\d.]+)\s*\}|([A-Za-z]\w*))?", at.line)
    if found is None or found.start() > at.column:
        return None
    if found[2] and re.search(r"(?:points\.[\w\"-]+|at)\s*=\s*$", at.line[: found.start()]):
        point = f"[{found[1]}, {found[2]}]"
        mended = f"{at.line[: found.start()]}{point}{at.line[found.end() :]}"
        return at.slip(
            "There are braces round a point.", f"It stands in square brackets: {shown(point)}.", mended
        )
    name = found[3] or "along"
    return at.slip(
        f"There is a number in braces, {shown(found[1])}, without a name before it.",
        f"Write the name, an equals sign and the number: {shown(f'{{ {name} = {found[1]} }}')}.",
    )


def curve_without_name(at: At) -> Slip | None:
    """``{ through = "A B", smooth }``."""
    found = re.search(r"[{,]\s*(straight|smooth|arc)\s*$", at.before)
    if found is None or not re.match(r"\s*[,}]", at.rest):
        return None
    mended = f'{at.line[: found.start(1)]}curve = "{found[1]}"{at.rest}'
    return at.slip(
        f"{quoted(found[1])} stands there without its name.", f'Write curve = "{found[1]}".', mended
    )


def prose(at: At) -> Slip | None:
    """A line of words."""
    if "=" in at.line or at.line.lstrip().startswith("["):
        return None
    found = re.fullmatch(rf"\s*\(?((?:{'|'.join(_KINDS)})\.[^()\[\]#]+?)\)?:?\s*", at.line)
    if found is not None:
        heading = f"[{_quoted_parts(found[1])}]"
        what = "There is a heading without square brackets."
        return at.slip(what, f"Write {shown(heading)}.", heading)
    what = "This line is neither an entry with an equals sign nor a heading in square brackets."
    return at.slip(what, _NOTE, f"# {at.line}")


def _quoted_parts(name: str) -> str:
    """A name with dots, each part that needs it in quotation marks."""
    parts = _PART.findall(name)
    return ".".join(
        part if _NEEDS_NO_MARKS.fullmatch(part) else f'"{part}"' for part in map(str.strip, parts)
    )


def heading(at: At) -> Slip | None:
    """A heading whose brackets or names cannot be read."""
    found = re.fullmatch(r"\s*(\[\[?)([^\[\]]*?)(\]*)\s*(#.*)?", at.line)
    if found is None:
        return None
    opening, name, closing = found[1], found[2].strip(), found[3]
    close = "]" * len(opening)
    kind, _, own = name.partition(" ")
    if kind in _KINDS and own:
        mended = f"{opening}{kind}.{_quoted_parts(own.strip())}{close}"
        what = f"The heading has a space where a dot should be, after {quoted(kind)}."
        return at.slip(what, f"Write {shown(mended)}.", mended)
    mended = f"{opening}{_quoted_parts(name)}{close}"
    if not name.strip('". '):
        return at.slip("The heading has no name.", "Write for example [piece.back].")
    if '"' in name and name.count('"') % 2:
        return at.slip("A quotation mark in the heading is opened and not closed.", f"Write {shown(mended)}.")
    if closing != close and mended == f"{opening}{name}{close}":
        what = (
            "The bracket of the heading is not closed." if not closing else "The heading's brackets differ."
        )
        return at.slip(what, f"Write {shown(mended)}.", mended)
    parts = [part.strip() for part in _PART.findall(name)]
    odd = next((part for part in parts if not _NEEDS_NO_MARKS.fullmatch(part)), None)
    if odd is None or ".." in name:
        return None
    has = "a space" if " " in odd else "a sign"
    return at.slip(
        f"The heading cannot be read: its name {quoted(odd)} has {has} in it.",
        f"Put that name in quotation marks: {shown(mended)}.",
        mended,
    )


def after_heading(at: At) -> Slip | None:
    """Something behind the bracket of a heading."""
    if not at.line.lstrip().startswith("["):
        return None
    if at.rest.lstrip().startswith("]"):
        what = "There is a bracket ] too many after the heading."
        return at.slip(what, f"Write {shown(at.before)}.", at.before)
    what = "There is something left over after the heading."
    return at.slip(what, f"Leave it out. {_NOTE}", f"{at.before}  # {at.rest}")
