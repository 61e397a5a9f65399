"""Names of the person's own among our words: in quotation marks, and where they run from right to left."""

from __future__ import annotations

import unicodedata

__all__ = ["LEFT_TO_RIGHT_MARK", "LONGEST_QUOTE", "left_to_right", "quoted", "shortened"]

LONGEST_QUOTE = 40
"""Characters of what a person wrote that a message repeats."""

LEFT_TO_RIGHT_MARK = "\N{LEFT-TO-RIGHT MARK}"
_RIGHT_TO_LEFT = frozenset({"R", "AL"})


def left_to_right(line: str) -> str:
    """A line of ours that may begin with a name in Hebrew or Arabic letters.

    Whoever shows a line takes its direction from its first letter (Unicode Standard Annex 9, rules P2 and
    P3), so such a name at its start would turn the whole line round. A mark before it, which is not seen,
    prevents that; the name itself still runs as it should.

    >>> left_to_right("wool: 1.20 m")
    'wool: 1.20 m'
    >>> left_to_right("צמר: 1.20 m").startswith(LEFT_TO_RIGHT_MARK)
    True
    """
    if any(unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT for letter in line):
        return f"{LEFT_TO_RIGHT_MARK}{line}"
    return line


def quoted(name: object) -> str:
    r"""A name or value as shown in a message: in quotation marks, not too long, all of it visible.

    >>> quoted("front")
    "'front'"
    >>> print(quoted("col\x07lar"))
    'col\x07lar'
    """
    return f"'{shortened(name)}'"


def shortened(name: object) -> str:
    """A name or value as in `quoted`, without the quotation marks."""
    # Of a text of millions of letters only the beginning is looked at.
    text = name[: LONGEST_QUOTE + 1] if isinstance(name, str) else str(name)
    shown = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)
    return shown if len(shown) <= LONGEST_QUOTE else f"{shown[: LONGEST_QUOTE - 1]}…"
