"""A placement's number and words, set together into one block of known size.

Sizes are points on the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nesting.drawing.ink.text import LINE_HEIGHT, SMALLEST_PT, text_width_pt, wrapped

__all__ = ["Block", "blocks_in_brief", "blocks_in_full", "ring_pt"]

_DIGIT_HEIGHT = 0.73
"""Of the font's size."""
_PAD_PT = 4.5


@dataclass(frozen=True, slots=True)
class Block:
    """A number and words, before they are placed.

    Sizes and offsets from its middle are points in the block's own frame: x along the lines, y up.
    A block that is not `upright` is turned by a quarter; its number still stands upright.
    """

    width_pt: float
    height_pt: float
    number_offset: tuple[float, float]
    lines_offset: tuple[float, float]
    lines: tuple[str, ...]
    size_pt: float
    upright: bool


def ring_pt(number: int, size_pt: float) -> tuple[float, float]:
    """Width and height of the ring round a number set in bold: a circle, longer where it needs to be."""
    height = _DIGIT_HEIGHT * size_pt + _PAD_PT
    return max(height, text_width_pt(str(number), size_pt, bold=True) + _PAD_PT), height


def blocks_in_full(
    number: int, name: str, copies: str, to_mind: str, sizes_pt: Sequence[float]
) -> list[Block]:
    """Ways to set the words: level before turned, large before small, few lines before many."""
    return [
        block
        for upright in (True, False)
        for size_pt in sizes_pt
        for lines in _line_breaks(name, copies, to_mind, size_pt)
        for block in _with_number(number, lines, size_pt, upright)
    ]


def blocks_in_brief(number: int, name: str, to_mind: str) -> tuple[list[Block], list[Block], list[Block]]:
    """At the smallest size: what is to be minded, with the name or without it; the name; neither.

    The number is in all of them, and leads to the name in the tables.
    """
    alone = Block(*ring_pt(number, SMALLEST_PT), (0.0, 0.0), (0.0, 0.0), (), SMALLEST_PT, True)
    named = _in_lines(number, ((name,),))
    broken = wrapped(to_mind, 0.6 * text_width_pt(to_mind, SMALLEST_PT), SMALLEST_PT)
    choices = ((name, to_mind), (f"{name}, {to_mind}",), (name, *broken), (to_mind,), broken)
    minded = _in_lines(number, choices) if to_mind else []
    return minded, named, [alone]


def _in_lines(number: int, choices: Sequence[tuple[str, ...]]) -> list[Block]:
    return [
        block
        for lines in choices
        for upright in (True, False)
        for block in _with_number(number, lines, SMALLEST_PT, upright)
    ]


def _with_number(number: int, lines: tuple[str, ...], size_pt: float, upright: bool) -> tuple[Block, Block]:
    """The number above the lines, and before them."""
    ring = ring_pt(number, size_pt)
    ring_wide, ring_high = ring if upright else ring[::-1]
    gap = 0.35 * size_pt
    wide = max(text_width_pt(line, size_pt) for line in lines) + 1.0
    high = len(lines) * LINE_HEIGHT * size_pt
    above = Block(
        max(wide, ring_wide),
        high + gap + ring_high,
        (0.0, (high + gap) / 2),
        (0.0, -(ring_high + gap) / 2),
        lines,
        size_pt,
        upright,
    )
    before = Block(
        wide + gap + ring_wide,
        max(high, ring_high),
        (-(wide + gap) / 2, 0.0),
        ((ring_wide + gap) / 2, 0.0),
        lines,
        size_pt,
        upright,
    )
    return above, before


def _line_breaks(name: str, copies: str, to_mind: str, size_pt: float) -> Iterator[tuple[str, ...]]:
    """The words broken into few and into more lines."""
    full = text_width_pt(name, size_pt)
    names = dict.fromkeys(
        wrapped(name, width, size_pt) for width in (full + 0.1, full * 0.62, full * 0.42) if width > 0
    )
    whole_words = [lines for lines in names if " ".join(lines) == name] or [(name,)]
    rest = (copies, to_mind) if to_mind else (copies,)
    for lines in whole_words:
        yield (*lines, *rest)
    yield (", ".join((f"{name} {copies}", *rest[1:])),)
