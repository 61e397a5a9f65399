"""Signs that only look like those of the keyboard, as text copied from elsewhere has them.

Within quotation marks they are the person's own and stay; outside, a project file can have none.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

__all__ = ["in_plain_signs", "outside_text", "plain_sign"]

_TEXT_OR_NOTE = re.compile(r'"(?:[^"\\]|\\.)*"|' + r"'[^']*'|#.*")
_FULL_WIDTH = range(0xFF01, 0xFF5F)
_TO_ASCII = 0xFEE0
_PLAIN = {
    **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212\ufe63", "-"),
    **dict.fromkeys("\u201c\u201d\u201e\u201f\u00ab\u00bb", '"'),
    **dict.fromkeys("\u2018\u2019\u201a\u201b", "'"),
    **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\u3000", " "),
    **dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff", ""),
    "\u3001": ",",
    "\u3002": ".",
}


def plain_sign(sign: str) -> str:
    """What the keyboard has for a sign: the sign itself, where it is no other.

    >>> plain_sign("−"), plain_sign("５"), plain_sign("ó")
    ('-', '5', 'ó')
    """
    if ord(sign) in _FULL_WIDTH:
        return chr(ord(sign) - _TO_ASCII)
    if not sign.isascii() and sign.isdecimal():
        return str(unicodedata.decimal(sign))
    return _PLAIN.get(sign, sign if sign.isprintable() or sign == "\t" else "")


def outside_text(line: str, change: Callable[[str], str]) -> str:
    """The line with what stands outside quotation marks and notes changed."""
    result, at = "", 0
    for found in _TEXT_OR_NOTE.finditer(line):
        result += change(line[at : found.start()]) + found[0]
        at = found.end()
    return result + change(line[at:])


def in_plain_signs(line: str) -> tuple[str, str]:
    """The line in signs of the keyboard, and the first sign that was none; empty where there was none."""
    first = ""

    def change(part: str) -> str:
        nonlocal first
        first = first or next((sign for sign in part if plain_sign(sign) != sign), "")
        return "".join(map(plain_sign, part))

    return outside_text(line, change), first
