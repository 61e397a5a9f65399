"""Slips in numbers: units, fractions, commas, signs of money."""

from __future__ import annotations

import re

from nesting.files.lines.slip import END, NUMBER, UNIT, At, Slip, shown
from nesting.lettering import quoted

__all__ = [
    "bare_unit",
    "comma_in_braces",
    "fraction",
    "leading_zero",
    "letter_in_number",
    "money_sign",
    "no_comma_between_numbers",
    "no_zero",
    "sign_after",
    "thousands",
    "two_numbers",
]


def fraction(at: At) -> Slip | None:
    """``5/8``, ``1 1/4 yd``."""
    found = re.search(rf"[=:,\[]\s*((?:\d+[\s-]+)?\d+\s*/\s*\d+(?:\s*({UNIT}))?){END}", at.line)
    if found is None:
        return None
    length = found[1] if found[2] else f"{found[1]} in"
    mended = f'{at.line[: found.start(1)]}"{_in_words(length)}"{at.line[found.end(1) :]}'
    return at.slip(
        "There is a fraction without quotation marks.",
        f'Write it as text, with its unit: "{shown(_in_words(length))}".',
        mended,
    )


def _in_words(length: str) -> str:
    """A length whose unit is a word."""
    return re.sub(r"\s*(?:\"|″|'')$", " in", length)


def bare_unit(at: At) -> Slip | None:
    """A unit after a number: ``150 cm``, ``[4.2, 11in]``."""
    found = re.search(rf"(?<![\w.\"'])([-+]?\d+(?:[.,]\d+)?)\s*({UNIT}){END}", at.line)
    if found is None or not found.start() <= at.column <= found.end():
        return None
    length = _in_words(f"{found[1]} {found[2]}")
    mended = f'{at.line[: found.start()]}"{length}"{at.line[found.end() :]}'
    key = re.search(r"([\w.-]+)\s*=\s*$", at.line[: found.start()])
    written = f'{key[1]} = "{length}"' if key else f'"{length}"'
    return at.slip(
        "There is a unit after a number without quotation marks.",
        f"Write the length as text: {shown(written)}.",
        mended,
    )


def money_sign(at: At) -> Slip | None:
    """``18.50 €``."""
    sign = r"(?P<sign>[^\w\s.,;:\"'#\[\](){}/%°=<>*+-]|EUR|USD|GBP|CHF|kr)"
    number = r"(?P<number>\d+(?:[.,]\d+)?)"
    found = re.search(rf"=\s*(?:{sign}\s*{number}){END}", at.line)
    found = found or re.search(rf"=\s*(?:{number}\s*{sign}){END}", at.line)
    if found is None:
        return None
    number = found["number"].replace(",", ".")
    mended = f"{at.line[: found.start()]}= {number}{at.line[found.end() :]}"
    return at.slip(
        "The price has a sign beside its number.",
        f'Write {shown(number)} alone; the sign goes to the top of the file: currency = "{found["sign"]}".',
        mended,
    )


def sign_after(at: At) -> Slip | None:
    """``3 %``, ``45°``: what the entry says anyway."""
    found = re.match(r"\s*(%|°|degrees|per cent)", at.rest)
    if found is None or not re.search(r"\d\s*$", at.before):
        return None
    mended = f"{at.before.rstrip()}{at.rest[found.end() :]}"
    number = re.findall(NUMBER, at.before)[-1]
    return at.slip(f"There is {quoted(found[1])} after the number.", f"Write {shown(number)} alone.", mended)


def thousands(at: At) -> Slip | None:
    """``1.250,50``."""
    found = re.search(rf"=\s*(\d{{1,3}})\.(\d{{3}}),(\d+){END}", at.line)
    if found is None:
        return None
    number = f"{found[1]}{found[2]}.{found[3]}"
    mended = f"{at.line[: found.start(1)]}{number}{at.line[found.end() :]}"
    return at.slip("There is a comma in a number.", f"Write decimals with a point: {shown(number)}.", mended)


