"""Letters that run from right to left among those that run from left to right."""

from __future__ import annotations

import unicodedata

__all__ = ["LEFT_TO_RIGHT_MARK", "left_to_right"]

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
