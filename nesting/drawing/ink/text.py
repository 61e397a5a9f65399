"""Words as the drawings need them: printable in the one font used, measured, and broken into lines.

The font is DejaVu Sans, which matplotlib ships, so that every machine draws the same. Sizes are
points on the page (1 pt = 1/72 in).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

__all__ = ["FONT", "LINE_HEIGHT", "MISSING", "SMALLEST_PT", "printable", "text_width_pt", "wrapped"]

FONT = "DejaVu Sans"

SMALLEST_PT = 7.0
"""No text of ours is smaller than this on the page."""

LINE_HEIGHT = 1.25
"""Distance from line to line, in font sizes."""

MISSING = "\N{WHITE SQUARE}"
"""Stands for a run of characters that the font cannot draw."""


_LEFT_TO_RIGHT = "\u200e"


@cache
def _drawable() -> frozenset[int]:
    """Code points that the regular and the bold font both have."""
    from matplotlib.font_manager import FontProperties, findfont, get_font

    regular, bold = (
        set(get_font(findfont(FontProperties(family=FONT, weight=weight))).get_charmap())
        for weight in ("normal", "bold")
    )
    return frozenset(regular & bold)


def printable(text: str) -> str:
    r"""The text with white space made plain, and every run of undrawable characters made one `MISSING`.

    Marks of direction (U+200E) are taken out; see `nesting.drawing.ink.runs`.

    >>> printable("  sleeve\n left ")
    'sleeve left'
    """
    drawable = _drawable()
    kept: list[str] = []
    for character in " ".join(text.replace(_LEFT_TO_RIGHT, "").split()):
        if ord(character) in drawable and (character == " " or character.isprintable()):
            kept.append(character)
        elif not kept or kept[-1] != MISSING:
            kept.append(MISSING)
    return "".join(kept)


_NO_BREAK = "\N{NO-BREAK SPACE}"
_IN_A_MEASURE = re.compile(r"(?<=\d) (?=(?:mm|cm|m|in|yd)\b|%|\d+/\d)")
"""The space between a number and its unit, or its fraction."""


@lru_cache(maxsize=4096)
def text_width_pt(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Width of one line of text, points."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    font = FontProperties(family=FONT, size=size_pt, weight="bold" if bold else "normal")
    width, _, _ = text_to_path.get_text_width_height_descent(text, font, ismath=False)
    return float(width)


def wrapped(text: str, width_pt: float, size_pt: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no wider than `width_pt`; a single word that is wider is broken.

    A number and its unit, ``1 3/8 yd``, count as one word.

    Returns
    -------
    tuple of str
        At least one line, which is empty for an empty text.
    """
    lines: list[str] = []
    line = ""
    for word in _words(printable(text), width_pt, size_pt, bold):
        longer = f"{line} {word}" if line else word
        if text_width_pt(longer, size_pt, bold=bold) <= width_pt:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width_pt(word, size_pt, bold=bold) > width_pt and len(word) > 1:
            head = _longest_head(word, width_pt, size_pt, bold)
            lines.append(head)
            word = word[len(head) :]
        line = word
    return (*lines, line) if line or not lines else tuple(lines)


def _words(text: str, width_pt: float, size_pt: float, bold: bool) -> Iterator[str]:
    """What is kept on one line: words, and measures that are no wider than a line."""
    for word in _IN_A_MEASURE.sub(_NO_BREAK, text).split(" "):
        whole = word.replace(_NO_BREAK, " ")
        if text_width_pt(whole, size_pt, bold=bold) <= width_pt:
            yield whole
        else:
            yield from whole.split(" ")


def _longest_head(word: str, width_pt: float, size_pt: float, bold: bool) -> str:
    """As many leading characters as fit, at least one."""
    for end in range(len(word) - 1, 1, -1):
        if text_width_pt(word[:end], size_pt, bold=bold) <= width_pt:
            return word[:end]
    return word[:1]