def two_numbers(at: At) -> Slip | None:
    """``150,5``, or a point without its brackets: ``points.A = 0, 70``."""
    found = re.search(rf"([\w.\"-]+)\s*=\s*({NUMBER})(,\s*)({NUMBER}){END}", at.line)
    if found is None:
        return None
    begin, rest = at.line[: found.start(2)], at.line[found.end() :]
    if _names_point(at, found[1]) or found[3] != "," or "." in found[2] + found[4]:
        point = f"[{found[2]}, {found[4]}]"
        return at.slip(
            "Two numbers stand there without square brackets.",
            f"Write a point as {shown(f'{found[1]} = {point}')}.",
            f"{begin}{point}{rest}",
        )
    number = f"{found[2]}.{found[4]}"
    return at.slip(
        "There is a comma in a number.",
        f"Write decimals with a point: {shown(number)}.",
        f"{begin}{number}{rest}",
    )


def comma_in_braces(at: At) -> Slip | None:
    """``{ allowance = 1,5 }``, ``{ A = 0, 70 }``: the second number is taken for a name."""
    if "{" not in at.before or not re.search(rf",\s*{NUMBER}\s*$", at.before.rstrip()):
        return None
    return two_numbers(at)


def _names_point(at: At, key: str) -> bool:
    """Whether a key stands for a point: by itself, by its braces, or by the heading above it."""
    own, _, last = key.rpartition(".")
    if own:
        return own.split(".")[-1] == "points" or last == "at"
    if re.search(r"\bpoints\s*=\s*\{", at.line):
        return True
    if "{" in at.before:
        return False
    above = [line.strip() for line in at.lines[: at.number] if line.lstrip().startswith("[")]
    return bool(above) and above[-1].rstrip(" ]").endswith(".points")


def no_comma_between_numbers(at: At) -> Slip | None:
    """``[10 0]``, ``[10; 0]``."""
    found = re.search(rf"\[\s*({NUMBER})\s*(?:\s|;|/|:|\|)\s*({NUMBER})\s*\]", at.line)
    if found is None:
        return None
    point = f"[{found[1]}, {found[2]}]"
    mended = f"{at.line[: found.start()]}{point}{at.line[found.end() :]}"
    return at.slip(
        "There is no comma between two numbers.",
        f"Write them with a comma between them: {shown(point)}.",
        mended,
    )


def leading_zero(at: At) -> Slip | None:
    """``007``."""
    found = re.search(rf"([=\[,]\s*[-+]?)0+(\d+(?:\.\d+)?){END}", at.line)
    if found is None:
        return None
    mended = f"{at.line[: found.start()]}{found[1]}{found[2]}{at.line[found.end() :]}"
    return at.slip("There is a number that begins with 0.", f"Write {shown(found[2])}.", mended)


def letter_in_number(at: At) -> Slip | None:
    """An O for a 0, an l for a 1."""
    found = re.search(rf"(?<![\w.\"'])(\d[\d.]*[OolI][\d.OolI]*|[Oo]\.\d+){END}", at.line)
    if found is None or not found.start() <= at.column <= found.end():
        return None
    number = re.sub("[lI]", "1", re.sub("[Oo]", "0", found[1]))
    mended = f"{at.line[: found.start()]}{number}{at.line[found.end() :]}"
    return at.slip(f"There is a letter in the number {quoted(found[1])}.", f"Write {shown(number)}.", mended)


def no_zero(at: At) -> Slip | None:
    """``.5``."""
    found = re.match(r"([-+]?)(\.\d+)", at.rest)
    if found is None:
        return None
    mended = f"{at.before}{found[1]}0{found[2]}{at.rest[found.end() :]}"
    return at.slip(
        "There is a number that begins with its point.", f"Write {shown(f'{found[1]}0{found[2]}')}.", mended
    )
